/* SPDX-License-Identifier: MIT */
/* Units, wants, shops and routes against a small book, and which of them go together. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include <glib/gstdio.h>

#include "book/book.h"

#define BOOK "tests/malformed/base/bench.yaml"
#define UNIT "tests/malformed/base/unit.yaml"

static const char second_board[] = "book: second\n"
                                   "boards:\n"
                                   "  - {board: robin-1s, revisions: [r1], slots: [{slot: cpu7, takes: processor}]}\n";

/* ---- Loading texts, each as a file of its own ---- */

typedef struct {
    char *folder;
    GPtrArray *paths; /* char* */
} Files;

static Files
write_files (const char *const *texts)
{
    Files files = { g_dir_make_tmp ("rungwise-units-XXXXXX", NULL), g_ptr_array_new_with_free_func (g_free) };
    for (guint i = 0; texts[i]; i++) {
        char *path = g_strdup_printf ("%s/%u.yaml", files.folder, i);
        assert_true (g_file_set_contents (path, texts[i], -1, NULL));
        g_ptr_array_add (files.paths, path);
    }
    return files;
}

static void
remove_files (Files *files)
{
    for (guint i = 0; i < files->paths->len; i++)
        g_unlink (g_ptr_array_index (files->paths, i));
    g_rmdir (files->folder);
    g_free (files->folder);
    g_ptr_array_unref (files->paths);
}

/* The book, `beside` (nullable) and the texts. */
static Library *
load (const char *beside, const char *const *texts, const char *const *want_items, Complaints *complaints)
{
    Files files = write_files (texts);
    g_autoptr (GPtrArray) paths = g_ptr_array_new ();
    g_ptr_array_add (paths, (gpointer) BOOK);
    if (beside)
        g_ptr_array_add (paths, (gpointer) beside);
    for (guint i = 0; i < files.paths->len; i++)
        g_ptr_array_add (paths, g_ptr_array_index (files.paths, i));
    g_ptr_array_add (paths, NULL);
    Library *library = library_load ((const char *const *) paths->pdata, want_items, complaints);
    remove_files (&files);
    return library;
}

static Library *
load_right (const char *beside, const char *text, const char *const *want_items)
{
    const char *const texts[] = { text, NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    Library *library = load (beside, texts, want_items, complaints);
    g_autofree char *printed = complaints_to_string (complaints, 50);
    assert_string_equal (printed, "");
    return library;
}

/* ---- Units ---- */

static const Unit *
only_unit (const Library *library)
{
    assert_int_equal (library->units->len, 1);
    return g_ptr_array_index (library->units, 0);
}

static void
test_unit (void **state)
{
    (void) state;
    g_autoptr (Library) library = load_right (NULL,
                                              "unit: LK-0107\nnote: \"came in dark\"\nboard: wren-1s\nrevision: r2\n"
                                              "firmware: {system: 1.04, controller: birch}\nfloor: {system: 1.2}\n"
                                              "fitted:\n  cpu1: {part: dorvan-8, stepping: a1, serial: \"A77\"}\n"
                                              "  sink1: sink-160\n  dimm-a1: empty\n",
                                              NULL);
    const Unit *unit = only_unit (library);
    assert_string_equal (unit->id, "LK-0107");
    assert_string_equal (unit->note, "came in dark");
    assert_ptr_equal (unit->file, unit->at.file);
    assert_string_equal (unit->board->name, "wren-1s");
    assert_int_equal (unit->revision, 1);
    assert_int_equal (unit->releases[0].count, 1);
    assert_true (unit->releases[0].may_be[1]);     /* 1.04 is 1.4 */
    assert_int_equal (unit->releases[0].floor, 1); /* nothing below 1.2: the first above it is 1.4 */
    assert_int_equal (unit->releases[1].floor, -1);
    assert_string_equal (unit->fitted[0].part->name, "dorvan-8");
    assert_string_equal (unit->fitted[0].stepping, "a1");
    assert_string_equal (unit->fitted[0].serial, "A77");
    assert_null (unit->fitted[1].stepping);
    assert_null (unit->fitted[2].part);
}

/* Which of 1.0, 1.4, 2.1 or of amber, birch, cedar a component may have. */
static void
test_possible_releases (void **state)
{
    (void) state;
    static const struct {
        const char *system, *controller;
        const char *system_may_be, *controller_may_be; /* one letter a release: y or n */
    } table[] = {
        { "1.0", "amber", "ynn", "ynn" },
        { "unknown", "unknown", "yyy", "yyy" },
        { "\"1.0 .. 1.4\"", "\"birch .. cedar\"", "yyn", "nyy" },
        { "\"1.1 .. 9\"", "\"amber .. amber\"", "nyy", "ynn" },
        { "\">= 1.4, < 2.1\"", "\"> amber\"", "nyn", "nyy" },
        { "[1.0, 2.1]", "[cedar]", "yny", "nny" },
        { "\"1.0 or 2.1\"", "\"!= birch\"", "yny", "yny" },
    };
    for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
        g_autofree char *text =
            g_strdup_printf ("unit: u\nboard: wren-1s\nrevision: r1\nfirmware: {system: %s, controller: %s}\n",
                             table[i].system, table[i].controller);
        g_autoptr (Library) library = load_right (NULL, text, NULL);
        const Unit *unit = only_unit (library);
        const char *const expected[] = { table[i].system_may_be, table[i].controller_may_be };
        for (guint component = 0; component < 2; component++) {
            guint count = 0;
            for (guint release = 0; release < 3; release++) {
                assert_int_equal (unit->releases[component].may_be[release], expected[component][release] == 'y');
                count += expected[component][release] == 'y';
            }
            assert_int_equal (unit->releases[component].count, count);
        }
    }
}

