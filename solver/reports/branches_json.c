/* SPDX-License-Identifier: MIT */
/* The tree of a plan with branches, each part with its steps as those of any route. */
#include "reports/branches_json.h"

#include "reports/branches_text.h"

static json_t *
json_states (const GPtrArray *states)
{
    json_t *list = json_array ();

    for (guint i = 0; i < states->len; i++) {
        const State *state = states->pdata[i];

        json_array_append_new (list, json_releases (state->board, state->releases));
    }
    return list;
}

static void
set_reading (json_t *object, const PlanPart *part)
{
    const Unit *unit = part->way_report.unit;
    const Component *component = NULL;

    if (part->account != NULL)
        json_object_set_new (object, "reading-cautions", json_cautions (part->account->end_cautions));
    if (part->branch->then == THEN_TRY)
        return;
    component = board_component (unit->board, part->branch->component);
    json_set_text (object, "reads", component->name);
    json_object_set_new (object, "reading-minutes", json_number (component->page.minutes));
}

static json_t *
json_part (const PlanPart *part)
{
    static const char *const thens[] = { "end", "try", "read", "give-up" };
    json_t *object = json_object ();
    json_t *next = json_array ();

    json_set_text (object, "part", part->letter);
    if (part->after != NULL)
        json_object_set_new (object, "dark", json_boolean (part->branch->dark));
    json_object_set_new (object, "came-in-with", json_states (part->came_in));
    json_object_set_new (object, "begins-with", json_states (part->starts));
    json_set_steps (object, &part->report, part->account);
    json_set_text (object, "then", thens[part->branch->then]);
    if (part->branch->next->len > 0)
        set_reading (object, part);
    for (guint i = 0; i < part->branch->next->len; i++)
        json_array_append_new (next, json_part (plan_part_of (part->all, part->branch->next->pdata[i])));
    json_object_set_new (object, "next", next);
    if (part->branch->then == THEN_END && part->way_account != NULL)
        json_set_beside (object, &part->way_report, part->way_account);
    return object;
}

static json_t *
json_given_up (const PlanSheet *sheet)
{
    const GArray *costs = sheet->answer->check->costs;
    json_t *list = json_array ();

    for (guint i = 0; i < costs->len; i++) {
        const BranchCost *cost = &g_array_index (costs, BranchCost, i);

        if (cost->given_up)
            json_array_append_new (list, json_releases (sheet->report->unit->board, cost->releases));
    }
    return list;
}

static json_t *
json_amounts (double steps, double minutes)
{
    json_t *object = json_object ();

    json_object_set_new (object, "steps", json_number (steps));
    json_object_set_new (object, "minutes", json_number (minutes));
    return object;
}

static json_t *
json_plan (const PlanSheet *sheet)
{
    const BranchAnswer *answer = sheet->answer;
    Objective objective = sheet->report->answer->objective;
    guint amount = plan_worst_amount (sheet);
    double dark = shop_dark_after_minutes (sheet->report->shop, sheet->report->unit->board);
    json_t *object = json_object ();

    json_set_text (object, "claim", json_claim_word (answer->claim));
    json_object_set_new (object, "least-in-worst-case", json_amount (objective, amount));
    json_object_set_new (object, "gap", json_amount (objective, amount - MIN (answer->lower_bound, amount)));
    json_object_set_new (object, "worst", json_amounts (answer->check->worst_steps, answer->check->worst_minutes));
    json_object_set_new (object, "expected",
                         json_amounts (answer->check->expected_steps, answer->check->expected_minutes));
    json_object_set_new (object, "combinations", json_integer (answer->check->costs->len));
    json_object_set_new (object, "given-up", json_given_up (sheet));
    if (answer->single_steps > 0)
        json_object_set_new (object, "single-steps", json_integer (answer->single_steps));
    json_object_set_new (object, "dark-after", json_number (dark));
    json_object_set_new (object, "plan", json_part (plan_part (sheet, 0)));
    return object;
}

void
json_set_branches (json_t *document, const RouteReport *report)
{
    g_autoptr (PlanSheet) sheet = plan_sheet_new (report);
    const PlanPart *beginning = plan_part (sheet, 0);

    json_set_steps (document, &beginning->report, beginning->account);
    json_object_set_new (document, "branches", json_plan (sheet));
}
