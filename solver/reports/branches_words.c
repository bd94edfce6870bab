/* SPDX-License-Identifier: MIT */
/* What the parts of a plan with branches are called, what leads to them, and what they take. */
#include "reports/branches_text.h"

#include "reports/releases_text.h"

#include <math.h>
#include <string.h>

/* The combinations of releases that the states have, each once; borrowed from the states. Transfer container. */
static GPtrArray *
distinct_releases (const GPtrArray *states)
{
    GPtrArray *distinct = g_ptr_array_new ();

    for (guint i = 0; i < states->len; i++) {
        const State *state = states->pdata[i];
        gboolean there = FALSE;

        for (guint j = 0; j < distinct->len && !there; j++)
            there = memcmp (distinct->pdata[j], state->releases, state->board->components->len * sizeof (guint)) == 0;
        if (!there)
            g_ptr_array_add (distinct, state->releases);
    }
    return distinct;
}

/* What is read, as the unit stands by then. Transfer full. */
static char *
releases_read (const Unit *unit, const Branch *after, const GPtrArray *starts)
{
    g_autoptr (GPtrArray) distinct = NULL;
    g_autofree gboolean *may_be = NULL;
    const Component *component = NULL;

    if (after->then == THEN_TRY) {
        distinct = distinct_releases (starts);
        return releases_in_words (unit, distinct);
    }
    component = board_component (unit->board, after->component);
    may_be = g_new0 (gboolean, component->releases->len);
    for (guint i = 0; i < starts->len; i++)
        may_be[((const State *) starts->pdata[i])->releases[after->component]] = TRUE;
    return releases_of_component (component, may_be);
}

char *
branch_condition (const Unit *unit, const Branch *after, const Branch *branch, const GPtrArray *starts)
{
    g_autofree char *releases = NULL;

    if (branch->dark)
        return g_strdup ("it stays dark");
    releases = releases_read (unit, after, starts);
    return g_strdup_printf (after->then == THEN_TRY ? "it starts and shows %s" : "the page shows %s", releases);
}

char *
plan_part_condition (const PlanPart *part)
{
    return branch_condition (part->after->report.unit, part->after->branch, part->branch, part->starts);
}

char *
plan_part_title (const PlanPart *part)
{
    g_autofree char *condition = NULL;

    if (part->after == NULL)
        return g_strdup_printf ("Part %s: the beginning", part->letter);
    condition = plan_part_condition (part);
    return g_strdup_printf ("Part %s: after part %s, %s", part->letter, part->after->letter, condition);
}

double
plan_part_minutes (const PlanPart *part)
{
    double minutes = 0;

    if (part->account == NULL)
        return 0;
    for (guint i = 0; i < part->account->steps->len; i++)
        minutes += ((const StepAccount *) part->account->steps->pdata[i])->minutes;
    return minutes + part->account->openings * part->report.shop->opening_minutes;
}

guint
plan_worst_amount (const PlanSheet *sheet)
{
    const BranchCheck *check = sheet->answer->check;
    guint insertions = 0;

    switch (sheet->report->answer->objective) {
    case OBJECTIVE_STEPS:
        return check->worst_steps;
    case OBJECTIVE_TIME:
        return (guint) lround (check->worst_minutes * 10);
    case OBJECTIVE_HANDLING:
    case OBJECTIVE_COUNT:
        break;
    }
    for (guint i = 0; i < check->costs->len; i++) {
        const BranchCost *cost = &g_array_index (check->costs, BranchCost, i);

        if (!cost->given_up)
            insertions = MAX (insertions, cost->insertions);
    }
    return insertions;
}

char *
plan_part_then (const PlanSheet *sheet, const PlanPart *part)
{
    switch (part->branch->then) {
    case THEN_END:
        return g_strdup ("done");
    case THEN_TRY:
        return g_strdup ("then try a start");
    case THEN_READ:
        return g_strdup_printf ("then read the release of %s",
                                board_component (sheet->report->unit->board, part->branch->component)->name);
    case THEN_GIVE_UP:
        return g_strdup ("no way on");
    }
    g_assert_not_reached ();
}
