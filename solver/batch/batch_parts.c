/* SPDX-License-Identifier: MIT */
/* The parts that move, numbered, each in its places in order of time. */
#include "batch/plan.h"

enum { NO_NUMBER = 0 };

/* One part in one slot. */
typedef struct {
    guint pool, number; /* from 1 */
    guint group;        /* stock: holdings of one unit that are the same part */
    BatchStay stay;
} Placed;

typedef struct {
    Planning *planning;
    GArray *placed; /* Placed; owned */
} Placing;

static const BatchTask *
task_at (const Planning *planning, guint unit, guint step)
{
    return &g_array_index (planning_unit (planning, unit)->tasks, BatchTask, step);
}

/* What was in the unit as it was planned was there when the timetable began, or when it came out, where that was before. */
static BatchStay
stay_of (const Planning *planning, guint unit, const Holding *holding)
{
    gint64 begin = planning_begin (planning);

    if (holding->fit != G_MAXUINT)
        begin = task_at (planning, unit, holding->fit)->begins;
    else if (holding->remove != G_MAXUINT)
        begin = MIN (begin, task_at (planning, unit, holding->remove)->begins);
    return (BatchStay){ unit,
                        holding->slot,
                        holding->fit,
                        holding->remove,
                        begin,
                        holding->remove == G_MAXUINT ? G_MAXINT64 : task_at (planning, unit, holding->remove)->ends };
}

/* What the published timetable calls the part: where it came in the unit, by its removal. */
static guint
published_number (const UnitPlan *plan, const Holding *holding)
{
    guint step = holding->fit != G_MAXUINT ? holding->fit : holding->remove;

    if (plan->published == NULL || plan->keeps < 0 || step >= plan->published->tasks->len)
        return NO_NUMBER;
    return g_array_index (plan->published->tasks, PublishedTask, step).part_number;
}

/* ---- Loaners ---- */

/* The spans of a job's loaners stand behind that of its place, in the order of the holdings that are not over. */
static void
place_loaners (Placing *placing, guint unit, const GArray *holdings, const Assignment *assignment)
{
    const UnitPlan *plan = &placing->planning->plans[unit];
    guint job = g_array_index (placing->planning->batch->job_of_unit, guint, unit), span = 1;

    for (guint i = 0; i < holdings->len; i++) {
        const Holding *holding = &g_array_index (holdings, Holding, i);
        Placed placed = { holding->pool, NO_NUMBER, 0, stay_of (placing->planning, unit, holding) };

        if (holding->owner != OWNER_LOAN || holding->remove == G_MAXUINT)
            continue;
        if (holding->remove >= plan->done)
            placed.number = number_of_lane (placing->planning, holding->pool, assignment->span_units[job][span++][0]);
        else
            placed.number = published_number (plan, holding);
        g_array_append_val (placing->placed, placed);
    }
}

/* ---- Stock ---- */

/* What is taken out and fitted again is the same part. */
static guint
group_of (const GArray *placed, guint from, const Placed *next)
{
    for (guint i = from; i < placed->len; i++) {
        const Placed *earlier = &g_array_index (placed, Placed, i);
        gboolean taken = FALSE;

        for (guint k = i + 1; k < placed->len; k++)
            taken |= g_array_index (placed, Placed, k).group == earlier->group;
        if (!taken && earlier->pool == next->pool && earlier->stay.to <= next->stay.from)
            return earlier->group;
    }
    return placed->len + 1;
}

static void
place_stock (Placing *placing, guint unit, const GArray *holdings)
{
    const UnitPlan *plan = &placing->planning->plans[unit];
    guint from = placing->placed->len;

    for (guint i = 0; i < holdings->len; i++) {
        const Holding *holding = &g_array_index (holdings, Holding, i);
        Placed placed = { holding->pool, published_number (plan, holding), 0,
                          stay_of (placing->planning, unit, holding) };

        if (holding->owner != OWNER_STOCK)
            continue;
        placed.group = group_of (placing->placed, from, &placed);
        g_array_append_val (placing->placed, placed);
    }
}

