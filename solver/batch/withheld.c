/* SPDX-License-Identifier: MIT */
/* Stock of units whose records can't be gone by: nobody knows what is in them by now, so what was kept for them is given to nobody.
 * docs/batch.md, "When it goes wrong". */
#include "batch/plan.h"

gboolean
unit_withholds (const Planning *planning, guint unit)
{
    const UnitPlan *plan = &planning->plans[unit];

    return planning_unit (planning, unit)->aside == ASIDE_RECORD && plan->published != NULL;
}

static void
add_most (GArray *most, const GArray *more)
{
    for (guint i = 0; i < more->len; i++) {
        const Lot *lot = &g_array_index (more, Lot, i);
        guint at = 0;

        while (at < most->len && !lot_is_like (&g_array_index (most, Lot, at), lot))
            at++;
        if (at == most->len)
            g_array_append_val (most, *lot);
        else
            g_array_index (most, Lot, at).count = MAX (g_array_index (most, Lot, at).count, lot->count);
    }
}

static void
add_route (const Unit *unit, const GArray *steps, GArray *most)
{
    g_autoptr (GArray) stock = g_array_new (FALSE, TRUE, sizeof (Lot));
    g_autoptr (GArray) lent = g_array_new (FALSE, TRUE, sizeof (Lot));

    steps_lots (unit, steps, stock, lent);
    add_most (most, stock);
}

GArray *
unit_withheld (const Planning *planning, guint unit)
{
    const UnitPlan *plan = &planning->plans[unit];
    g_autoptr (GArray) steps = standing_published_steps (plan->published);
    GArray *most = g_array_new (FALSE, TRUE, sizeof (Lot));

    if (!unit_withholds (planning, unit))
        return most;
    add_route (plan->unit, steps, most);
    /* Where its record did not even get through the routes that it has left, any of them may be as far as it is. */
    for (guint i = 0; plan->published->earlier != NULL && i < plan->published->earlier->len; i++)
        add_route (planning_unit (planning, unit)->unit,
                   ((const BatchEarlier *) plan->published->earlier->pdata[i])->steps, most);
    return most;
}

void
sharing_take_withheld (Sharing *sharing, guint unit)
{
    g_autoptr (GArray) lots = unit_withheld (sharing->planning, unit);

    for (guint i = 0; i < lots->len; i++) {
        const Lot *lot = &g_array_index (lots, Lot, i);
        int pool = planning_pool (sharing->planning, OWNER_STOCK, lot->part, lot->stepping, lot->bound);

        if (pool >= 0)
            sharing->left[pool] -= MIN (sharing->left[pool], lot->count);
    }
}

static void
say_lot (const Lot *lot, GString *words)
{
    g_string_append_printf (words, "%s%u %s%s%s", words->len > 0 ? ", " : "", lot->count, lot->part->name,
                            lot->stepping != NULL ? " " : "", lot->stepping != NULL ? lot->stepping : "");
}

/* ---- Loaners ---- */

static gboolean
is_out_again (const GArray *tasks, guint fit, gint64 now)
{
    gboolean out = FALSE;

    for (guint i = fit + 1; i < tasks->len; i++) {
        const PublishedTask *task = &g_array_index (tasks, PublishedTask, i);

        out |= task->step.kind == STEP_REMOVE && task->ends <= now &&
               task->step.slot == g_array_index (tasks, PublishedTask, fit).step.slot;
    }
    return out;
}

/* The timetable can lend them, as by its record nothing is known of the unit; somebody has to look. */
static void
say_loaners (Planning *planning, guint unit)
{
    const GArray *tasks = unit_withholds (planning, unit) ? planning->plans[unit].published->tasks : NULL;
    gint64 now = planning->question->now;

    for (guint i = 0; tasks != NULL && i < tasks->len; i++) {
        const PublishedTask *task = &g_array_index (tasks, PublishedTask, i);

        if (task->step.kind == STEP_FIT && task->step.owner == OWNER_LOAN && task->begins < now &&
            !is_out_again (tasks, i, now))
            g_ptr_array_add (planning->batch->said,
                             g_strdup_printf ("%s: by the published timetable the lent %s #%u is in it by now; the "
                                              "timetable may lend it on: look where it is before others count on it",
                                              planning_unit (planning, unit)->unit->id, task->step.part->name,
                                              task->part_number));
    }
}

/* "dorvan-4c #2 from the loan shelf"; of a pulled one whose it is. Transfer full. */
static char *
borrowed_words (const Planning *planning, const Fitted *fitted, guint number, const char **lender)
{
    const Lot lot = { OWNER_LOAN, fitted->part, fitted->stepping, 1, fitted->bound, MARK_NONE };
    const KnownGift *gift = number > 0 ? gift_find (planning, &lot, number) : NULL;

    *lender = gift != NULL ? planning_unit (planning, gift->unit)->unit->id : NULL;
    if (gift != NULL)
        return g_strdup_printf ("%s of %s%s%s", fitted->part->name, *lender, gift->serial != NULL ? ", serial " : "",
                                gift->serial != NULL ? gift->serial : "");
    return number > 0 ? g_strdup_printf ("%s #%u from the loan shelf", fitted->part->name, number)
                      : g_strdup_printf ("borrowed %s", fitted->part->name);
}

static void
say_borrowed (Planning *planning, guint unit, guint slot)
{
    const UnitPlan *plan = &planning->plans[unit];
    const char *lender = NULL;
    g_autofree char *part = borrowed_words (planning, &plan->unit->fitted[slot], plan->held != NULL ? plan->held[slot] : 0, &lender);
    g_autofree char *stays = lender != NULL ? g_strdup_printf ("; %s can't leave without it", lender) : g_strdup ("");

    g_ptr_array_add (planning->batch->said,
                     g_strdup_printf ("%s is set aside with a %s in its %s, and others count on that part from now on%s. Take it "
                                      "out first: power off, isolate the unit as for an opening, put the part back where it "
                                      "belongs, cover the socket",
                                      planning_unit (planning, unit)->unit->id, part,
                                      board_slot (plan->unit->board, slot)->name, stays));
}

/* The unit is planned no further, and the timetable counts on what it has: nobody else says that it has to come out. */
static void
say_still_in (Planning *planning, guint unit)
{
    const UnitPlan *plan = &planning->plans[unit];

    if (planning_unit (planning, unit)->aside == ASIDE_NOT || !plan->anew || unit_withholds (planning, unit))
        return;
    for (guint s = 0; s < plan->unit->board->slots->len; s++)
        if (plan->unit->fitted[s].part != NULL && plan->unit->fitted[s].owner == OWNER_LOAN)
            say_borrowed (planning, unit, s);
}

void
withheld_say (Planning *planning)
{
    for (guint i = 0; i < planning_units (planning); i++) {
        say_loaners (planning, i);
        say_still_in (planning, i);
        g_autoptr (GArray) lots = unit_withheld (planning, i);
        GString *words = g_string_new (NULL);

        for (guint k = 0; k < lots->len; k++)
            say_lot (&g_array_index (lots, Lot, k), words);
        if (words->len > 0)
            g_ptr_array_add (
                planning->batch->said,
                g_strdup_printf ("%s: what the published timetable keeps for it from stock (%s) is given to "
                                 "nobody else, as it may be in it already",
                                 planning_unit (planning, i)->unit->id, words->str));
        g_string_free (words, TRUE);
    }
}
