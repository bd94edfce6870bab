/* SPDX-License-Identifier: MIT */
/* From files to variables: domains of slots and components, floors, what may stand at the end. */
#include "route/ground.h"

#include <string.h>

/* ---- Triples and domains ---- */

static gboolean
is_triple (const Triple *triple, const Fitted *fitted)
{
    return triple->part == fitted->part && triple->stepping == fitted->stepping && triple->owner == fitted->owner &&
           triple->bound == fitted->bound;
}

static void
triple_add (Problem *problem, const Fitted *fitted, guint count)
{
    for (guint i = 0; i < problem->triples->len; i++) {
        Triple *there = &g_array_index (problem->triples, Triple, i);
        if (is_triple (there, fitted)) {
            there->count += count;
            return;
        }
    }
    Triple triple = { fitted->part, fitted->stepping, fitted->owner, fitted->bound, count };
    g_array_append_val (problem->triples, triple);
}

static void
collect_triples (Problem *problem)
{
    const Unit *unit = problem->unit;
    for (guint s = 0; s < problem->n_slots; s++)
        if (unit->fitted[s].part != NULL)
            triple_add (problem, &unit->fitted[s], unit->fitted[s].owner == OWNER_UNIT ? 1 : 0);
    for (guint i = 0; unit->pulled != NULL && i < unit->pulled->len; i++)
        triple_add (problem, &g_array_index (unit->pulled, Fitted, i), 1);
    const GArray *lots = problem->shop->lots;
    for (guint i = 0; i < lots->len; i++) {
        const Lot *lot = &g_array_index (lots, Lot, i);
        const Fitted like = { .part = lot->part, .stepping = lot->stepping, .owner = lot->owner, .bound = lot->bound };
        if (lot->count > 0)
            triple_add (problem, &like, lot->count);
    }
}

/* A stock part that this board would bind: it stays where it was fitted. */
static gboolean
would_be_spoilt (const Board *board, const Triple *triple)
{
    return triple->owner == OWNER_STOCK && triple->part->binds && triple->bound == NULL && board->binds != NULL;
}

static void
slot_variable (Problem *problem, guint slot)
{
    Variable *var = &problem->vars[slot];
    const Slot *there = board_slot (problem->unit->board, slot);
    const Fitted *fitted = &problem->unit->fitted[slot];
    var->is_slot = TRUE;
    var->index = slot;
    var->server = there->served_by;
    var->floor = -1;
    var->wear = -1;
    var->left = unit_insertions_left (problem->unit, slot);
    var->triple = g_new0 (guint, problem->triples->len + 1);
    var->stays = g_new0 (guint8, problem->triples->len + 1);
    var->odd_fit = g_new0 (guint8, problem->triples->len + 1);
    var->odd_take = g_new0 (guint8, problem->triples->len + 1);
    var->size = 1;
    for (guint t = 0; t < problem->triples->len; t++) {
        const Triple *triple = &g_array_index (problem->triples, Triple, t);
        if (triple->part->kind != there->takes)
            continue;
        if (is_triple (triple, fitted))
            var->initial = var->size;
        var->stays[var->size] = would_be_spoilt (problem->unit->board, triple);
        var->triple[var->size++] = t;
    }
}

/* Each case begins with a release of its own, and its floor. */
static void
begin_by_case (Variable *var, const Component *component, const UnitRelease *known)
{
    var->size = var->n_releases;
    var->began = g_new (int, var->n_releases + 1);
    var->began_floor = g_new0 (guint, var->n_releases + 1);
    var->start_floor = G_MAXUINT;
    for (guint r = var->n_releases; r-- > 0;) {
        var->began[r] = known->may_be[r] ? (int) r : -1;
        if (!known->may_be[r])
            continue;
        var->initial = r;
        var->began_floor[r] = (guint) MAX (known->floor + 1, component_release (component, r)->lowest + 1);
        var->start_floor = MIN (var->start_floor, var->began_floor[r]);
    }
}

