/* SPDX-License-Identifier: MIT */
/* Larkfield's unit 08 with plans with branches made by hand, as if they had been found. */
#ifndef RUNGWISE_BRANCHES_REPORT_FIXTURE_H
#define RUNGWISE_BRANCHES_REPORT_FIXTURE_H

#include "reports_fixture.h"

#include "route/branched.h"

#define UNIT_08 "data/larkfield/units/08-unknown-read-first.yaml"

#define OLDEST "1.0.0", "1.2.0"
#define MIDDLE "1.4.0", "2.0.0"
#define RECENT "2.0.0-rc.1", "2.1.0", "2.2.0"
#define NEWEST "3.0.0", "3.0.1"
#define EVERY  "1.0.0", "1.2.0", "1.4.0", "2.0.0-rc.1", "2.0.0", "2.1.0", "2.2.0", "3.0.0", "3.0.1"

static inline Library *
fixture_library_08 (void)
{
    return fixture_load (
        (const char *const[]){ RULES, "rules/cautions.yaml", "rules/looks.yaml", BOOK, SHOP, UNIT_08, NULL });
}

/* ---- Branches ---- */

static inline guint
fixture_release (const Unit *unit, const char *name)
{
    return (guint) component_find_release (board_component (unit->board, 0), name);
}

/* A case of unit 08: only its first component, system, is not known. Transfer full. */
static inline guint *
fixture_case (const Unit *unit, const char *name)
{
    g_autoptr (State) state = state_from_unit (unit, NULL);
    guint *releases = branch_case_copy (state->releases, unit->board->components->len);

    releases[0] = fixture_release (unit, name);
    return releases;
}

static inline Branch *
fixture_branch (const Unit *unit, const char *const *releases, Then then)
{
    Branch *branch = branch_new ();

    for (; *releases != NULL; releases++)
        g_ptr_array_add (branch->cases, fixture_case (unit, *releases));
    branch->then = then;
    return branch;
}

static inline Branch *
fixture_next (Branch *branch, const Unit *unit, const char *const *releases, Then then)
{
    Branch *next = fixture_branch (unit, releases, then);

    g_ptr_array_add (branch->next, next);
    return next;
}

static inline void
fixture_write (Branch *branch, const Unit *unit, const char *release)
{
    Step step = {
        .kind = STEP_WRITE, .component = 0, .release = fixture_release (unit, release), .method = METHOD_HOST
    };

    g_array_append_val (branch->steps, step);
}

static inline void
fixture_fit (Branch *branch, const Library *library, const char *part, Owner owner)
{
    const Unit *unit = fixture_unit (library);
    const Part *fitted = book_find_part (&library->book, part);
    Step step = { .kind = STEP_FIT,
                  .slot = (guint) board_find_slot (unit->board, "cpu1"),
                  .part = fitted,
                  .stepping = fitted->steppings->len == 0 ? NULL : fitted->steppings->pdata[0],
                  .owner = owner };

    g_array_append_val (branch->steps, step);
}

/* Exchanges the loaner for what is wanted. */
static inline void
fixture_finish (Branch *branch, const Library *library)
{
    Step step = { .kind = STEP_REMOVE, .slot = (guint) board_find_slot (fixture_unit (library)->board, "cpu1") };

    g_array_append_val (branch->steps, step);
    fixture_fit (branch, library, "elvane-12c", OWNER_STOCK);
}

/* ---- Plans ---- */

/* By hand: a dorvan starts every release below 3; a wanted elvane is known from 2.1.0 on and to 2.0.0-rc.1. 2.1.0 goes over
 * 1.4.0 and later. So a loaner goes in first, and a start says what is on it. */
static inline Branch *
fixture_plan (const Library *library)
{
    const Unit *unit = fixture_unit (library);
    Branch *root = fixture_branch (unit, (const char *const[]){ EVERY, NULL }, THEN_TRY);
    Branch *oldest = fixture_next (root, unit, (const char *const[]){ OLDEST, NULL }, THEN_END);
    Branch *middle = fixture_next (root, unit, (const char *const[]){ MIDDLE, NULL }, THEN_END);
    Branch *recent = fixture_next (root, unit, (const char *const[]){ RECENT, NULL }, THEN_END);
    Branch *dark = fixture_next (root, unit, (const char *const[]){ NEWEST, NULL }, THEN_END);

    fixture_fit (root, library, "dorvan-4c", OWNER_LOAN);
    fixture_write (oldest, unit, "1.4.0");
    fixture_write (oldest, unit, "2.1.0");
    fixture_write (middle, unit, "2.1.0");
    dark->dark = TRUE;
    fixture_finish (oldest, library);
    fixture_finish (middle, library);
    fixture_finish (recent, library);
    fixture_finish (dark, library);
    return root;
}

