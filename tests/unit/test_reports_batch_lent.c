/* SPDX-License-Identifier: MIT */
/* Reports of a batch in which units lend each other what was pulled from them; how the overview says days and further routes. */
#include "batch_units.h"

#include <stdlib.h>

#include "json_schema.h"
#include "reports/batch_sheet.h"

#define NO_LOANER                                                                                                      \
    "shop: none\nlend-pulled-parts: yes\ntechnicians: 2\nstations: 4\n"                                                \
    "stock: [{part: elvane-12c, count: 2}, {part: sink-130c, count: 2}]\n"
/* L's own work is over before 07:30; the two that borrow its processor have it for 26 minutes each, from 07:08 on at the earliest. */
#define LENDING DARK ("D", "") DARK ("E", "") LARGER ("L", "due: 2034-03-06T07:30\n")

typedef struct {
    SmallBatch *small;
    RouteOptions route;
    BatchReport report;
    BatchView *view;
} Reported;

static Reported *
reported (const char *shop, const char *units)
{
    Reported *all = g_new0 (Reported, 1);

    all->small = small_batch (shop, units);
    all->small->question.route = &all->route;
    all->report = (BatchReport){ &all->small->question, small_batch_plan (all->small), 0 };
    all->view = batch_view_new (&all->report);
    return all;
}

static void
reported_free (Reported *all)
{
    batch_view_free (all->view);
    small_batch_free (all->small);
    g_free (all);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Reported, reported_free)

static void
assert_has (const char *text, const char *piece)
{
    if (strstr (text, piece) == NULL)
        fail_msg ("\"%s\" is missing in:\n%s", piece, text);
}

static void
assert_has_not (const char *text, const char *piece)
{
    if (strstr (text, piece) != NULL)
        fail_msg ("\"%s\" stands in:\n%s", piece, text);
}

/* The part that L lends, in whichever unit it is first. */
static const BatchPart *
lent_by_l (const Reported *all)
{
    const Batch *batch = all->small->batch;

    return loaner_of (batch, unit_of (batch, "D"));
}

/* From the heading of the unit to the end of its section. Transfer full. */
static char *
sheet_of (const char *page, const char *id)
{
    g_autofree char *heading = g_strdup_printf ("<h2>%s</h2>", id);
    const char *from = strstr (page, heading);

    if (from == NULL)
        fail_msg ("%s has no sheet", id);
    return g_strndup (from, (gsize) (strstr (from, "</section>") - from));
}

/* ---- Whose it is ---- */

/* source: the design's words: a loaner is lent by the shop; common practice, no source: what is another customer's goes back to that
 * customer's unit */
static void
test_steps_name_the_unit_that_lends (void **state)
{
    g_autoptr (Reported) all = reported (NO_LOANER, LENDING);
    const char *table = report_batch_csv (all->view);

    (void) state;
    assert_int_equal (all->small->batch->aside, 0);
    assert_has_not (table, "loan shelf");
    assert_has (table, "\"fit dorvan-4c a1 of L, serial S-L, in cpu1, lent by that unit\"");
    assert_has (table, "\"take dorvan-4c a1 of L, serial S-L, out of cpu1, back to L\"");
    assert_has (table, "out of cpu1, to be lent to ");
}

static void
test_the_step_that_gives_it_is_known (void **state)
{
    g_autoptr (Reported) all = reported (NO_LOANER, LENDING);
    const BatchPart *part = lent_by_l (all);
    const BatchUnit *giver = unit_of (all->small->batch, "L");
    const Step *step = &g_array_index (mode_of (all->small->batch, giver)->steps, Step, part->from_step);
    g_autoptr (GArray) pulled = batch_pulled (all->view);
    guint lent = 0;

    (void) state;
    assert_int_equal (step->kind, STEP_REMOVE);
    assert_string_equal (giver->unit->fitted[step->slot].serial, part->serial);
    assert_ptr_equal (view_lent_by_step (all->view, giver, part->from_step), part);
    for (guint i = 0; i < pulled->len; i++) {
        const PulledPart *one = &g_array_index (pulled, PulledPart, i);

        lent += one->lent == part;
        assert_int_equal (one->lent == part, one->step == part->from_step && view_unit (all->view, one->unit) == giver);
    }
    assert_int_equal (lent, 1);
}

