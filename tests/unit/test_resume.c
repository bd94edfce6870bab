/* SPDX-License-Identifier: MIT */
/* Where bench records leave the units of data/resume.yaml.
 *
 * source: each expectation is worked by hand from docs/files.md, "Record". */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <glib/gstdio.h>
#include <string.h>

#include "check/check.h"

#define DATA          "tests/unit/data/resume.yaml"
#define MOST_EXPECTED 8

/* The library with a record of these entries; its only record is that. */
static Library *
load_with (const char *unit, const char *entries)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autofree char *path = NULL;
    g_autofree char *text = g_strdup_printf ("record: test\nunit: %s\nentries:\n%s", unit, entries);
    int file = g_file_open_tmp ("record-XXXXXX.yaml", &path, NULL);
    const char *paths[] = { DATA, path, NULL };
    Library *library = NULL;

    assert_true (file >= 0 && g_close (file, NULL) && g_file_set_contents (path, text, -1, NULL));
    library = library_load (paths, NULL, complaints);
    g_remove (path);
    if (complaints_count (complaints) > 0) {
        g_autofree char *said = complaints_to_string (complaints, 5);

        fail_msg ("%s", said);
    }
    assert_int_equal (library->records->len, 1);
    return library;
}

static const Unit *
unit_named (const Library *library, const char *id)
{
    for (guint i = 0; i < library->units->len; i++)
        if (g_str_equal (((const Unit *) library->units->pdata[i])->id, id))
            return library->units->pdata[i];
    fail_msg ("no unit %s", id);
    return NULL;
}

static Resumed *
resume (const Library *library, const char *unit, gboolean with_route, Complaints *complaints)
{
    return resume_from_record (library->shops->pdata[0], unit_named (library, unit),
                               with_route ? library->routes->pdata[0] : NULL, library->records->pdata[0], complaints);
}

/* ---- What there is, in words ---- */

static void
append_part (GString *words, const Fitted *fitted)
{
    if (fitted->part == NULL) {
        g_string_append (words, "empty");
        return;
    }
    g_string_append_printf (words, "%s %s", owner_name (fitted->owner), fitted->part->name);
    if (fitted->stepping != NULL)
        g_string_append_printf (words, " %s", fitted->stepping);
    if (fitted->serial != NULL)
        g_string_append_printf (words, " #%s", fitted->serial);
    if (fitted->bound != NULL)
        g_string_append_printf (words, " bound to %s", fitted->bound);
}

static void
append_pulled (GString *words, const Unit *unit)
{
    for (guint i = 0; i < unit->pulled->len; i++) {
        g_string_append (words, i > 0 ? ", " : "");
        append_part (words, &g_array_index (unit->pulled, Fitted, i));
    }
}

static void
append_lots (GString *words, const Shop *shop)
{
    for (guint i = 0; i < shop->lots->len; i++) {
        const Lot *lot = &g_array_index (shop->lots, Lot, i);
        Fitted part = { .part = lot->part, .stepping = lot->stepping, .owner = lot->owner, .bound = lot->bound };

        g_string_append (words, i > 0 ? ", " : "");
        append_part (words, &part);
        g_string_append_printf (words, " x%u", lot->count);
    }
}

static void
append_left (GString *words, const GArray *left)
{
    static const char *const verbs[] = { "remove", "fit", "write" };

    for (guint i = 0; i < left->len; i++)
        g_string_append_printf (words, "%s%s", i > 0 ? " " : "", verbs[g_array_index (left, Step, i).kind]);
}

static void
append_releases (GString *words, const Component *component, const UnitRelease *known)
{
    guint count = 0;

    for (guint i = 0; i < component->releases->len; i++)
        if (known->may_be[i])
            g_string_append_printf (words, "%s%s", count++ > 0 ? " or " : "", component_release (component, i)->name);
    assert_int_equal (known->count, count);
}