static int
compare_begins (gconstpointer a, gconstpointer b)
{
    const Placed *left = a, *right = b;
    if (left->stay.from != right->stay.from)
        return left->stay.from < right->stay.from ? -1 : 1;
    if (left->stay.unit != right->stay.unit)
        return left->stay.unit < right->stay.unit ? -1 : 1;
    return (left->stay.slot > right->stay.slot) - (left->stay.slot < right->stay.slot);
}

static gpointer
number_key (guint pool, guint number)
{
    return GSIZE_TO_POINTER ((gsize) pool << 32 | number);
}

/* What broke keeps its number. */
static void
note_lost (const Placing *placing, GHashTable *used)
{
    for (guint p = 0; p < placing->planning->pools->len; p++) {
        guint had = pool_had (placing->planning, p), left = g_array_index (placing->planning->pools, Pool, p).lot.count;

        for (guint number = 1; left < had && number <= had; number++)
            if (pool_number_is_lost (placing->planning, p, number))
                g_hash_table_add (used, number_key (p, number));
    }
}

/* What may be in a unit that was set aside for its record keeps its number too. */
static void
note_withheld (const Placing *placing, GHashTable *used)
{
    const Planning *planning = placing->planning;

    for (guint i = 0; i < planning_units (planning); i++) {
        const GArray *tasks = unit_withholds (planning, i) ? planning->plans[i].published->tasks : NULL;

        for (guint k = 0; tasks != NULL && k < tasks->len; k++) {
            const PublishedTask *task = &g_array_index (tasks, PublishedTask, k);
            int pool = task->step.kind != STEP_FIT || task->step.owner != OWNER_STOCK
                           ? -1
                           : planning_pool (planning, OWNER_STOCK, task->step.part, task->step.stepping, task->step.bound);

            if (pool >= 0 && task->part_number != NO_NUMBER)
                g_hash_table_add (used, number_key ((guint) pool, task->part_number));
        }
    }
}

/* Published numbers first, where they are free; the others the lowest that is, in order of time. */
static void
number_stock (Placing *placing)
{
    g_autoptr (GHashTable) used = g_hash_table_new (NULL, NULL);
    g_autoptr (GHashTable) of_group = g_hash_table_new (NULL, NULL);
    g_autofree guint *next = g_new0 (guint, placing->planning->pools->len + 1);

    note_lost (placing, used);
    note_withheld (placing, used);
    g_array_sort (placing->placed, compare_begins);
    for (int published = 1; published >= 0; published--)
        for (guint i = 0; i < placing->placed->len; i++) {
            Placed *placed = &g_array_index (placing->placed, Placed, i);
            gpointer known =
                placed->group > 0 ? g_hash_table_lookup (of_group, GUINT_TO_POINTER (placed->group)) : NULL;

            if (placed->group == 0 || (published && placed->number == NO_NUMBER))
                continue;
            if (known == NULL &&
                (!published || g_hash_table_contains (used, number_key (placed->pool, placed->number)))) {
                if (published)
                    continue;
                do
                    placed->number = ++next[placed->pool];
                while (g_hash_table_contains (used, number_key (placed->pool, placed->number)));
            }
            placed->number = known != NULL ? GPOINTER_TO_UINT (known) : placed->number;
            g_hash_table_add (used, number_key (placed->pool, placed->number));
            g_hash_table_insert (of_group, GUINT_TO_POINTER (placed->group), GUINT_TO_POINTER (placed->number));
        }
}

/* ---- Parts ---- */

