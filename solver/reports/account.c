/* SPDX-License-Identifier: MIT */
/* Works out the account of a route. */
#include "reports/account_parts.h"

#include "reports/reasons.h"
#include "reports/serials.h"

char *
step_label (const GPtrArray *labels, guint index)
{
    return labels == NULL ? g_strdup_printf ("%u", index + 1) : g_strdup (labels->pdata[index]);
}

char *
step_labels (const GPtrArray *labels, guint first, guint last)
{
    g_autofree char *from = step_label (labels, first);
    g_autofree char *to = step_label (labels, last);

    return first == last ? g_steal_pointer (&from) : g_strdup_printf ("%s-%s", from, to);
}

static void
step_account_free (gpointer data)
{
    StepAccount *step = data;

    g_array_unref (step->floor_rises);
    g_array_unref (step->power_cautions);
    g_array_unref (step->cautions);
    g_free (step->why);
    g_free (step);
}

void
route_account_free (RouteAccount *account)
{
    if (account == NULL)
        return;
    g_ptr_array_unref (account->steps);
    g_array_unref (account->top_cautions);
    g_array_unref (account->end_cautions);
    if (account->last != NULL)
        state_free (account->last);
    g_free (account);
}

static StepPower
step_power (const Making *making, guint index)
{
    const Step *step = making_step (making, index);

    if (step->kind != STEP_WRITE)
        return STEP_POWER_OFF;
    switch (
        method_powered (&board_component (making->unit->board, step->component)->methods[step->method], step->method)) {
    case POWERED_OFF:
        return STEP_POWER_OFF;
    case POWERED_STANDBY:
        return STEP_POWER_STANDBY;
    case POWERED_ON:
        return STEP_POWER_HOST;
    }
    g_assert_not_reached ();
}

static guint64
combinations_of (const Unit *unit)
{
    guint64 product = 1;

    for (guint c = 0; c < unit->board->components->len; c++)
        product = unit->releases[c].count > 0 && product > G_MAXINT64 / unit->releases[c].count
                      ? G_MAXINT64
                      : product * unit->releases[c].count;
    return product;
}

State *
making_start (const Making *making, guint at_case)
{
    if (making->part != NULL)
        return state_copy (making->part->starts->pdata[at_case]);
    return state_from_unit (making->unit, making->cases == NULL ? NULL : making->cases->pdata[at_case]);
}

/* The releases of each case; a unit with too many is walked in the case of its lowest releases only. */
static void
walk_cases (Making *making)
{
    const GPtrArray *cases = making->cases;
    guint count = cases == NULL ? 1 : cases->len;

    making->walks = g_ptr_array_new_with_free_func ((GDestroyNotify) walk_free);
    for (guint i = 0; i < count; i++) {
        g_autoptr (State) start = making_start (making, i);

        g_ptr_array_add (making->walks, check_walk (making->library, making->shop, NULL, start, making->steps));
    }
    making->account->cases = count;
    making->account->all_cases = cases != NULL;
    making->account->combinations = making->part != NULL ? count : combinations_of (making->unit);
}

static void
collect_states (Making *making)
{
    g_autoptr (State) state = making_start (making, 0);

    making->states = g_ptr_array_new_with_free_func ((GDestroyNotify) state_free);
    g_ptr_array_add (making->states, state_copy (state));
    for (guint i = 0; i < making->steps->len; i++) {
        state_apply (state, making_step (making, i));
        g_ptr_array_add (making->states, state_copy (state));
    }
    making->account->last = g_steal_pointer (&state);
}

static Answer
merge_answer (Answer merged, gboolean first, gboolean starts)
{
    Answer answer = starts ? ANSWER_YES : ANSWER_NO;

    return first || merged == answer ? answer : ANSWER_DEPENDS;
}

/* Over all cases: what holds in each of them, or in any where that is the safe thing to say. */
static gboolean
merge_walks (const Making *making, guint index, StepAccount *step)
{
    gboolean raises_floor = FALSE;

    for (guint i = 0; i < making->walks->len; i++) {
        const Walk *walk = g_ptr_array_index (making->walks, i);
        const WalkedStep *walked = NULL;

        g_assert (index < walk->walked->len);
        walked = &g_array_index (walk->walked, WalkedStep, index);
        step->starts_before = merge_answer (step->starts_before, i == 0, walked->starts_before);
        step->starts_after = merge_answer (step->starts_after, i == 0, walked->starts_after);
        step->recovery = i == 0 ? walked->recovery : step->recovery & walked->recovery;
        step->starts_unit |= walked->needs_start;
        step->minutes = MAX (step->minutes, walked->minutes);
        step->attended = MAX (step->attended, walked->attended);
        step->binds_part |= walked->binds_part;
        raises_floor |= walked->raises_floor;
    }
    return raises_floor;
}

static void
account_parts (const Making *making, guint index, StepAccount *step)
{
    const State *before = g_ptr_array_index (making->states, index);

    if (step->step->kind == STEP_REMOVE) {
        step->moved = before->held[step->step->slot];
        step->exchange = index + 1 < making->steps->len && making_step (making, index + 1)->kind == STEP_FIT &&
                         making_step (making, index + 1)->slot == step->step->slot;
    } else {
        step->moved = (Held){ step->step->part, step->step->stepping, step->step->owner, step->step->bound };
    }
}

