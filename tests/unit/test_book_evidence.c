/* SPDX-License-Identifier: MIT */
/* What explains a dark unit, as files and command lines say it: pages, factory, causes, signs, observations.
 *
 * source: docs/files.md, "Looks", "Signs", "Seen", "Unit", "Book" and "Shop". Events: IPMI 2.0 (revision 1.1), section 32
 * and table 42-3, as far as tests/unit/data/ipmi-events.tsv has them; its head says on what basis, and what of it is from
 * memory. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include <glib/gstdio.h>

#include "book/evidence.h"

#define BASE   "tests/malformed/base/"
#define EVENTS "tests/unit/data/ipmi-events.tsv"

/* ---- Loading ---- */

static Library *
load_right (const char *const *paths, const char *const *items)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    Library *library = library_load_seen (paths, NULL, items, complaints);
    g_autofree char *printed = complaints_to_string (complaints, 50);
    assert_string_equal (printed, "");
    return library;
}

static Library *
load_base (const char *path, const char *const *items)
{
    const char *const paths[] = { BASE "bench.yaml", BASE "looks.yaml", BASE "unit.yaml", path, NULL };
    return load_right (paths, items);
}

static Library *
load_shop (void)
{
    const char *const paths[] = { "rules", "data/larkfield/book", "data/larkfield/shop.yaml", NULL };
    return load_right (paths, NULL);
}

/* A file for one test, gone with it. */
static char *
write_file (const char *text)
{
    char *path = NULL;
    int file = g_file_open_tmp ("rungwise-XXXXXX.yaml", &path, NULL);
    assert_true (file >= 0);
    g_close (file, NULL);
    assert_true (g_file_set_contents (path, text, -1, NULL));
    return path;
}

static const LookFirst *
find_look (const Library *library, const char *id)
{
    for (guint i = 0; i < library->looks->len; i++) {
        const LookFirst *look = g_ptr_array_index (library->looks, i);
        if (strcmp (look->id, id) == 0)
            return look;
    }
    fail_msg ("no look %s", id);
    return NULL;
}

static const Sign *
find_sign (const Library *library, const char *id)
{
    for (guint i = 0; i < library->signs->len; i++) {
        const Sign *sign = g_ptr_array_index (library->signs, i);
        if (strcmp (sign->id, id) == 0)
            return sign;
    }
    fail_msg ("no sign %s", id);
    return NULL;
}

static const Observation *
nth (const Seen *seen, guint index)
{
    assert_true (index < seen->observations->len);
    return g_ptr_array_index (seen->observations, index);
}

static void
assert_words (const Seen *seen, guint index, const char *expected)
{
    g_autofree char *words = observation_words (seen->board, nth (seen, index));
    assert_string_equal (words, expected);
}

/* ---- Looks and causes ---- */

static void
test_causes (void **state)
{
    (void) state;
    g_autoptr (Library) library = load_base (BASE "unit.yaml", NULL);
    const LookFirst *contacts = find_look (library, "contacts"), *board = find_look (library, "the-board");
    assert_int_equal (contacts->finds->len, 2);
    const Cause *bent = g_ptr_array_index (contacts->finds, 0), *dirty = g_ptr_array_index (contacts->finds, 1);
    assert_string_equal (bent->id, "contact-bent");
    assert_string_equal (bent->says, "a bent contact");
    assert_true (bent->share == 9.5 && bent->blames_board && bent->blames == 0 && bent->look == contacts);
    assert_true (dirty->blames == 1u << KIND_PROCESSOR && !dirty->blames_board);
    assert_true (!contacts->by_elimination && !contacts->unit_on && contacts->minutes == 4);
    assert_true (bent->fit_of == 1u << KIND_PROCESSOR && dirty->fit_of == 0);
    assert_true (board->by_elimination && board->minutes == 0 && board->finds->len == 1);
}

