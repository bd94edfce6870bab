/* SPDX-License-Identifier: MIT */
/* A book that is right, read key by key, and what is asked of it afterwards. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include <glib/gstdio.h>

#include "book/book.h"

/* Every key of docs/files.md, "Book", once; the releases stand out of order. */
static const char book_text[] = "book: all keys\n"
                                "attributes: [ranks, finish]\n"
                                "generations:\n"
                                "  - {generation: dorvan, steppings: [a0, a1]}\n"
                                "  - generation: fenric\n"
                                "boards:\n"
                                "  - board: wren-2s\n"
                                "    revisions: [r1, r2, r10]\n"
                                "    watts: 90\n"
                                "    grade: shop\n"
                                "    dark-after: 7.5\n"
                                "    provides: [\"form ssi-a\", \"bus = 3\"]\n"
                                "    source: \"board sheet\"\n"
                                "    checked: 2034-01-15\n"
                                "    slots:\n"
                                "      - {slot: cpu1, takes: processor, socket: [S1840, S1841]}\n"
                                "      - {slot: sink1, takes: heat-sink, over: cpu1}\n"
                                "      - {slot: dimm-a1, takes: memory, memory-type: mk4, served-by: cpu1}\n"
                                "      - {slot: dimm-a2, takes: memory, served-by: cpu1}\n"
                                "      - {slot: supply1, takes: supply}\n"
                                "      - {slot: cpu2, takes: processor, socket: S1840}\n"
                                "    components: [system, engine, logic]\n"
                                "    mixed-steppings:\n"
                                "      - {generation: elvane, steppings: [b0, b1]}\n"
                                "firmware:\n"
                                "  - component: system\n"
                                "    for: [wren-2s]\n"
                                "    versions: dotted\n"
                                "    methods:\n"
                                "      host: {minutes: 9, attended: 2, verify: next-start}\n"
                                "      controller: {minutes: 14.5, requires: \"logic >= birch\"}\n"
                                "      clip: {minutes: 25, obeys: [floor, to-write]}\n"
                                "    recovery: [clip]\n"
                                "    releases:\n"
                                "      - release: 2.1.0\n"
                                "        date: 2033-04-02\n"
                                "        starts: [dorvan, {generation: elvane, steppings: [b0]}]\n"
                                "        never-starts: [fenric, {generation: elvane, steppings: [b1]}]\n"
                                "        from: \">= 1.4.0\"\n"
                                "        to-write: {requires: \"engine >= 4.0.1\", conflicts: \"logic < birch\"}\n"
                                "        while-running: {requires: \"engine\", conflicts: \"logic = amber\"}\n"
                                "        lowest: 1.3\n"
                                "        also-writes: {engine: 4.00.1}\n"
                                "        methods: [host, clip]\n"
                                "        takes-effect: mains-off\n"
                                "        clears-settings: yes\n"
                                "        file: {name: sys-2.1.0.img, sha256: "
                                "0123456789abcdef0123456789abcdef0123456789abcdef0123456789ABCDEF, bytes: 16777216}\n"
                                "        provides: [\"table-format = 3\"]\n"
                                "        source: \"release note 2.1.0\"\n"
                                "        withdrawn: \"stops fans on r1\"\n"
                                "      - {release: 1.0, starts: []}\n"
                                "      - {release: 1.4.0}\n"
                                "  - {component: engine, for: wren-2s, versions: dotted, methods: {host: {minutes: "
                                "1}}, releases: [{release: 4.0.1}]}\n"
                                "  - {component: logic, for: wren-2s, versions: listed, methods: {host: {minutes: 1}}, "
                                "releases: [{release: cedar},\n"
                                "     {release: amber}, {release: birch}]}\n"
                                "parts:\n"
                                "  - processor: elvane-14\n"
                                "    generation: elvane\n"
                                "    steppings: [b0, b1]\n"
                                "    signature: 0x0EF30F31\n"
                                "    socket: S1840\n"
                                "    watts: 135\n"
                                "    cores: 14\n"
                                "    base-mhz: 2600.5\n"
                                "    finish: bare\n"
                                "    requires: \"board wren-2s >= r2\"\n"
                                "    conflicts: \"logic = amber\"\n"
                                "    provides: [\"wide = 2\"]\n"
                                "  - {memory: dimm-16, memory-type: [mk4, mk5], ranks: 2}\n"
                                "  - {heat-sink: sink-1, rating: 150}\n";

