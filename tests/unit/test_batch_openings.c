/* SPDX-License-Identifier: MIT */
/* Openings in the timetable: made in one go, by one technician, and what is said where that can't be.
 *
 * source: worked by hand from docs/batch.md, "From a route to the timetable" and "Openings". Minutes: an opening 6, a start 5, a
 * removal 2, a processor 4, a host write 9. A DARK unit: out and loaner in 12; start and write 14; loaner out, own in, start 17. A
 * PAIR: two out, two in, 6 + 2 + 4 + 2 + 4 + 5 = 23. */
#include "batch_units.h"

#include "json_schema.h"
#include "reports/batch_view.h"

/* Work from 07:00 until `to`, every weekday. */
#define UNTIL(to) "shifts: [{days: [mon, tue, wed, thu, fri], from: 07:00, to: " to "}]\n"

enum { DAY = 14400 };

#define PAIRS "shop: pairs\ntechnicians: 2\nstations: 4\nstock: [{part: elvane-14, stepping: b1, count: 10}]\n"

/* A board whose firmware is written by clip alone, 30 minutes of which 10 are attended. What knows elvane is two files away: out 8,
 * in 4, write 30; write 30 and start 5. */
#define CLIPPED                                                                                                        \
    "book: Larkfield bench examples\nboards:\n  - board: plover-1s\n    revisions: [r1]\n    watts: 50\n    slots:\n"  \
    "      - {slot: cpu1, takes: processor, socket: T1384}\n"                                                          \
    "      - {slot: sink1, takes: heat-sink, over: cpu1, mounting: frame-60}\n"                                        \
    "      - {slot: dimm-a1, takes: memory, memory-type: [mk4, mk5], served-by: cpu1}\n"                               \
    "      - {slot: supply1, takes: supply}\n      - {slot: supply2, takes: supply}\n      - {slot: fan1, takes: "     \
    "fan}\n"                                                                                                           \
    "    components: [system]\nfirmware:\n  - component: system\n    for: plover-1s\n    versions: dotted\n"           \
    "    methods:\n      clip: {minutes: 30, attended: 10, obeys: [from]}\n    recovery: [clip]\n    releases:\n"      \
    "      - {release: 1, starts: [dorvan], takes-effect: host-restart}\n"                                             \
    "      - {release: 2, starts: [dorvan], from: \">= 1\", takes-effect: host-restart}\n"                             \
    "      - {release: 3, starts: [dorvan, elvane], from: \">= 2\", takes-effect: host-restart}\n---\n"                \
    "unit: P\nboard: plover-1s\nrevision: r1\nfirmware: {system: 1}\nbecomes: newer\nfitted: {cpu1: dorvan-4c, "       \
    "sink1: sink-70c, dimm-a1: mem-mk4-32,\n  supply1: supply-400, supply2: supply-400, fan1: fan-60}\n---\n"          \
    "want: newer\nboard: plover-1s\nslots: {cpu1: elvane-8c}\n---\n"
#define CLIP_SHOP "shop: clips\nmethods: [clip]\ntechnicians: 2\nstations: 2\nstock: [{part: elvane-8c, count: 2}]\n"

/* Steps from..to follow one another without a gap, by one technician. */
static void
assert_one_go (const BatchUnit *unit, guint from, guint to)
{
    for (guint i = from + 1; i <= to; i++) {
        assert_int_equal (task_of (unit, i)->begins, task_of (unit, i - 1)->ends);
        assert_int_equal (task_of (unit, i)->technician, task_of (unit, i - 1)->technician);
    }
}

static LeftOpen
left_open (const SmallBatch *small, const char *id, guint step)
{
    return batch_left_open (&small->question, small->batch, unit_of (small->batch, id), step);
}

/* ---- In one go ---- */

/* The write is over at 07:26. The removal alone would be over by 07:34, and the unit would stand open over night. */
static void
an_opening_waits_for_the_shift_that_holds_it (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (LOANERS ("1") UNTIL ("07:40"), DARK ("A", ""));
    Batch *batch = small_batch_plan (small);
    const BatchUnit *unit = unit_of (batch, "A");

    (void) state;
    assert_int_equal (task_of (unit, 2)->ends, 260);
    assert_int_equal (task_of (unit, 3)->begins, DAY);
    assert_one_go (unit, 0, 1);
    assert_one_go (unit, 3, 4);
    for (guint i = 0; i < 5; i++)
        assert_false (left_open (small, "A", i).open);
}