/* ---- Wants ---- */

static const Want *
only_want (const Library *library)
{
    assert_int_equal (library->wants->len, 1);
    return g_ptr_array_index (library->wants, 0);
}

static void
test_want (void **state)
{
    (void) state;
    g_autoptr (Library) library =
        load_right (UNIT,
                    "want: newest generation\nslots:\n  cpu1: {part: dorvan-8, stepping: a1}\n"
                    "  dimm-a1: empty\nfirmware: {system: \">= 1.4, < 2.1\"}\n"
                    "keep: [controller, sink1]\n",
                    NULL);
    const Want *want = only_want (library);
    assert_string_equal (want->name, "newest generation");
    assert_ptr_equal (want->board, only_unit (library)->board);
    assert_int_equal (want->slots[0].kind, WANT_PART);
    assert_string_equal (want->slots[0].stepping, "a1");
    assert_int_equal (want->slots[1].kind, WANT_NOTHING);
    assert_int_equal (want->slots[2].kind, WANT_EMPTY);
    g_autofree char *firmware = expression_to_string (want->firmware[0]);
    assert_string_equal (firmware, "system >= 1.4 and system < 2.1");
    assert_null (want->firmware[1]);
    assert_true (want->keep_slot[1] && !want->keep_slot[0]);
    assert_true (want->keep_component[1] && !want->keep_component[0]);
}

/* What is asked of cpu1, and whether each of three processors is so. */
static void
test_want_slot_is_met (void **state)
{
    (void) state;
    static const struct {
        const char *asked;
        gboolean dorvan_a0, dorvan_a1, elvane_b1, empty;
    } table[] = {
        { "dorvan-8", TRUE, TRUE, FALSE, FALSE },
        { "{part: dorvan-8, stepping: a1}", FALSE, TRUE, FALSE, FALSE },
        { "empty", FALSE, FALSE, FALSE, TRUE },
        { "{generation: elvane}", FALSE, FALSE, TRUE, FALSE },
        { "{generation: \"!= elvane\"}", TRUE, TRUE, FALSE, FALSE },
        { "{cores: \">= 12\"}", FALSE, FALSE, TRUE, FALSE }, /* dorvan-8 states no cores */
        { "{watts: \">= 90, < 100\"}", TRUE, TRUE, FALSE, FALSE },
        { "{watts: 135}", FALSE, FALSE, TRUE, FALSE },
        { "{socket: S1840, stepping: \">= a1\"}", FALSE, TRUE, TRUE, FALSE },
        { "{part: dorvan-8, watts: \"<= 95\"}", TRUE, TRUE, FALSE, FALSE },
        { "{stepping: a0}", TRUE, FALSE, FALSE, FALSE },
    };
    for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
        g_autofree char *text = g_strdup_printf ("want: w\nslots: {cpu1: %s}\n", table[i].asked);
        g_autoptr (Library) library = load_right (UNIT, text, NULL);
        const WantSlot *slot = &only_want (library)->slots[0];
        const Part *dorvan = book_find_part (&library->book, "dorvan-8"),
                   *elvane = book_find_part (&library->book, "elvane-14");
        gboolean right = want_slot_is_met (slot, dorvan, "a0") == table[i].dorvan_a0 &&
                         want_slot_is_met (slot, dorvan, "a1") == table[i].dorvan_a1 &&
                         want_slot_is_met (slot, elvane, "b1") == table[i].elvane_b1 &&
                         want_slot_is_met (slot, NULL, NULL) == table[i].empty;
        if (!right)
            fail_msg ("%s", table[i].asked);
        assert_true (want_slot_is_met (&only_want (library)->slots[1], NULL, NULL)); /* nothing asked */
    }
}