static void
append_component (GString *words, const Unit *unit, guint index)
{
    const Component *component = board_component (unit->board, index);
    int floor = unit->releases[index].floor;

    append_releases (words, component, &unit->releases[index]);
    if (floor >= 0)
        g_string_append_printf (words, ", floor %s", component_release (component, (guint) floor)->name);
    if (unit->failed[index])
        g_string_append (words, ", failed");
}

/* "cpu1", "began cpu1", "insertions cpu1", "system", "began system", "pulled", "lots", "left". */
static char *
in_words (const Resumed *resumed, const char *what)
{
    const Unit *unit = resumed->unit;
    const char *last = strrchr (what, ' ') != NULL ? strrchr (what, ' ') + 1 : what;
    int slot = board_find_slot (unit->board, last), component = board_find_component (unit->board, last);
    g_autoptr (GString) words = g_string_new (NULL);

    if (g_str_equal (what, "pulled"))
        append_pulled (words, unit);
    else if (g_str_equal (what, "lots"))
        append_lots (words, resumed->shop);
    else if (g_str_equal (what, "left"))
        append_left (words, resumed->left);
    else if (slot >= 0 && g_str_has_prefix (what, "began "))
        append_part (words, &unit->began[slot]);
    else if (slot >= 0 && g_str_has_prefix (what, "insertions "))
        g_string_append_printf (words, "%u%s", unit->insertions[slot], unit->counted[slot] ? "" : ", assumed");
    else if (slot >= 0)
        append_part (words, &unit->fitted[slot]);
    else if (component >= 0 && g_str_has_prefix (what, "began "))
        append_releases (words, board_component (unit->board, (guint) component), &unit->began_releases[component]);
    else if (component >= 0)
        append_component (words, unit, (guint) component);
    else
        fail_msg ("what is %s?", what);
    return g_string_free (g_steal_pointer (&words), FALSE);
}

/* The state is the unit's, in its first case. */
static void
check_state_agrees (const Resumed *resumed)
{
    const Unit *unit = resumed->unit;

    assert_ptr_equal (resumed->state->unit, unit);
    for (guint i = 0; i < unit->board->slots->len; i++) {
        assert_ptr_equal (resumed->state->held[i].part, unit->fitted[i].part);
        assert_int_equal (resumed->state->held[i].owner, unit->fitted[i].owner);
        assert_ptr_equal (resumed->state->held[i].bound, unit->fitted[i].bound);
    }
    for (guint i = 0; i < unit->board->components->len; i++) {
        assert_true (unit->releases[i].may_be[resumed->state->releases[i]]);
        assert_int_equal (resumed->state->failed[i], unit->failed[i]);
    }
}

/* ---- Entries, and what they lead to ---- */

#define BY                         "time: 2034-03-05T09:41+01:00, initials: mk"
#define DONE(step)                 "  - {step: " step ", outcome: done, " BY "}\n"
#define FAILED(step)               "  - {step: " step ", outcome: failed, found: \"no good\", " BY "}\n"
#define SKIPPED(step)              "  - {step: " step ", outcome: skipped, " BY "}\n"
#define FOUND(step, outcome, what) "  - {step: " step ", outcome: " outcome ", found: \"see\", " what ", " BY "}\n"
#define OUT(slot)                  "{do: remove, slot: " slot "}"
#define OWN(slot, part)            "{do: fit, slot: " slot ", part: " part ", from: own}"
#define LOAN(slot)                 "{do: fit, slot: " slot ", part: dorvan-8, stepping: a1, from: loan}"
#define STOCK(slot)                "{do: fit, slot: " slot ", part: elvane-14, from: stock}"
#define SYSTEM(release, method)    "{do: write, component: system, release: " release ", by: " method "}"

typedef struct {
    const char *name, *unit, *entries;
    const char *expected[MOST_EXPECTED]; /* "WHAT: in words" */
} Case;

