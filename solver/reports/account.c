/* SPDX-License-Identifier: MIT */
/* Works out the account of a route. */
#include "reports/account.h"

#include "reports/reasons.h"
#include "reports/serials.h"

/* What the stages of one account hand to each other. */
typedef struct {
    const Library *library;
    const Shop *shop;
    const Unit *unit;
    const GArray *steps;
    GPtrArray *walks;  /* Walk*: one per case */
    GPtrArray *states; /* State*: before each step and after the last, in the first case */
    RouteAccount *account;
} Making;

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
step_power (const Step *step)
{
    if (step->kind != STEP_WRITE || step->method == METHOD_CLIP)
        return STEP_POWER_OFF;
    return step->method == METHOD_HOST ? STEP_POWER_HOST : STEP_POWER_STANDBY;
}

static const Step *
step_at (const Making *making, guint index)
{
    return &g_array_index (making->steps, Step, index);
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

/* The releases of each case; a unit with too many is walked in the case of its lowest releases only. */
static void
walk_cases (Making *making)
{
    g_autoptr (GPtrArray) cases = unit_cases (making->unit, ACCOUNT_MOST_CASES);
    guint count = cases == NULL ? 1 : cases->len;

    making->walks = g_ptr_array_new_with_free_func ((GDestroyNotify) walk_free);
    for (guint i = 0; i < count; i++) {
        g_autoptr (State) start = state_from_unit (making->unit, cases == NULL ? NULL : g_ptr_array_index (cases, i));

        g_ptr_array_add (making->walks, check_walk (making->library, making->shop, NULL, start, making->steps));
    }
    making->account->cases = count;
    making->account->all_cases = cases != NULL;
    making->account->combinations = combinations_of (making->unit);
}

/* The walk of a longer and longer beginning of the route ends in the states between its steps. */
static void
collect_states (Making *making)
{
    g_autoptr (GPtrArray) cases = unit_cases (making->unit, ACCOUNT_MOST_CASES);
    g_autoptr (State) start = state_from_unit (making->unit, cases == NULL ? NULL : g_ptr_array_index (cases, 0));

    making->states = g_ptr_array_new_with_free_func ((GDestroyNotify) state_free);
    for (guint length = 0; length <= making->steps->len; length++) {
        g_autoptr (GArray) beginning = g_array_new (FALSE, FALSE, sizeof (Step));
        g_autoptr (Walk) walk = NULL;

        if (length > 0)
            g_array_append_vals (beginning, making->steps->data, length);
        walk = check_walk (making->library, making->shop, NULL, start, beginning);
        g_ptr_array_add (making->states, state_copy (walk->last));
    }
    making->account->last = state_copy (g_ptr_array_index (making->states, making->steps->len));
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
        raises_floor |= walked->raises_floor;
    }
    return raises_floor;
}

static gboolean
release_also_writes (const Release *release, const char *component)
{
    for (guint i = 0; i < release->also_writes->len; i++)
        if (((const AlsoWrites *) g_ptr_array_index (release->also_writes, i))->component == component)
            return TRUE;
    return FALSE;
}

gboolean
steps_write_component (const Board *board, const GArray *steps, guint count, guint component)
{
    for (guint i = 0; i < count; i++) {
        const Step *step = &g_array_index (steps, Step, i);

        if (step->kind != STEP_WRITE)
            continue;
        if (step->component == component ||
            release_also_writes (component_release (board_component (board, step->component), step->release),
                                 board_component (board, component)->name))
            return TRUE;
    }
    return FALSE;
}

static void
add_floor_rise (const Component *component, guint index, int release, int floor_before, StepAccount *step)
{
    int lowest = component_release (component, (guint) release)->lowest;

    if (lowest > floor_before && lowest > 0) {
        FloorRise rise = { index, (guint) lowest };

        g_array_append_val (step->floor_rises, rise);
    }
}

