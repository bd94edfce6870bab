/* SPDX-License-Identifier: MIT */
/* What a mode that is a plan with branches has beyond the steps of its worst case. */
#include "reports/batch_branches_json.h"

#include "route/branched.h"

static json_t *
json_reading (const Board *board, const BatchReading *reading)
{
    json_t *object = json_object ();
    gboolean try = reading->after->then == THEN_TRY;

    json_object_set_new (object, "after", json_integer (reading->before)); /* from 1: the step before that */
    json_set_text (object, "then", try ? "try" : "read");
    if (try)
        json_object_set_new (object, "dark", json_boolean (reading->next->dark));
    else
        json_set_text (object, "reads", board_component (board, reading->after->component)->name);
    json_object_set_new (object, "minutes", json_number (reading->minutes));
    return object;
}

static json_t *
json_no_way (const Board *board, const BranchCheck *check)
{
    json_t *list = json_array ();

    for (guint i = 0; i < check->costs->len; i++) {
        const BranchCost *cost = &g_array_index (check->costs, BranchCost, i);

        if (cost->given_up)
            json_array_append_new (list, json_releases (board, cost->releases));
    }
    return list;
}

void
json_set_branching (json_t *object, const BatchClass *class, const BatchMode *mode)
{
    const BatchBranching *branching = mode->branching;
    const Board *board = class->unit->board;
    json_t *of = json_object ();
    json_t *readings = json_array ();

    json_object_set_new (of, "in-any-case", json_integer (branching->common));
    json_object_set_new (of, "steps-are-of", json_releases (board, branching->releases));
    for (guint i = 0; i < branching->readings->len; i++)
        json_array_append_new (readings, json_reading (board, &g_array_index (branching->readings, BatchReading, i)));
    json_object_set_new (of, "readings", readings);
    json_object_set_new (of, "no-way", json_no_way (board, mode->answer->branches->check));
    json_object_set_new (of, "may-take", json_lots (branching->stock));
    json_object_set_new (of, "may-borrow", json_lots (branching->lent));
    json_object_set_new (of, "may-take-longer", json_number (branching->longer));
    json_object_set_new (object, "branching", of);
}

void
json_set_step_of_branch (json_t *object, const BatchWay *way, const BatchUnit *unit, guint step)
{
    if (way->words == NULL)
        return;
    json_set_text (object, "label", way->words->labels->pdata[step]);
    if (unit->open && way->words->conditions->pdata[step] != NULL)
        json_set_text (object, "if", way->words->conditions->pdata[step]);
}
