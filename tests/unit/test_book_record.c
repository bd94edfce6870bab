/* SPDX-License-Identifier: MIT */
/* Bench records, what to look at first, and the rules and cautions that come with the program. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include "book/book.h"

#define BASE "tests/malformed/base/"

static Library *
load (const char *const *paths)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    Library *library = library_load (paths, NULL, complaints);
    g_autofree char *printed = complaints_to_string (complaints, 50);
    assert_string_equal (printed, "");
    return library;
}

/* ---- Records ---- */

static void
test_record (void **state)
{
    (void) state;
    static const char file[] = "tests/malformed/record-is-fine.yaml";
    const char *const paths[] = { BASE "bench.yaml", BASE "unit.yaml", file, NULL };
    g_autoptr (Library) library = load (paths);
    assert_int_equal (library->records->len, 2);
    const Record *record = g_ptr_array_index (library->records, 0), *empty = g_ptr_array_index (library->records, 1);
    assert_string_equal (record->name, "LK-0001");
    assert_string_equal (record->unit, "LK-0001");
    assert_string_equal (record->route, "by hand");
    assert_string_equal (record->file, file);
    assert_ptr_equal (record->board, ((const Unit *) g_ptr_array_index (library->units, 0))->board);
    assert_int_equal (record->entries->len, 3);
    const RecordEntry *first = g_ptr_array_index (record->entries, 0);
    assert_true (record->entries_at.line + 1 >= first->at.line && record->entries_at.line > record->at.line);
    assert_int_equal (empty->entries->len, 0);
    assert_null (empty->route);
}

static void
test_entries (void **state)
{
    (void) state;
    const char *const paths[] = { BASE "bench.yaml", BASE "unit.yaml", "tests/malformed/record-is-fine.yaml", NULL };
    g_autoptr (Library) library = load (paths);
    const Record *record = g_ptr_array_index (library->records, 0);
    const RecordEntry *done = g_ptr_array_index (record->entries, 0), *failed = g_ptr_array_index (record->entries, 1),
                      *skipped = g_ptr_array_index (record->entries, 2);
    assert_true (done->number == 1 && done->outcome == ENTRY_DONE);
    assert_string_equal (done->time, "2034-03-05T09:41+01:00");
    assert_string_equal (done->initials, "mk");
    assert_true (!done->found && !done->firmware && !done->fitted && !done->looked_at);
    assert_true (failed->number == 2 && failed->outcome == ENTRY_FAILED);
    assert_string_equal (failed->found, "dark after 12 minutes");
    assert_true (failed->looked_at[0] && failed->looked_at[1] && !failed->looked_at[2]);
    assert_string_equal (failed->fitted[0].part->name, "dorvan-8");
    assert_int_equal (failed->fitted[0].owner, OWNER_LOAN);
    assert_null (failed->fitted[1].part);
    assert_true (skipped->number == 0 && skipped->outcome == ENTRY_SKIPPED);
    assert_int_equal (skipped->step.kind, STEP_WRITE);
    assert_int_equal (skipped->step.release, 1);
    assert_int_equal (skipped->step.method, METHOD_JUMPER);
    assert_int_equal (skipped->firmware[0].count, 2);
    assert_true (skipped->firmware[0].may_be[1] && !skipped->firmware[0].may_be[2]);
    assert_int_equal (skipped->firmware[1].count, 0); /* not read */
    assert_int_equal (skipped->firmware[1].floor, -1);
}

static void
test_bound_step (void **state)
{
    (void) state;
    const char *const paths[] = { BASE "bench.yaml", BASE "unit.yaml", "tests/malformed/route-bound-is-fine.yaml",
                                  NULL };
    g_autoptr (Library) library = load (paths);
    const WrittenRoute *route = g_ptr_array_index (library->routes, 0);
    assert_int_equal (route->steps->len, 3);
    assert_string_equal (g_array_index (route->steps, Step, 1).bound, "alderbank");
    assert_int_equal (g_array_index (route->steps, Step, 2).method, METHOD_SPARE);
}

/* ---- What comes with the program ---- */

static Library *
load_rules (void)
{
    const char *const paths[] = { "rules", NULL };
    return load (paths);
}

static const Rule *
find_rule (const Library *library, const char *id)
{
    for (guint i = 0; i < library->rules->len; i++)
        if (g_str_equal (((const Rule *) g_ptr_array_index (library->rules, i))->id, id))
            return g_ptr_array_index (library->rules, i);
    return NULL;
}

static void
test_rules_of_bound_parts_and_blanks (void **state)
{
    (void) state;
    g_autoptr (Library) library = load_rules ();
    const Rule *elsewhere = find_rule (library, "bound-elsewhere"),
               *lent = find_rule (library, "loaner-would-be-bound");
    const Rule *blank = find_rule (library, "blank-or-processor"),
               *clip = find_rule (library, "verified-boot-bars-clip");
    assert_true (elsewhere && lent && blank && clip);
    assert_true (elsewhere->form == FORM_BINDS && elsewhere->kind == KIND_PROCESSOR && !elsewhere->binds_lent);
    assert_int_equal (elsewhere->breaking, BREAKING_STOPS);
    assert_true (lent->form == FORM_BINDS && lent->kind == KIND_PROCESSOR && lent->binds_lent);
    assert_true (lent->breaking == BREAKING_HARMS && lent->powers == POWER_ON);
    assert_true (blank->form == FORM_ONE_OF && blank->kind == KIND_BLANK && blank->under_kind == KIND_PROCESSOR);
    assert_true (blank->breaking == BREAKING_HARMS && blank->powers == (POWER_ON | POWER_STANDBY));
    assert_true (clip->breaking == BREAKING_BARS && clip->methods == METHOD_BIT (METHOD_CLIP));
    assert_string_equal (clip->conflicts->name, "verified-boot");
}

static void
test_looks (void **state)
{
    (void) state;
    g_autoptr (Library) library = load_rules ();
    guint after = 0;
    assert_int_equal (library->looks->len, 12); /* rules/looks.yaml */
    for (guint i = 0; i < library->looks->len; i++) {
        const LookFirst *look = g_ptr_array_index (library->looks, i);
        assert_true (look->id && look->says && (look->minutes > 0) != look->by_elimination && look->after != 0 && look->at.line > 0);
        assert_non_null (look->source.text);
        after |= look->after;
    }
    assert_int_equal (after, 1u << KIND_PROCESSOR | 1u << KIND_HEAT_SINK | 1u << KIND_MEMORY | 1u << KIND_SUPPLY |
                                 1u << KIND_RISER);
}

/* Each of these words has a caution. */
static void
test_cautions_for_new_words (void **state)
{
    (void) state;
    static const char *const words[] = { "jumper-write", "spare-write", "asks-clear-settings", "binds" };
    g_autoptr (Library) library = load_rules ();
    for (guint w = 0; w < G_N_ELEMENTS (words); w++) {
        guint count = 0;
        assert_true (g_strv_contains (caution_when_words (), words[w]));
        for (guint i = 0; i < library->cautions->len; i++) {
            const Caution *caution = g_ptr_array_index (library->cautions, i);
            count += g_ptr_array_find_with_equal_func (caution->when, words[w], g_str_equal, NULL);
        }
        assert_true (count > 0);
    }
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_record),     cmocka_unit_test (test_entries),
        cmocka_unit_test (test_bound_step), cmocka_unit_test (test_rules_of_bound_parts_and_blanks),
        cmocka_unit_test (test_looks),      cmocka_unit_test (test_cautions_for_new_words),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
