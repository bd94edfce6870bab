/* SPDX-License-Identifier: MIT */
/* Where each unit stands by its record and the published timetable, and what the shop has lost on the way. */
#include "batch/standing.h"

GArray *
standing_published_steps (const PublishedUnit *published)
{
    GArray *steps = g_array_new (FALSE, TRUE, sizeof (Step));

    for (guint i = 0; published != NULL && i < published->tasks->len; i++)
        g_array_append_val (steps, g_array_index (published->tasks, PublishedTask, i).step);
    return steps;
}

/* ---- Records ---- */

/* What becomes of a unit by so many entries, from `standing->entry` on. NULL: that can't have happened. */
Resumed *
standing_resume_part (Standing *standing, GArray *steps, guint count)
{
    const Unit *unit = standing->planning->plans[standing->unit].unit;
    WrittenRoute route = { .name = "published", .file = standing->record->file, .board = unit->board, .steps = steps };
    Record part = *standing->record;
    Resumed *resumed = NULL;

    part.entries = g_ptr_array_new ();
    for (guint i = 0; i < count && standing->entry < standing->record->entries->len; i++, standing->entry++)
        g_ptr_array_add (part.entries, standing->record->entries->pdata[standing->entry]);
    resumed = resume_from_record (standing->shop, unit, steps->len > 0 ? &route : NULL, &part, standing->complaints);
    g_ptr_array_unref (part.entries);
    return resumed;
}

void
standing_lose_parts (Standing *standing, const Shop *after, const GArray *steps, guint from, gboolean by_last_route)
{
    Planning *planning = standing->planning;
    const Shop *before = standing->shop;

    for (guint i = 0; i < before->lots->len; i++) {
        const Lot *had = &g_array_index (before->lots, Lot, i);
        guint has = 0, gone = 0;

        for (guint k = 0; k < after->lots->len; k++) {
            const Lot *lot = &g_array_index (after->lots, Lot, k);
            if (lot_is_like (lot, had))
                has += lot->count;
        }
        if (has < had->count)
            gone = had->count - has - lost_note (standing, had, had->count - has, steps, from, by_last_route);
        for (guint k = 0; k < planning->shop->lots->len; k++) {
            Lot *left = &g_array_index (planning->shop->lots, Lot, k);
            if (lot_is_like (left, had))
                left->count -= MIN (left->count, gone);
        }
    }
}

/* The unit out of what a record leaves, and the shop too where it is asked for; the rest is freed. Transfer full. */
Unit *
standing_take_unit (Resumed **resumed, Shop **shop)
{
    Resumed *rest = g_steal_pointer (resumed);
    Unit *unit = rest->unit;

    if (shop != NULL) {
        shop_free (*shop);
        *shop = rest->shop;
    } else {
        shop_free (rest->shop);
    }
    state_free (rest->state);
    g_array_unref (rest->left);
    g_free (rest);
    return unit;
}

/* From here on the unit is this one. */
void
standing_stand_as (Planning *planning, guint unit, Unit *stands)
{
    BatchUnit *of = planning_unit (planning, unit);
    Unit *before = of->stands;

    of->stands = stands;
    planning->plans[unit].unit = stands;
    if (before != NULL)
        unit_free (before);
}

/* ---- The last route ---- */

void
standing_leave_route (Planning *planning, guint index, Unit *stands, GArray *steps)
{
    BatchUnit *unit = planning_unit (planning, index);
    UnitPlan *plan = &planning->plans[index];
    BatchEarlier *earlier = g_new0 (BatchEarlier, 1);

    unit->earlier = unit->earlier != NULL ? unit->earlier : g_ptr_array_new_with_free_func (batch_earlier_free);
    earlier->steps = g_array_ref (steps);
    earlier->entries = plan->entries;
    earlier->done = plan->entries == 0 ? plan->done : 0;
    g_ptr_array_add (unit->earlier, earlier);
    standing_stand_as (planning, index, stands);
    plan->done = 0;
    plan->under_way = -1;
    plan->anew = plan->has_record = TRUE;
}