static void
test_sheets_of_borrowers_say_whom_it_goes_back_to (void **state)
{
    g_autoptr (Reported) all = reported (NO_LOANER, LENDING);
    g_autofree char *page = report_batch_html (all->view, 0);
    g_autofree char *sheet = sheet_of (page, "D");

    (void) state;
    assert_has_not (sheet, "loan shelf");
    assert_has (sheet, "Fit in cpu1: dorvan-4c a1 of L, serial S-L, lent by that unit");
    assert_has (sheet, "</span> dorvan-4c a1 of L, serial S-L (for step 2 at ");
    assert_has (sheet, "Take out of cpu1: dorvan-4c a1 of L, serial S-L; back to L");
    assert_has (sheet, "back with L: its dorvan-4c a1, serial S-L");
    assert_has (page, "Not from the loan shelf:</b> D and E borrow");
    assert_has (page, ">L: dorvan-4c a1</b>"); /* the row of the timetable */
}

/* ---- When the lender may leave ---- */

static void
test_the_lender_waits_for_its_part (void **state)
{
    g_autoptr (Reported) all = reported (NO_LOANER, LENDING);
    const BatchUnit *giver = unit_of (all->small->batch, "L");
    const BatchPart *part = lent_by_l (all);
    gint64 last = 0;

    (void) state;
    assert_int_equal (part->stays->len, 2);
    for (guint i = 0; i < part->stays->len; i++) {
        const BatchStay *stay = &g_array_index (part->stays, BatchStay, i);
        const BatchUnit *borrower = view_unit (all->view, stay->unit);

        last = MAX (last, task_of (borrower, stay->remove_step)->ends);
    }
    assert_true (last > view_ends (giver));
    assert_int_equal (view_leaves (all->view, giver), last);
    assert_int_equal (view_leaves (all->view, unit_of (all->small->batch, "D")),
                      view_ends (unit_of (all->small->batch, "D")));
}

/* Each stay with its times, a box to tick, and that it is late, which its work alone is not. */
static void
test_the_lenders_sheet_says_where_its_part_is (void **state)
{
    g_autoptr (Reported) all = reported (NO_LOANER, LENDING);
    g_autofree char *page = report_batch_html (all->view, 0);
    g_autofree char *sheet = sheet_of (page, "L");
    const BatchPart *part = lent_by_l (all);
    GString *at = g_string_new ("its dorvan-4c a1, serial S-L, is "), *tick = g_string_new (NULL);

    (void) state;
    g_string_append (tick, "<span class=\"box\"></span> its dorvan-4c a1, serial S-L, is back (lent ");
    for (guint i = 0; i < part->stays->len; i++) {
        const BatchStay *stay = &g_array_index (part->stays, BatchStay, i);
        const char *id = view_unit (all->view, stay->unit)->unit->id;
        g_autofree char *from = batch_hour_words (all->view->clock, stay->from);
        g_autofree char *to = batch_hour_words (all->view->clock, stay->to);

        g_string_append_printf (at, "%sat %s from %s to %s", i == 0 ? "" : ", ", id, from, to);
        g_string_append_printf (tick, "%sto %s until %s", i == 0 ? "" : ", ", id, to);
    }
    assert_has (sheet, at->str);
    assert_has (sheet, tick->str);
    assert_has (sheet, "when what is lent on is back: LATE");
    assert_has (sheet, "to be lent to ");
    assert_has_not (sheet, "keep it with the unit\n");
    assert_int_equal (view_late (unit_of (all->small->batch, "L")), 0);
    g_string_free (at, TRUE);
    g_string_free (tick, TRUE);
}

static void
test_json_has_when_it_leaves (void **state)
{
    g_autoptr (Reported) all = reported (NO_LOANER, LENDING);
    const BatchUnit *giver = unit_of (all->small->batch, "L");
    g_autofree char *text = report_batch_json (all->view);
    json_t *document = json_loads (text, 0, NULL);
    guint with = 0;
    size_t i = 0;
    json_t *unit = NULL;

    (void) state;
    assert_fits_schema ("printed-batch.schema.json", text);
    assert_non_null (document);
    json_array_foreach (json_object_get (document, "units"), i, unit)
    {
        const json_t *leaves = json_object_get (unit, "leaves");

        if (leaves == NULL)
            continue;
        with++;
        assert_string_equal (json_string_value (json_object_get (unit, "unit")), "L");
        assert_int_equal ((gint64) (json_number_value (leaves) * 10 + 0.5), view_leaves (all->view, giver));
    }
    assert_int_equal (with, 1);
    json_decref (document);
}