/* 17 minutes from 07:26 would pass over a break at 07:40. */
static void
an_opening_waits_for_the_end_of_a_break (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (
        LOANERS ("1") "shifts: [{days: [mon], from: 07:00, to: 12:00, breaks: [{from: 07:40, to: 07:55}]}]\n",
        DARK ("A", ""));
    const BatchUnit *unit = unit_of (small_batch_plan (small), "A");

    (void) state;
    assert_int_equal (task_of (unit, 3)->begins, 550);
    assert_one_go (unit, 3, 4);
}

static void
two_technicians_do_not_share_an_opening (void **state)
{
    g_autoptr (SmallBatch) small =
        small_batch (PAIRS UNTIL ("08:00"), PAIR ("A", "pair", "") PAIR ("B", "pair", "") PAIR ("C", "pair", "")
                                                PAIR ("D", "pair", "") PAIR ("E", "pair", ""));
    Batch *batch = small_batch_plan (small);

    (void) state;
    assert_int_equal (batch->aside, 0);
    for (guint i = 0; i < 5; i++)
        assert_one_go (batch->units->pdata[i], 0, 3);
    /* Two each fit in the hour; 4 minutes of it are left, in which nobody begins the fifth. */
    assert_int_equal (batch->finish, DAY + 230);
}

/* Nothing but the wait for the loaner stands between a unit's tasks: who began it ends it, where he is free. */
static void
a_unit_stays_with_its_technician (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (LOANERS ("2"), DARK ("A", "") DARK ("B", ""));
    Batch *batch = small_batch_plan (small);

    (void) state;
    for (guint u = 0; u < 2; u++)
        for (guint i = 1; i < 5; i++)
            assert_int_equal (task_of (batch->units->pdata[u], i)->technician,
                              task_of (batch->units->pdata[u], 0)->technician);
}

/* ---- Where it can't be ---- */

/* 23 minutes in shifts of 20: as much as goes in the first one, the rest in the next. */
static void
what_is_longer_than_a_shift_is_parted_between_steps (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (PAIRS UNTIL ("07:20"), PAIR ("A", "pair", ""));
    Batch *batch = small_batch_plan (small);
    const BatchUnit *unit = unit_of (batch, "A");
    const LeftOpen left = left_open (small, "A", 3);

    (void) state;
    assert_int_equal (batch->aside, 0);
    assert_one_go (unit, 0, 2);
    assert_int_equal (task_of (unit, 3)->begins, DAY);
    assert_true (left.open && left.over_shift_end);
    assert_int_equal (left.since, task_of (unit, 2)->ends);
    assert_false (left_open (small, "A", 2).open);
}

static void
a_shop_without_shifts_has_no_end_of_one (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (CLIP_SHOP, CLIPPED);
    Batch *batch = small_batch_plan (small);
    const LeftOpen left = left_open (small, "P", 3);

    (void) state;
    assert_int_equal (unit_of (batch, "P")->tasks->len, 4);
    assert_one_go (unit_of (batch, "P"), 0, 2);
    assert_false (batch_over_shift_end (&small->question, 0, 100 * DAY));
    assert_true (left.open && !left.over_shift_end);
    assert_int_equal (left.since, task_of (unit_of (batch, "P"), 2)->attended_until);
    assert_int_equal (left.left_by, G_MAXUINT);
}

/* source: the shift of each weekday ends at 15:30; time 0 is Monday 07:00 */
static void
shifts_end_when_they_end (void **state)
{
    static const struct {
        gint64 from, to;
        gboolean over;
    } cases[] = {
        { 0, 5099, FALSE },         { 0, 5100, TRUE },
        { 5100, 5100, TRUE },       { 5101, DAY, FALSE },
        { 5101, DAY + 5100, TRUE }, { 4 * DAY + 5101, 7 * DAY, FALSE }, /* from Friday evening to Monday morning */
    };
    g_autoptr (SmallBatch) small = small_batch (LOANERS ("1") UNTIL ("15:30"), DARK ("A", ""));

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
        assert_int_equal (batch_over_shift_end (&small->question, cases[i].from, cases[i].to), cases[i].over);
}

/* ---- Reports ---- */

typedef struct {
    char *text, *page, *json; /* owned */
} Said;

static Said
say (SmallBatch *small)
{
    static const RouteOptions route;
    const BatchReport report = { &small->question, small->batch, 0 };
    small->question.route = &route;
    BatchView *view = batch_view_new (&report);
    Said said = { report_batch_text (view, FALSE), report_batch_html (view, 0), report_batch_json (view) };

    batch_view_free (view);
    return said;
}

static void
said_clear (Said *said)
{
    g_free (said->text);
    g_free (said->page);
    g_free (said->json);
}

