/* SPDX-License-Identifier: MIT */
/* Replay of parts: what each unit's steps put in and take out, part by part, in order of time. */
#include "batch/replay.h"

/* Where a part was found to be, by the tasks alone. */
typedef struct {
    int part;
    BatchStay stay;
} Found;

static const BatchPart *
part_at (const Batch *batch, int part)
{
    return batch->parts->pdata[part];
}

static const char *
id_of (const Batch *batch, guint unit)
{
    return ((const BatchUnit *) batch->units->pdata[unit])->unit->id;
}

static gint64
begin_of (const BatchQuestion *question)
{
    return question->published != NULL ? question->now : 0;
}

/* ---- What the tasks say ---- */

static gboolean
is_this_part (const BatchPart *part, const Step *fit)
{
    gboolean lent = part->owner == OWNER_LOAN || part->owner == OWNER_UNIT;

    return part->part == fit->part && part->stepping == fit->stepping && part->bound == fit->bound &&
           (fit->owner == OWNER_LOAN ? lent : part->owner == OWNER_STOCK);
}

static char *
replay_fit (const Batch *batch, guint index, const BatchTask *task, const Step *step, Found *in_slot)
{
    if (step->owner == OWNER_UNIT) {
        *in_slot = (Found){ -1, { .unit = index } };
        return task->part < 0 ? NULL
                              : g_strdup_printf ("%s, step %u: a part of its own has a number", id_of (batch, index),
                                                 task->step + 1);
    }
    if (task->part < 0 || task->part >= (int) batch->parts->len || !is_this_part (part_at (batch, task->part), step))
        return g_strdup_printf ("%s, step %u: what it fits is not the part that its route says", id_of (batch, index),
                                task->step + 1);
    *in_slot = (Found){ task->part, { index, step->slot, task->step, G_MAXUINT, task->begins, G_MAXINT64 } };
    return NULL;
}

/* `in_slot`: what the replay has there; -2: what was in when the unit came, or where it was planned anew. */
static char *
replay_removal (const BatchQuestion *question, const Batch *batch, guint index, const BatchTask *task,
                const Fitted *came, Found *in_slot, GArray *found)
{
    if (in_slot->part == -2 && came->owner != OWNER_UNIT)
        *in_slot = (Found){ task->part,
                            { index, in_slot->stay.slot, G_MAXUINT, G_MAXUINT, MIN (begin_of (question), task->begins), 0 } };
    if (task->part != MAX (in_slot->part, -1))
        return g_strdup_printf ("%s, step %u: what it takes out is not what is in", id_of (batch, index),
                                task->step + 1);
    if (in_slot->part >= 0) {
        in_slot->stay.remove_step = task->step;
        in_slot->stay.to = task->ends;
        g_array_append_val (found, *in_slot);
    }
    in_slot->part = -1;
    return NULL;
}

static char *
replay_unit (const BatchQuestion *question, const Batch *batch, guint index, GArray *found)
{
    const BatchUnit *unit = batch->units->pdata[index];
    const Unit *stands = replayed_unit (unit);
    const GArray *steps = replayed_mode (batch, unit)->steps;
    guint n_slots = stands->board->slots->len;
    g_autofree Found *in_slot = g_new0 (Found, n_slots + 1);
    char *wrong = NULL;

    for (guint s = 0; s < n_slots; s++)
        in_slot[s] = (Found){ -2, { .unit = index, .slot = s } };
    for (guint i = 0; i < steps->len && wrong == NULL; i++) {
        const Step *step = &g_array_index (steps, Step, i);
        const BatchTask *task = &g_array_index (unit->tasks, BatchTask, i);

        if (step->kind == STEP_FIT)
            wrong = replay_fit (batch, index, task, step, &in_slot[step->slot]);
        else if (step->kind == STEP_REMOVE)
            wrong =
                replay_removal (question, batch, index, task, &stands->fitted[step->slot], &in_slot[step->slot], found);
    }
    for (guint s = 0; s < n_slots; s++)
        if (in_slot[s].part >= 0)
            g_array_append_val (found, in_slot[s]);
    return wrong;
}

/* ---- One place at a time ---- */

static int
compare_found (gconstpointer a, gconstpointer b)
{
    const Found *left = a, *right = b;
    if (left->part != right->part)
        return left->part < right->part ? -1 : 1;
    if (left->stay.from != right->stay.from)
        return left->stay.from < right->stay.from ? -1 : 1;
    return (left->stay.to > right->stay.to) - (left->stay.to < right->stay.to);
}

/* Stock that came in the unit and stays there takes part in no step, and is in no task. */
static gboolean
is_in_no_task (const BatchStay *stay)
{
    return stay->fit_step == G_MAXUINT && stay->remove_step == G_MAXUINT;
}

static gboolean
same_stay (const BatchStay *left, const BatchStay *right)
{
    return left->unit == right->unit && left->slot == right->slot && left->fit_step == right->fit_step &&
           left->remove_step == right->remove_step && left->from == right->from && left->to == right->to;
}