/* ---- The overview ---- */

/* Without line ends and indents. Transfer full. */
static char *
unwrapped (char *text)
{
    g_autofree char *wrapped = text;
    g_auto (GStrv) lines = g_strsplit (wrapped, "\n", -1);

    for (char **line = lines; *line != NULL; line++)
        g_strstrip (*line);
    return g_strjoinv (" ", lines);
}

static void
test_overview_says_that_parts_are_lent_on (void **state)
{
    g_autoptr (Reported) all = reported (NO_LOANER, LENDING);
    g_autofree char *text = unwrapped (report_batch_text (all->view, FALSE));
    gint64 late = view_leaves (all->view, unit_of (all->small->batch, "L")) - 300;
    g_autofree char *by = batch_length_words (late);
    g_autofree char *says = g_strdup_printf ("Late for parts of their own that are lent on: L by %s.", by);

    (void) state;
    assert_true (late > 0);
    assert_has (text, "Pulled parts are lent on, customers' own too: 1 part of 1 unit before going back.");
    assert_has (text, "`lend-pulled-parts: no`");
    assert_has (text, "`own-parts-stay: yes`");
    assert_has (text, says);
    assert_has (text, "not from the loan shelf: D and E");
    assert_has (text, "back with L 2034-03-06T");
}

/* With loaners enough, and with parts that stay, nothing of it is said. */
static void
test_nothing_is_said_where_nothing_is_lent_on (void **state)
{
    g_autoptr (Reported) all =
        reported (LOANERS ("2") "stock: [{part: elvane-12c, count: 1}, {part: sink-130c, count: 1}]\n",
                  DARK ("D", "") DARK ("E", "") LARGER ("L", "own-parts-stay: yes\n"));
    g_autofree char *text = unwrapped (report_batch_text (all->view, FALSE));
    g_autofree char *page = report_batch_html (all->view, 0);
    g_autofree char *json = report_batch_json (all->view);

    (void) state;
    assert_int_equal (all->small->batch->aside, 0);
    assert_has_not (text, "lent on, customers'");
    assert_has_not (text, "not from the loan shelf");
    assert_has_not (page, "Lent on:");
    assert_has_not (page, "handed over before");
    assert_has_not (page, "Not from the loan shelf");
    assert_has_not (json, "\"leaves\"");
    assert_has (page, "back on the loan shelf: dorvan-4c a1 #1");
    assert_has (report_batch_csv (all->view), "back to the loan shelf");
}

/* A sheet's table head stands on its second page too: it names unit and timetable. */
static void
test_the_head_of_a_sheets_table_has_the_mark (void **state)
{
    g_autoptr (Reported) all = reported (NO_LOANER, LENDING);
    g_autofree char *page = report_batch_html (all->view, 0);
    g_autofree char *sheet = sheet_of (page, "E");
    g_autofree char *head = g_strdup_printf ("<th>E, timetable %s: step</th>", all->view->mark);

    (void) state;
    assert_has (sheet, head);
}

/* ---- Planned anew ---- */

#define ENTRY(step, outcome, hour, more)                                                                               \
    "  - {step: " #step ", outcome: " outcome ", time: 2034-03-06T" hour "+00:00, initials: mk" more "}\n"

/* L's record departs from its route while D has L's processor: L borrows it once D has given it back. If it is back by then, it lies
 * beside L. */
static void
test_a_lender_that_is_planned_anew_has_its_part_when_it_is_back (void **state)
{
    g_autofree char *units =
        g_strconcat (DARK ("D", "") LARGER ("L", ""), "record: bench\nunit: L\nentries:\n",
                     ENTRY (1, "done", "07:08", "")
                         ENTRY (2, "failed", "07:10", ", found: other firmware, firmware: {system: 1.4.0}"),
                     "---\n", NULL);
    g_autoptr (Reported) all = reported (NO_LOANER, units);
    const BatchPart *part = lent_by_l (all);
    const BatchStay *stay = &g_array_index (part->stays, BatchStay, 0);
    gint64 from = stay->from, to = stay->to;
    g_autoptr (BatchPublished) published = batch_publish (all->small->batch);

    (void) state;
    /* source: the record above: step 1, done, is the one that takes it out */
    assert_int_equal (part->from_step, 0);
    all->small->question.published = published;
    for (guint after = 0; after < 2; after++) {
        g_autoptr (Batch) batch = NULL;
        const GArray *beside = NULL;

        all->small->question.now = after ? to + 10 : from + 10;
        batch = batch_plan (&all->small->question);
        if (batch->wrong != NULL)
            fail_msg ("%s", batch->wrong);
        assert_non_null (unit_of (batch, "L")->stands);
        beside = unit_of (batch, "L")->stands->pulled;
        assert_int_equal (beside->len, after);
        if (after)
            assert_string_equal (g_array_index (beside, Fitted, 0).serial, "S-L");
        else
            assert_string_equal (loaner_of (batch, unit_of (batch, "L"))->serial, "S-L");
    }
}