/* What the timetable has done by now is done, what it has under way goes on. */
static void
stand_by_time (Planning *planning, guint unit)
{
    UnitPlan *plan = &planning->plans[unit];
    gint64 now = planning->question->now;

    for (guint i = 0; plan->published != NULL && i < plan->published->tasks->len; i++) {
        const PublishedTask *task = &g_array_index (plan->published->tasks, PublishedTask, i);

        if (task->ends <= now)
            plan->done = i + 1;
        else if (task->begins < now && plan->done == i)
            plan->under_way = task->begins;
    }
}

/* The steps lead from the unit to its want in every case. */
static gboolean
lead_on (const Standing *standing, const Shop *shop, const Unit *unit, const GArray *steps)
{
    g_autoptr (GPtrArray) cases = unit_cases (unit, BATCH_MOST_CASES);
    g_autoptr (Shop) shelf = replan_shelf (shop, standing->lent);
    gboolean sound = cases != NULL;

    for (guint i = 0; sound && i < cases->len; i++) {
        g_autoptr (State) start = state_from_unit (unit, cases->pdata[i]);
        g_autoptr (Walk) walk =
            check_walk (standing->planning->question->library, shelf,
                        planning_unit (standing->planning, standing->unit)->want, start, steps);
        sound = walk->sound;
    }
    return sound;
}

/* Some run of them can be left out. */
static gboolean
are_too_many (const Standing *standing, const Resumed *resumed)
{
    for (guint from = 0; from < resumed->left->len; from++)
        for (guint count = 1; from + count <= resumed->left->len; count++) {
            g_autoptr (GArray) fewer = g_array_copy (resumed->left);

            g_array_remove_range (fewer, from, count);
            if (lead_on (standing, resumed->shop, resumed->unit, fewer))
                return TRUE;
        }
    return FALSE;
}

/* What is left is the end of the route, and leads on from where the unit is. The longest way of a plan with branches may do so too
 * where what was read leads another, shorter way; then it is left. */
static gboolean
goes_on (const Standing *standing, const Resumed *resumed, const GArray *steps)
{
    guint done = steps->len - resumed->left->len;
    const Unit *came = standing->planning->plans[standing->unit].unit;

    if (steps->len == 0)
        return FALSE;
    for (guint i = 0; i < resumed->left->len; i++)
        if (!steps_are_equal (&g_array_index (resumed->left, Step, i), &g_array_index (steps, Step, done + i)))
            return FALSE;
    if (!lead_on (standing, resumed->shop, resumed->unit, resumed->left))
        return FALSE;
    return lead_on (standing, standing->shop, came, steps) || !are_too_many (standing, resumed);
}

/* By the timetable, and no entry says that it came to nothing. */
static gboolean
is_under_way (const Standing *standing, guint step)
{
    const PublishedTask *task = &g_array_index (standing->published->tasks, PublishedTask, step);
    gint64 now = standing->planning->question->now;
    guint entries = standing->record->entries->len;

    for (guint i = entries - standing->planning->plans[standing->unit].entries; i < entries; i++)
        if (((const RecordEntry *) standing->record->entries->pdata[i])->number == step + 1)
            return FALSE;
    return task->begins < now && task->ends > now;
}

/* Transfer full, of both. */
static guint *
held_instead (guint *before, guint *held)
{
    g_free (before);
    return held;
}