/* Whether some method recovers each component that the release writes. */
static gboolean
one_method_recovers_all (const Making *making, const State *before, guint component, const Release *release)
{
    guint shared = recovery_methods (making->shop, before, component);

    for (guint i = 0; i < release->also_writes->len; i++) {
        const AlsoWrites *also = g_ptr_array_index (release->also_writes, i);

        shared &=
            recovery_methods (making->shop, before, (guint) board_find_component (before->board, also->component));
    }
    return shared != 0;
}

static void
account_write (const Making *making, guint index, gboolean raises_floor, StepAccount *step)
{
    const Board *board = making->unit->board;
    const State *before = g_ptr_array_index (making->states, index);
    const Component *component = board_component (board, step->step->component);
    const Release *release = component_release (component, step->step->release);

    if (making->unit->releases[step->step->component].count == 1 ||
        steps_write_component (board, making->steps, index, step->step->component))
        step->replaces = (int) before->releases[step->step->component];
    step->recovery_takes_all =
        step->recovery != 0 && !one_method_recovers_all (making, before, step->step->component, release);
    if (!raises_floor)
        return;
    add_floor_rise (component, step->step->component, (int) step->step->release, before->floors[step->step->component],
                    step);
    for (guint i = 0; i < release->also_writes->len; i++) {
        const AlsoWrites *also = g_ptr_array_index (release->also_writes, i);
        int other = board_find_component (board, also->component);
        const Component *also_component = NULL;

        g_assert (other >= 0);
        also_component = board_component (board, (guint) other);
        add_floor_rise (also_component, (guint) other, component_find_release (also_component, also->release),
                        before->floors[other], step);
    }
}

static void
account_parts (const Making *making, guint index, StepAccount *step)
{
    const State *before = g_ptr_array_index (making->states, index);

    if (step->step->kind == STEP_REMOVE) {
        step->moved = before->held[step->step->slot];
        step->exchange = index + 1 < making->steps->len && step_at (making, index + 1)->kind == STEP_FIT &&
                         step_at (making, index + 1)->slot == step->step->slot;
    } else {
        step->moved = (Held){ step->step->part, step->step->stepping, step->step->owner };
    }
}

/* Where a step works under a heat sink, which one, and whether that one is exchanged in the same opening. */
static void
account_sink (const Making *making, guint index, StepAccount *step)
{
    const State *before = g_ptr_array_index (making->states, index);
    guint first = index;

    step->sink = sink_on_slot (before->board, before->held, step->step->slot);
    while (first > 0 && step_power (step_at (making, first - 1)) == STEP_POWER_OFF)
        first--;
    for (guint i = first; i < making->steps->len && step_power (step_at (making, i)) == STEP_POWER_OFF; i++)
        if (step->sink >= 0 && step_at (making, i)->kind != STEP_WRITE &&
            step_at (making, i)->slot == (guint) step->sink)
            step->sink_exchanged = (int) i;
}

static StepAccount *
account_step (Making *making, guint index)
{
    StepAccount *step = g_new0 (StepAccount, 1);
    gboolean raises_floor = FALSE;

    step->step = step_at (making, index);
    step->power = step_power (step->step);
    step->floor_rises = g_array_new (FALSE, FALSE, sizeof (FloorRise));
    step->power_cautions = g_array_new (FALSE, FALSE, sizeof (DueCaution));
    step->cautions = g_array_new (FALSE, FALSE, sizeof (DueCaution));
    step->replaces = -1;
    step->sink = -1;
    step->sink_exchanged = -1;
    raises_floor = merge_walks (making, index, step);
    if (step->power == STEP_POWER_OFF && (index == 0 || step_power (step_at (making, index - 1)) != STEP_POWER_OFF))
        step->opening = ++making->account->openings;
    if (step->step->kind == STEP_WRITE)
        account_write (making, index, raises_floor, step);
    else
        account_parts (making, index, step);
    if (step->step->kind != STEP_WRITE)
        account_sink (making, index, step);
    return step;
}