/* source: the causes that rules/looks.yaml has to have; solver/explain asks for the first by its name */
static void
test_causes_of_the_program (void **state)
{
    (void) state;
    static const char *const ids[] = { "still-training",    "supply-lead-loose", "supply-not-seated",
                                       "module-not-seated", "riser-not-seated",  "sink-pressure",
                                       "contact-bent",      "contact-dirty",     "processor-dead",
                                       "module-dead",       "supply-dead",       "riser-dead",
                                       "board-damaged" };
    g_autoptr (Library) library = load_shop ();
    guint found = 0, eliminated = 0;
    double total = 0;
    for (guint i = 0; i < library->looks->len; i++) {
        const LookFirst *look = g_ptr_array_index (library->looks, i);
        eliminated += look->by_elimination;
        assert_true (look->finds->len > 0);
        assert_int_equal (look->unit_on, strcmp (look->id, "wait-for-training") == 0);
        for (guint j = 0; j < look->finds->len; j++, found++) {
            const Cause *cause = g_ptr_array_index (look->finds, j);
            assert_true (found < G_N_ELEMENTS (ids));
            assert_string_equal (cause->id, ids[found]);
            total += cause->share;
        }
    }
    assert_int_equal (found, G_N_ELEMENTS (ids));
    assert_int_equal (eliminated, 1);
    assert_true (total == 100); /* "of some hundred dark units" */
}

static void
test_found (void **state)
{
    (void) state;
    g_autoptr (Library) library = load_shop ();
    const Shop *shop = g_ptr_array_index (library->shops, 0);
    assert_int_equal (shop->found->len, 7);
    const FoundCount *first = &g_array_index (shop->found, FoundCount, 0);
    assert_string_equal (first->cause->id, "still-training");
    assert_int_equal (first->count, 7);
    Shop *copy = shop_copy (shop);
    assert_true (copy->found != shop->found && copy->found->len == 7);
    shop_free (copy);
    Shop *usual = shop_new_default ();
    assert_null (usual->found);
    shop_free (shop_copy (usual));
    shop_free (usual);
}

/* ---- Pages ---- */

static void
test_pages (void **state)
{
    (void) state;
    g_autoptr (Library) library = load_shop ();
    const Board *board = book_find_board (&library->book, g_intern_string ("whinchat-2s"));
    const Component *system = board_component (board, 0), *spare = board_component (board, 1),
                    *logic = board_component (board, 3);
    assert_true (system->page.there && system->page.minutes == 3 && system->page.at.line > 0);
    g_autofree char *requires = expression_to_string (system->page.requires);
    assert_string_equal (requires, "controller >= 1.6");
    assert_string_equal (spare->spare_of, "system");
    assert_false (spare->page.there);
    assert_false (logic->page.there);
    assert_null (board_component (board, 2)->page.requires);
}

/* ---- What was seen ---- */

static void
test_observations (void **state)
{
    (void) state;
    g_autoptr (Library) library = load_base ("tests/malformed/seen-is-fine.yaml", NULL);
    assert_int_equal (library->seens->len, 1);
    const Seen *seen = g_ptr_array_index (library->seens, 0);
    assert_string_equal (seen->name, "after the new processor");
    assert_string_equal (seen->unit, "LK-0001");
    assert_int_equal (seen->observations->len, 14);
    assert_words (seen, 0, "left on and dark for 15.5 minutes");
    assert_words (seen, 1, "it starts from the other firmware image");
    assert_words (seen, 2, "the power light blinks");
    assert_words (seen, 3, "the fans start and stop again");
    assert_words (seen, 4, "beeps: long short short");
    assert_words (seen, 5, "code 1F on the board's display");
    assert_words (seen, 6, "event log: sensor type 07h, offset 04h");
    assert_words (seen, 7, "event log: sensor type 0Fh, offset 00h, data 2 01h, data 3 FFh");
    assert_words (seen, 8, "event log: sensor type 08h, offset 0Ah, ended");
    assert_words (seen, 9, "event log: sensor type 07h, offset 05h");
    assert_words (seen, 10, "with dorvan-8 a1 in cpu1 and nothing in sink1 it stays dark");
    assert_words (seen, 11, "look contacts: nothing found");
    assert_words (seen, 12, "look leads: a loose lead");
    assert_words (seen, 13, "look the-board: a damaged board");
    const Observation *start = nth (seen, 10);
    assert_true (start->changed[0] && start->changed[1] && !start->changed[2] && !start->started);
    assert_true (start->fitted[0].part && !start->fitted[1].part);
    assert_true (nth (seen, 11)->look && !nth (seen, 11)->cause && nth (seen, 12)->cause);
}

