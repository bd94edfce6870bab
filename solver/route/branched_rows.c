/* SPDX-License-Identifier: MIT */
/* Beliefs as rows: what can be done with all of their cases at once. */
#include "route/branched_parts.h"
#include "route/cost.h"

#include <string.h>

static guint
row_hash (gconstpointer row)
{
    const guint16 *numbers = row;
    guint64 hash = 1469598103934665603u;
    for (guint i = 0; i < numbers[0]; i++)
        hash = (hash ^ numbers[i]) * 1099511628211u;
    return (guint) (hash ^ (hash >> 32));
}

static gboolean
row_equal (gconstpointer left, gconstpointer right)
{
    const guint16 *one = left, *other = right;
    return one[0] == other[0] && memcmp (one, other, one[0] * sizeof (guint16)) == 0;
}

GHashTable *
row_table_new (void)
{
    return g_hash_table_new_full (row_hash, row_equal, g_free, NULL);
}

/* The row that all equal ones are. Consumes `row`. */
static const guint16 *
row_intern (Beliefs *beliefs, guint16 *row)
{
    gpointer there;
    if (g_hash_table_lookup_extended (beliefs->rows, row, &there, NULL)) {
        g_free (row);
        return there;
    }
    g_hash_table_add (beliefs->rows, row);
    return row;
}

/* A row of so many cases, to be filled in. Transfer full. */
static guint16 *
row_new (const Beliefs *beliefs, guint count, Mode mode, guint rank)
{
    guint length = beliefs->head + count * beliefs->stride;
    guint16 *row = g_new0 (guint16, length);
    row[0] = (guint16) length;
    row[1] = (guint16) (rank * MODE_COUNT + mode);
    row[2] = (guint16) count;
    return row;
}

const guint16 *
row_first (Beliefs *beliefs)
{
    const Problem *problem = beliefs->problem;
    guint16 *row = row_new (beliefs, beliefs->classes->len, MODE_FRESH, 0);
    for (guint s = 0; s < problem->n_slots; s++)
        row[3 + s] = (guint16) problem->vars[s].initial;
    for (guint i = 0; i < beliefs->classes->len; i++)
        memcpy (row + beliefs->head + i * beliefs->stride, ((const CaseClass *) beliefs->classes->pdata[i])->first,
                beliefs->stride * sizeof (guint16));
    return row_intern (beliefs, row);
}

const guint16 *
row_part (Beliefs *beliefs, const guint16 *row, const guint8 *marked)
{
    guint count = 0;
    for (guint i = 0; i < row_count (row); i++)
        count += marked[i];
    guint16 *part = row_new (beliefs, count, row_mode (row), 0), *to = part + beliefs->head;
    memcpy (part + 3, row_slots (row), beliefs->problem->n_slots * sizeof (guint16));
    for (guint i = 0; i < row_count (row); i++)
        if (marked[i]) {
            memcpy (to, row_case (beliefs, row, i), beliefs->stride * sizeof (guint16));
            to += beliefs->stride;
        }
    return row_intern (beliefs, part);
}

void
row_values (const Beliefs *beliefs, const guint16 *row, guint at, guint16 *values)
{
    guint n_slots = beliefs->problem->n_slots;
    memcpy (values, row_slots (row), n_slots * sizeof (guint16));
    memcpy (values + n_slots, row_case (beliefs, row, at) + 1, beliefs->n_components * sizeof (guint16));
}

void
row_look (const Beliefs *beliefs, const guint16 *row, guint8 *starts, guint8 *quiet)
{
    g_autofree guint16 *values = g_new (guint16, beliefs->problem->n_vars + 1);
    for (guint i = 0; i < row_count (row); i++) {
        row_values (beliefs, row, i, values);
        starts[i] = (guint8) problem_starts (beliefs->problem, values);
        quiet[i] = (guint8) problem_standby_quiet (beliefs->problem, values);
    }
}

gboolean
row_may_end (const Beliefs *beliefs, const guint16 *row)
{
    g_autofree guint16 *values = g_new (guint16, beliefs->problem->n_vars + 1);
    for (guint i = 0; i < row_count (row); i++) {
        row_values (beliefs, row, i, values);
        if (!problem_goal_met (beliefs->problem, values) || !problem_starts (beliefs->problem, values) ||
            !clauses_hold (row_class (beliefs, row, i)->end, values))
            return FALSE;
    }
    return TRUE;
}

gboolean
row_may_try (const Beliefs *beliefs, const guint16 *row)
{
    g_autofree guint16 *values = g_new (guint16, beliefs->problem->n_vars + 1);
    for (guint i = 0; i < row_count (row); i++) {
        row_values (beliefs, row, i, values);
        if (!problem_start_can_be_tried (beliefs->problem, values))
            return FALSE;
    }
    return TRUE;
}

gboolean
row_may_read (const Beliefs *beliefs, const guint16 *row, guint var)
{
    g_autofree guint16 *values = g_new (guint16, beliefs->problem->n_vars + 1);
    for (guint i = 0; i < row_count (row); i++) {
        row_values (beliefs, row, i, values);
        if (!problem_page_can_be_read (beliefs->problem, var, values))
            return FALSE;
    }
    return TRUE;
}

guint
row_weight (const Beliefs *beliefs, const guint16 *row)
{
    guint weight = 0;
    for (guint i = 0; i < row_count (row); i++)
        if (!row_class (beliefs, row, i)->hopeless)
            weight += row_class (beliefs, row, i)->cases->len;
    return weight;
}