static char *
check_places (const Batch *batch, GArray *found)
{
    guint at = 0;

    g_array_sort (found, compare_found);
    for (guint p = 0; p < batch->parts->len; p++) {
        const BatchPart *part = part_at (batch, (int) p);

        for (guint i = 0; i < part->stays->len; i++) {
            const BatchStay *stay = &g_array_index (part->stays, BatchStay, i);

            if (i > 0 && g_array_index (part->stays, BatchStay, i - 1).to > stay->from)
                return g_strdup_printf ("%s #%u is in %s and in %s at once", part->part->name, part->number,
                                        id_of (batch, g_array_index (part->stays, BatchStay, i - 1).unit),
                                        id_of (batch, stay->unit));
            if (is_in_no_task (stay))
                continue;
            if (at == found->len || g_array_index (found, Found, at).part != (int) p ||
                !same_stay (&g_array_index (found, Found, at).stay, stay))
                return g_strdup_printf ("%s #%u is not where the steps of %s put it", part->part->name, part->number,
                                        id_of (batch, stay->unit));
            at++;
        }
    }
    return at == found->len ? NULL : g_strdup ("some step moves a part that is listed nowhere");
}

/* ---- As many as there are ---- */

gboolean
replayed_alike (const BatchPart *left, const BatchPart *right)
{
    return left->part == right->part && left->stepping == right->stepping && left->bound == right->bound &&
           (left->owner == OWNER_STOCK) == (right->owner == OWNER_STOCK);
}

static guint
count_in_shop (const Shop *shop, const BatchPart *part)
{
    guint count = 0;

    for (guint i = 0; i < shop->lots->len; i++) {
        const Lot *lot = &g_array_index (shop->lots, Lot, i);

        if (lot->owner == part->owner && lot->part == part->part && lot->stepping == part->stepping &&
            lot->bound == part->bound)
            count += lot->count;
    }
    return count;
}

/* Parts of a lot stand together, by number. */
static char *
check_numbers (const BatchQuestion *question, const Batch *batch)
{
    g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

    for (guint p = 0; p < batch->parts->len; p++) {
        const BatchPart *part = part_at (batch, (int) p), *before = p > 0 ? part_at (batch, (int) p - 1) : NULL;

        if (before != NULL && replayed_alike (before, part) && before->number < part->number)
            ;
        else if (!g_hash_table_add (seen, g_strdup_printf ("%p %p %p %d", (const void *) part->part,
                                                           (const void *) part->stepping, (const void *) part->bound,
                                                           part->owner == OWNER_STOCK)))
            return g_strdup_printf ("%s #%u is listed twice", part->part->name, part->number);
        if (part->number == 0 || (part->owner != OWNER_UNIT && part->number > count_in_shop (question->shop, part)))
            return g_strdup_printf ("there is no %s #%u in the shop", part->part->name, part->number);
    }
    return NULL;
}

/* What a record says is out of use stays so: from the moment that is planned from on it is in no unit. */
static char *
check_in_use (const BatchQuestion *question, const Batch *batch, const BatchPart *part)
{
    for (guint i = 0; batch->replan != NULL && i < batch->replan->lost->len; i++) {
        const BatchLost *lost = &g_array_index (batch->replan->lost, BatchLost, i);
        gboolean it = lost->number == part->number && lost->part == part->part && lost->stepping == part->stepping &&
                      lost->bound == part->bound && (lost->owner == OWNER_STOCK) == (part->owner == OWNER_STOCK);

        for (guint k = 0; it && k < part->stays->len; k++)
            if (g_array_index (part->stays, BatchStay, k).to > begin_of (question))
                return g_strdup_printf ("%s #%u is out of use (%s:%u), and is to be in %s", part->part->name,
                                        part->number, lost->at.file, lost->at.line,
                                        id_of (batch, g_array_index (part->stays, BatchStay, k).unit));
    }
    return NULL;
}

char *
replay_parts (const BatchQuestion *question, const Batch *batch)
{
    g_autoptr (GArray) found = g_array_new (FALSE, TRUE, sizeof (Found));
    char *wrong = NULL;

    for (guint i = 0; i < batch->units->len && wrong == NULL; i++)
        if (((const BatchUnit *) batch->units->pdata[i])->aside == ASIDE_NOT)
            wrong = replay_unit (question, batch, i, found);
    if (wrong == NULL)
        wrong = check_places (batch, found);
    if (wrong == NULL)
        wrong = check_numbers (question, batch);
    for (guint p = 0; p < batch->parts->len && wrong == NULL; p++)
        if (part_at (batch, (int) p)->owner == OWNER_UNIT)
            wrong = replay_pulled (question, batch, part_at (batch, (int) p));
    for (guint p = 0; p < batch->parts->len && wrong == NULL; p++)
        wrong = check_in_use (question, batch, part_at (batch, (int) p));
    return wrong;
}
