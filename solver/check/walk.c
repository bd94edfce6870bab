/* SPDX-License-Identifier: MIT */
/* Walks a route step by step, refuses the first bad one, and counts as docs/method.md, "Counts" says. */
#include "check/check.h"

#include "check/facts.h"
#include "check/state.h"
#include "check/steps.h"

void
walk_free (Walk *walk)
{
    if (walk == NULL)
        return;
    g_free (walk->why);
    g_array_unref (walk->walked);
    state_free (walk->last);
    g_free (walk);
}

/* Writes on a running unit that follow one another need one start. */
static gboolean
needs_start (const Board *board, const Step *step, const Step *previous)
{
    return step_is_on_a_running_unit (board, step) &&
           (previous == NULL || !step_is_on_a_running_unit (board, previous));
}

static gboolean
opens (const Board *board, const Step *step, const Step *previous)
{
    return step_is_off_power (board, step) && (previous == NULL || !step_is_off_power (board, previous));
}

/* Methods by which the release can be written at all, in this shop. When it lies below the floor, only
 * those that do not obey the floor, and are not for recovery alone. A spare image writes nothing but what it holds. */
static guint
methods_to_write (const Walker *walker, guint index, guint release, gboolean below_floor)
{
    const Component *component = board_component (walker->state->board, index);
    guint methods = walker->shop->methods & component_release (component, release)->methods;

    if (state_spare_release (walker->state, index) != (int) release)
        methods &= ~METHOD_BIT (METHOD_SPARE);
    for (guint m = 0; m < METHOD_COUNT; m++)
        if (!component->methods[m].there ||
            (below_floor && (component->methods[m].obeys_floor || component->methods[m].recovery_only)))
            methods &= ~METHOD_BIT (m);
    return methods;
}

/* Whether a release that could be written at `before` can't be at `after`. */
static gboolean
floor_shuts_out (const Walker *walker, guint index, int before, int after)
{
    const Component *component = board_component (walker->state->board, index);

    for (int r = MAX (before, 0); r < after; r++) {
        if (component_release (component, (guint) r)->withdrawn != NULL)
            continue;
        if (methods_to_write (walker, index, (guint) r, FALSE) != 0 &&
            methods_to_write (walker, index, (guint) r, TRUE) == 0)
            return TRUE;
    }
    return FALSE;
}

static gboolean
raises_floor (const Walker *walker, const State *after)
{
    for (guint i = 0; i < after->board->components->len; i++)
        if (floor_shuts_out (walker, i, walker->state->floors[i], after->floors[i]))
            return TRUE;
    return FALSE;
}

/* Minutes of the step itself. Parts are worked on by hand throughout; a write may be left alone for a while. */
static void
time_step (const Walker *walker, const Step *step, WalkedStep *walked)
{
    if (step->kind == STEP_WRITE) {
        const MethodEntry *entry = &board_component (walker->state->board, step->component)->methods[step->method];

        walked->minutes = entry->minutes;
        walked->attended = entry->attended;
        return;
    }
    const Shop *shop = walker->shop;
    walked->minutes = step->kind == STEP_FIT ? shop->fit_minutes[step->part->kind]
                                             : shop->remove_minutes[walker->state->held[step->slot].part->kind];
    walked->attended = walked->minutes;
}

/* A loaner that would be bound is never on; that it isn't, rules say. */
static gboolean
binds_part (const Walker *walker, const Step *step)
{
    Held held = held_from_step (step);

    return step->kind == STEP_FIT && step->owner != OWNER_LOAN && held_would_be_bound (walker->state->board, &held);
}

static WalkedStep
describe_step (const Walker *walker, const Step *step, const Step *previous, const State *after,
               const GPtrArray *broken_after)
{
    const Board *board = after->board;
    WalkedStep walked = { .starts_before = broken_verdict (walker->broken) == STARTS_YES,
                          .starts_after = broken_verdict (broken_after) == STARTS_YES,
                          .opens = opens (board, step, previous),
                          .needs_start = needs_start (board, step, previous),
                          .binds_part = binds_part (walker, step) };

    time_step (walker, step, &walked);
    if (step->kind == STEP_WRITE) {
        walked.recovery = step_recovery (walker, step);
        walked.raises_floor = raises_floor (walker, after);
    }
    return walked;
}

/* Carries out one step, or says why not. The walker stands after the step only when it was allowed. */
static gboolean
walk_step (Walker *walker, const Step *step, const Step *previous, WalkedStep *walked, Refusal *refusal)
{
    if (!step_is_known (walker, step, refusal) || !step_is_allowed (walker, step, refusal))
        return FALSE;
    g_autoptr (State) after = state_copy (walker->state);
    state_apply (after, step);
    g_autoptr (GPtrArray) broken_after = check_state (walker->library, walker->shop, after);
    if (step->kind == STEP_WRITE && !write_is_allowed_after (walker, step, broken_after, refusal))
        return FALSE;
    *walked = describe_step (walker, step, previous, after, broken_after);
    state_free (walker->state);
    walker->state = g_steal_pointer (&after);
    g_ptr_array_unref (walker->broken);
    walker->broken = g_steal_pointer (&broken_after);
    return TRUE;
}

static void
count_step (Walk *walk, const Shop *shop, const Step *step, const WalkedStep *walked)
{
    double around = (walked->opens ? shop->opening_minutes : 0) + (walked->needs_start ? shop->start_minutes : 0);

    g_array_append_val (walk->walked, *walked);
    walk->steps++;
    walk->insertions += step->kind == STEP_FIT && step->part->kind == KIND_PROCESSOR ? 1 : 0;
    walk->openings += walked->opens ? 1 : 0;
    walk->starts += walked->needs_start ? 1 : 0;
    walk->minutes += walked->minutes + around;
    walk->attended += walked->attended + around;
}

/* The start at the end of a route that does not end running. */
static void
count_last_start (Walk *walk, const Walker *walker, const Step *last)
{
    const Shop *shop = walker->shop;

    if (last == NULL || step_is_on_a_running_unit (walker->state->board, last))
        return;
    walk->starts++;
    walk->minutes += shop->start_minutes;
    walk->attended += shop->start_minutes;
}

/* NULL before the first step. */
static const Step *
step_at (const GArray *steps, guint count)
{
    return count > 0 ? &g_array_index (steps, Step, count - 1) : NULL;
}

static gboolean
walk_all (Walker *walker, const GArray *steps, Walk *walk, Refusal *refusal)
{
    for (guint i = 0; i < steps->len; i++) {
        const Step *step = &g_array_index (steps, Step, i);
        WalkedStep walked;

        if (!walk_step (walker, step, step_at (steps, i), &walked, refusal))
            return FALSE;
        count_step (walk, walker->shop, step, &walked);
    }
    count_last_start (walk, walker, step_at (steps, steps->len));
    return end_is_allowed (walker, refusal);
}

Walk *
check_walk (const Library *library, const Shop *shop, const Want *want, const State *start, const GArray *steps)
{
    Walk *walk = g_new0 (Walk, 1);
    Refusal refusal = { NULL, NULL };
    Walker walker = { .library = library,
                      .shop = shop,
                      .want = want,
                      .start = start,
                      .state = state_copy (start),
                      .broken = check_state (library, shop, start) };

    walk->walked = g_array_new (FALSE, FALSE, sizeof (WalkedStep));
    walk->sound = walk_all (&walker, steps, walk, &refusal);
    walk->first_bad = walk->sound ? 0 : walk->walked->len;
    walk->rule = refusal.rule;
    walk->why = refusal.why;
    walk->last = walker.state;
    g_ptr_array_unref (walker.broken);
    return walk;
}