/* What it was called when it was lent, where it is not lent on any more. */
static Gift
gift_of_number (const Planning *planning, const Placed *placed)
{
    const GArray *gifts = planning_lane_gifts (planning, placed->pool);
    const KnownGift *known = NULL;

    for (guint i = 0; i < gifts->len; i++)
        if (g_array_index (gifts, Gift, i).number == placed->number)
            return g_array_index (gifts, Gift, i);
    known = gift_find (planning, &g_array_index (planning->pools, Pool, placed->pool).lot, placed->number);
    g_assert (known != NULL); /* what nobody has given nobody has */
    return (Gift){ 0, known->unit, known->gone ? G_MAXUINT : known->step, known->number, known->serial };
}

static BatchPart *
part_new (const Planning *planning, const Placed *placed)
{
    const Pool *pool = &g_array_index (planning->pools, Pool, placed->pool);
    guint had = pool_had (planning, placed->pool);
    BatchPart *part = g_new0 (BatchPart, 1);

    *part = (BatchPart){ .part = pool->lot.part,
                         .stepping = pool->lot.stepping,
                         .bound = pool->lot.bound,
                         .owner = pool->lot.owner,
                         .number = placed->number,
                         .from_unit = -1,
                         .stays = g_array_new (FALSE, FALSE, sizeof (BatchStay)) };
    if (pool->lot.owner != OWNER_LOAN || placed->number <= had)
        return part;
    Gift gift = gift_of_number (planning, placed);
    part->owner = OWNER_UNIT;
    part->from_unit = (int) gift.unit;
    part->from_step = gift.step;
    part->serial = gift.serial;
    return part;
}

static int
compare_placed (gconstpointer a, gconstpointer b)
{
    const Placed *left = a, *right = b;
    if (left->pool != right->pool)
        return left->pool < right->pool ? -1 : 1;
    if (left->number != right->number)
        return left->number < right->number ? -1 : 1;
    /* What is over by its record before it was to begin has been there and gone by now, before whoever has it from now on. */
    if (left->stay.from == right->stay.from && left->stay.to != right->stay.to)
        return left->stay.to < right->stay.to ? -1 : 1;
    return compare_begins (a, b);
}

static void
note_in_tasks (const Planning *planning, const BatchStay *stay, guint part)
{
    GArray *tasks = planning_unit (planning, stay->unit)->tasks;

    if (stay->fit_step != G_MAXUINT)
        g_array_index (tasks, BatchTask, stay->fit_step).part = (int) part;
    if (stay->remove_step != G_MAXUINT)
        g_array_index (tasks, BatchTask, stay->remove_step).part = (int) part;
}

static void
make_parts (Placing *placing)
{
    const Planning *planning = placing->planning;
    GPtrArray *parts = planning->batch->parts;

    g_array_sort (placing->placed, compare_placed);
    for (guint i = 0; i < placing->placed->len; i++) {
        const Placed *placed = &g_array_index (placing->placed, Placed, i);
        const Placed *before = i > 0 ? &g_array_index (placing->placed, Placed, i - 1) : NULL;

        if (before == NULL || before->pool != placed->pool || before->number != placed->number)
            g_ptr_array_add (parts, part_new (planning, placed));
        g_array_append_val (((BatchPart *) parts->pdata[parts->len - 1])->stays, placed->stay);
        note_in_tasks (planning, &placed->stay, parts->len - 1);
    }
}

void
batch_number_parts (Planning *planning, const Assignment *assignment)
{
    Placing placing = { planning, g_array_new (FALSE, FALSE, sizeof (Placed)) };

    for (guint i = 0; i < planning_units (planning); i++) {
        const BatchUnit *unit = planning_unit (planning, i);

        if (unit->aside != ASIDE_NOT)
            continue;
        const BatchMode *mode = class_mode (planning_class (planning, unit->class), unit->mode);
        g_autoptr (GArray) holdings = mode_holdings (planning, planning->plans[i].unit, mode->steps);
        place_loaners (&placing, i, holdings, assignment);
        place_stock (&placing, i, holdings);
    }
    number_stock (&placing);
    make_parts (&placing);
    g_array_unref (placing.placed);
}