static void
test_want_items (void **state)
{
    (void) state;
    const char *const items[] = { "cpu1=elvane-14",   "dimm-a1 = empty", "system>=1.4, <2.1",
                                  "controller=birch", "keep=sink1",      NULL };
    const char *const none[] = { NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library = load (UNIT, none, items, complaints);
    g_autofree char *printed = complaints_to_string (complaints, 50);
    assert_string_equal (printed, "");
    const Want *want = only_want (library);
    assert_string_equal (want->file, "--want");
    assert_string_equal (want->slots[0].part->name, "elvane-14");
    assert_int_equal (want->slots[2].kind, WANT_EMPTY);
    g_autofree char *system = expression_to_string (want->firmware[0]),
                    *controller = expression_to_string (want->firmware[1]);
    assert_string_equal (system, "system >= 1.4 and system < 2.1");
    assert_string_equal (controller, "controller = birch");
    assert_true (want->keep_slot[1]);
}

static void
test_want_items_add_to_file (void **state)
{
    (void) state;
    const char *const items[] = { "system=2.1", NULL };
    g_autoptr (Library) library = load_right (UNIT, "want: w\nslots: {cpu1: elvane-14}\n", items);
    const Want *want = only_want (library);
    assert_non_null (want->slots[0].part);
    assert_non_null (want->firmware[0]);
    assert_string_not_equal (want->file, "--want");
}

/* ---- Which board ---- */

static const char robin_unit[] = "unit: LK-0009\nboard: robin-1s\nrevision: r1\n";

static void
test_want_goes_with_unit_of_its_file (void **state)
{
    (void) state;
    g_autofree char *text =
        g_strconcat (second_board, "---\n", robin_unit, "---\nwant: w\nslots: {cpu7: empty}\n", NULL);
    g_autoptr (Library) library = load_right (UNIT, text, NULL);
    const Want *want = only_want (library);
    const Unit *unit = g_ptr_array_index (library->units, 1);
    assert_string_equal (want->board->name, "robin-1s");
    assert_ptr_equal (want->file, unit->file);
}

static void
test_want_of_a_file_without_unit (void **state)
{
    (void) state;
    /* The book has two boards; the units, elsewhere, have one. */
    g_autofree char *text = g_strconcat (second_board, "---\nwant: w\nslots: {cpu1: empty}\n", NULL);
    g_autoptr (Library) library = load_right (UNIT, text, NULL);
    assert_string_equal (only_want (library)->board->name, "wren-1s");
    /* No unit at all: the book's only board. */
    g_autoptr (Library) alone = load_right (NULL, "want: w\nslots: {cpu1: empty}\n", NULL);
    assert_string_equal (only_want (alone)->board->name, "wren-1s");
}

/* Of several boards, the first that a want suits; where it suits none, that is a mistake. */
static void
test_want_among_several_boards (void **state)
{
    (void) state;
    const char *const suits[] = { second_board, robin_unit, "want: w\nslots: {cpu7: empty}\n", NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library = load (UNIT, suits, NULL, complaints);
    assert_int_equal (complaints_count (complaints), 0);
    assert_string_equal (only_want (library)->board->name, "robin-1s");

    const char *const suits_none[] = { second_board, robin_unit, "want: w\nslots: {cpu3: empty}\n", NULL };
    g_autoptr (Complaints) others = complaints_new ();
    g_autoptr (Library) unsuited = load (UNIT, suits_none, NULL, others);
    assert_int_equal (unsuited->wants->len, 0);
    assert_int_equal (complaints_count (others), 1);
    assert_string_equal (complaints_get (others, 0)->what,
                         "the units have several boards: which one is this want for?");
}

/* ---- Shops ---- */

static void
test_shop_default (void **state)
{
    (void) state;
    g_autoptr (Shop) shop = shop_new_default ();
    assert_int_equal (shop->methods, METHOD_BIT (METHOD_COUNT) - 1);
    assert_int_equal (shop->lots->len, 0);
    assert_true (shop->opening_minutes == 6 && shop->start_minutes == 5 && shop->dark_after_minutes == 10);
    for (guint kind = 0; kind < KIND_COUNT; kind++)
        assert_true (shop->remove_minutes[kind] == 2 && shop->fit_minutes[kind] == 3);
    assert_true (shop->technicians == 1 && shop->stations == 1);
    assert_false (shop->unverified_writes || shop->require_recovery || shop->redundant_supplies ||
                  shop->lend_pulled_parts);
    /* A shop file that says nothing says the same. */
    g_autoptr (Library) library = load_right (NULL, "shop: silent\n", NULL);
    const Shop *silent = g_ptr_array_index (library->shops, 0);
    assert_int_equal (silent->methods, shop->methods);
    assert_memory_equal (silent->fit_minutes, shop->fit_minutes, sizeof shop->fit_minutes);
    assert_memory_equal (silent->remove_minutes, shop->remove_minutes, sizeof shop->remove_minutes);
    assert_true (silent->opening_minutes == 6 && silent->start_minutes == 5);
}

static void
test_shop (void **state)
{
    (void) state;
    g_autoptr (Library) library = load_right (
        NULL,
        "shop: Larkfield bench\nmethods: [host, clip]\nloaners: [{part: dorvan-8, stepping: a1, count: 2}]\n"
        "stock: [{part: elvane-14}, {part: dorvan-8, stepping: a1, count: 0}]\nallow-unverified-writes: yes\n"
        "require-recovery: true\nredundant-supplies: no\nlend-pulled-parts: false\ndark-after: 12.5\ntechnicians: 2\n"
        "stations: 4\nminutes: {opening: 7, start: 4.5, remove: 1, fit: {processor: 4, memory: 1, other: 2}}\n",
        NULL);
    const Shop *shop = g_ptr_array_index (library->shops, 0);
    assert_int_equal (shop->methods, METHOD_BIT (METHOD_HOST) | METHOD_BIT (METHOD_CLIP));
    assert_int_equal (shop->lots->len, 3);
    const Lot *loaner = &g_array_index (shop->lots, Lot, 0), *stock = &g_array_index (shop->lots, Lot, 1);
    assert_true (loaner->owner == OWNER_LOAN && loaner->count == 2);
    assert_string_equal (loaner->stepping, "a1");
    assert_true (stock->owner == OWNER_STOCK && stock->count == 1);
    assert_string_equal (stock->stepping, "b1");
    assert_true (shop->unverified_writes && shop->require_recovery);
    assert_false (shop->redundant_supplies || shop->lend_pulled_parts);
    assert_true (shop->dark_after_minutes == 12.5 && shop->start_minutes == 4.5);
    assert_true (shop->remove_minutes[KIND_FAN] == 1 && shop->fit_minutes[KIND_PROCESSOR] == 4);
    assert_true (shop->fit_minutes[KIND_MEMORY] == 1 && shop->fit_minutes[KIND_FAN] == 2);
    assert_true (shop->technicians == 2 && shop->stations == 4);
}

/* ---- Routes ---- */

static void
assert_route (const Library *library)
{
    assert_int_equal (library->routes->len, 1);
    const WrittenRoute *route = g_ptr_array_index (library->routes, 0);
    assert_string_equal (route->board->name, "wren-1s");
    assert_int_equal (route->steps->len, 3);
    const Step *remove = &g_array_index (route->steps, Step, 0), *fit = &g_array_index (route->steps, Step, 1);
    const Step *write = &g_array_index (route->steps, Step, 2);
    assert_true (remove->kind == STEP_REMOVE && remove->slot == 0);
    assert_true (fit->kind == STEP_FIT && fit->slot == 0 && fit->owner == OWNER_LOAN);
    assert_string_equal (fit->part->name, "elvane-14");
    assert_string_equal (fit->stepping, "b1");
    assert_true (write->kind == STEP_WRITE && write->component == 0 && write->release == 1);
    assert_int_equal (write->method, METHOD_CLIP);
}

static void
test_route (void **state)
{
    (void) state;
    g_autoptr (Library) by_hand = load_right (UNIT,
                                              "route: by hand\nsteps:\n  - {do: remove, slot: cpu1}\n"
                                              "  - {do: fit, slot: cpu1, part: elvane-14, from: loan}\n"
                                              "  - {do: write, component: system, release: 1.4, by: clip}\n",
                                              NULL);
    assert_route (by_hand);
    g_autoptr (Library) json = load_right (UNIT,
                                           "{\"route\": \"found\", \"counts\": {\"steps\": 3}, \"steps\": [{\"do\": "
                                           "\"remove\", \"slot\": \"cpu1\", \"number\": 1,\n"
                                           " \"cautions\": [\"isolate\"]}, {\"do\": \"fit\", \"slot\": \"cpu1\", "
                                           "\"part\": \"elvane-14\", \"stepping\": \"b1\",\n"
                                           " \"from\": \"loan\", \"starts-before\": false}, {\"do\": \"write\", "
                                           "\"component\": \"system\", \"release\": \"1.4\",\n"
                                           " \"by\": \"clip\", \"minutes\": 25.0, \"why\": \"needed\"}]}\n",
                                           NULL);
    assert_route (json);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_unit),
        cmocka_unit_test (test_possible_releases),
        cmocka_unit_test (test_want),
        cmocka_unit_test (test_want_slot_is_met),
        cmocka_unit_test (test_want_items),
        cmocka_unit_test (test_want_items_add_to_file),
        cmocka_unit_test (test_want_goes_with_unit_of_its_file),
        cmocka_unit_test (test_want_of_a_file_without_unit),
        cmocka_unit_test (test_want_among_several_boards),
        cmocka_unit_test (test_shop_default),
        cmocka_unit_test (test_shop),
        cmocka_unit_test (test_route),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
