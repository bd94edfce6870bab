/* SPDX-License-Identifier: MIT */
/* Who keeps a bench place at a replan: docs/batch.md, "When it goes wrong". A write that is under way can't be stopped, so what is under
 * way always goes on; of what waits, a unit that stands open is the last to be moved. */
#include "batch/bench.h"
#include "batch/plan.h"

typedef struct {
    guint unit, number; /* of the place or the technician, as published */
    gint64 from, to;
} UnderWay;

static gboolean
is_on_the_bench (const Planning *planning, guint unit)
{
    const UnitPlan *plan = &planning->plans[unit];

    return planning_unit (planning, unit)->aside == ASIDE_NOT && unit_has_begun (plan) &&
           plan->done < class_mode (planning_class (planning, plan->class), (guint) plan->mode)->steps->len;
}

/* ---- What is under way ---- */

/* By `places` their places, held at least until now, else their technicians, for as long as those are needed. Transfer full. */
static GArray *
under_way (const Planning *planning, gboolean places)
{
    GArray *all = g_array_new (FALSE, FALSE, sizeof (UnderWay));

    for (guint i = 0; i < planning_units (planning); i++) {
        const UnitPlan *plan = &planning->plans[i];

        if (!is_on_the_bench (planning, i) || plan->under_way < 0)
            continue;
        const PublishedTask *was = &g_array_index (plan->published->tasks, PublishedTask, plan->done);
        UnderWay one = { i, places ? was->place : was->technician, was->begins,
                         places ? MAX (planning->question->now, was->begins) + 1 : was->attended_until };

        if (one.to > one.from)
            g_array_append_val (all, one);
    }
    return all;
}

static gboolean
overlap (const UnderWay *one, const UnderWay *other)
{
    return one->from < other->to && other->from < one->to;
}

static gboolean
is_taken (const GArray *counted, const UnderWay *one)
{
    for (guint i = 0; i < counted->len; i++) {
        const UnderWay *other = &g_array_index (counted, UnderWay, i);

        if (other->number == one->number && overlap (one, other))
            return TRUE;
    }
    return FALSE;
}

static guint
overlapping (const GArray *counted, const UnderWay *one)
{
    guint count = 0;

    for (guint i = 0; i < counted->len; i++)
        count += overlap (one, &g_array_index (counted, UnderWay, i)) ? 1 : 0;
    return count;
}

/* Takes those out of `all` that there is a number for: first each with its own, then others while there are any. What stays are more
 * than there are. Transfer full: those that were taken. */
static GArray *
count_in (GArray *all, guint there)
{
    GArray *counted = g_array_new (FALSE, FALSE, sizeof (UnderWay));

    for (int own = 1; own >= 0; own--)
        for (guint i = 0; i < all->len;) {
            UnderWay one = g_array_index (all, UnderWay, i);

            if (own ? one.number < there && !is_taken (counted, &one) : overlapping (counted, &one) < there) {
                g_array_append_val (counted, one);
                g_array_remove_index (all, i);
            } else {
                i++;
            }
        }
    return counted;
}

static void
say_let_be (Planning *planning, const GArray *more, guint there, const char *what)
{
    GString *ids = g_string_new (NULL);

    for (guint i = 0; i < more->len; i++) {
        const UnderWay *one = &g_array_index (more, UnderWay, i);

        g_string_append_printf (ids, "%s%s step %u", i > 0 ? ", " : "", planning_unit (planning, one->unit)->unit->id,
                                planning->plans[one->unit].done + 1);
    }
    if (more->len > 0)
        g_ptr_array_add (
            planning->batch->said,
            g_strdup_printf ("more is under way than the shop has %s for (%u): %s %s let be to the end, and not "
                             "counted; see who is at it, and where",
                             what, there, ids->str, more->len == 1 ? "is" : "are"));
    g_string_free (ids, TRUE);
}

/* How many places are left for those that wait. */
static guint
let_under_way_be (Planning *planning)
{
    guint stations = MAX (planning->shop->stations, 1), technicians = MAX (planning->shop->technicians, 1);
    g_autoptr (GArray) places = under_way (planning, TRUE), hands = under_way (planning, FALSE);
    g_autoptr (GArray) with_place = count_in (places, stations);

    g_array_unref (count_in (hands, technicians)); /* who is left is more than there are */
    for (guint i = 0; i < places->len; i++)
        planning->plans[g_array_index (places, UnderWay, i).unit].no_place = TRUE;
    for (guint i = 0; i < hands->len; i++)
        planning->plans[g_array_index (hands, UnderWay, i).unit].no_hand = TRUE;
    say_let_be (planning, places, stations, "bench places");
    say_let_be (planning, hands, technicians, "technicians");
    return stations - with_place->len;
}

/* ---- What waits ---- */

typedef struct {
    guint unit;
    gboolean open, taken, record;
} Waiting;

static int
compare_waiting (gconstpointer a, gconstpointer b)
{
    const Waiting *left = a, *right = b;
    if (left->open != right->open)
        return left->open ? -1 : 1;
    if (left->taken != right->taken)
        return left->taken ? 1 : -1;
    if (left->record != right->record)
        return left->record ? -1 : 1;
    return (left->unit > right->unit) - (left->unit < right->unit);
}

/* Of what is under way. Transfer full (set of guint). */
static GHashTable *
busy_places (const Planning *planning)
{
    GHashTable *busy = g_hash_table_new (NULL, NULL);

    for (guint i = 0; i < planning_units (planning); i++) {
        const UnitPlan *plan = &planning->plans[i];

        if (is_on_the_bench (planning, i) && plan->under_way >= 0 && !plan->no_place)
            g_hash_table_add (busy, GUINT_TO_POINTER (
                                        g_array_index (plan->published->tasks, PublishedTask, plan->done).place));
    }
    return busy;
}

/* Those that keep a place come first. Transfer full (GArray of Waiting). */
static GArray *
waiting (Planning *planning)
{
    g_autoptr (GHashTable) busy = busy_places (planning);
    GArray *all = g_array_new (FALSE, FALSE, sizeof (Waiting));

    for (guint i = 0; i < planning_units (planning); i++) {
        UnitPlan *plan = &planning->plans[i];

        if (!is_on_the_bench (planning, i) || plan->under_way >= 0)
            continue;
        const GArray *steps = class_mode (planning_class (planning, plan->class), (guint) plan->mode)->steps;
        guint place = bench_last_place (plan->published, plan->done, planning->question->now);

        plan->stands_open = bench_stands_open (planning->question, planning_unit (planning, i), steps, plan->done);
        Waiting one = { i, plan->stands_open, g_hash_table_contains (busy, GUINT_TO_POINTER (place)), plan->has_record };
        g_array_append_val (all, one);
    }
    g_array_sort (all, compare_waiting);
    return all;
}

static void
give_up_place (Planning *planning, guint unit)
{
    UnitPlan *plan = &planning->plans[unit];

    plan->parked = TRUE;
    if (plan->stands_open)
        g_ptr_array_add (
            planning->batch->said,
            g_strdup_printf ("%s: it stands open, and no bench place is left for it beside what is under way "
                             "or stands open too; close or cover it, no power on it, and put it aside until "
                             "it is gone on with",
                             plan->unit->id));
}

void
settle_places (Planning *planning)
{
    guint left = let_under_way_be (planning);
    g_autoptr (GArray) all = waiting (planning);

    for (guint i = left; i < all->len; i++)
        give_up_place (planning, g_array_index (all, Waiting, i).unit);
}