static const char rules_text[] =
    "---\n"
    "rules:\n"
    "  - {rule: warned, says: \"W.\", breaking: warns, same: model, of: supply}\n"
    "  - {rule: alike, says: \"A.\", breaking: stops, same: model, of: processor}\n"
    "  - {rule: fits, says: \"F.\", breaking: stops, same: socket, of: processor, with: slot}\n"
    "  - {rule: mix, says: \"M.\", breaking: stops, same: stepping, of: processor, unless: mixed-steppings}\n"
    "  - {rule: drives, says: \"D.\", breaking: stops, same: finish, of: memory, with: supply, source: s, checked: "
    "2034-02-28}\n"
    "  - {rule: covers, says: \"C.\", breaking: harms, while: [on, standby], at-least: rating, of: heat-sink, covers: "
    "watts,\n"
    "     under: processor}\n"
    "  - {rule: power, says: \"P.\", breaking: stops, sum: watts, of: [processor], if-stated: [board, riser], within: "
    "output,\n"
    "     from: supply, largest: by-shop}\n"
    "  - {rule: some-memory, says: \"S.\", breaking: bars, methods: [host, clip], some: memory}\n"
    "  - {rule: beside, says: \"B.\", breaking: stops, when: memory, requires: processor, conflicts: riser}\n"
    "  - {rule: knows, says: \"K.\", breaking: stops, knows: processor}\n"
    "  - {rule: own, says: \"O.\", breaking: stops, own: part}\n"
    "  - {rule: one-of, says: \"E.\", breaking: stops, one-of: heat-sink, with: processor}\n"
    "  - {rule: bound, says: \"L.\", breaking: stops, binds: processor, whose: lent}\n";

/* ---- Loading a text ---- */

static Library *
load_text (const char *text, Complaints *complaints)
{
    g_autofree char *path = NULL;
    int handle = g_file_open_tmp ("rungwise-book-XXXXXX.yaml", &path, NULL);
    assert_true (handle >= 0);
    g_close (handle, NULL);
    assert_true (g_file_set_contents (path, text, -1, NULL));
    const char *const paths[] = { path, NULL };
    Library *library = library_load (paths, NULL, complaints);
    g_unlink (path);
    return library;
}

static Library *
load_right (const char *text)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    Library *library = load_text (text, complaints);
    g_autofree char *printed = complaints_to_string (complaints, 50);
    assert_string_equal (printed, "");
    return library;
}

static int
set_up (void **state)
{
    *state = load_right (book_text);
    return 0;
}

static int
tear_down (void **state)
{
    library_free (*state);
    return 0;
}

static const Component *
component_of (const Library *library, const char *name)
{
    const Board *board = book_find_board (&library->book, "wren-2s");
    int index = board_find_component (board, name);
    assert_true (index >= 0);
    return board_component (board, (guint) index);
}

static void
assert_expression (const Expr *expr, const char *expected)
{
    assert_non_null (expr);
    g_autofree char *text = expression_to_string (expr);
    assert_string_equal (text, expected);
}

/* ---- Boards ---- */

static void
test_board (void **state)
{
    const Library *library = *state;
    const Board *board = book_find_board (&library->book, "wren-2s");
    assert_non_null (board);
    assert_null (book_find_board (&library->book, "wren"));
    assert_string_equal (g_ptr_array_index (library->book.titles, 0), "all keys");
    assert_int_equal (board->revisions->len, 3);
    assert_int_equal (board_find_revision (board, "r10"), 2);
    assert_int_equal (board_find_revision (board, "r3"), -1);
    assert_true (board->dark_after_minutes == 7.5);
    assert_true (attribute_find (board->attributes, "watts")->number == 90);
    assert_string_equal (board->source.text, "board sheet");
    assert_string_equal (board->source.checked, "2034-01-15");
    assert_int_equal (board->at.line, 7);
    assert_int_equal (board->at.column, 12);
    assert_int_equal (board->mixed_steppings->len, 1);
}

