/* SPDX-License-Identifier: MIT */
/* Modes: the routes that each class may go by. */
#include "batch/plan.h"

#include "batch/ways.h"

enum {
    MODES = 3,
    /* Of one planning run for a mode, where the question says nothing. There are dozens for one class, and what they do not
     * settle is a mode less; the demo's 40 stories take half as long without libsolv (1.6 s for 3.2 s), and lose no mode. */
    MOST_STATES = 20000,
};

/* The route that a unit of the class has just left: of new ones that cost the same, it goes by one that is like it, as `plan` does,
 * with the files that are at hand. NULL: none has left one. */
static const GArray *
familiar_steps (const Planning *planning, const BatchClass *class)
{
    for (guint i = 0; planning->question->published != NULL && i < planning_units (planning); i++) {
        const UnitPlan *plan = &planning->plans[i];
        const GPtrArray *earlier = planning_unit (planning, i)->earlier;

        if (plan->anew && planning_class (planning, plan->class) == class && earlier != NULL && earlier->len > 0)
            return ((const BatchEarlier *) earlier->pdata[earlier->len - 1])->steps;
    }
    return NULL;
}

static RouteOptions
options_of (const Planning *planning, const BatchClass *class)
{
    RouteOptions options = { 0 };

    if (planning->question->route != NULL)
        options = *planning->question->route;
    options.no_ways_back = TRUE;
    options.familiar = familiar_steps (planning, class);
    return options;
}

/* A stock part beside another stepping of itself: the sockets of a unit get parts that match (docs/batch.md, "Assignment"). */
static gboolean
mixes_steppings (const BatchMode *mode)
{
    const State *last = mode->walk->last;

    for (guint i = 0; i < last->board->slots->len; i++)
        for (guint k = 0; k < last->board->slots->len; k++) {
            const Held *stock = &last->held[i], *other = &last->held[k];

            if (stock->part != NULL && stock->part->kind == KIND_PROCESSOR && stock->owner == OWNER_STOCK &&
                other->part == stock->part && other->stepping != stock->stepping)
                return TRUE;
        }
    return FALSE;
}

/* Takes over the answer; FALSE: the checker refuses it, or its parts do not match. */
static gboolean
add_mode (const Planning *planning, BatchClass *class, const Shop *shelf, RouteAnswer *answer)
{
    BatchMode *mode = NULL;

    if (answer->claim == CLAIM_BRANCHES)
        mode = mode_of_branches (planning->question, shelf, class->unit, class->want, answer);
    else if (answer->steps != NULL)
        mode = batch_mode_new (planning->question, shelf, class->unit, class->want, answer->steps, NULL);
    if (mode != NULL && mixes_steppings (mode)) {
        g_hash_table_add (planning->unmatched, class);
        g_clear_pointer (&mode, batch_mode_free);
    }
    if (mode == NULL) {
        route_answer_free (answer);
        return FALSE;
    }
    mode->answer = answer;
    mode->claim = answer->claim;
    g_ptr_array_add (class->answers, answer);
    g_ptr_array_add (class->modes, mode);
    return TRUE;
}

static void
add_alternatives (Planning *planning, BatchClass *class, const Shop *shelf, guint most)
{
    RouteOptions options = options_of (planning, class);
    Question question = { planning->question->library, shelf, class->unit, class->want, &options };
    gboolean complete = FALSE;

    options.search_only = TRUE;
    options.search_states = options.search_states != 0 ? options.search_states : MOST_STATES;
    g_autoptr (GPtrArray) found = alternatives_find (&question, most, &complete);

    for (guint i = 0; i < found->len; i++)
        add_mode (planning, class, shelf, g_steal_pointer (&((Alternative *) found->pdata[i])->answer));
}

/* The question as it is: with branches, or the news that there is no way. FALSE: neither. */
static gboolean
add_answer (Planning *planning, BatchClass *class, const Shop *shelf, gboolean search_only)
{
    RouteOptions options = options_of (planning, class);
    RouteAnswer *answer = NULL;

    options.no_ways_back = planning->question->route != NULL && planning->question->route->no_ways_back;
    options.search_only |= search_only;
    if (search_only && options.search_states == 0)
        options.search_states = MOST_STATES;
    answer = route_find (planning->question->library, shelf, class->unit, class->want, &options);
    if (answer->claim != CLAIM_BRANCHES && answer->steps != NULL)
        return add_mode (planning, class, shelf, answer);
    if (answer->claim == CLAIM_BRANCHES) {
        if (add_mode (planning, class, shelf, answer))
            return TRUE;
        /* Some way of it may count on what other units give: once more with what the shop has of its own. */
        answer = route_find (planning->question->library, planning->shop, class->unit, class->want, &options);
        if (answer->claim == CLAIM_BRANCHES || answer->steps != NULL)
            return add_mode (planning, class, planning->shop, answer);
    }
    g_clear_pointer (&class->failed, route_answer_free);
    class->failed = answer;
    return answer->claim == CLAIM_NO_ROUTE;
}

static gboolean
is_known (const Unit *unit)
{
    for (guint i = 0; i < unit->board->components->len; i++)
        if (unit->releases[i].count > 1)
            return FALSE;
    return TRUE;
}