static void
assert_says (const char *text, const char *piece, gboolean says)
{
    if ((strstr (text, piece) != NULL) != says)
        fail_msg ("\"%s\" is %s in:\n%s", piece, says ? "missing" : "", text);
}

/* The first write runs by itself from 07:22 to 07:42; for the second the shift is too short. */
static void
the_sheet_says_what_stays_open_over_night (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (CLIP_SHOP UNTIL ("07:45"), CLIPPED);
    Batch *batch = small_batch_plan (small);

    (void) state;
    assert_int_equal (task_of (unit_of (batch, "P"), 3)->begins, DAY);
    Said said = say (small);
    assert_says (said.text, "1 opening stays open over the end of a shift: P; the sheets say how to leave it and",
                 TRUE);
    assert_says (said.text, "hands:", FALSE);
    assert_says (said.page,
                 "the unit stays open until 2034-03-07T07:00, over the end of a shift, when it is gone on with.", TRUE);
    assert_says (said.page, "Open since 2034-03-06T07:22, over the end of a shift", TRUE);
    /* The caution of openings that is said in full every time stands in the same row. */
    const char *row = strstr (said.page, "Open since 2034-03-06T07:22"), *caution = strstr (row, "[isolate]"),
               *again = strstr (row, "standby-is-live, static and weight-and-edges"), *ends = strstr (row, "</tr>");
    assert_true (caution != NULL && again != NULL && caution < ends && again < ends);
    assert_fits_schema ("printed-batch.schema.json", said.json);
    assert_says (said.json, "\"left-open\": {\"since\": 22, \"over-shift-end\": true}", TRUE);
    /* The second one runs by itself from 07:10 to 07:30, when it is started. */
    assert_says (said.page, "the unit stays open until 2034-03-07T07:30, when it is gone on with.", TRUE);
    assert_says (said.page, "Open since 2034-03-07T07:10 with nobody at it", TRUE);
    assert_says (said.json, "\"start-left-open\": {\"since\": 1450, \"over-shift-end\": false}", TRUE);
    said_clear (&said);
}

/* The same start on the next day but one, by another technician; and when it has been seen. */
static void
a_start_finds_the_unit_open (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (CLIP_SHOP UNTIL ("07:45"), CLIPPED);
    Batch *batch = small_batch_plan (small);
    BatchTask *last = task_of (unit_of (batch, "P"), 3);
    LeftOpen left = batch_left_open_at_start (&small->question, batch, unit_of (batch, "P"));

    (void) state;
    assert_int_equal (last->start.begins, DAY + 300);
    assert_true (left.open && !left.over_shift_end);
    assert_int_equal (left.since, DAY + 100);
    assert_int_equal (left.left_by, G_MAXUINT);
    last->start.begins += DAY;
    last->start.technician = 1 - last->technician;
    left = batch_left_open_at_start (&small->question, batch, unit_of (batch, "P"));
    assert_true (left.open && left.over_shift_end);
    assert_int_equal (left.left_by, last->technician);
    last->done = TRUE;
    assert_false (batch_left_open_at_start (&small->question, batch, unit_of (batch, "P")).open);
}

static void
the_sheet_says_who_left_it (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (CLIP_SHOP, CLIPPED);
    Batch *batch = small_batch_plan (small);
    const BatchUnit *unit = unit_of (batch, "P");

    (void) state;
    Said said = say (small);
    assert_says (said.text, "over the end of a shift", FALSE);
    assert_says (said.page, "Open since 2034-03-06T07:22 with nobody at it", TRUE);
    assert_says (said.page, "Handed over", FALSE);
    said_clear (&said);

    /* Behind a write that runs by itself another one may go on. */
    task_of (unit, 3)->technician = 1 - task_of (unit, 0)->technician;
    g_autofree char *wrong = batch_check (&small->question, batch);
    assert_null (wrong);
    said = say (small);
    assert_says (said.text, "1 opening changes hands: P;", TRUE);
    assert_says (said.page, "Handed over from technician 1", TRUE);
    assert_says (said.page, "see for yourself that the unit is isolated before you reach in", TRUE);
    assert_says (said.page, "when technician 2 goes on", TRUE);
    assert_says (said.json, "\"over-shift-end\": false, \"left-by\": 1}", TRUE);
    said_clear (&said);
}

