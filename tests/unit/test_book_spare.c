/* SPDX-License-Identifier: MIT */
/* Spare images, and what a unit in the middle of its work says: tests/malformed/base/spare.yaml and spare-unit.yaml. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include <glib/gstdio.h>

#include "book/book.h"

#define BOOK "tests/malformed/base/spare.yaml"
#define UNIT "tests/malformed/base/spare-unit.yaml"

/* What both files say, without a complaint. */
static Library *
load (const char *unit_path)
{
    const char *const paths[] = { BOOK, unit_path, NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    Library *library = library_load (paths, NULL, complaints);
    g_autofree char *printed = complaints_to_string (complaints, 50);
    assert_string_equal (printed, "");
    return library;
}

static int
set_up (void **state)
{
    *state = load (UNIT);
    return 0;
}

static int
tear_down (void **state)
{
    library_free (*state);
    return 0;
}

static const Board *
the_board (const Library *library)
{
    return book_find_board (&library->book, "dunnock-1s");
}

static const Component *
the_component (const Library *library, const char *name)
{
    const Board *board = the_board (library);
    int index = board_find_component (board, name);
    assert_true (index >= 0);
    return board_component (board, (guint) index);
}

static void
assert_expression (const Expr *expr, const char *text)
{
    assert_non_null (expr);
    g_autofree char *found = expression_to_string (expr);
    assert_string_equal (found, text);
}

/* ---- Boards, methods, parts ---- */

static gboolean
board_offers (const Board *board, const char *name)
{
    g_autoptr (GArray) offered = g_array_new (FALSE, FALSE, sizeof (Provide));
    board_each_provide (board, 0, offered);
    for (guint i = 0; i < offered->len; i++)
        if (g_str_equal (g_array_index (offered, Provide, i).name, name))
            return g_array_index (offered, Provide, i).version == NULL;
    return FALSE;
}

static void
test_board_keys (void **state)
{
    const Library *library = *state;
    const Board *board = the_board (library);
    assert_string_equal (board->binds, "alderbank");
    assert_false (board->verified_boot);
    assert_false (board_offers (board, "verified-boot"));
    Board verified = *board;
    verified.verified_boot = TRUE;
    assert_true (board_offers (&verified, "verified-boot"));
    assert_true (attribute_find (board_slot (board, 0)->attributes, "rated-insertions")->number == 30);
    assert_true (book_find_part (&library->book, "elvane-18")->binds);
    assert_false (book_find_part (&library->book, "elvane-20")->binds);
    assert_false (book_find_part (&library->book, "dorvan-12")->binds);
}

static void
test_verified_boot_is_read (void **state)
{
    (void) state;
    g_autofree char *path = NULL;
    int handle = g_file_open_tmp ("rungwise-book-XXXXXX.yaml", &path, NULL);
    assert_true (handle >= 0);
    g_close (handle, NULL);
    assert_true (g_file_set_contents (
        path, "book: x\nboards:\n  - {board: robin-1s, revisions: [r1], verified-boot: yes}\n", -1, NULL));
    const char *const paths[] = { path, NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library = library_load (paths, NULL, complaints);
    g_unlink (path);
    const Board *board = book_find_board (&library->book, "robin-1s");
    assert_true (complaints_count (complaints) == 0 && board->verified_boot);
    assert_true (board_offers (board, "verified-boot"));
    assert_null (board->binds);
}

/* Of from, to-write and floor: one letter each that a method obeys. */
static void
assert_obeys (const MethodEntry *entry, const char *letters)
{
    assert_true (entry->there);
    assert_int_equal (entry->obeys_from, strchr (letters, 'f') != NULL);
    assert_int_equal (entry->obeys_to_write, strchr (letters, 'w') != NULL);
    assert_int_equal (entry->obeys_floor, strchr (letters, 'l') != NULL);
}

static void
test_methods (void **state)
{
    const Component *system = the_component (*state, "system"), *controller = the_component (*state, "controller");
    assert_obeys (&system->methods[METHOD_HOST], "fwl");
    assert_obeys (&system->methods[METHOD_CONTROLLER], "fwl");
    assert_obeys (&system->methods[METHOD_CLIP], "fl");
    assert_obeys (&system->methods[METHOD_JUMPER], "w");
    assert_obeys (&system->methods[METHOD_SPARE], "l"); /* not given: the floor */
    assert_int_equal (system->methods[METHOD_CONTROLLER].host, HOST_OFF);
    assert_int_equal (controller->methods[METHOD_CONTROLLER].host, HOST_EITHER);
    assert_true (system->methods[METHOD_JUMPER].minutes == 12 && system->methods[METHOD_JUMPER].attended == 4);
    assert_true (system->methods[METHOD_JUMPER].recovery_only && !system->methods[METHOD_SPARE].recovery_only);
    assert_expression (system->methods[METHOD_SPARE].requires, "controller >= 2.0");
    assert_int_equal (system->recovery,
                      METHOD_BIT (METHOD_SPARE) | METHOD_BIT (METHOD_JUMPER) | METHOD_BIT (METHOD_CLIP));
    assert_int_equal (controller->recovery, 0);
    const Release *release = component_release (system, 1);
    assert_true (release->asks_clear_settings && !component_release (system, 0)->asks_clear_settings);
    assert_int_equal (release->methods, METHOD_BIT (METHOD_COUNT) - 1);
}

/* ---- Spare images ---- */

static void
test_spare_component (void **state)
{
    const Component *system = the_component (*state, "system"), *spare = the_component (*state, "system-2");
    assert_string_equal (system->spare, "system-2");
    assert_null (system->spare_of);
    assert_string_equal (spare->spare_of, "system");
    assert_null (spare->spare);
    assert_int_equal (spare->scheme, system->scheme);
    assert_true (system->states_starts && !spare->states_starts);
    assert_int_equal (spare->recovery, METHOD_BIT (METHOD_CLIP));
    for (int method = 0; method < METHOD_COUNT; method++)
        assert_int_equal (spare->methods[method].there, method != METHOD_JUMPER && method != METHOD_SPARE);
    assert_true (spare->methods[METHOD_HOST].minutes == 9 && spare->methods[METHOD_CONTROLLER].attended == 1);
    assert_expression (spare->methods[METHOD_CONTROLLER].requires, "controller >= 2.10");
    assert_obeys (&spare->methods[METHOD_CLIP], "fl");
    assert_null (the_component (*state, "controller")->spare);
    assert_int_equal (((const Library *) *state)->book.firmware->len, 3);
}

static void
test_spare_releases (void **state)
{
    const Component *system = the_component (*state, "system"), *spare = the_component (*state, "system-2");
    assert_int_equal (spare->releases->len, 3);
    for (guint i = 0; i < 3; i++) {
        const Release *active = component_release (system, i), *copy = component_release (spare, i);
        assert_ptr_equal (copy->name, active->name);
        assert_int_equal (copy->index, i);
        assert_int_equal (copy->lowest, active->lowest);
        assert_ptr_equal (copy->withdrawn, active->withdrawn);
        assert_null (copy->starts);
        assert_null (copy->running_conflicts);
        assert_int_equal (copy->also_writes->len, 0);
        assert_int_equal (copy->provides->len, 0);
        assert_false (copy->clears_settings || copy->asks_clear_settings);
    }
    const Release *middle = component_release (spare, 1), *newest = component_release (spare, 2);
    assert_expression (middle->from, "system-2 >= 1.0");
    assert_expression (newest->from, "system-2 >= 1.4 and system-2 < 2.1 or system-2 = 2.1");
    assert_expression (component_release (system, 2)->from, "system >= 1.4 and system < 2.1 or system = 2.1");
    assert_expression (middle->to_write_requires, "controller >= 2.0");
    assert_expression (middle->to_write_conflicts, "controller = 2.5");
    assert_int_equal (newest->lowest, 1);
    assert_int_equal (newest->methods, METHOD_BIT (METHOD_HOST) | METHOD_BIT (METHOD_CLIP));
    assert_string_equal (middle->date, "2033-02-01");
    assert_string_equal (middle->file_name, "sys-1.4.img");
    assert_true (middle->bytes == 16777216);
    assert_string_equal (middle->source.text, "release note 1.4");
    assert_int_equal (middle->takes_effect, EFFECT_MAINS_OFF);
}

static void
test_spare_offers_its_release_alone (void **state)
{
    const Component *spare = the_component (*state, "system-2");
    g_autoptr (GArray) offered = g_array_new (FALSE, FALSE, sizeof (Provide));
    release_each_provide (spare, component_release (spare, 1), offered);
    assert_int_equal (offered->len, 1);
    assert_string_equal (g_array_index (offered, Provide, 0).name, "system-2");
    assert_string_equal (g_array_index (offered, Provide, 0).version, "1.4");
}

/* ---- Units ---- */

static const Unit *
the_unit (const Library *library)
{
    assert_int_equal (library->units->len, 1);
    return g_ptr_array_index (library->units, 0);
}

static void
test_spare_left_out (void **state)
{
    const Unit *unit = the_unit (*state);
    const UnitRelease *active = &unit->releases[0], *spare = &unit->releases[1];
    assert_int_equal (active->floor, 0);
    assert_int_equal (spare->floor, -1);
    assert_int_equal (spare->count, 1);
    assert_true (!spare->may_be[0] && spare->may_be[1] && !spare->may_be[2]);
    assert_ptr_not_equal (spare->may_be, active->may_be);
    assert_int_equal (unit->releases[2].count, 2);
}

static void
assert_fitted (const Fitted *fitted, const char *part, const char *stepping, Owner owner, const char *bound)
{
    assert_int_equal (fitted->part == NULL, part == NULL);
    if (part)
        assert_string_equal (fitted->part->name, part);
    assert_int_equal (g_strcmp0 (fitted->stepping, stepping), 0);
    assert_int_equal (fitted->owner, owner);
    assert_int_equal (g_strcmp0 (fitted->bound, bound), 0);
}

static void
test_unit_in_its_work (void **state)
{
    const Unit *unit = the_unit (*state);
    assert_true (!unit->failed[0] && !unit->failed[1] && unit->failed[2]);
    assert_true (unit->insertions[0] == 12 && unit->counted[0] && !unit->counted[1]);
    assert_int_equal (unit_insertions_left (unit, 0), 18);
    assert_int_equal (unit_insertions_left (unit, 1), G_MAXUINT);
    assert_fitted (&unit->fitted[0], "dorvan-12", "a1", OWNER_LOAN, NULL);
    assert_string_equal (unit->fitted[0].serial, "D10442");
    assert_fitted (&unit->fitted[1], "elvane-18", "b1", OWNER_STOCK, "alderbank");
    assert_fitted (&unit->fitted[2], NULL, NULL, OWNER_UNIT, NULL);
    assert_fitted (unit_began (unit, 0), "dorvan-12", "a0", OWNER_UNIT, NULL);
    assert_fitted (unit_began (unit, 1), NULL, NULL, OWNER_UNIT, NULL);
    assert_fitted (unit_began (unit, 2), "cover", NULL, OWNER_UNIT, NULL);
    assert_int_equal (unit->pulled->len, 2);
    assert_fitted (&g_array_index (unit->pulled, Fitted, 0), "dorvan-12", "a0", OWNER_UNIT, "alderbank");
    assert_string_equal (g_array_index (unit->pulled, Fitted, 0).serial, "A77");
    assert_fitted (&g_array_index (unit->pulled, Fitted, 1), "cover", NULL, OWNER_UNIT, NULL);
}

static void
test_unit_before_its_work (void **state)
{
    (void) state;
    g_autofree char *path = NULL;
    int handle = g_file_open_tmp ("rungwise-unit-XXXXXX.yaml", &path, NULL);
    assert_true (handle >= 0);
    g_close (handle, NULL);
    assert_true (g_file_set_contents (path,
                                      "unit: u\nboard: dunnock-1s\nrevision: r1\n"
                                      "firmware: {system: unknown, system-2: 1.0, controller: 2.0}\n"
                                      "fitted: {cpu1: elvane-18}\nbegan: {cpu2: elvane-20}\n",
                                      -1, NULL));
    g_autoptr (Library) library = load (path);
    g_unlink (path);
    const Unit *unit = the_unit (library);
    assert_int_equal (unit->releases[0].count, 3);
    assert_int_equal (unit->releases[1].count, 1); /* told of: not what the active image may have */
    assert_true (unit->releases[1].may_be[0]);
    assert_null (unit->failed);
    assert_null (unit->insertions);
    assert_null (unit->counted);
    assert_null (unit->pulled);
    assert_int_equal (unit_insertions_left (unit, 0), 30);
    assert_fitted (unit_began (unit, 0), "elvane-18", "b1", OWNER_UNIT, NULL); /* not named: as it stands */
    assert_fitted (unit_began (unit, 1), "elvane-20", "b1", OWNER_UNIT, NULL);
}

/* ---- Shops ---- */

static void
test_bound_lots_and_a_copy (void **state)
{
    const Shop *shop = g_ptr_array_index (((const Library *) *state)->shops, 0);
    assert_int_equal (shop->methods, METHOD_BIT (METHOD_COUNT) - 1);
    assert_int_equal (shop->lots->len, 4);
    assert_string_equal (g_array_index (shop->lots, Lot, 1).bound, "alderbank");
    assert_null (g_array_index (shop->lots, Lot, 2).bound);
    g_autoptr (Shop) copy = shop_copy (shop);
    assert_ptr_not_equal (copy->lots, shop->lots);
    assert_int_equal (copy->lots->len, 4);
    assert_ptr_equal (g_array_index (copy->lots, Lot, 3).part, g_array_index (shop->lots, Lot, 3).part);
    g_array_index (copy->lots, Lot, 3).count = 0;
    assert_int_equal (g_array_index (shop->lots, Lot, 3).count, 2);
    assert_ptr_equal (copy->name, shop->name);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_board_keys),
        cmocka_unit_test (test_verified_boot_is_read),
        cmocka_unit_test (test_methods),
        cmocka_unit_test (test_spare_component),
        cmocka_unit_test (test_spare_releases),
        cmocka_unit_test (test_spare_offers_its_release_alone),
        cmocka_unit_test (test_spare_left_out),
        cmocka_unit_test (test_unit_in_its_work),
        cmocka_unit_test (test_unit_before_its_work),
        cmocka_unit_test (test_bound_lots_and_a_copy),
    };
    return cmocka_run_group_tests (tests, set_up, tear_down);
}
