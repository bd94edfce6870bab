/* SPDX-License-Identifier: MIT */
/* Plans with branches for a board with one socket (data/branched.yaml).
 *
 * source: every plan here was worked out by hand, step by step in the comment above its test. Where minutes are counted:
 * opening 6, a start 4, removing and fitting 2 each, a write 5, waiting for a dark unit 10, the page of base 3. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include "route/branched.h"

#include <glib/gstdio.h>

#include <string.h>

#define BOTH   "[{part: dorvan-8, count: 1}, {part: fenric-20, count: 1}]"
#define DORVAN "[{part: dorvan-8, count: 1}]"

/* A unit with an empty socket that is to hold an elvane from stock. */
typedef struct {
    Library *library; /* owned */
    const Shop *shop;
    const Unit *unit;
    const Want *want;
} Job;

static void
job_clear (Job *job)
{
    library_free (job->library);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Job, job_clear)

static Job
job_new (const char *base, const char *agent, const char *loaners)
{
    g_autofree char *path = NULL;
    int file = g_file_open_tmp ("branched-XXXXXX.yaml", &path, NULL);
    assert_true (file >= 0);
    g_close (file, NULL);
    g_autofree char *text =
        g_strdup_printf ("unit: U1\nboard: pipit-1\nrevision: r1\nfirmware: {base: %s, agent: %s}\n---\n"
                         "want: an elvane\nslots: {cpu1: elvane-14}\n---\n"
                         "shop: bench\nloaners: %s\nstock: [{part: elvane-14, count: 1}]\ndark-after: 10\n"
                         "minutes: {opening: 6, start: 4, remove: 2, fit: {processor: 2, other: 2}}\n",
                         base, agent, loaners);
    assert_true (g_file_set_contents (path, text, -1, NULL));
    const char *paths[] = { "tests/unit/data/branched.yaml", path, NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    Job job = { .library = library_load (paths, NULL, complaints) };
    g_autofree char *said = complaints_to_string (complaints, 10);
    assert_string_equal (said, "");
    g_unlink (path);
    job.shop = job.library->shops->pdata[0];
    job.unit = job.library->units->pdata[0];
    job.want = job.library->wants->pdata[0];
    return job;
}

static RouteAnswer *
plan (const Job *job, Objective objective)
{
    const RouteOptions options = { .objective = objective };
    return route_find (job->library, job->shop, job->unit, job->want, &options);
}

static RouteAnswer *
plan_with (const Job *job, guint64 states)
{
    const RouteOptions options = { .search_states = states };
    return route_find (job->library, job->shop, job->unit, job->want, &options);
}

/* The plan with branches that is claimed to be least in the worst case. */
static const BranchAnswer *
proved (const RouteAnswer *answer)
{
    assert_int_equal (answer->claim, CLAIM_BRANCHES);
    assert_null (answer->steps);
    assert_non_null (answer->branches);
    assert_int_equal (answer->branches->claim, CLAIM_PROVED_SHORTEST);
    assert_true (answer->branches->check->sound);
    return answer->branches;
}

/* The branch behind this one whose first case began with the release of base. */
static const Branch *
next_of (const Job *job, const Branch *branch, const char *release)
{
    const Component *base = board_component (job->unit->board, 0);
    for (guint i = 0; i < branch->next->len; i++) {
        const Branch *next = branch->next->pdata[i];
        const guint *first = next->cases->pdata[0];
        if (g_strcmp0 (component_release (base, first[0])->name, release) == 0)
            return next;
    }
    fail_msg ("no branch for %s", release);
    return NULL;
}

static const BranchLeg *
leg_of (const BranchAnswer *answer, const Branch *branch)
{
    for (guint i = 0; i < answer->legs->len; i++)
        if (((const BranchLeg *) answer->legs->pdata[i])->branch == branch)
            return answer->legs->pdata[i];
    fail_msg ("a branch without a leg");
    return NULL;
}

static const char *
fitted_by (const Branch *branch, guint step)
{
    const Step *one = &g_array_index (branch->steps, Step, step);
    assert_int_equal (one->kind, STEP_FIT);
    return one->part->name;
}

/* 1.0: dorvan, 1.5, 3.0, dorvan out, elvane: 5. 2.0: fenric, 3.0, out, elvane: 4. The page says which, at no step. */
static void
test_page_decides (void **state)
{
    (void) state;
    g_auto (Job) job = job_new ("[1.0, 2.0]", "2.0", BOTH);
    g_autoptr (RouteAnswer) answer = plan (&job, OBJECTIVE_STEPS);
    const BranchAnswer *found = proved (answer);
    assert_int_equal (found->plan->steps->len, 0);
    assert_int_equal (found->plan->then, THEN_READ);
    assert_int_equal (found->plan->component, 0);
    assert_int_equal (found->check->worst_steps, 5);
    assert_int_equal (found->lower_bound, 5);
    assert_true (found->check->expected_steps == 4.5);
    assert_int_equal (found->single_steps, 0);
    assert_string_equal (fitted_by (next_of (&job, found->plan, "1.0"), 0), "dorvan-8");
    assert_string_equal (fitted_by (next_of (&job, found->plan, "2.0"), 0), "fenric-20");
}

/* No page, and no loaner starts on both. Dorvan first: 1.0 takes 5; 2.0 stays dark: dorvan out, fenric, 3.0, out, elvane: 6.
 * Fenric first: 1.0 stays dark and takes 7. */
static void
test_dearer_case_is_tried_first (void **state)
{
    (void) state;
    g_auto (Job) job = job_new ("[1.0, 2.0]", "1.0", BOTH);
    g_autoptr (RouteAnswer) answer = plan (&job, OBJECTIVE_STEPS);
    const BranchAnswer *found = proved (answer);
    assert_string_equal (fitted_by (found->plan, 0), "dorvan-8");
    assert_int_equal (found->plan->then, THEN_TRY);
    assert_int_equal (found->check->worst_steps, 6);
    assert_true (found->check->expected_steps == 5.5);
    assert_false (next_of (&job, found->plan, "1.0")->dark);
    assert_true (next_of (&job, found->plan, "2.0")->dark);
}

/* Dorvan starts on all four and shows the release. 1.0: 1.5, 3.0, out, elvane; 1.5 and 1.6: 3.0, out, elvane, one branch;
 * 3.0: out, elvane. No one route: 1.5 can't be written over 3.0, nor 3.0 over 1.0. */
static void
test_loaner_that_starts_on_all (void **state)
{
    (void) state;
    g_auto (Job) job = job_new ("[1.0, 1.5, 1.6, 3.0]", "1.0", DORVAN);
    g_autoptr (RouteAnswer) answer = plan (&job, OBJECTIVE_STEPS);
    const BranchAnswer *found = proved (answer);
    assert_int_equal (found->plan->then, THEN_TRY);
    assert_int_equal (found->plan->next->len, 3);
    assert_int_equal (next_of (&job, found->plan, "1.0")->steps->len, 4);
    assert_int_equal (next_of (&job, found->plan, "1.5")->steps->len, 3);
    assert_int_equal (next_of (&job, found->plan, "1.5")->cases->len, 2);
    assert_int_equal (next_of (&job, found->plan, "3.0")->steps->len, 2);
    assert_true (found->check->expected_steps == 4);
    assert_int_equal (found->legs->len, 4);
}

/* As above: the write of 3.0 is a no-return step since nothing goes back from it, not since nobody knew what was there; the
 * write of 1.5 over 1.0 can be taken back in a step. */
static void
test_what_was_shown_is_known_to_go_back_to (void **state)
{
    (void) state;
    g_auto (Job) job = job_new ("[1.0, 1.5, 1.6, 3.0]", "1.0", DORVAN);
    g_autoptr (RouteAnswer) answer = plan (&job, OBJECTIVE_STEPS);
    const BranchAnswer *found = proved (answer);
    const BranchLeg *alike = leg_of (found, next_of (&job, found->plan, "1.5"));
    const BranchLeg *long_way = leg_of (found, next_of (&job, found->plan, "1.0"));
    const WayBack *write = &g_array_index (alike->answer->ways_back, WayBack, 0);
    assert_int_equal (write->kind, BACK_NO_RETURN);
    assert_false (write->unknown);
    write = &g_array_index (long_way->answer->ways_back, WayBack, 0);
    assert_int_equal (write->kind, BACK_WAY);
    assert_int_equal (write->steps, 1);
    assert_int_equal (alike->unit->releases[0].count, 2);
    assert_int_equal (long_way->unit->releases[0].count, 1);
    assert_string_equal (long_way->unit->fitted[0].part->name, "dorvan-8");
    assert_int_equal (long_way->depth, 1);
    assert_int_equal (long_way->parent, 0);
    assert_true (long_way->answer->walk->sound);
}

/* 9.0 starts nothing. It is carried along until the start that shows it, and given up there. */
static void
test_hopeless_case_is_carried (void **state)
{
    (void) state;
    g_auto (Job) job = job_new ("[1.0, 9.0]", "1.0", DORVAN);
    g_autoptr (RouteAnswer) answer = plan (&job, OBJECTIVE_STEPS);
    const BranchAnswer *found = proved (answer);
    assert_int_equal (found->check->worst_steps, 5);
    assert_int_equal (found->check->given_up, 1);
    assert_int_equal (next_of (&job, found->plan, "9.0")->then, THEN_GIVE_UP);
    assert_int_equal (next_of (&job, found->plan, "9.0")->steps->len, 0);
}

static void
test_no_case_has_a_route (void **state)
{
    (void) state;
    g_auto (Job) job = job_new ("[9.0, 9.1]", "1.0", BOTH);
    g_autoptr (RouteAnswer) answer = plan (&job, OBJECTIVE_STEPS);
    const RouteOptions options = { 0 };
    g_autoptr (BranchAnswer) found = branched_find (job.library, job.shop, job.unit, job.want, &options, NULL);
    assert_int_equal (answer->claim, CLAIM_NO_ROUTE);
    assert_null (answer->branches);
    assert_int_equal (found->claim, CLAIM_NO_ROUTE);
    assert_null (found->plan);
}

/* Dorvan, 1.5 over whichever it is, 3.0, dorvan out, elvane: 5 for both. From 1.0 no plan takes less. */
static void
test_single_route_is_kept (void **state)
{
    (void) state;
    g_auto (Job) job = job_new ("[1.0, 1.5]", "1.0", DORVAN);
    g_autoptr (RouteAnswer) answer = plan (&job, OBJECTIVE_STEPS);
    const RouteOptions options = { 0 };
    assert_int_equal (answer->claim, CLAIM_PROVED_SHORTEST);
    assert_int_equal (answer->steps->len, 5);
    assert_null (answer->branches);
    g_autoptr (BranchAnswer) better = branched_find (job.library, job.shop, job.unit, job.want, &options, answer);
    assert_null (better);
}

/* The page of agent says whether that of base can be read. With it: 5 and 4. Without: dorvan first, 5 and 6. Not to read at
 * all is no worse in the worst case, but 5.5 on average. */
static void
test_two_unknown (void **state)
{
    (void) state;
    g_auto (Job) job = job_new ("[1.0, 2.0]", "[1.0, 2.0]", BOTH);
    g_autoptr (RouteAnswer) answer = plan (&job, OBJECTIVE_STEPS);
    const BranchAnswer *found = proved (answer);
    assert_int_equal (found->check->costs->len, 4);
    assert_int_equal (found->check->worst_steps, 6);
    assert_true (found->check->expected_steps == 5);
    assert_int_equal (found->plan->then, THEN_READ);
    assert_int_equal (found->plan->component, 1);
    assert_int_equal (found->plan->next->len, 2);
    for (guint i = 0; i < 2; i++) {
        const Branch *next = found->plan->next->pdata[i];
        const guint *first = next->cases->pdata[0];
        assert_int_equal (next->then, first[1] == 1 ? THEN_READ : THEN_TRY);
    }
}

/* What the search adds up is what the checker counts: of the dearest case, in tenths of a minute. With the page 3 +
 * dorvan 6 + 2, start 4, writes 5 + 5, out and elvane 6 + 2 + 2, start 4: 39. Without: the dark 2.0 takes 6 + 2, start 4 and
 * wait 10, 2 + 2 more, start 4 and write 5, 6 + 2 + 2 and start 4: 49. */
static void
test_minutes_of_the_worst_case (void **state)
{
    (void) state;
    g_auto (Job) page = job_new ("[1.0, 2.0]", "2.0", BOTH), none = job_new ("[1.0, 2.0]", "1.0", BOTH);
    g_autoptr (RouteAnswer) with = plan (&page, OBJECTIVE_TIME), without = plan (&none, OBJECTIVE_TIME);
    assert_true (proved (with)->check->worst_minutes == 39);
    assert_int_equal (with->lower_bound, 390);
    assert_true (proved (without)->check->worst_minutes == 49);
    assert_int_equal (without->lower_bound, 490);
}

/* Insertions: dorvan and elvane, or fenric as well. */
static void
test_insertions_of_the_worst_case (void **state)
{
    (void) state;
    g_auto (Job) page = job_new ("[1.0, 2.0]", "2.0", BOTH), none = job_new ("[1.0, 2.0]", "1.0", BOTH);
    g_autoptr (RouteAnswer) with = plan (&page, OBJECTIVE_HANDLING), without = plan (&none, OBJECTIVE_HANDLING);
    proved (with);
    proved (without);
    assert_int_equal (with->lower_bound, 2);
    assert_int_equal (without->lower_bound, 3);
}

static void
test_without_branches_a_release_is_read_first (void **state)
{
    (void) state;
    g_auto (Job) job = job_new ("[1.0, 2.0]", "2.0", BOTH);
    const RouteOptions options = { .no_branches = TRUE };
    g_autoptr (RouteAnswer) answer = route_find (job.library, job.shop, job.unit, job.want, &options);
    assert_int_equal (answer->claim, CLAIM_READ_FIRST);
    assert_null (answer->branches);
}

/* All cases share one effort: with more of it nothing that was claimed is taken back, and the plan of six steps is found and
 * proved once. What is said to be proved before that is never more than the six. With 1 the cases are not even known by
 * themselves. */
static void
test_effort_runs_out (void **state)
{
    (void) state;
    g_auto (Job) job = job_new ("[1.0, 2.0]", "1.0", BOTH);
    gboolean found = FALSE;
    guint64 effort = 1;
    for (; effort < 1000 && !found; effort++) {
        const RouteOptions options = { .search_states = effort };
        g_autoptr (BranchAnswer) answer = branched_find (job.library, job.shop, job.unit, job.want, &options, NULL);
        found = answer->plan != NULL;
        assert_true (answer->searched <= effort);
        assert_true (answer->lower_bound <= 6);
        assert_true (effort > 1 || answer->searched == 0);
        assert_int_equal (answer->claim, found ? CLAIM_PROVED_SHORTEST : CLAIM_NOT_FOUND);
        if (!found)
            assert_non_null (answer->reason);
    }
    assert_true (found);
    assert_true (effort > 10 && effort < 500);
}

/* 2.1 of agent is 2.0 by another name: the page of base needs either, and nothing else asks. So there are two cases to look at, as
 * many as where agent is known, each standing for two combinations. */
static void
test_alike_releases_are_one_case (void **state)
{
    (void) state;
    g_auto (Job) two = job_new ("[1.0, 2.0]", "[2.0, 2.1]", BOTH), one = job_new ("[1.0, 2.0]", "2.0", BOTH);
    g_autoptr (RouteAnswer) several = plan (&two, OBJECTIVE_STEPS), known = plan (&one, OBJECTIVE_STEPS);
    const BranchAnswer *found = proved (several);
    assert_int_equal (found->check->costs->len, 4);
    assert_int_equal (found->plan->next->len, 2);
    assert_int_equal (found->check->worst_steps, 5);
    assert_true (found->check->expected_steps == 4.5);
    assert_int_equal (found->searched, proved (known)->searched);
}

/* A story's unit with other firmware. */
static Job
larkfield_job (const char *story, const char *firmware)
{
    g_autofree char *path = NULL, *before = NULL;
    int file = g_file_open_tmp ("branched-XXXXXX.yaml", &path, NULL);
    assert_true (file >= 0);
    g_close (file, NULL);
    assert_true (g_file_get_contents (story, &before, NULL, NULL));
    char *from = strstr (before, "firmware:"), *to = strstr (before, "fitted:");
    assert_true (from != NULL && to != NULL && from < to);
    *from = '\0';
    g_autofree char *text = g_strconcat (before, "firmware: ", firmware, "\n", to, NULL);
    assert_true (g_file_set_contents (path, text, -1, NULL));
    const char *paths[] = { "rules", "data/larkfield/book", "data/larkfield/shop.yaml", path, NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    Job job = { .library = library_load (paths, NULL, complaints) };
    g_autofree char *said = complaints_to_string (complaints, 10);
    assert_string_equal (said, "");
    g_unlink (path);
    job.shop = job.library->shops->pdata[0];
    job.unit = job.library->units->pdata[0];
    job.want = job.library->wants->pdata[0];
    return job;
}

/* No rule and no file of story 08's board asks for the release of logic, so 9 x 8 x 8 combinations take what 9 x 8 take. */
static void
test_combinations_that_nothing_tells_apart (void **state)
{
    (void) state;
    static const char story[] = "data/larkfield/units/08-unknown-read-first.yaml";
    g_auto (Job) all = larkfield_job (story, "{system: unknown, controller: unknown, logic: unknown}");
    g_auto (Job) some = larkfield_job (story, "{system: unknown, controller: unknown, logic: k2}");
    const RouteOptions options = { .no_ways_back = TRUE };
    g_autoptr (BranchAnswer) of_all = branched_find (all.library, all.shop, all.unit, all.want, &options, NULL);
    g_autoptr (BranchAnswer) of_some = branched_find (some.library, some.shop, some.unit, some.want, &options, NULL);
    assert_int_equal (of_all->claim, CLAIM_PROVED_SHORTEST);
    assert_int_equal (of_some->check->costs->len, 72);
    assert_int_equal (of_all->check->costs->len, 576);
    assert_int_equal (of_all->check->worst_steps, of_some->check->worst_steps);
    assert_true (of_all->check->expected_steps == of_some->check->expected_steps);
    assert_int_equal (of_all->legs->len, of_some->legs->len);
    assert_int_equal (of_all->searched, of_some->searched);
}

static void
test_too_many_cases_are_said (void **state)
{
    (void) state;
    g_auto (Job) job = larkfield_job ("data/larkfield/units/13-half-the-memory.yaml",
                                      "{system: unknown, controller: unknown, logic: unknown, engine: unknown}");
    const RouteOptions options = { .search_states = 5000 };
    g_autoptr (BranchAnswer) found = branched_find (job.library, job.shop, job.unit, job.want, &options, NULL);
    assert_int_equal (found->claim, CLAIM_NOT_FOUND);
    assert_true (found->too_many);
    assert_null (found->plan);
    assert_int_equal (found->searched, 0);
    assert_string_equal (found->reason,
                         "too many combinations of possible releases for a plan with branches; read one first");
    g_autoptr (RouteAnswer) answer = plan_with (&job, 5000);
    assert_true (answer->claim == CLAIM_READ_FIRST || answer->claim == CLAIM_NOT_FOUND);
    assert_string_equal (answer->reason, found->reason);
}

static gboolean
stop_at_once (const RouteProgress *progress, gpointer data)
{
    (void) progress;
    (*(guint *) data)++;
    return FALSE;
}

static void
test_stops_when_told (void **state)
{
    (void) state;
    g_auto (Job) job = job_new ("[1.0, 2.0]", "1.0", BOTH);
    guint asked = 0;
    const RouteOptions options = { .go_on = stop_at_once, .go_on_data = &asked };
    g_autoptr (BranchAnswer) found = branched_find (job.library, job.shop, job.unit, job.want, &options, NULL);
    assert_int_equal (found->claim, CLAIM_NOT_FOUND);
    assert_int_equal (asked, 1);
    assert_true (found->stopped);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_page_decides),
        cmocka_unit_test (test_dearer_case_is_tried_first),
        cmocka_unit_test (test_loaner_that_starts_on_all),
        cmocka_unit_test (test_what_was_shown_is_known_to_go_back_to),
        cmocka_unit_test (test_hopeless_case_is_carried),
        cmocka_unit_test (test_no_case_has_a_route),
        cmocka_unit_test (test_single_route_is_kept),
        cmocka_unit_test (test_two_unknown),
        cmocka_unit_test (test_minutes_of_the_worst_case),
        cmocka_unit_test (test_insertions_of_the_worst_case),
        cmocka_unit_test (test_without_branches_a_release_is_read_first),
        cmocka_unit_test (test_effort_runs_out),
        cmocka_unit_test (test_alike_releases_are_one_case),
        cmocka_unit_test (test_combinations_that_nothing_tells_apart),
        cmocka_unit_test (test_too_many_cases_are_said),
        cmocka_unit_test (test_stops_when_told),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