static const Case cases[] = {
    { "nothing done",
      "DL-1",
      SKIPPED ("1"),
      { "cpu1: own fenric-16 c0 #F1", "pulled: ", "system: 1.4", "insertions cpu1: 0, assumed",
        "left: remove fit write remove fit",
        "lots: loan dorvan-8 a1 x1, loan elvane-14 b0 x1, stock elvane-14 b0 x2" } },
    { "all of the route",
      "DL-1",
      DONE ("1") DONE ("2") DONE ("3") DONE ("4") DONE ("5"),
      { "cpu1: stock elvane-14 b0 bound to alderbank", "pulled: own fenric-16 c0 #F1", "system: 2.0", "controller: 5",
        "began cpu1: own fenric-16 c0 #F1", "began system: 1.4", "insertions cpu1: 2, assumed", "left: " } },
    { "a failed step is still to do",
      "DL-1",
      DONE ("1") FAILED ("2"),
      { "cpu1: empty", "insertions cpu1: 1, assumed", "left: fit write remove fit",
        "lots: loan dorvan-8 a1 x0, loan elvane-14 b0 x1, stock elvane-14 b0 x2" } },
    { "a removal that failed",
      "DL-1",
      FAILED ("1"),
      { "cpu1: own fenric-16 c0 #F1", "pulled: ", "left: remove fit write remove fit" } },
    { "an own part that is no good",
      "DL-1",
      DONE ("1") FAILED (OWN ("cpu1", "fenric-16")),
      { "cpu1: empty", "pulled: ", "cpu2: own fenric-16 c0 #F2" } },
    { "a step of its own is no step of the route",
      "DL-1",
      DONE (OUT ("cpu1")),
      { "cpu1: empty", "pulled: own fenric-16 c0 #F1", "left: remove fit write remove fit" } },
    { "own parts keep their serials",
      "DL-1",
      DONE (OUT ("cpu1")) DONE (OUT ("cpu2")) DONE (OWN ("cpu2", "fenric-16")),
      { "cpu2: own fenric-16 c0 #F1", "pulled: own fenric-16 c0 #F2", "began cpu2: own fenric-16 c0 #F2" } },
    { "a serial that was read tells equal parts apart",
      "DL-1",
      DONE (OUT ("cpu1")) DONE (OUT ("cpu2"))
          FOUND (OWN ("cpu2", "fenric-16"), "done", "fitted: {cpu2: {part: fenric-16, serial: \"F2\"}}"),
      { "cpu2: own fenric-16 c0 #F2", "pulled: own fenric-16 c0 #F1" } },
    { "a loaner back on the shelf is at hand again",
      "DL-1",
      DONE ("1") DONE ("2") DONE ("4") DONE (OUT ("cpu2")) DONE (LOAN ("cpu2")),
      { "cpu1: empty", "cpu2: loan dorvan-8 a1", "pulled: own fenric-16 c0 #F1, own fenric-16 c0 #F2",
        "lots: loan dorvan-8 a1 x1, loan elvane-14 b0 x1, stock elvane-14 b0 x2" } },

    /* Writes. */
    { "a failed write",
      "DL-1",
      FAILED (SYSTEM ("2.0", "host")),
      { "system: 1.4, failed", "controller: 4, failed", "system-2: 1.4", "began system: 1.4" } },
    { "what was read is not failed",
      "DL-1",
      FOUND (SYSTEM ("2.0", "host"), "failed", "firmware: {system: 1.4}"),
      { "system: 1.4", "controller: 4, failed" } },
    { "what a failed write left is not what it began with",
      "DL-1",
      FOUND (SYSTEM ("2.0", "host"), "failed", "firmware: {system: 1.0}"),
      { "system: 1.0", "began system: 1.4" } },
    { "a write ends the failure",
      "DL-1",
      FAILED (SYSTEM ("2.0", "host")) DONE (SYSTEM ("2.0", "clip")),
      { "system: 2.0", "controller: 5" } },
    { "the spare writes nothing along", "DL-1", DONE (SYSTEM ("2.0", "spare")), { "system: 2.0", "controller: 4" } },
    { "a floor that is there without being said", "DL-1", DONE (SYSTEM ("2.0", "host")), { "system: 2.0" } },
    { "a floor that the present release does not set",
      "DL-1",
      DONE (SYSTEM ("3.0", "clip")) DONE (SYSTEM ("1.0", "clip")),
      { "system: 1.0, floor 3.0" } },
    { "a failed write raises no floor", "DL-1", FAILED (SYSTEM ("3.0", "clip")), { "system: 1.4, failed" } },
    { "a write makes it known",
      "DL-2",
      DONE (SYSTEM ("2.0", "host")),
      { "system: 2.0", "system-2: 1.0 or 1.4 or 2.0 or 3.0", "controller: 5", "began controller: 4 or 5",
        "began system: 1.0 or 1.4 or 2.0 or 3.0" } },
    { "a clip comes through from any release", "DL-2", DONE (SYSTEM ("1.4", "clip")), { "system: 1.4, floor 3.0" } },
    { "a failed write of what is not known",
      "DL-2",
      FAILED (SYSTEM ("2.0", "host")),
      { "system: 1.0 or 1.4 or 2.0 or 3.0, failed", "controller: 4 or 5, failed" } },

    /* Readings. */
    { "a reading narrows",
      "DL-2",
      FOUND (OUT ("cpu1"), "skipped", "firmware: {system: \">= 1.4, < 3.0\"}"),
      { "system: 1.4 or 2.0", "began system: 1.4 or 2.0", "controller: 4 or 5" } },
    { "two readings",
      "DL-2",
      FOUND (OUT ("cpu1"), "skipped", "firmware: {system: [1.0, 1.4]}")
          FOUND (OUT ("cpu1"), "skipped", "firmware: {system: [1.4, 2.0]}"),
      { "system: 1.4" } },
    { "a reading goes before what was thought",
      "DL-1",
      FOUND (OUT ("cpu1"), "skipped", "firmware: {system: 1.0, controller: [5, 6]}"),
      { "system: 1.0", "began system: 1.0", "controller: 5 or 6" } },
    { "and before what a write should have left",
      "DL-1",
      FOUND (SYSTEM ("3.0", "host"), "done", "firmware: {system: 1.0}"),
      { "system: 1.0, floor 3.0", "began system: 1.4" } },

    /* Parts that are found. */
    { "a part that is not there",
      "DL-1",
      FOUND (OUT ("dimm1"), "skipped", "fitted: {sink1: empty}"),
      { "sink1: empty", "began sink1: empty", "pulled: ", "cpu1: own fenric-16 c0 #F1" } },
    { "a part that is not the unit's own",
      "DL-1",
      FOUND (OUT ("cpu1"), "skipped", "fitted: {cpu1: {part: fenric-16, from: loan}}"),
      { "cpu1: loan fenric-16 c0", "began cpu1: loan fenric-16 c0", "pulled: " } },
    { "which of two that lie beside the unit",
      "DL-1",
      DONE (OUT ("cpu1")) DONE (OUT ("cpu2"))
          FOUND (OUT ("cpu1"), "skipped", "fitted: {cpu1: {part: fenric-16, serial: \"F2\"}}"),
      { "cpu1: own fenric-16 c0 #F2", "pulled: own fenric-16 c0 #F1" } },
    { "a label that says something else",
      "DL-2",
      FOUND (OUT ("cpu1"), "skipped", "fitted: {cpu1: {part: dorvan-8, stepping: a0, serial: \"D9\"}}"),
      { "cpu1: own dorvan-8 a0 #D9", "began cpu1: own dorvan-8 a0 #D9", "pulled: ", "insertions cpu1: 7" } },
    { "on a slot that was worked on",
      "DL-1",
      DONE ("1") FOUND ("2", "done", "fitted: {cpu1: {part: dorvan-8, stepping: a0, from: loan}}"),
      { "cpu1: loan dorvan-8 a0", "began cpu1: own fenric-16 c0 #F1", "left: write remove fit",
        "lots: loan dorvan-8 a1 x0, loan elvane-14 b0 x1, stock elvane-14 b0 x2, loan dorvan-8 a0 x1" } },
    { "a part from beside the unit",
      "DL-1",
      DONE ("1") FOUND (OUT ("sink1"), "skipped", "fitted: {cpu1: fenric-16}"),
      { "cpu1: own fenric-16 c0 #F1", "pulled: " } },
    { "an empty slot explains a removal",
      "DL-1",
      DONE ("1") FOUND (OUT ("cpu1"), "done", "fitted: {cpu1: empty}"),
      { "cpu1: empty", "pulled: own fenric-16 c0 #F1" } },
    { "a full slot that is explained",
      "DL-1",
      FOUND (LOAN ("cpu1"), "done", "fitted: {cpu1: {part: dorvan-8, stepping: a1, from: loan}}"),
      { "cpu1: loan dorvan-8 a1", "pulled: ", "began cpu1: own fenric-16 c0 #F1",
        "lots: loan dorvan-8 a1 x1, loan elvane-14 b0 x1, stock elvane-14 b0 x2" } },
    { "a part that was not at hand is explained",
      "DL-1",
      DONE (OUT ("cpu1"))
          FOUND (OWN ("cpu1", "dorvan-8, stepping: a0"), "done", "fitted: {cpu1: {part: dorvan-8, stepping: a0}}"),
      { "cpu1: own dorvan-8 a0", "pulled: own fenric-16 c0 #F1", "insertions cpu1: 1, assumed" } },
    { "a failed fitting, and the part is still in",
      "DL-1",
      DONE ("1") FOUND ("2", "failed", "fitted: {cpu1: {part: dorvan-8, stepping: a1, from: loan}}"),
      { "cpu1: loan dorvan-8 a1", "left: fit write remove fit",
        "lots: loan dorvan-8 a1 x1, loan elvane-14 b0 x1, stock elvane-14 b0 x2" } },

    /* Parts that bind themselves. */
    { "from stock, fitted, bound",
      "DL-1",
      DONE (OUT ("cpu1")) DONE (STOCK ("cpu1")),
      { "cpu1: stock elvane-14 b0 bound to alderbank",
        "lots: loan dorvan-8 a1 x1, loan elvane-14 b0 x1, stock elvane-14 b0 x1, stock elvane-14 b0 bound to alderbank "
        "x1" } },
    { "and out again it is still bound",
      "DL-1",
      DONE (OUT ("cpu1")) DONE (STOCK ("cpu1")) DONE (OUT ("cpu1")) DONE (STOCK ("cpu1")) DONE (OUT ("cpu2"))
          DONE (STOCK ("cpu2")) DONE (OUT ("cpu2")) DONE (OUT ("cpu1")) DONE (STOCK ("cpu1")),
      { "cpu1: stock elvane-14 b0 bound to alderbank",
        "lots: loan dorvan-8 a1 x1, loan elvane-14 b0 x1, stock elvane-14 b0 x0, stock elvane-14 b0 bound to alderbank "
        "x2" } },
    { "a loaner is bound once the unit ran",
      "DL-1",
      DONE (OUT ("cpu1")) DONE ("{do: fit, slot: cpu1, part: elvane-14, from: loan}") DONE (SYSTEM ("2.0", "host")),
      { "cpu1: loan elvane-14 b0 bound to alderbank",
        "lots: loan dorvan-8 a1 x1, loan elvane-14 b0 x0, stock elvane-14 b0 x2, loan elvane-14 b0 bound to alderbank "
        "x1" } },
    { "and not before",
      "DL-1",
      DONE (OUT ("cpu1")) DONE ("{do: fit, slot: cpu1, part: elvane-14, from: loan}") DONE (SYSTEM ("2.0", "clip")),
      { "cpu1: loan elvane-14 b0" } },
    { "nor in a slot that is dead",
      "DL-1",
      DONE (OUT ("cpu2")) DONE ("{do: fit, slot: cpu3, part: elvane-14, from: loan}") DONE (SYSTEM ("2.0", "host")),
      { "cpu3: loan elvane-14 b0" } },
    { "an own part that is bound began as it is",
      "DL-2",
      DONE (OUT ("cpu1")) DONE (OWN ("cpu1", "elvane-14")),
      { "cpu1: own elvane-14 b0 bound to alderbank", "began cpu1: own elvane-14 b0 bound to alderbank",
        "insertions cpu1: 8" } },
};