static void
test_words (void **state)
{
    (void) state;
    static const struct {
        const char *item, *words;
    } expected[] = {
        { "other-image=dark", "a start from the other firmware image stays dark" },
        { "power-light=on", "the power light is on" },
        { "power-light=off", "the power light is off" },
        { "fans=still", "the fans stand still" },
        { "fans=turning", "the fans turn" },
        { "fans=full-speed", "the fans turn at full speed" },
        { "beeps=none", "no beeps" },
        { "dark-minutes=1", "left on and dark for 1 minute" },
        { "started-with=cpu1=elvane-14", "with elvane-14 b1 in cpu1 it starts" },
        { "started-with=cpu1=empty,sink1=empty,dimm-a1=dimm-16",
          "with nothing in cpu1, nothing in sink1 and dimm-16 in dimm-a1 it starts" },
    };
    for (guint i = 0; i < G_N_ELEMENTS (expected); i++) {
        const char *const items[] = { expected[i].item, NULL };
        g_autoptr (Library) library = load_base (BASE "unit.yaml", items);
        const Seen *seen = g_ptr_array_index (library->seens, 0);
        assert_string_equal (seen->name, "command line");
        assert_string_equal (seen->file, "--seen");
        assert_int_equal (seen->observations->len, 1);
        assert_words (seen, 0, expected[i].words);
    }
}

/* An item takes the place of the same key of the file; events, starts and looks add up. */
static void
test_items_beside_a_file (void **state)
{
    (void) state;
    const char *const items[] = { "fans=turning", "event=0f/0/1", "looked=leads", "found=contact-bent", NULL };
    g_autoptr (Library) library = load_base ("tests/malformed/seen-is-fine.yaml", items);
    const Seen *seen = g_ptr_array_index (library->seens, 0);
    guint fans = 0, events = 0, looks = 0;
    assert_int_equal (library->seens->len, 1);
    assert_int_equal (seen->observations->len, 17); /* 14 of the file; four more, of which one took a place */
    for (guint i = 0; i < seen->observations->len; i++) {
        fans += nth (seen, i)->kind == SEEN_FANS;
        events += nth (seen, i)->kind == SEEN_EVENT;
        looks += nth (seen, i)->kind == SEEN_LOOKED;
    }
    assert_true (fans == 1 && events == 5 && looks == 5);
    assert_words (seen, 13, "the fans turn"); /* items come last */
    assert_words (seen, 16, "look contacts: a bent contact");
    assert_int_equal (nth (seen, 14)->event.data_2, 1);
}

static void
test_several_units (void **state)
{
    (void) state;
    g_autofree char *path = write_file ("unit: LK-0002\n"
                                        "board: wren-1s\n"
                                        "revision: r1\n"
                                        "firmware: {system: 1.0, controller: amber}\n"
                                        "---\n"
                                        "seen: one\n"
                                        "unit: LK-0001\n"
                                        "fans: still\n"
                                        "---\n"
                                        "seen: other\n"
                                        "unit: LK-0002\n"
                                        "fans: turning\n");
    g_autoptr (Library) library = load_base (path, NULL);
    g_unlink (path);
    assert_int_equal (library->seens->len, 2);
    assert_string_equal (((const Seen *) g_ptr_array_index (library->seens, 1))->unit, "LK-0002");
}

/* ---- Raw records ---- */

typedef struct {
    const char *bytes;
    SeenEvent event;
} RawCase;