CostSum
sum_of (const Beliefs *beliefs, Cost cost, guint weight)
{
    const Problem *problem = beliefs->problem;
    return (CostSum){ (guint64) weight * cost_lead (problem, cost), weight * (cost & (cost_of_lead (problem, 1) - 1)) };
}

/* ---- Moves ---- */

static guint16 *
row_copy (const Beliefs *beliefs, const guint16 *row, Mode mode, guint rank)
{
    guint16 *copy = row_new (beliefs, row_count (row), mode, rank);
    memcpy (copy + 3, row + 3, (row[0] - 3u) * sizeof (guint16));
    return copy;
}

static const guint16 *
move_slot (Beliefs *beliefs, const guint16 *row, const Move *move, Cost *cost)
{
    const Problem *problem = beliefs->problem;
    const Variable *var = &problem->vars[move->var];
    guint16 held = row_slots (row)[move->var];
    guint rank = 1 + move->var + (held != 0 ? 0 : problem->n_slots), offset = 1 + beliefs->n_components;
    if ((row_mode (row) == MODE_OFF && rank <= row_rank (row)) || (held != 0 && var->stays[held]) ||
        (move->value != 0 && !problem_at_hand (problem, var->triple[move->value], row_slots (row))) ||
        (move->value != 0 && var->wear >= 0 &&
         row_case (beliefs, row, 0)[offset + (guint) var->wear] >= beliefs->left[move->var]))
        return NULL;
    *cost = cost_go_off (problem, row_mode (row)) +
            (move->value == 0 ? cost_remove (problem, move->var, held) : cost_fit (problem, move->var, move->value));
    guint16 *after = row_copy (beliefs, row, MODE_OFF, rank);
    after[3 + move->var] = (guint16) move->value;
    for (guint i = 0; move->value != 0 && var->wear >= 0 && i < row_count (row); i++)
        after[beliefs->head + i * beliefs->stride + offset + (guint) var->wear]++;
    return row_intern (beliefs, after);
}

static gboolean
floors_allow (const Beliefs *beliefs, const guint16 *floors, const Write *write)
{
    for (guint e = 0; e < write->effects->len; e++) {
        const Effect *effect = &g_array_index (write->effects, Effect, e);
        int floor = beliefs->problem->vars[effect->var].floor;
        if (floor >= 0 && floors[floor] > effect->max_level)
            return FALSE;
    }
    return TRUE;
}

/* In every case; `values` is scratch. */
static gboolean
write_may_begin (const Beliefs *beliefs, const guint16 *row, const Write *write, const guint8 *starts,
                 const guint8 *quiet, guint16 *values)
{
    for (guint i = 0; i < row_count (row); i++) {
        if ((write->start_before && !starts[i]) || (write->standby_quiet && !quiet[i]) ||
            !floors_allow (beliefs, row_case (beliefs, row, i) + 1 + beliefs->n_components, write))
            return FALSE;
        row_values (beliefs, row, i, values);
        if (!clauses_hold (write->before, values) || problem_method_barred (beliefs->problem, write->method, values))
            return FALSE;
    }
    return TRUE;
}

static void
carry_out (const Beliefs *beliefs, guint16 *one, const Write *write)
{
    const Problem *problem = beliefs->problem;
    guint16 *floors = one + 1 + beliefs->n_components;
    for (guint e = 0; e < write->effects->len; e++) {
        const Effect *effect = &g_array_index (write->effects, Effect, e);
        int floor = problem->vars[effect->var].floor;
        one[1 + effect->var - problem->n_slots] = (guint16) effect->value;
        if (floor >= 0)
            floors[floor] = (guint16) MAX (floors[floor], effect->raise_to);
    }
}

static gboolean
write_may_stand (const Beliefs *beliefs, const guint16 *after, const Write *write, guint16 *values)
{
    for (guint i = 0; (write->start_after || write->standby_quiet) && i < row_count (after); i++) {
        row_values (beliefs, after, i, values);
        if ((write->start_after && !problem_starts (beliefs->problem, values)) ||
            (write->standby_quiet && !problem_standby_quiet (beliefs->problem, values)))
            return FALSE;
    }
    return TRUE;
}

static const guint16 *
move_write (Beliefs *beliefs, const guint16 *row, const Move *move, const guint8 *starts, const guint8 *quiet,
            Cost *cost)
{
    const Problem *problem = beliefs->problem;
    const Write *write = problem->writes->pdata[move->write];
    g_autofree guint16 *values = g_new (guint16, problem->n_vars + 1);
    if (!write_may_begin (beliefs, row, write, starts, quiet, values))
        return NULL;
    g_autofree guint16 *after = row_copy (beliefs, row, write->mode, 0);
    for (guint i = 0; i < row_count (row); i++)
        carry_out (beliefs, after + beliefs->head + i * beliefs->stride, write);
    if (!write_may_stand (beliefs, after, write, values))
        return NULL;
    *cost = write->cost + cost_power (problem, write, row_mode (row));
    return row_intern (beliefs, g_steal_pointer (&after));
}

const guint16 *
row_move (Beliefs *beliefs, const guint16 *row, const Move *move, const guint8 *starts, const guint8 *quiet, Cost *cost)
{
    return move->is_write ? move_write (beliefs, row, move, starts, quiet, cost) : move_slot (beliefs, row, move, cost);
}