static void
check_case (const Case *one)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library = load_with (one->unit, one->entries);
    g_autoptr (Resumed) resumed = resume (library, one->unit, TRUE, complaints);
    g_autofree char *said = complaints_to_string (complaints, 5);

    if (resumed == NULL)
        fail_msg ("%s: %s", one->name, said);
    assert_string_equal (said, "");
    assert_non_null (one->expected[0]);
    check_state_agrees (resumed);
    for (guint i = 0; i < MOST_EXPECTED && one->expected[i] != NULL; i++) {
        g_auto (GStrv) pair = g_strsplit (one->expected[i], ": ", 2);
        g_autofree char *found = in_words (resumed, pair[0]);

        if (!g_str_equal (found, pair[1]))
            print_error ("%s: %s\n", one->name, pair[0]);
        assert_string_equal (found, pair[1]);
    }
}

static void
entries_leave_the_unit_as_worked_by_hand (void **state)
{
    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
        check_case (&cases[i]);
}

/* ---- What cannot have happened ---- */

typedef struct {
    const char *unit, *entries;
    gboolean without_route;
    const char *place, *what; /* "line:column", with the entries from line 4 on */
} Impossible;

static const Impossible impossible[] = {
    { "DL-1", DONE ("1") DONE ("6"), FALSE, "5:12", "there is no step 6 in the route \"by hand\", which has 5" },
    { "DL-1", SKIPPED ("7"), FALSE, "4:12", "there is no step 7 in the route \"by hand\", which has 5" },
    { "DL-1", DONE ("1"), TRUE, "4:12", "step 1 of a route, and no route is given" },
    { "DL-1", DONE ("1") DONE ("1"), FALSE, "5:12", "nothing can have been removed from cpu1, which is empty here" },
    { "DL-2", DONE ("1"), FALSE, "4:12",
      "fenric-16 cannot have been removed from cpu1, which holds elvane-14 b0 here" },
    { "DL-1", DONE ("2"), FALSE, "4:12", "dorvan-8 a1 cannot have been fitted in cpu1, which holds fenric-16 c0 here" },
    { "DL-1", FAILED ("2"), FALSE, "4:12",
      "dorvan-8 a1 cannot have been fitted in cpu1, which holds fenric-16 c0 here" },
    { "DL-1", DONE ("1") DONE ("2") DONE ("{do: remove, slot: cpu1, part: dorvan-8, stepping: a0}"), FALSE, "6:12",
      "dorvan-8 a0 cannot have been removed from cpu1, which holds dorvan-8 a1 here" },
    { "DL-1", DONE (OUT ("cpu1")) DONE (OWN ("cpu1", "elvane-14")), FALSE, "5:12",
      "there is no elvane-14 b0 of the unit's own beside it here that can have been fitted in cpu1" },
    { "DL-1", DONE ("1") DONE ("2") DONE (OUT ("cpu2")) DONE (LOAN ("cpu2")), FALSE, "7:12",
      "there is no dorvan-8 a1 on the loan shelf here that can have been fitted in cpu2" },
    { "DL-1", DONE ("1") FAILED ("2") DONE ("2"), FALSE, "6:12",
      "there is no dorvan-8 a1 on the loan shelf here that can have been fitted in cpu1" },
    { "DL-1", DONE (OUT ("cpu1")) FAILED (STOCK ("cpu1")) FAILED (STOCK ("cpu1")) DONE (STOCK ("cpu1")), FALSE, "7:12",
      "there is no elvane-14 b0 in stock here that can have been fitted in cpu1" },
    /* What is found in one slot explains nothing in another. */
    { "DL-1", FOUND (LOAN ("cpu1"), "done", "fitted: {cpu2: empty}"), FALSE, "4:12",
      "dorvan-8 a1 cannot have been fitted in cpu1, which holds fenric-16 c0 here" },
};