static void
test_slots_in_file_order (void **state)
{
    const Library *library = *state;
    const Board *board = book_find_board (&library->book, "wren-2s");
    static const char *const names[] = { "cpu1", "sink1", "dimm-a1", "dimm-a2", "supply1", "cpu2" };
    assert_int_equal (board->slots->len, G_N_ELEMENTS (names));
    for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
        assert_string_equal (board_slot (board, i)->name, names[i]);
        assert_int_equal (board_slot (board, i)->index, i);
        assert_int_equal (board_find_slot (board, names[i]), i);
    }
    assert_int_equal (board_slot (board, 1)->over, 0);
    assert_int_equal (board_slot (board, 0)->over, -1);
    assert_int_equal (board_slot (board, 2)->served_by, 0);
    assert_int_equal (attribute_find (board_slot (board, 0)->attributes, "socket")->values->len, 2);
    assert_null (attribute_find (board_slot (board, 3)->attributes, "memory-type"));
    static const char *const components[] = { "system", "engine", "logic" }; /* as the board lists them */
    for (guint i = 0; i < G_N_ELEMENTS (components); i++)
        assert_string_equal (board_component (board, i)->name, components[i]);
}

/* ---- Firmware ---- */

static void
test_methods (void **state)
{
    const Component *system = component_of (*state, "system");
    const MethodEntry *host = &system->methods[METHOD_HOST], *clip = &system->methods[METHOD_CLIP];
    const MethodEntry *controller = &system->methods[METHOD_CONTROLLER];
    assert_true (host->there && host->minutes == 9 && host->attended == 2 && host->verify_next_start);
    assert_true (host->obeys_from && host->obeys_to_write && host->obeys_floor);
    assert_true (controller->minutes == 14.5 && controller->attended == 14.5); /* attended: as minutes */
    assert_expression (controller->requires, "logic >= birch");
    assert_true (clip->obeys_floor && clip->obeys_to_write && !clip->obeys_from);
    assert_int_equal (system->recovery, METHOD_BIT (METHOD_CLIP));
    assert_false (component_of (*state, "engine")->methods[METHOD_CLIP].there);
}

static void
test_releases_ascend (void **state)
{
    const Component *system = component_of (*state, "system"), *logic = component_of (*state, "logic");
    static const char *const sorted[] = { "1.0", "1.4.0", "2.1.0" };
    for (guint i = 0; i < G_N_ELEMENTS (sorted); i++) {
        assert_string_equal (component_release (system, i)->name, sorted[i]);
        assert_int_equal (component_release (system, i)->index, i);
    }
    assert_int_equal (component_find_release (system, "01.4.00"), 1); /* equal under the scheme */
    assert_int_equal (component_find_release (system, "1.4"), -1);
    assert_int_equal (component_find_release (system, "x"), -1);
    assert_string_equal (component_release (logic, 0)->name, "cedar"); /* listed: as in the file */
    assert_int_equal (component_find_release (logic, "birch"), 2);
    assert_true (system->states_starts);
    assert_false (logic->states_starts);
}

static void
test_release_keys (void **state)
{
    const Component *system = component_of (*state, "system");
    const Release *release = component_release (system, 2), *plain = component_release (system, 1);
    assert_string_equal (release->date, "2033-04-02");
    assert_expression (release->from, "system >= 1.4.0");
    assert_expression (release->to_write_requires, "engine >= 4.0.1");
    assert_expression (release->to_write_conflicts, "logic < birch");
    assert_expression (release->running_requires, "engine");
    assert_expression (release->running_conflicts, "logic = amber");
    assert_int_equal (release->lowest, 1); /* 1.3 is no release: nothing below 1.4.0 then */
    const AlsoWrites *also = g_ptr_array_index (release->also_writes, 0);
    assert_string_equal (also->component, "engine");
    assert_string_equal (also->release, "4.0.1"); /* written 4.00.1: equal under the scheme */
    assert_int_equal (release->methods, METHOD_BIT (METHOD_HOST) | METHOD_BIT (METHOD_CLIP));
    assert_int_equal (plain->methods,
                      METHOD_BIT (METHOD_HOST) | METHOD_BIT (METHOD_CONTROLLER) | METHOD_BIT (METHOD_CLIP));
    assert_int_equal (release->takes_effect, EFFECT_MAINS_OFF);
    assert_true (release->clears_settings && !plain->clears_settings);
    assert_string_equal (release->file_name, "sys-2.1.0.img");
    assert_int_equal (strlen (release->sha256), 64);
    assert_true (release->bytes == 16777216 && plain->bytes == -1);
    assert_string_equal (release->withdrawn, "stops fans on r1");
    assert_null (plain->withdrawn);
    assert_null (plain->starts);
    assert_int_equal (component_release (system, 0)->starts->len, 0);
    assert_int_equal (plain->lowest, -1);
}