static void
a_loaner_that_stays_over_night_is_said (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (LOANERS ("1") UNTIL ("07:40"), DARK ("A", ""));

    (void) state;
    small_batch_plan (small);
    Said said = say (small);
    assert_says (said.text, "1 lent part stays in a unit over the end of a shift: dorvan-4c a1 #1 in A.", TRUE);
    assert_says (said.text, "A 2034-03-06T07:08 (in it over the end of a shift)", TRUE);
    assert_says (said.page, "2034-03-07T07:08</span>, over the end of a shift</td>", TRUE);
    assert_says (said.json, "left-open", FALSE);
    said_clear (&said);
}

/* ---- The check ---- */

/* The tasks from `from` on, and what they fit. */
static void
shift_by (const Batch *batch, const BatchUnit *unit, guint from, gint64 by)
{
    for (guint i = from; i < unit->tasks->len; i++) {
        task_of (unit, i)->begins += by;
        task_of (unit, i)->attended_until += by;
        task_of (unit, i)->ends += by;
    }
    for (guint p = 0; p < batch->parts->len; p++) {
        const BatchPart *part = batch->parts->pdata[p];

        for (guint i = 0; i < part->stays->len; i++) {
            BatchStay *stay = &g_array_index (part->stays, BatchStay, i);
            stay->from += batch->units->pdata[stay->unit] == unit && stay->fit_step >= from ? by : 0;
        }
    }
}

static void
a_broken_up_opening_is_refused (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (PAIRS UNTIL ("15:30"), PAIR ("A", "pair", ""));
    const BatchUnit *unit = unit_of (small_batch_plan (small), "A");
    g_autofree char *sound = batch_check (&small->question, small->batch);

    (void) state;
    assert_null (sound);
    for (guint i = 1; i < 4; i++) {
        task_of (unit, i)->technician = 1 - task_of (unit, i)->technician;
        g_autofree char *wrong = batch_check (&small->question, small->batch);
        assert_non_null (wrong);
        assert_non_null (strstr (wrong, "another technician goes on"));
        task_of (unit, i)->technician = 1 - task_of (unit, i)->technician;
    }
    shift_by (small->batch, unit, 3, 10);
    g_autofree char *gap = batch_check (&small->question, small->batch);
    assert_non_null (gap);
    assert_non_null (strstr (gap, "A, step 4: the unit is left open before it"));
}

/* ---- Replans ---- */

/* Published: two out, two in from 07:00 on. At `now` the second step is under way; it goes on, and so does the rest behind it. */
static void
a_replan_within_an_opening_goes_on_with_it (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (PAIRS UNTIL ("15:30"), PAIR ("A", "pair", "") PAIR ("B", "pair", ""));
    Batch *batch = small_batch_plan (small);
    g_autoptr (BatchPublished) published = batch_publish (batch);
    guint technician = task_of (unit_of (batch, "A"), 0)->technician;

    (void) state;
    assert_int_equal (task_of (unit_of (batch, "A"), 0)->begins, 0);
    small->question.published = published;
    small->question.now = task_of (unit_of (batch, "A"), 0)->ends + 10;
    batch = small_batch_plan (small);
    assert_int_equal (batch->moved, 0);
    assert_true (task_of (unit_of (batch, "A"), 0)->done);
    assert_false (task_of (unit_of (batch, "A"), 1)->done);
    assert_one_go (unit_of (batch, "A"), 0, 3);
    assert_int_equal (task_of (unit_of (batch, "A"), 3)->technician, technician);
    for (guint i = 0; i < 4; i++)
        assert_false (left_open (small, "A", i).open);
}

#define STEP_DONE "{step: 1, outcome: done, time: 2034-03-06T07:08+01:00, initials: mk}"

/* By its record only the first step is done: what was to follow is made in one go from now on, and that the unit stood open is
 * said. */
static void
what_stood_open_is_said_in_a_replan (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (
        PAIRS UNTIL ("15:30"), PAIR ("A", "pair", "") "record: bench\nunit: A\nentries: [" STEP_DONE "]\n---\n");
    Batch *batch = small_batch_plan (small);
    g_autoptr (BatchPublished) published = batch_publish (batch);
    gint64 first_ends = task_of (unit_of (batch, "A"), 0)->ends;

    (void) state;
    small->question.published = published;
    small->question.now = 6000; /* 17:00, behind the shift */
    batch = small_batch_plan (small);
    const BatchUnit *unit = unit_of (batch, "A");
    const LeftOpen left = left_open (small, "A", 1);
    assert_true (task_of (unit, 0)->done && !task_of (unit, 1)->done);
    assert_int_equal (task_of (unit, 1)->begins, DAY);
    assert_one_go (unit, 1, 3);
    assert_true (left.open && left.over_shift_end);
    assert_int_equal (left.since, first_ends);
    assert_int_equal (task_of (unit, 1)->technician, task_of (unit, 0)->technician);
}