static void
what_cannot_have_happened_is_said_with_its_place (void **state)
{
    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (impossible); i++) {
        const Impossible *one = &impossible[i];
        g_autoptr (Complaints) complaints = complaints_new ();
        g_autoptr (Library) library = load_with (one->unit, one->entries);
        g_autoptr (Resumed) resumed = resume (library, one->unit, !one->without_route, complaints);
        g_autofree char *place = NULL;
        const Complaint *first = NULL;

        if (resumed != NULL)
            fail_msg ("case %u was taken", i);
        assert_int_equal (complaints_count (complaints), 1);
        first = complaints_get (complaints, 0);
        place = g_strdup_printf ("%u:%u", first->at.line, first->at.column);
        assert_string_equal (first->what, one->what);
        assert_string_equal (place, one->place);
        assert_true (g_str_has_suffix (first->at.file, ".yaml"));
        assert_true (g_str_has_prefix (first->expected, "expected "));
    }
}

static void
a_record_of_another_unit_is_refused (void **state)
{
    (void) state;
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library = load_with ("DL-1", DONE ("1"));

    assert_null (resume (library, "DL-2", TRUE, complaints));
    assert_int_equal (complaints_count (complaints), 1);
    assert_string_equal (complaints_get (complaints, 0)->what, "this record is of unit DL-1");
}