static void
component_variable (Problem *problem, guint index)
{
    Variable *var = &problem->vars[problem->n_slots + index];
    const Component *component = board_component (problem->unit->board, index);
    const UnitRelease *known = &problem->unit->releases[index];
    var->index = index;
    var->server = -1;
    var->floor = -1;
    gboolean failed = problem->unit->failed != NULL && problem->unit->failed[index];
    var->wear = -1;
    var->size = component->releases->len + (known->count > 1 || failed ? 1 : 0);
    var->initial = component->releases->len; /* "unknown", or failed, unless it is known */
    var->n_releases = component->releases->len;
    var->start_floor = (guint) (known->floor + 1);
    if (problem->by_case && known->count > 1 && !failed) {
        begin_by_case (var, component, known);
        return;
    }
    for (guint r = 0; r < component->releases->len; r++) {
        if (!known->may_be[r])
            continue;
        if (known->count == 1 && !failed)
            var->initial = r;
        var->start_floor = MAX (var->start_floor, (guint) (component_release (component, r)->lowest + 1));
    }
}

static char *
label_of (const Problem *problem, const Variable *var, guint value)
{
    if (!var->is_slot) {
        const Component *component = board_component (problem->unit->board, var->index);
        if (value < component->releases->len)
            return g_strdup (component_release (component, value)->name);
        return g_strdup (problem->unit->failed != NULL && problem->unit->failed[var->index] ? "failed" : "unknown");
    }
    if (value == 0)
        return g_strdup ("empty");
    const Triple *triple = &g_array_index (problem->triples, Triple, var->triple[value]);
    return g_strconcat (owner_name (triple->owner), " ", triple->part->name, triple->stepping ? " " : NULL,
                        triple->stepping, NULL);
}

static void
label_values (Problem *problem)
{
    for (guint v = 0; v < problem->n_vars; v++) {
        Variable *var = &problem->vars[v];
        var->label = g_new0 (char *, var->size + 1);
        for (guint value = 0; value < var->size; value++)
            var->label[value] = label_of (problem, var, value);
    }
}

/* ---- What may stand at the end ---- */

/* Which slots are tied to one that the want mentions, directly or by way of others. Transfer full. */
static gboolean *
tied_slots (const Problem *problem)
{
    g_autoptr (GArray) queue = g_array_new (FALSE, FALSE, sizeof (guint));
    gboolean *tied = g_new0 (gboolean, problem->n_slots + 1);
    for (guint s = 0; s < problem->n_slots; s++)
        if (problem->want->slots[s].kind != WANT_NOTHING) {
            tied[s] = TRUE;
            g_array_append_val (queue, s);
        }
    for (guint i = 0; i < queue->len; i++)
        for (guint s = 0; s < problem->n_slots; s++)
            if (!tied[s] &&
                rules_tie_kinds (problem->library->rules, problem->unit->board, g_array_index (queue, guint, i), s)) {
                tied[s] = TRUE;
                g_array_append_val (queue, s);
            }
    return tied;
}

/* Some `one-of` rule that does not only warn ties the slot to what it is over, or to what is over it. */
static gboolean
one_of_ties (const Problem *problem, guint slot)
{
    const Board *board = problem->unit->board;
    for (guint i = 0; i < problem->library->rules->len; i++) {
        const Rule *rule = problem->library->rules->pdata[i];
        if (rule->form != FORM_ONE_OF || rule->breaking == BREAKING_WARNS)
            continue;
        for (guint s = 0; s < board->slots->len; s++) {
            const Slot *over = board_slot (board, s);
            if (over->takes == rule->kind && over->over >= 0 && (s == slot || (guint) over->over == slot) &&
                board_slot (board, (guint) over->over)->takes == rule->under_kind)
                return TRUE;
        }
    }
    return FALSE;
}

/* Whether the slot may end with this; NULL: empty. */
static gboolean
may_end_with (const Problem *problem, guint slot, gboolean tied, const Triple *triple)
{
    const WantSlot *want = &problem->want->slots[slot];
    const Fitted *began = unit_began (problem->unit, slot);
    gboolean lent = triple != NULL && triple->owner == OWNER_LOAN;
    if (problem->want->just_starts)
        return TRUE;
    if (want->kind == WANT_HELD) {
        const Fitted held = {
            .part = want->part, .stepping = want->stepping, .owner = want->owner, .bound = want->bound
        };
        return triple == NULL || want->part == NULL ? triple == NULL && want->part == NULL : is_triple (triple, &held);
    }
    if (want->kind != WANT_NOTHING)
        return !lent && want_slot_is_met (want, triple ? triple->part : NULL, triple ? triple->stepping : NULL);
    if (triple == NULL)
        return began->part == NULL || (tied && one_of_ties (problem, slot));
    return !lent && (tied || (began->part != NULL && is_triple (triple, began)));
}