/* A timetable from before, in which an opening was parted: nothing moves without a reason. */
static void
what_hangs_apart_on_the_wall_stays_apart (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (PAIRS UNTIL ("15:30"), PAIR ("A", "pair", ""));
    Batch *batch = small_batch_plan (small);
    gint64 begins = task_of (unit_of (batch, "A"), 2)->begins + DAY;

    (void) state;
    shift_by (batch, unit_of (batch, "A"), 2, DAY);
    g_autoptr (BatchPublished) published = batch_publish (batch);
    small->question.published = published;
    small->question.now = 0;
    batch = small_batch_plan (small);
    assert_int_equal (batch->moved, 0);
    assert_int_equal (task_of (unit_of (batch, "A"), 2)->begins, begins);
    assert_true (left_open (small, "A", 2).over_shift_end);
}

static void
publish_step (PublishedUnit *unit, Step step, guint part_number)
{
    gint64 minutes[] = { [STEP_REMOVE] = 20, [STEP_FIT] = 40 };
    const PublishedTask *last =
        unit->tasks->len > 0 ? &g_array_index (unit->tasks, PublishedTask, unit->tasks->len - 1) : NULL;
    gint64 begins = last != NULL ? last->ends : 0, ends = begins + minutes[step.kind] + (last == NULL ? 60 : 0);
    PublishedTask task = { step, begins, ends, ends, 0, 0, part_number };

    g_array_append_val (unit->tasks, task);
}

/* A route that nobody would choose: the only loaner in one socket, out, and in the other, all in one opening. It is there once. */
static void
one_loaner_serves_twice_in_an_opening (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (
        PAIRS "loaners: [{part: dorvan-8, stepping: a1, count: 1}]\n" UNTIL ("15:30"), PAIR ("A", "pair", ""));
    Batch *batch = small_batch_plan (small);
    g_autoptr (BatchPublished) published = batch_published_new ();
    PublishedUnit *unit = batch_published_add (published, "A");
    const GArray *steps = mode_of (batch, unit_of (batch, "A"))->steps;

    (void) state;
    for (guint i = 0; i < steps->len; i++) {
        Step fit = g_array_index (steps, Step, i), out = fit, loan = fit;

        if (fit.kind != STEP_FIT)
            continue;
        out = (Step){ .kind = STEP_REMOVE, .slot = fit.slot };
        loan.part = unit_of (batch, "A")->unit->fitted[fit.slot].part;
        loan.stepping = unit_of (batch, "A")->unit->fitted[fit.slot].stepping;
        loan.owner = OWNER_LOAN;
        publish_step (unit, out, 0);
        publish_step (unit, loan, 1);
        publish_step (unit, out, 1);
        publish_step (unit, fit, i);
    }
    small->question.published = published;
    batch = small_batch_plan (small);
    assert_int_equal (batch->aside, 0);
    assert_int_equal (unit_of (batch, "A")->tasks->len, 8);
    assert_int_equal (batch->moved, 0);
    assert_one_go (unit_of (batch, "A"), 0, 7);
    for (guint p = 0; p < batch->parts->len; p++) {
        const BatchPart *part = batch->parts->pdata[p];
        assert_true (part->owner != OWNER_LOAN || part->stays->len == 2);
    }
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (an_opening_waits_for_the_shift_that_holds_it),
        cmocka_unit_test (an_opening_waits_for_the_end_of_a_break),
        cmocka_unit_test (two_technicians_do_not_share_an_opening),
        cmocka_unit_test (a_unit_stays_with_its_technician),
        cmocka_unit_test (what_is_longer_than_a_shift_is_parted_between_steps),
        cmocka_unit_test (a_shop_without_shifts_has_no_end_of_one),
        cmocka_unit_test (shifts_end_when_they_end),
        cmocka_unit_test (the_sheet_says_what_stays_open_over_night),
        cmocka_unit_test (a_start_finds_the_unit_open),
        cmocka_unit_test (the_sheet_says_who_left_it),
        cmocka_unit_test (a_loaner_that_stays_over_night_is_said),
        cmocka_unit_test (a_broken_up_opening_is_refused),
        cmocka_unit_test (a_replan_within_an_opening_goes_on_with_it),
        cmocka_unit_test (what_stood_open_is_said_in_a_replan),
        cmocka_unit_test (what_hangs_apart_on_the_wall_stays_apart),
        cmocka_unit_test (one_loaner_serves_twice_in_an_opening),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