static void
test_raw_records (void **state)
{
    (void) state;
    /* source: IPMI 2.0, section 32: byte 11 is the sensor type; byte 13, bit 7: it ended; byte 14, bits 3:0: the offset, 7:6
     * and 5:4: 3 where bytes 15 and 16 hold what the table lists (the two last ones from memory) */
    static const RawCase cases[] = {
        { "01 00 02 78 56 34 12 20 00 04 07 81 6F 04 FF FF", { 0x07, 0x04, -1, -1, FALSE } },
        { "01 00 02 78 56 34 12 20 00 04 0f 06 6f c2 13 ff", { 0x0F, 0x02, 0x13, -1, FALSE } },
        { "01 00 02 78 56 34 12 20 00 04 08 06 EF 36 07 03", { 0x08, 0x06, -1, 0x03, TRUE } },
        { "01 00 02 78 56 34 12 20 00 04 0F 06 6F F0 01 02", { 0x0F, 0x00, 0x01, 0x02, FALSE } },
        { "01 00 02 78 56 34 12 20 00 04 0F 06 6F A0 01 02", { 0x0F, 0x00, -1, -1, FALSE } }, /* a maker's own */
        { "01 00 02 78 56 34 12 20 00 04 0F 06 6F 50 01 02", { 0x0F, 0x00, -1, -1, FALSE } }, /* reserved here */
    };
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
        g_autofree char *item = g_strconcat ("event=", cases[i].bytes, NULL);
        const char *const items[] = { item, NULL };
        g_autoptr (Library) library = load_base (BASE "unit.yaml", items);
        const SeenEvent *event = &nth (g_ptr_array_index (library->seens, 0), 0)->event;
        assert_int_equal (event->sensor_type, cases[i].event.sensor_type);
        assert_int_equal (event->offset, cases[i].event.offset);
        assert_int_equal (event->data_2, cases[i].event.data_2);
        assert_int_equal (event->data_3, cases[i].event.data_3);
        assert_int_equal (event->deasserted, cases[i].event.deasserted);
    }
}

/* ---- Signs ---- */

static void
test_sign_keys (void **state)
{
    (void) state;
    g_autoptr (Library) library = load_base (BASE "unit.yaml", NULL);
    const Sign *sign = find_sign (library, "no-memory"), *dark = find_sign (library, "long");
    assert_true (sign->boards->len == 1 && sign->kind == SEEN_EVENT);
    assert_true (sign->event.sensor_type == 0x0F && sign->event.offset == 0 && sign->event.data_2 == 1 &&
                 sign->data_2_to == 2 && sign->event.data_3 == 0);
    assert_int_equal (sign->supports->len, 2);
    const SignSupport *rule = &g_array_index (sign->supports, SignSupport, 0),
                      *cause = &g_array_index (sign->supports, SignSupport, 1);
    assert_true (rule->factor == 8 && !rule->target.cause && !rule->target.any_rule);
    assert_string_equal (rule->target.rule->id, "memory-there");
    assert_true (cause->factor == 1.5 && !cause->target.rule);
    assert_string_equal (cause->target.cause->id, "lead-loose");
    assert_string_equal (g_array_index (sign->excludes, SignTarget, 0).cause->id, "contact-dirty");
    assert_string_equal (sign->source.text, "IPMI 2.0, table 42-3");
    assert_true (dark->from == 10 && dark->to == 30.5 && g_array_index (dark->excludes, SignTarget, 0).any_rule);
}

/* Which items give which sign of base/looks.yaml. */
static void
test_sign_is_given (void **state)
{
    (void) state;
    static const struct {
        const char *sign, *item;
        gboolean given;
    } cases[] = {
        { "long", "dark-minutes=10", TRUE },
        { "long", "dark-minutes=9.9", FALSE },
        { "long", "dark-minutes=30.5", TRUE },
        { "long", "dark-minutes=31", FALSE },
        { "code", "post-code=0x1F", TRUE },
        { "code", "post-code=0x1E", FALSE },
        { "image", "other-image=dark", TRUE },
        { "image", "other-image=started", FALSE },
        { "light", "power-light=off", TRUE },
        { "light", "power-light=on", FALSE },
        { "fans", "fans=still", TRUE },
        { "fans", "fans=turning", FALSE },
        { "beeps", "beeps=long  short short", TRUE },
        { "beeps", "beeps=short", FALSE },
        { "fans", "power-light=off", FALSE },
        { "no-memory", "event=0F/00/01", FALSE }, /* data 3 is not there */
        { "no-memory", "event=01 00 02 78 56 34 12 20 00 04 0F 06 6F F0 01 00", TRUE },
        { "no-memory", "event=01 00 02 78 56 34 12 20 00 04 0F 06 6F F0 02 00", TRUE },
        { "no-memory", "event=01 00 02 78 56 34 12 20 00 04 0F 06 6F F0 03 00", FALSE },
        { "no-memory", "event=01 00 02 78 56 34 12 20 00 04 0F 06 6F F0 01 01", FALSE },
        { "no-memory", "event=01 00 02 78 56 34 12 20 00 04 0F 06 6F F1 01 00", FALSE },
        { "no-memory", "event=01 00 02 78 56 34 12 20 00 04 0C 06 6F F0 01 00", FALSE },
        { "no-memory", "event=01 00 02 78 56 34 12 20 00 04 0F 06 EF F0 01 00", FALSE }, /* it ended */
    };
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
        const char *const items[] = { cases[i].item, NULL };
        g_autoptr (Library) library = load_base (BASE "unit.yaml", items);
        const Seen *seen = g_ptr_array_index (library->seens, 0);
        const Sign *sign = find_sign (library, cases[i].sign);
        if (sign_is_given (sign, seen->board, nth (seen, 0)) != cases[i].given)
            fail_msg ("sign %s, seen %s: expected %d", cases[i].sign, cases[i].item, cases[i].given);
    }
}