/* What is wanted goes in, and where it starts that is all; where it does not, this plan gives up. */
static inline Branch *
fixture_plan_that_gives_up (const Library *library)
{
    const Unit *unit = fixture_unit (library);
    Branch *root = fixture_branch (unit, (const char *const[]){ EVERY, NULL }, THEN_TRY);
    Branch *dark = NULL;

    fixture_fit (root, library, "elvane-12c", OWNER_STOCK);
    fixture_next (root, unit, (const char *const[]){ RECENT, NEWEST, NULL }, THEN_END);
    dark = fixture_next (root, unit, (const char *const[]){ OLDEST, MIDDLE, NULL }, THEN_GIVE_UP);
    dark->dark = TRUE;
    return root;
}

/* For a book that states a page for system: it is read before anything is done. */
static inline Branch *
fixture_plan_that_reads (const Library *library)
{
    const Unit *unit = fixture_unit (library);
    Branch *root = fixture_branch (unit, (const char *const[]){ EVERY, NULL }, THEN_READ);
    Branch *oldest = fixture_next (root, unit, (const char *const[]){ OLDEST, NULL }, THEN_END);
    Branch *middle = fixture_next (root, unit, (const char *const[]){ MIDDLE, NULL }, THEN_END);
    Branch *recent = fixture_next (root, unit, (const char *const[]){ RECENT, NEWEST, NULL }, THEN_END);

    root->component = 0;
    fixture_fit (oldest, library, "dorvan-4c", OWNER_LOAN);
    fixture_write (oldest, unit, "1.4.0");
    fixture_write (oldest, unit, "2.1.0");
    fixture_finish (oldest, library);
    fixture_fit (middle, library, "dorvan-4c", OWNER_LOAN);
    fixture_write (middle, unit, "2.1.0");
    fixture_finish (middle, library);
    fixture_fit (recent, library, "elvane-12c", OWNER_STOCK);
    return root;
}

/* ---- The answer that goes with a plan ---- */

/* The unit as it stands after `way` in any of the branch's cases. Transfer full. */
static inline Unit *
fixture_unit_at (const Unit *unit, const Branch *branch, const GArray *way)
{
    Unit *at = NULL;

    for (guint i = 0; i < branch->cases->len; i++) {
        g_autoptr (State) state = state_from_unit (unit, branch->cases->pdata[i]);
        UnitRelease *known = NULL;

        for (guint s = 0; s < way->len; s++)
            state_apply (state, &g_array_index (way, Step, s));
        if (at == NULL)
            at = unit_at_state (state);
        known = &at->releases[0];
        known->count += known->may_be[state->releases[0]] ? 0 : 1;
        known->may_be[state->releases[0]] = TRUE;
    }
    return at;
}

static inline void
fixture_add_leg (const Library *library, GPtrArray *legs, const Branch *branch, int parent, const GArray *way)
{
    BranchLeg *leg = g_new0 (BranchLeg, 1);
    g_autoptr (GArray) further = g_array_copy ((GArray *) way);
    int index = (int) legs->len;

    leg->branch = branch;
    leg->parent = parent;
    leg->depth = parent < 0 ? 0 : ((const BranchLeg *) legs->pdata[parent])->depth + 1;
    leg->unit = fixture_unit_at (fixture_unit (library), branch, way);
    leg->answer = g_new0 (RouteAnswer, 1);
    leg->answer->claim = CLAIM_BEST_FOUND;
    leg->answer->steps = g_array_copy (branch->steps);
    g_autoptr (State) start = state_from_unit (leg->unit, NULL);
    leg->answer->walk = check_walk (library, fixture_shop (library), NULL, start, branch->steps);
    g_ptr_array_add (legs, leg);
    g_array_append_vals (further, branch->steps->data, branch->steps->len);
    for (guint i = 0; i < branch->next->len; i++)
        fixture_add_leg (library, legs, branch->next->pdata[i], index, further);
}

static inline void
fixture_leg_free (gpointer data)
{
    BranchLeg *leg = data;

    unit_free (leg->unit);
    route_answer_free (leg->answer);
    g_free (leg);
}

/* Takes the plan over. Transfer full (fixture_branches_free). */
static inline RouteAnswer *
fixture_branches (const Library *library, Branch *plan)
{
    RouteAnswer *answer = g_new0 (RouteAnswer, 1);
    BranchAnswer *branches = g_new0 (BranchAnswer, 1);
    g_autoptr (GArray) way = g_array_new (FALSE, FALSE, sizeof (Step));

    answer->claim = CLAIM_BRANCHES;
    answer->branches = branches;
    branches->claim = CLAIM_PROVED_SHORTEST;
    branches->plan = plan;
    branches->legs = g_ptr_array_new_with_free_func (fixture_leg_free);
    branches->check =
        check_branches (library, fixture_shop (library), fixture_unit (library), fixture_want (library), plan, 100);
    if (!branches->check->sound)
        fail_msg ("%s", branches->check->why);
    branches->lower_bound = branches->check->worst_steps;
    fixture_add_leg (library, branches->legs, plan, -1, way);
    return answer;
}

static inline void
fixture_branches_free (RouteAnswer *answer)
{
    BranchAnswer *branches = answer->branches;

    g_ptr_array_unref (branches->legs);
    branch_check_free (branches->check);
    branch_free (branches->plan);
    g_free (branches);
    g_free (answer);
}

#endif