/* One word for each reason, and those of the schema. */
static void
test_each_reason_to_set_aside_has_its_word (void **state)
{
    g_autofree char *schema = NULL;

    (void) state;
    assert_true (g_file_get_contents ("docs/schemas/printed-batch.schema.json", &schema, NULL, NULL));
    for (Aside aside = ASIDE_NO_ROUTE; aside <= ASIDE_RECORD; aside++) {
        g_autofree char *quoted = g_strdup_printf ("\"%s\"", batch_aside_key (aside));

        assert_has (strstr (schema, "\"set-aside\""), quoted);
    }
    assert_string_equal (batch_aside_key (ASIDE_RECORD), "record");
}

/* ---- Whole days ---- */

/* So many units that differ in nothing: one write each, through the controller. Transfer full. */
static char *
many_units (guint count)
{
    GString *text = g_string_new (NULL);

    for (guint i = 0; i < count; i++)
        g_string_append_printf (
            text,
            "unit: N-%03u\nboard: dunnock-1s\nrevision: r1\nfirmware: {system: 1.4.0, controller: \"2.10\", logic: "
            "k2}\n"
            "becomes: runs\nfitted:\n  cpu1: {part: elvane-8c, stepping: b1}\n  sink1: sink-70c\n" DUNNOCK_REST,
            i);
    return g_string_free (text, FALSE);
}

/* One technician has them all on one day, a write and a start each: of 60 each is named, of 61 the first 24 turns. */
static void
test_days_of_small_batches_are_whole (void **state)
{
    for (guint count = 60; count <= 61; count++) {
        g_autofree char *units = many_units (count);
        g_autoptr (Reported) all = reported ("shop: long day\ntechnicians: 1\nstations: 20\n", units);
        g_autofree char *text = report_batch_text (all->view, FALSE);
        const char *days = strstr (text, "Who begins what when");
        guint named = 0;

        (void) state;
        assert_int_equal (all->view->planned, count);
        assert_non_null (days);
        for (const char *at = strstr (days, "\xc2\xa0N-"); at != NULL; at = strstr (at + 1, "\xc2\xa0N-"))
            named++;
        for (const char *at = strstr (days, " N-"); at != NULL; at = strstr (at + 1, " N-"))
            named++;
        assert_int_equal (named, count == 60 ? 120 : 24);
        assert_int_equal (strstr (days, "and 98 more turns: the page and the CSV have every task") != NULL,
                          count == 61);
    }
}

/* Steps of one unit that follow each other are one turn: alone, a unit has all its steps in one. */
static void
test_turns_say_their_steps (void **state)
{
    g_autoptr (Reported) all = reported (LOANERS ("1"), DARK ("A", ""));
    g_autofree char *text = report_batch_text (all->view, FALSE);
    g_auto (GStrv) words = g_strsplit (text, "\xc2\xa0", -1);
    g_autofree char *plain = g_strjoinv (" ", words);

    (void) state;
    /* Between its steps the technicians are free, so who takes the next one is the timetable's choice: see by the tasks. */
    const BatchUnit *unit = unit_of (all->small->batch, "A");
    gboolean alone = TRUE;
    for (guint i = 0; i < unit->tasks->len; i++)
        alone &= task_of (unit, i)->technician == 0;
    assert_true (alone);
    assert_has (plain, "technician 1: 07:00 A 1-5\n");
}

/* ---- Further routes ---- */

static Lot
lot_of (const Library *library, const char *part, const char *stepping, Owner owner, guint count)
{
    for (guint i = 0; i < library->book.parts->len; i++) {
        const Part *one = library->book.parts->pdata[i];

        if (g_str_equal (one->name, part))
            return (Lot){ owner, one, g_intern_string (stepping), count, NULL, MARK_NONE };
    }
    fail_msg ("the book has no %s", part);
    abort ();
}