static void
stand_by_record (Standing *standing)
{
    Planning *planning = standing->planning;
    UnitPlan *plan = &planning->plans[standing->unit];
    g_autoptr (GArray) steps = standing_published_steps (standing->published);
    guint from = standing->entry;

    plan->has_record = TRUE;
    plan->entries = standing->record->entries->len - from;
    g_autoptr (Resumed) resumed = standing_resume_part (standing, steps, plan->entries);
    if (resumed == NULL)
        return;
    standing_lose_parts (standing, resumed->shop, steps, from, TRUE);
    if (!goes_on (standing, resumed, steps)) {
        plan->held = held_instead (plan->held, standing_held_by_entries (standing, from));
        standing_leave_route (planning, standing->unit, standing_take_unit (&resumed, NULL), steps);
    } else {
        plan->done = steps->len - resumed->left->len;
        plan->settled = TRUE;
        if (plan->done < steps->len && is_under_way (standing, plan->done))
            plan->under_way = g_array_index (standing->published->tasks, PublishedTask, plan->done).begins;
        plan->as_read_held = standing_held_by_entries (standing, from);
        plan->as_read = standing_take_unit (&resumed, NULL);
    }
}

static void
set_aside_by_record (Standing *standing)
{
    const Complaint *first =
        complaints_count (standing->complaints) > 0 ? complaints_get (standing->complaints, 0) : NULL;
    char *why = first != NULL ? g_strdup_printf ("its record can't be gone by: %s:%u:%u: %s", first->at.file,
                                                 first->at.line, first->at.column, first->what)
                              : g_strdup ("the timetable goes by a record that is not given any more");

    planning_set_aside (standing->planning, standing->unit, ASIDE_RECORD, why);
}

static void
stand (Planning *planning, guint unit, const PublishedUnit *published, const GArray *lent)
{
    UnitPlan *plan = &planning->plans[unit];
    Standing standing = { .planning = planning,
                          .unit = unit,
                          .published = published,
                          .lent = lent,
                          .shop = replan_shelf (planning->question->shop, lent), /* what was lent was at hand */
                          .complaints = complaints_new () };

    plan->published = published;
    standing.record = batch_record_of (planning->question->library, plan->unit->id, standing.complaints);
    if (complaints_count (standing.complaints) > 0 || !standing_go_by_earlier (&standing))
        set_aside_by_record (&standing);
    else if (standing.record == NULL || standing.entry == standing.record->entries->len)
        stand_by_time (planning, unit);
    else
        stand_by_record (&standing);
    if (complaints_count (standing.complaints) > 0 && planning_unit (planning, unit)->aside == ASIDE_NOT)
        set_aside_by_record (&standing);
    shop_free (standing.shop);
    complaints_free (standing.complaints);
}

void
standing_leave_at_step (Planning *planning, guint unit)
{
    UnitPlan *plan = &planning->plans[unit];
    g_autoptr (GArray) steps = standing_published_steps (plan->published);
    Unit *stands = g_steal_pointer (&plan->as_read);

    plan->settled = FALSE;
    if (stands != NULL) {
        /* What failed, what was read or found, and which number that tells, the steps alone do not say. */
        plan->held = held_instead (plan->held, g_steal_pointer (&plan->as_read_held));
    } else {
        standing_hold_by_time (planning, unit);
        stands = standing_unit_after (plan->unit, steps, plan->done);
    }
    standing_leave_route (planning, unit, stands, steps);
}

/* ---- All of them ---- */

void
replan_read (Planning *planning)
{
    g_autoptr (GHashTable) by_id = g_hash_table_new (NULL, NULL);
    g_autoptr (GArray) lent = replan_lent (planning);
    const GPtrArray *published = planning->question->published->units;

    replan_take (planning);
    gifts_read (planning);
    for (guint i = 0; i < published->len; i++) {
        PublishedUnit *unit = published->pdata[i];

        /* One that was set aside is planned like any other. */
        if (unit->tasks->len > 0 || unit->earlier != NULL)
            g_hash_table_insert (by_id, (gpointer) unit->unit, unit);
    }
    for (guint i = 0; i < planning_units (planning); i++)
        stand (planning, i, g_hash_table_lookup (by_id, g_intern_string (planning->plans[i].unit->id)), lent);
    g_autoptr (GArray) left = replan_lent_left (planning, lent);
    for (guint i = 0; i < planning_units (planning); i++)
        standing_leave_if_lost (planning, i, left);
    standing_settle_numbers (planning);
    gifts_settle (planning, GIFTS_FIRST);
}