static void
test_sign_of_other_board (void **state)
{
    (void) state;
    g_autoptr (Library) library = load_shop ();
    const Board *wren = book_find_board (&library->book, g_intern_string ("wren-2s")),
                *ouzel = book_find_board (&library->book, g_intern_string ("ouzel-1s"));
    Observation code = { .kind = SEEN_POST_CODE, .number = 0x2A };
    const Sign *sign = find_sign (library, "wren-code-memory");
    assert_true (sign_is_given (sign, wren, &code));
    assert_false (sign_is_given (sign, ouzel, &code));
}

/* ---- Events of rules/signs.yaml against the table ---- */

static int
hex_field (const char *text)
{
    char *end;
    guint64 number = g_ascii_strtoull (text, &end, 16);
    return *text && *end == '\0' && number <= 0xFF ? (int) number : -1;
}

/* Rows of the table that list this; `kind` "event", "event-data-2" or "event-data-3". */
static guint
rows_of (char **lines, const char *kind, int sensor_type, int offset, int code)
{
    guint rows = 0;
    for (guint i = 0; lines[i]; i++) {
        g_auto (GStrv) fields = g_strsplit (lines[i], "\t", -1);
        if (g_strv_length (fields) >= 6 && strcmp (fields[0], kind) == 0 && hex_field (fields[1]) == sensor_type &&
            hex_field (fields[2]) == offset && (code < 0 || hex_field (fields[4]) == code) &&
            !g_str_has_prefix (fields[5], "reserved"))
            rows++;
    }
    return rows;
}

static void
check_event_sign (char **lines, const Sign *sign)
{
    const SeenEvent *event = &sign->event;
    if (rows_of (lines, "event", event->sensor_type, event->offset, -1) != 1)
        fail_msg ("sign %s: sensor type %02Xh has no offset %02Xh", sign->id, event->sensor_type, event->offset);
    for (int code = event->data_2; code >= 0 && code <= sign->data_2_to; code++)
        if (rows_of (lines, "event-data-2", event->sensor_type, event->offset, code) != 1)
            fail_msg ("sign %s: data 2 has no code %02Xh there", sign->id, (guint) code);
    if (event->data_3 >= 0 && rows_of (lines, "event-data-3", event->sensor_type, event->offset, event->data_3) != 1)
        fail_msg ("sign %s: data 3 has no code %02Xh there", sign->id, (guint) event->data_3);
    g_autofree char *place = g_strdup_printf ("table 42-3, sensor type %02Xh offset %02Xh", (guint) event->sensor_type,
                                              (guint) event->offset);
    assert_non_null (strstr (sign->source.text, place));
}

static void
test_events_are_in_the_table (void **state)
{
    (void) state;
    g_autofree char *text = NULL;
    guint events = 0;
    assert_true (g_file_get_contents (EVENTS, &text, NULL, NULL));
    g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
    assert_int_equal (rows_of (lines, "event", 0x0F, 0x03, -1), 0); /* the table can say no */
    assert_int_equal (rows_of (lines, "event-data-2", 0x0F, 0x02, 0x15), 0);
    const char *const paths[] = { "rules", NULL };
    g_autoptr (Library) library = load_right (paths, NULL);
    for (guint i = 0; i < library->signs->len; i++) {
        const Sign *sign = g_ptr_array_index (library->signs, i);
        assert_non_null (sign->source.text);
        if (sign->kind != SEEN_EVENT)
            continue;
        check_event_sign (lines, sign);
        events++;
    }
    assert_in_range (events, 40, 80);
}