static void
test_support (void **state)
{
    const Component *system = component_of (*state, "system");
    const Release *release = component_release (system, 2);
    static const struct {
        const char *generation, *stepping;
        SupportAnswer answer;
    } table[] = {
        { "dorvan", "a0", SUPPORT_YES }, { "elvane", "b0", SUPPORT_YES },        { "elvane", "b1", SUPPORT_NO },
        { "fenric", "a0", SUPPORT_NO },  { "elvane", "c0", SUPPORT_NOT_STATED }, { "garnet", "a0", SUPPORT_NOT_STATED },
    };
    for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
        Mark where = MARK_NONE;
        assert_int_equal (release_support (release, table[i].generation, table[i].stepping, &where), table[i].answer);
        assert_true (where.line >= release->at.line);
    }
    Mark where;
    release_support (release, "elvane", "b1", &where);
    assert_int_equal (where.line, 38);
    assert_int_equal (release_support (component_release (system, 0), "dorvan", "a0", NULL), SUPPORT_NOT_STATED);
}

/* ---- Parts, and what is offered ---- */

static void
test_part (void **state)
{
    const Library *library = *state;
    const Part *part = book_find_part (&library->book, "elvane-14");
    assert_int_equal (part->kind, KIND_PROCESSOR);
    assert_string_equal (part->generation, "elvane");
    assert_int_equal (part->steppings->len, 2);
    assert_true (attribute_find (part->attributes, "signature")->number == 0x0EF30F31);
    assert_true (attribute_find (part->attributes, "base-mhz")->number == 2600.5);
    assert_false (attribute_find (part->attributes, "socket")->is_number);
    assert_expression (part->requires, "board wren-2s >= r2");
    assert_expression (part->conflicts, "logic = amber");
    const Part *memory = book_find_part (&library->book, "dimm-16");
    assert_null (memory->generation);
    assert_int_equal (memory->steppings->len, 0);
    assert_true (attribute_find (memory->attributes, "ranks")->is_number);
    assert_false (attribute_find (part->attributes, "finish")->is_number);
}

/* "name = version, name, ..." */
static char *
provides_text (const GArray *provides)
{
    GString *text = g_string_new (NULL);
    for (guint i = 0; i < provides->len; i++) {
        const Provide *provide = &g_array_index (provides, Provide, i);
        assert_ptr_equal (provide->name, g_intern_string (provide->name));
        g_string_append_printf (text, "%s%s%s%s", i ? ", " : "", provide->name, provide->version ? " = " : "",
                                provide->version ? provide->version : "");
    }
    return g_string_free (text, FALSE);
}

/* docs/files.md, "Expressions", the table of what is offered. */
static void
test_provides (void **state)
{
    const Library *library = *state;
    const Board *board = book_find_board (&library->book, "wren-2s");
    g_autoptr (GArray) provides = g_array_new (FALSE, FALSE, sizeof (Provide));
    part_each_provide (book_find_part (&library->book, "elvane-14"), "b1", provides);
    g_autofree char *processor = provides_text (provides);
    assert_string_equal (processor, "processor, elvane-14 = b1, generation elvane = b1, stepping b1, socket S1840, "
                                    "finish bare, wide = 2");
    g_array_set_size (provides, 0);
    part_each_provide (book_find_part (&library->book, "dimm-16"), NULL, provides);
    g_autofree char *memory = provides_text (provides);
    assert_string_equal (memory, "memory, dimm-16, memory-type mk4, memory-type mk5");
    g_array_set_size (provides, 0);
    release_each_provide (component_of (library, "system"), component_release (component_of (library, "system"), 2),
                          provides);
    board_each_provide (board, 1, provides);
    g_autofree char *rest = provides_text (provides);
    assert_string_equal (rest, "system = 2.1.0, table-format = 3, board wren-2s = r2, grade shop, form ssi-a, bus = 3");
}