static void
slot_goal (Problem *problem, guint slot, gboolean tied)
{
    Variable *var = &problem->vars[slot];
    var->goal = g_new0 (guint8, var->size);
    for (guint value = 0; value < var->size; value++)
        var->goal[value] = may_end_with (
            problem, slot, tied, value == 0 ? NULL : &g_array_index (problem->triples, Triple, var->triple[value]));
}

typedef struct {
    const Board *board;
    const Component *component;
    guint release;
} ReleaseAtom;

static gboolean
release_answers (const Expr *atom, gpointer data)
{
    const ReleaseAtom *about = data;
    return atom->name == about->component->name &&
           board_version_answers (about->board, atom, component_release (about->component, about->release)->name);
}

gboolean
release_meets (const Board *board, const Component *component, guint release, const Expr *expr)
{
    ReleaseAtom about = { board, component, release };
    return expression_holds (expr, release_answers, &about);
}

static void
component_goal (Problem *problem, guint index)
{
    Variable *var = &problem->vars[problem->n_slots + index];
    const Board *board = problem->unit->board;
    const Component *component = board_component (board, index);
    const Expr *want = problem->want->firmware[index];
    guint releases = component->releases->len;
    var->goal = g_new0 (guint8, var->size);
    const int *exact = problem->want->exact_release;
    gboolean failed = problem->unit->failed != NULL && problem->unit->failed[index];
    /* Nothing starts on a failed component; a failed spare may stay so where nothing is asked of it. */
    gboolean all = !failed || (want == NULL && (exact == NULL || exact[index] < 0));
    for (guint r = 0; r < releases; r++) {
        var->goal[r] = (want == NULL || release_meets (board, component, r, want)) &&
                       (exact == NULL || exact[index] < 0 || (guint) exact[index] == r);
        if (problem->unit->releases[index].may_be[r])
            all = all && var->goal[r];
    }
    if (var->size > releases)
        var->goal[releases] = all;
}

/* ---- All of it ---- */

/* Steps that are not among the familiar ones cost the least there is. */
static void
mark_odd (Problem *problem, const GArray *familiar)
{
    for (guint s = 0; familiar != NULL && s < problem->n_slots; s++) {
        memset (problem->vars[s].odd_fit, 1, problem->vars[s].size);
        memset (problem->vars[s].odd_take, 1, problem->vars[s].size);
    }
    for (guint i = 0; familiar != NULL && i < familiar->len; i++) {
        const Step *step = &g_array_index (familiar, Step, i);
        if (step->kind == STEP_WRITE)
            continue;
        Variable *var = &problem->vars[step->slot];
        for (guint value = 1; value < var->size; value++) {
            const Triple *triple = &g_array_index (problem->triples, Triple, var->triple[value]);
            gboolean same = triple->part == step->part && triple->stepping == step->stepping;
            if (step->kind == STEP_FIT && same && triple->owner == step->owner)
                var->odd_fit[value] = 0;
            /* A written removal need not name what comes out. */
            if (step->kind == STEP_REMOVE && (same || step->part == NULL))
                var->odd_take[value] = 0;
        }
    }
}

/* By case: of what costs the same nothing comes from stock that could be lent. */
static void
prefer_loaners (Problem *problem)
{
    for (guint s = 0; problem->by_case && s < problem->n_slots; s++)
        for (guint value = 1; value < problem->vars[s].size; value++)
            problem->vars[s].odd_fit[value] =
                g_array_index (problem->triples, Triple, problem->vars[s].triple[value]).owner == OWNER_STOCK;
}

void
ground_variables (Problem *problem, const GArray *familiar)
{
    collect_triples (problem);
    g_autofree gboolean *tied = tied_slots (problem);
    for (guint s = 0; s < problem->n_slots; s++) {
        slot_variable (problem, s);
        slot_goal (problem, s, tied[s]);
        problem->vars[s].fixed = problem->want->keep_slot[s];
    }
    for (guint c = 0; c + problem->n_slots < problem->n_vars; c++) {
        component_variable (problem, c);
        component_goal (problem, c);
        /* What is kept and not known differs from case to case, so clauses go on asking for it. */
        problem->vars[problem->n_slots + c].fixed =
            problem->want->keep_component[c] && problem->vars[problem->n_slots + c].began == NULL;
    }
    prefer_loaners (problem);
    label_values (problem);
    mark_odd (problem, familiar);
}