/* Which starts are the first since parts were worked on, and whether the route ends with one. */
static void
mark_starts (RouteAccount *account)
{
    gboolean parts_touched = FALSE;

    for (guint i = 0; i < account->steps->len; i++) {
        StepAccount *step = g_ptr_array_index (account->steps, i);

        if (step->step->kind != STEP_WRITE)
            parts_touched = TRUE;
        if (!step->starts_unit)
            continue;
        step->start_after_parts = parts_touched;
        parts_touched = FALSE;
    }
    if (account->steps->len > 0) {
        const StepAccount *last = g_ptr_array_index (account->steps, account->steps->len - 1);

        account->start_at_end = last->power != STEP_POWER_HOST;
        account->end_after_parts = account->start_at_end && parts_touched;
    }
}

/* What stands above the step: the words for the opening it begins, for the first power after an opening, and for the start
 * before it. `unpowered` keeps whether the unit was opened since there was power. */
static CautionWords
words_above (const RouteAccount *account, guint index, gboolean *unpowered)
{
    const StepAccount *step = g_ptr_array_index (account->steps, index);
    const StepAccount *previous = index == 0 ? NULL : g_ptr_array_index (account->steps, index - 1);
    CautionWords words = 0;

    if (step->opening > 0)
        words |= caution_words_of_opening (previous != NULL && previous->power == STEP_POWER_STANDBY);
    if (step->power != STEP_POWER_OFF && *unpowered)
        words |= caution_words_of_power_up ();
    if (step->start_after_parts)
        words |= caution_words_of_start ();
    *unpowered = step->power == STEP_POWER_OFF;
    return words;
}

static void
place_cautions (const Making *making)
{
    g_autoptr (GHashTable) said = g_hash_table_new (NULL, NULL);
    RouteAccount *account = making->account;
    const GPtrArray *cautions = making->library->cautions;
    gboolean unpowered = FALSE;

    if (account->steps->len == 0)
        return;
    cautions_choose (cautions, caution_words_of_route (), said, NULL, account->top_cautions);
    for (guint i = 0; i < account->steps->len; i++) {
        StepAccount *step = g_ptr_array_index (account->steps, i);
        CautionMoment moment = {
            .board = making->unit->board,
            .step = step->step,
            .held = ((const State *) g_ptr_array_index (making->states, i))->held,
            .recovery = step->recovery,
        };

        cautions_choose (cautions, words_above (account, i, &unpowered), said, NULL, step->power_cautions);
        cautions_choose (cautions, caution_words_of_moment (&moment), said, step->power_cautions, step->cautions);
    }
    cautions_choose (cautions,
                     (unpowered ? caution_words_of_power_up () : 0) |
                         (account->end_after_parts ? caution_words_of_start () : 0),
                     said, NULL, account->end_cautions);
}

static void
add_reasons (const Making *making, const Want *want)
{
    RouteJob job = { making->library, making->shop, want, making->steps, making->states };

    for (guint i = 0; i < making->account->steps->len; i++) {
        StepAccount *step = g_ptr_array_index (making->account->steps, i);

        step->why = route_reason (&job, i);
    }
}

RouteAccount *
route_account_new (const Library *library, const Shop *shop, const Unit *unit, const Want *want, const GArray *steps)
{
    RouteAccount *account = g_new0 (RouteAccount, 1);
    Making making = { library, shop, unit, steps, NULL, NULL, account };

    account->steps = g_ptr_array_new_with_free_func (step_account_free);
    account->top_cautions = g_array_new (FALSE, FALSE, sizeof (DueCaution));
    account->end_cautions = g_array_new (FALSE, FALSE, sizeof (DueCaution));
    account->dark_after_minutes =
        unit->board->dark_after_minutes > 0 ? unit->board->dark_after_minutes : shop->dark_after_minutes;
    walk_cases (&making);
    collect_states (&making);
    for (guint i = 0; i < steps->len; i++)
        g_ptr_array_add (account->steps, account_step (&making, i));
    serials_follow (unit, account->steps);
    mark_starts (account);
    place_cautions (&making);
    add_reasons (&making, want);
    g_ptr_array_unref (making.walks);
    g_ptr_array_unref (making.states);
    return account;
}