/* source: docs/method.md, "Evidence": a host that handed over to an operating system had started. Of rules only those go
 * that keep it from starting; one that harms, or that counts watts with a supply lost, does not. Common practice, no source */
static void
test_what_reaching_boot_excludes (void **state)
{
    (void) state;
    g_autoptr (Library) library = load_shop ();
    const Sign *sign = find_sign (library, "reached-boot");
    guint rules = 0, stopping = 0, causes = 0;
    for (guint i = 0; i < sign->excludes->len; i++) {
        const Rule *rule = g_array_index (sign->excludes, SignTarget, i).rule;
        rules += rule != NULL;
        causes += g_array_index (sign->excludes, SignTarget, i).cause != NULL;
        assert_true (!rule || (rule->breaking == BREAKING_STOPS && strcmp (rule->id, "supplies-cover-watts") != 0));
    }
    for (guint i = 0; i < library->rules->len; i++)
        stopping += ((const Rule *) g_ptr_array_index (library->rules, i))->breaking == BREAKING_STOPS;
    assert_int_equal (rules, stopping - 1);
    assert_int_equal (causes, 13); /* all that rules/looks.yaml names */
}

/* Without main power nothing runs that anything but the power side could stop. Common practice, no source. */
static void
test_what_no_power_leaves (void **state)
{
    (void) state;
    static const char *const signs[] = { "light-off", "fans-still" };
    static const char *const power[] = { "supply-lead-loose", "supply-not-seated", "supply-dead", "board-damaged", NULL };
    static const char *const kept[] = { "supplies-cover-watts", "processor-fitted", NULL };
    g_autoptr (Library) library = load_shop ();
    for (guint s = 0; s < G_N_ELEMENTS (signs); s++) {
        const Sign *sign = find_sign (library, signs[s]);
        guint causes = 0, rules = 0;
        for (guint i = 0; i < sign->excludes->len; i++) {
            const SignTarget *target = &g_array_index (sign->excludes, SignTarget, i);
            causes += target->cause != NULL;
            rules += target->rule != NULL;
            assert_true (!target->cause || !g_strv_contains (power, target->cause->id));
            assert_true (!target->rule || !g_strv_contains (kept, target->rule->id));
        }
        assert_int_equal (causes, 13 - 4);
        assert_int_equal (rules, 6); /* of firmware, memory and heat sinks */
    }
}

/* ---- Factory ---- */

/* A unit of wren-1s with what `firmware` and `factory` say. Possible releases of system as "1.0 1.4". */
static char *
possible (const char *board, const char *firmware, const char *factory)
{
    g_autofree char *text =
        g_strdup_printf ("unit: x\nboard: %s\nrevision: r1\nfirmware: %s\nfactory: %s\n", board, firmware, factory);
    g_autofree char *path = write_file (text);
    const char *const paths[] = { BASE "bench.yaml", BASE "spare.yaml", path, NULL };
    g_autoptr (Library) library = load_right (paths, NULL);
    g_unlink (path);
    const Unit *unit = g_ptr_array_index (library->units, 0);
    GString *out = g_string_new (NULL);
    for (guint c = 0; c < unit->board->components->len; c++) {
        const Component *component = board_component (unit->board, c);
        guint count = 0;
        g_string_append_printf (out, "%s%s", c ? "; " : "", component->name);
        for (guint i = 0; i < component->releases->len; i++)
            if (unit->releases[c].may_be[i]) {
                g_string_append_printf (out, " %s", component_release (component, i)->name);
                count++;
            }
        assert_int_equal (count, unit->releases[c].count);
    }
    return g_string_free (out, FALSE);
}