/* Each name by its own order: dotted, listed, revisions, Debian for the rest. */
static void
test_versions_answer (void **state)
{
    const Library *library = *state;
    const Board *board = book_find_board (&library->book, "wren-2s");
    static const struct {
        const char *atom, *have;
        gboolean answers;
    } table[] = {
        { "system >= 1.4", "1.4.0", TRUE },
        { "system = 1.04.0", "1.4.0", TRUE },
        { "system > 1.10", "1.9", FALSE },
        { "logic > cedar", "amber", TRUE },
        { "logic < amber", "birch", FALSE },
        { "logic >= gone", "amber", FALSE },
        { "board wren-2s > r2", "r10", TRUE },
        { "board wren-2s < r2", "r10", FALSE },
        { "bus >= 2", "3", TRUE },
        { "wide = 2", NULL, FALSE },
        { "wide", NULL, TRUE },
        { "wide", "2", TRUE },
        { "generation elvane < b1", "b0", TRUE },
        { "wide < 1.0", "1.0~rc1", TRUE },
    };
    for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
        g_autoptr (Complaints) complaints = complaints_new ();
        g_autoptr (Expr) atom = expression_parse (table[i].atom, MARK_NONE, NULL, complaints);
        if (board_version_answers (board, atom, table[i].have) != table[i].answers)
            fail_msg ("%s, offered %s", table[i].atom, table[i].have ? table[i].have : "without a version");
    }
}

/* ---- Rules ---- */

static const Rule *
rule_of (const Library *library, const char *id)
{
    for (guint i = 0; i < library->rules->len; i++) {
        const Rule *rule = g_ptr_array_index (library->rules, i);
        if (strcmp (rule->id, id) == 0)
            return rule;
    }
    fail_msg ("no rule %s", id);
    return NULL;
}

/* The rules need attributes that the parts of the book above lack; what is read of them is not harmed by that. */
static Library *
load_with_rules (void)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autofree char *text = g_strconcat (book_text, rules_text, NULL);
    Library *library = load_text (text, complaints);
    assert_int_equal (complaints_count (complaints), 1); /* dimm-16 states no finish */
    assert_non_null (strstr (complaints_get (complaints, 0)->what, "dimm-16 states no finish"));
    return library;
}

static void
test_rule_forms (void **state)
{
    (void) state;
    g_autoptr (Library) library = load_with_rules ();
    const Rule *covers = rule_of (library, "covers"), *power = rule_of (library, "power");
    const Rule *drives = rule_of (library, "drives"), *mix = rule_of (library, "mix");
    const Rule *some = rule_of (library, "some-memory"), *beside = rule_of (library, "beside");
    assert_true (covers->form == FORM_AT_LEAST && covers->breaking == BREAKING_HARMS);
    assert_int_equal (covers->powers, POWER_ON | POWER_STANDBY);
    assert_true (covers->kind == KIND_HEAT_SINK && covers->under_kind == KIND_PROCESSOR);
    assert_string_equal (covers->under_attribute, "watts");
    assert_true (power->form == FORM_SUM && power->sum_board && power->from_kind == KIND_SUPPLY);
    assert_int_equal (power->sum_kinds, 1u << KIND_PROCESSOR);
    assert_int_equal (power->sum_if_stated, 1u << KIND_RISER);
    assert_int_equal (power->largest, LARGEST_BY_SHOP);
    assert_string_equal (power->within_attribute, "output");
    assert_true (drives->form == FORM_SAME && drives->with_kind == KIND_SUPPLY && !drives->with_slot);
    assert_string_equal (drives->source.checked, "2034-02-28");
    assert_true (rule_of (library, "fits")->with_slot && rule_of (library, "fits")->with_kind == -1);
    assert_true (mix->unless_mixed);
    assert_true (some->breaking == BREAKING_BARS && some->kind == KIND_MEMORY);
    assert_int_equal (some->methods, METHOD_BIT (METHOD_HOST) | METHOD_BIT (METHOD_CLIP));
    assert_expression (beside->when, "memory");
    assert_expression (beside->requires, "processor");
    assert_expression (beside->conflicts, "riser");
    assert_int_equal (rule_of (library, "knows")->form, FORM_KNOWS);
    assert_int_equal (rule_of (library, "own")->form, FORM_OWN);
}