static guint
most_modes (const Planning *planning)
{
    return planning->question->most_modes != 0 ? planning->question->most_modes : MODES;
}

/* The best way alone; others only where its parts do not match. */
static void
plan_class (Planning *planning, guint index, const Shop *shelf)
{
    BatchClass *class = planning_class (planning, index);

    g_clear_pointer (&class->failed, route_answer_free);
    planning->batch->plans++;
    add_alternatives (planning, class, shelf, 1);
    if (class->modes->len == 0 && g_hash_table_contains (planning->unmatched, class))
        add_alternatives (planning, class, shelf, most_modes (planning));
    else if (class->modes->len == 0 && (is_known (class->unit) || !add_answer (planning, class, shelf, TRUE)))
        add_answer (planning, class, shelf, FALSE);
}

void
modes_find_for (Planning *planning, guint class)
{
    g_autoptr (Shop) shelf = shelf_for_class (planning, class);

    plan_class (planning, class, shelf);
}

void
class_find_alternatives (Planning *planning, guint index)
{
    BatchClass *class = planning_class (planning, index);
    g_autoptr (Shop) shelf = shelf_for_class (planning, index);
    guint most = most_modes (planning);

    if (most == 1 || class->modes->len > 1)
        return;
    /* With branches for what is not known there is no single route, or a longer one that spares something. */
    if (class_mode (class, 0)->claim == CLAIM_BRANCHES) {
        add_alternatives (planning, class, shelf, most - class->modes->len);
        return;
    }
    g_autoptr (GPtrArray) modes = class->modes, answers = class->answers;
    class->modes = g_ptr_array_new_with_free_func (batch_mode_free);
    class->answers = g_ptr_array_new_with_free_func ((GDestroyNotify) route_answer_free);
    add_alternatives (planning, class, shelf, most); /* the best is among them */
    if (class->modes->len == 0) {                    /* it took more than the search alone */
        g_ptr_array_unref (class->modes);
        g_ptr_array_unref (class->answers);
        class->modes = g_steal_pointer (&modes);
        class->answers = g_steal_pointer (&answers);
    }
}

/* Every mode borrows more of something than the shop has and the other units turn out to give: what a unit gives only as it is
 * read was expected of it too. */
static gboolean
counts_on_what_nobody_gives (const Planning *planning, guint class, const Shop *shelf)
{
    const BatchClass *of = planning_class (planning, class);

    for (guint m = 0; m < of->modes->len; m++) {
        g_autoptr (GArray) lent = mode_most (class_mode (of, m), OWNER_LOAN);
        gboolean there = TRUE;

        for (guint i = 0; i < lent->len && there; i++) {
            const Lot *lot = &g_array_index (lent, Lot, i);
            guint count = 0;

            for (guint k = 0; k < shelf->lots->len; k++)
                if (lot_is_like (&g_array_index (shelf->lots, Lot, k), lot))
                    count += g_array_index (shelf->lots, Lot, k).count;
            there = count >= lot->count;
        }
        if (there)
            return FALSE;
    }
    return of->modes->len > 0;
}

/* What the routes give may be more than the wants let expect: a heat sink that follows its processor. It may be less, too. */
static void
plan_again_with_more (Planning *planning)
{
    g_autofree guint *before = g_new (guint, planning->batch->classes->len + 1);

    for (guint i = 0; i < planning->batch->classes->len; i++) {
        g_autoptr (Shop) shelf = shelf_for_class (planning, i);
        before[i] = shelf->lots->len;
    }
    shelf_count (planning);
    for (guint i = 0; i < planning->batch->classes->len; i++) {
        g_autoptr (Shop) shelf = shelf_for_class (planning, i);

        if (counts_on_what_nobody_gives (planning, i, shelf)) {
            g_ptr_array_set_size (planning_class (planning, i)->modes, 0);
            g_ptr_array_set_size (planning_class (planning, i)->answers, 0);
            plan_class (planning, i, shelf);
        } else if (planning_class (planning, i)->modes->len == 0 && shelf->lots->len > before[i]) {
            plan_class (planning, i, shelf);
        }
    }
}

void
modes_find (Planning *planning)
{
    shelf_expect (planning);
    for (guint i = 0; i < planning->batch->classes->len; i++) {
        g_autoptr (Shop) shelf = shelf_for_class (planning, i);
        plan_class (planning, i, shelf);
    }
    if (planning->shop->lend_pulled_parts)
        plan_again_with_more (planning);
    classes_spare (planning);
    classes_explain_none (planning);
    shelf_count (planning);
}

void
modes_find_ways_back (Planning *planning)
{
    if (planning->question->route != NULL && planning->question->route->no_ways_back)
        return;
    for (guint i = 0; i < planning_units (planning); i++) {
        const BatchUnit *unit = planning_unit (planning, i);
        BatchClass *class = planning_class (planning, unit->class);
        BatchMode *mode = unit->aside == ASIDE_NOT ? class_mode (class, unit->mode) : NULL;

        if (mode == NULL || mode->ways_back != NULL || mode->claim == CLAIM_BRANCHES)
            continue;
        g_autoptr (Shop) shelf = shelf_for_class (planning, unit->class);
        mode->ways_back =
            ways_back_of_steps (planning->question->library, shelf, class->unit, class->want, mode->steps);
    }
}