/* Where a step works under a heat sink, which one, and whether that one is exchanged in the same opening. */
static void
account_sink (const Making *making, guint index, StepAccount *step)
{
    const State *before = g_ptr_array_index (making->states, index);
    guint first = index;

    step->sink = sink_on_slot (before->board, before->held, step->step->slot);
    while (first > 0 && step_power (making, first - 1) == STEP_POWER_OFF)
        first--;
    for (guint i = first; i < making->steps->len && step_power (making, i) == STEP_POWER_OFF; i++)
        if (step->sink >= 0 && making_step (making, i)->kind != STEP_WRITE &&
            making_step (making, i)->slot == (guint) step->sink)
            step->sink_exchanged = (int) i;
}

static StepAccount *
account_step (Making *making, guint index)
{
    StepAccount *step = g_new0 (StepAccount, 1);
    gboolean raises_floor = FALSE;

    step->step = making_step (making, index);
    step->power = step_power (making, index);
    step->floor_rises = g_array_new (FALSE, FALSE, sizeof (FloorRise));
    step->power_cautions = g_array_new (FALSE, FALSE, sizeof (DueCaution));
    step->cautions = g_array_new (FALSE, FALSE, sizeof (DueCaution));
    step->replaces = -1;
    step->sink = -1;
    step->sink_exchanged = -1;
    raises_floor = merge_walks (making, index, step);
    if (step->power == STEP_POWER_OFF && (index == 0 || step_power (making, index - 1) != STEP_POWER_OFF))
        step->opening = ++making->account->openings;
    if (step->step->kind == STEP_WRITE)
        account_write (making, index, raises_floor, step);
    else
        account_parts (making, index, step);
    if (step->step->kind != STEP_WRITE)
        account_sink (making, index, step);
    return step;
}

/* In the middle of its work a unit has been open. */
static gboolean
begins_after_parts (const Making *making)
{
    return making->part != NULL ? making->part->parts_touched
                                : making->unit->began != NULL || making->unit->pulled != NULL;
}

/* Which starts are the first since parts were worked on, and whether the route ends with one. */
static void
mark_starts (const Making *making)
{
    RouteAccount *account = making->account;
    const AccountPart *part = making->part;
    gboolean parts_touched = begins_after_parts (making);

    for (guint i = 0; i < account->steps->len; i++) {
        StepAccount *step = g_ptr_array_index (account->steps, i);

        if (step->step->kind != STEP_WRITE)
            parts_touched = TRUE;
        if (i == 0 && part != NULL && part->running)
            step->starts_unit = FALSE;
        if (!step->starts_unit)
            continue;
        step->start_after_parts = parts_touched;
        parts_touched = FALSE;
    }
    if (account->steps->len > 0) {
        const StepAccount *last = g_ptr_array_index (account->steps, account->steps->len - 1);

        gboolean starts = part == NULL || part->then == THEN_END;

        /* A start that is tried at the end of a part is told with what may be read at it. */
        account->start_at_end = starts && last->power != STEP_POWER_HOST;
        account->end_after_parts = (account->start_at_end || (!starts && part->then == THEN_TRY)) && parts_touched;
    }
}

static void
add_reasons (const Making *making)
{
    RouteJob job = { .library = making->library,
                     .shop = making->shop,
                     .unit = making->unit,
                     .want = making->want,
                     .steps = making->steps,
                     .states = making->states,
                     .cases = making->cases,
                     .starts = making->part == NULL ? NULL : making->part->starts,
                     .labels = making->account->labels };

    for (guint i = 0; i < making->account->steps->len; i++) {
        StepAccount *step = g_ptr_array_index (making->account->steps, i);
        g_auto (Reason) reason = { 0 };

        reason_of_step (&job, i, &reason);
        step->why = g_steal_pointer (&reason.says);
        step->needed = reason.needed;
        step->needed_by = reason.step;
        step->needed_rule = reason.rule;
    }
}

/* The releases at the start of each case. Transfer full; NULL when there are too many. */
static GPtrArray *
cases_of (const Unit *unit, const AccountPart *part)
{
    GPtrArray *cases = NULL;

    if (part == NULL)
        return unit_cases (unit, ACCOUNT_MOST_CASES);
    cases = g_ptr_array_new_with_free_func (g_free);
    for (guint i = 0; i < part->starts->len; i++) {
        const State *start = part->starts->pdata[i];

        g_ptr_array_add (cases, branch_case_copy (start->releases, start->board->components->len));
    }
    return cases;
}

RouteAccount *
route_account_new (const Library *library, const Shop *shop, const Unit *unit, const Want *want, const GArray *steps)
{
    return route_account_new_for (library, shop, unit, want, steps, NULL);
}

RouteAccount *
route_account_new_for (const Library *library, const Shop *shop, const Unit *unit, const Want *want,
                       const GArray *steps, const AccountPart *part)
{
    RouteAccount *account = g_new0 (RouteAccount, 1);
    Making making = { library, shop, unit, want, steps, cases_of (unit, part), NULL, NULL, account, part };

    account->labels = part == NULL ? NULL : part->labels;
    account->steps = g_ptr_array_new_with_free_func (step_account_free);
    account->top_cautions = g_array_new (FALSE, FALSE, sizeof (DueCaution));
    account->end_cautions = g_array_new (FALSE, FALSE, sizeof (DueCaution));
    account->dark_after_minutes = shop_dark_after_minutes (shop, unit->board);
    walk_cases (&making);
    collect_states (&making);
    for (guint i = 0; i < steps->len; i++)
        g_ptr_array_add (account->steps, account_step (&making, i));
    serials_follow (unit, account->steps);
    mark_starts (&making);
    account_place_cautions (&making);
    if (part == NULL || !part->no_reasons)
        add_reasons (&making);
    g_clear_pointer (&making.cases, g_ptr_array_unref);
    g_ptr_array_unref (making.walks);
    g_ptr_array_unref (making.states);
    return account;
}