/* The files' own unit and shop are not changed: they may be asked about again. */
static void
the_unit_as_it_came_in_stays (void **state)
{
    (void) state;
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library =
        load_with ("DL-1", DONE ("1") FAILED ("2") DONE (SYSTEM ("3.0", "clip")) DONE (STOCK ("cpu1")));
    g_autoptr (Resumed) resumed = resume (library, "DL-1", TRUE, complaints);
    const Unit *unit = unit_named (library, "DL-1");
    const Shop *shop = library->shops->pdata[0];

    assert_non_null (resumed);
    assert_string_equal (unit->fitted[0].part->name, "fenric-16");
    assert_null (unit->began);
    assert_null (unit->pulled);
    assert_int_equal (unit->releases[0].count, 1);
    assert_true (unit->releases[0].may_be[1]);
    assert_int_equal (shop->lots->len, 3);
    assert_int_equal (g_array_index (shop->lots, Lot, 0).count, 1);
}

/* One record goes on from another: what the first set aside stays set aside, what the work began with stays. */
static void
a_second_record_goes_on (void **state)
{
    (void) state;
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library = load_with ("DL-1", DONE (OUT ("cpu1")) FAILED (LOAN ("cpu1")));
    g_autoptr (Library) later = load_with ("DL-1", DONE (STOCK ("cpu1")));
    g_autoptr (Resumed) first = resume (library, "DL-1", TRUE, complaints);
    g_autoptr (Resumed) second = NULL;

    assert_non_null (first);
    /* The two libraries are of one file, but not one: the second record is taken over to the first. */
    ((Record *) later->records->pdata[0])->board = first->unit->board;
    ((RecordEntry *) ((Record *) later->records->pdata[0])->entries->pdata[0])->step.part =
        book_find_part (&library->book, "elvane-14");
    second = resume_from_record (first->shop, first->unit, NULL, later->records->pdata[0], complaints);
    assert_non_null (second);
    assert_int_equal (second->left->len, 0);
    g_autofree char *cpu1 = in_words (second, "cpu1"), *began = in_words (second, "began cpu1");
    g_autofree char *lots = in_words (second, "lots"), *count = in_words (second, "insertions cpu1");
    assert_string_equal (cpu1, "stock elvane-14 b0 bound to alderbank");
    assert_string_equal (began, "own fenric-16 c0 #F1");
    assert_string_equal (count, "2, assumed");
    assert_true (g_str_has_prefix (lots, "loan dorvan-8 a1 x0, "));
    ((Record *) later->records->pdata[0])->board = ((Unit *) later->units->pdata[0])->board;
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (entries_leave_the_unit_as_worked_by_hand),
        cmocka_unit_test (what_cannot_have_happened_is_said_with_its_place),
        cmocka_unit_test (a_record_of_another_unit_is_refused),
        cmocka_unit_test (the_unit_as_it_came_in_stays),
        cmocka_unit_test (a_second_record_goes_on),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