/* What one class of two units says of a further route that takes `second` where its best one takes `first`; count 0: none. */
static char *
difference (const Reported *like, Lot first, Lot second)
{
    BatchMode modes[2] = { { .steps = NULL }, { .steps = NULL } };
    const Lot lots[] = { first, second };
    BatchClass class = { .units = 2, .modes = g_ptr_array_new () };
    Batch batch = { .classes = g_ptr_array_new () };
    BatchView view = { .batch = &batch, .report = &like->report };
    BatchWay way = { .of = &class, .mode = &modes[1], .number = 1 };
    char *words = NULL;

    for (guint m = 0; m < 2; m++) {
        modes[m].stock = g_array_new (FALSE, FALSE, sizeof (Lot));
        modes[m].lent = g_array_new (FALSE, FALSE, sizeof (Lot));
        g_ptr_array_add (class.modes, &modes[m]);
        if (lots[m].count > 0)
            g_array_append_val (lots[m].owner == OWNER_LOAN ? modes[m].lent : modes[m].stock, lots[m]);
    }
    g_ptr_array_add (batch.classes, &class);
    words = batch_mode_difference (&view, &way);
    way.number = 0;
    assert_null (batch_mode_difference (&view, &way));
    for (guint m = 0; m < 2; m++) {
        g_array_unref (modes[m].stock);
        g_array_unref (modes[m].lent);
    }
    g_ptr_array_unref (class.modes);
    g_ptr_array_unref (batch.classes);
    return words;
}

/* source: docs/batch.md, "Classes and modes", what is scarce: two units want more than the shop has */
static void
test_only_what_is_scarce_is_spared (void **state)
{
    g_autoptr (Reported) like =
        reported ("shop: some\nloaners: [{part: dorvan-4c, count: 1}, {part: dorvan-8, stepping: a1, count: 2}]\n"
                  "stock: [{part: elvane-14, stepping: b1, count: 3}, {part: elvane-14, stepping: b0, count: 3}]\n",
                  DARK ("A", ""));
    const Library *library = like->small->library;
    Lot none = lot_of (library, "dorvan-4c", "a1", OWNER_LOAN, 0);
    Lot one = lot_of (library, "dorvan-4c", "a1", OWNER_LOAN, 1),
        plenty = lot_of (library, "dorvan-8", "a1", OWNER_LOAN, 1);
    Lot b1 = lot_of (library, "elvane-14", "b1", OWNER_STOCK, 2),
        b0 = lot_of (library, "elvane-14", "b0", OWNER_STOCK, 2);
    const struct {
        Lot first, second;
        const char *says;
    } cases[] = {
        { one, none, ", one that spares dorvan-4c a1" },
        { one, plenty, ", one that spares dorvan-4c a1, with dorvan-8 a1" },
        { plenty, none, ", without dorvan-8 a1" },
        { plenty, one, ", with dorvan-4c a1 instead of dorvan-8 a1" },
        { b1, b0, ", with elvane-14 b0 instead of elvane-14 b1" }, /* both are scarce */
        { b1, b1, ", by another way" },
        { none, none, ", by another way" },
        { none, plenty, ", with dorvan-8 a1" },
    };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
        g_autofree char *words = difference (like, cases[i].first, cases[i].second);

        assert_string_equal (words, cases[i].says);
    }
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_steps_name_the_unit_that_lends),
        cmocka_unit_test (test_the_step_that_gives_it_is_known),
        cmocka_unit_test (test_sheets_of_borrowers_say_whom_it_goes_back_to),
        cmocka_unit_test (test_the_lender_waits_for_its_part),
        cmocka_unit_test (test_the_lenders_sheet_says_where_its_part_is),
        cmocka_unit_test (test_json_has_when_it_leaves),
        cmocka_unit_test (test_overview_says_that_parts_are_lent_on),
        cmocka_unit_test (test_nothing_is_said_where_nothing_is_lent_on),
        cmocka_unit_test (test_the_head_of_a_sheets_table_has_the_mark),
        cmocka_unit_test (test_a_lender_that_is_planned_anew_has_its_part_when_it_is_back),
        cmocka_unit_test (test_each_reason_to_set_aside_has_its_word),
        cmocka_unit_test (test_days_of_small_batches_are_whole),
        cmocka_unit_test (test_turns_say_their_steps),
        cmocka_unit_test (test_only_what_is_scarce_is_spared),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