/* The rules of one id alone, tied or not: docs/method.md, "Tied slots". */
static gboolean
ties (const Library *library, const char *id, const char *a, const char *b)
{
    const Board *board = book_find_board (&library->book, "wren-2s");
    g_autoptr (GPtrArray) one = g_ptr_array_new ();
    g_ptr_array_add (one, (gpointer) rule_of (library, id));
    guint first = (guint) board_find_slot (board, a), second = (guint) board_find_slot (board, b);
    gboolean tied = rules_tie_kinds (one, board, first, second);
    assert_int_equal (tied, rules_tie_kinds (one, board, second, first));
    assert_false (rules_tie_kinds (one, board, first, first));
    return tied;
}

static void
test_ties (void **state)
{
    (void) state;
    g_autoptr (Library) library = load_with_rules ();
    static const struct {
        const char *rule, *a, *b;
        gboolean tied;
    } table[] = {
        { "alike", "cpu1", "cpu2", TRUE },
        { "alike", "cpu1", "sink1", FALSE },
        { "mix", "cpu1", "cpu2", TRUE },
        { "fits", "cpu1", "cpu2", FALSE },
        { "drives", "dimm-a1", "supply1", TRUE },
        { "drives", "dimm-a1", "dimm-a2", FALSE },
        { "covers", "sink1", "cpu1", TRUE },
        { "covers", "sink1", "cpu2", FALSE },
        { "power", "cpu1", "supply1", TRUE },
        { "power", "cpu1", "cpu2", TRUE },
        { "power", "dimm-a1", "supply1", FALSE },
        { "some-memory", "dimm-a1", "cpu1", TRUE },
        { "some-memory", "dimm-a1", "cpu2", FALSE },
        { "some-memory", "dimm-a1", "dimm-a2", FALSE },
        { "beside", "dimm-a1", "cpu1", FALSE },
        { "knows", "cpu1", "cpu2", FALSE },
        { "own", "cpu1", "cpu2", FALSE },
        { "one-of", "sink1", "cpu1", TRUE },
        { "one-of", "cpu1", "cpu2", FALSE },
        { "bound", "cpu1", "cpu2", FALSE },
        { "warned", "supply1", "cpu1", FALSE },
    };
    for (guint i = 0; i < G_N_ELEMENTS (table); i++)
        if (ties (library, table[i].rule, table[i].a, table[i].b) != table[i].tied)
            fail_msg ("%s: %s and %s", table[i].rule, table[i].a, table[i].b);
}

/* A rule that only warns ties nothing. */
static void
test_warnings_tie_nothing (void **state)
{
    (void) state;
    g_autoptr (Library) library = load_with_rules ();
    Rule *alike = (Rule *) rule_of (library, "alike");
    assert_true (ties (library, "alike", "cpu1", "cpu2"));
    alike->breaking = BREAKING_WARNS;
    assert_false (ties (library, "alike", "cpu1", "cpu2"));
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_board),
        cmocka_unit_test (test_slots_in_file_order),
        cmocka_unit_test (test_methods),
        cmocka_unit_test (test_releases_ascend),
        cmocka_unit_test (test_release_keys),
        cmocka_unit_test (test_support),
        cmocka_unit_test (test_part),
        cmocka_unit_test (test_provides),
        cmocka_unit_test (test_versions_answer),
        cmocka_unit_test (test_rule_forms),
        cmocka_unit_test (test_ties),
        cmocka_unit_test (test_warnings_tie_nothing),
    };
    return cmocka_run_group_tests (tests, set_up, tear_down);
}