static void
test_factory_narrows (void **state)
{
    (void) state;
    static const struct {
        const char *board, *firmware, *factory, *left;
    } cases[] = {
        /* a label: at or above; where nobody wrote: exactly */
        { "wren-1s", "{system: unknown, controller: unknown}", "{label: {system: 1.4}}",
          "system 1.4 2.1; controller amber birch cedar" },
        { "wren-1s", "{system: unknown, controller: unknown}",
          "{label: {system: 1.4, controller: birch}, written-since: no}", "system 1.4; controller birch" },
        { "wren-1s", "{system: unknown, controller: unknown}", "{label: {controller: birch}, written-since: yes}",
          "system 1.0 1.4 2.1; controller birch cedar" },
        { "wren-1s", "{system: 2.1, controller: cedar}", "{label: {system: 1.4}}", "system 2.1; controller cedar" },
        /* a date: only where nobody wrote; the same day is out, releases without a date stay */
        { "dunnock-1s", "{system: unknown, controller: unknown}", "{made: 2033-02-01}",
          "system 1.0 1.4 2.1; system-2 1.0 1.4 2.1; controller 2.0 2.5 2.10" },
        { "dunnock-1s", "{system: unknown, controller: unknown}", "{made: 2033-02-01, written-since: no}",
          "system 1.0 2.1; system-2 1.0 2.1; controller 2.0 2.5 2.10" },
        { "dunnock-1s", "{system: unknown, controller: unknown}", "{made: 2033-02-02, written-since: no}",
          "system 1.0 1.4 2.1; system-2 1.0 1.4 2.1; controller 2.0 2.5 2.10" },
        /* a spare image that is not told of has what the active one may have; one that is told of keeps its own */
        { "dunnock-1s", "{system: unknown, controller: 2.0}", "{label: {system: 1.4}}",
          "system 1.4 2.1; system-2 1.4 2.1; controller 2.0" },
        { "dunnock-1s", "{system: unknown, system-2: unknown, controller: 2.0}", "{label: {system-2: 2.1}}",
          "system 1.0 1.4 2.1; system-2 2.1; controller 2.0" },
        { "wren-1s", "{system: unknown, controller: amber}", "{written-since: no}",
          "system 1.0 1.4 2.1; controller amber" },
    };
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
        g_autofree char *left = possible (cases[i].board, cases[i].firmware, cases[i].factory);
        assert_string_equal (left, cases[i].left);
    }
}

static void
test_factory_is_kept (void **state)
{
    (void) state;
    g_autofree char *path = write_file ("unit: x\nboard: wren-1s\nrevision: r1\n"
                                        "firmware: {system: unknown, controller: amber}\n"
                                        "factory: {made: 2033-04-30, label: {system: 1.4}, written-since: no}\n");
    const char *const paths[] = { BASE "bench.yaml", path, NULL };
    g_autoptr (Library) library = load_right (paths, NULL);
    g_unlink (path);
    const Unit *unit = g_ptr_array_index (library->units, 0);
    assert_string_equal (unit->factory.made, "2033-04-30");
    assert_true (unit->factory.unwritten && unit->factory.label[0] == 1 && unit->factory.label[1] == -1);
    assert_int_equal (unit->factory.at.line, 5);
    Factory copy = factory_copy (&unit->factory, unit->board);
    assert_true (copy.label != unit->factory.label && copy.label[0] == 1 && copy.label[1] == -1);
    g_free (copy.label);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_causes),
        cmocka_unit_test (test_causes_of_the_program),
        cmocka_unit_test (test_found),
        cmocka_unit_test (test_pages),
        cmocka_unit_test (test_observations),
        cmocka_unit_test (test_words),
        cmocka_unit_test (test_items_beside_a_file),
        cmocka_unit_test (test_several_units),
        cmocka_unit_test (test_raw_records),
        cmocka_unit_test (test_sign_keys),
        cmocka_unit_test (test_sign_is_given),
        cmocka_unit_test (test_sign_of_other_board),
        cmocka_unit_test (test_events_are_in_the_table),
        cmocka_unit_test (test_what_reaching_boot_excludes),
        cmocka_unit_test (test_what_no_power_leaves),
        cmocka_unit_test (test_factory_narrows),
        cmocka_unit_test (test_factory_is_kept),
    };
    return cmocka_run_group_tests_name ("evidence", tests, NULL, NULL);
}
