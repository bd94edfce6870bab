/* SPDX-License-Identifier: MIT */
/* Parts that units of a batch lend each other: whose they are, where they go, and when their own unit may leave. */
#include "reports/batch_sheet.h"
#include "reports/markup.h"

#define MOST_BORROWERS 4 /* that one step or tick names before they are only counted */
#define MOST_WAITING   6 /* units that the head of the overview names */

/* ---- Which, and until when ---- */

GHashTable *
batch_lent_by_unit (const BatchView *view)
{
    GHashTable *by_unit = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) g_ptr_array_unref);

    for (guint i = 0; i < view->batch->parts->len; i++) {
        BatchPart *part = view->batch->parts->pdata[i];
        gpointer unit = part->from_unit < 0 ? NULL : (gpointer) view_unit (view, (guint) part->from_unit);
        GPtrArray *list = unit == NULL ? NULL : g_hash_table_lookup (by_unit, unit);

        if (unit == NULL || part->stays->len == 0)
            continue;
        if (list == NULL) {
            list = g_ptr_array_new ();
            g_hash_table_insert (by_unit, unit, list);
        }
        g_ptr_array_add (list, part);
    }
    return by_unit;
}

const GPtrArray *
view_lent (const BatchView *view, const BatchUnit *unit)
{
    return g_hash_table_lookup (view->lent, unit);
}

const BatchPart *
view_lent_by_step (const BatchView *view, const BatchUnit *unit, guint step)
{
    const GPtrArray *lent = view_lent (view, unit);

    for (guint i = 0; lent != NULL && i < lent->len; i++)
        if (((const BatchPart *) lent->pdata[i])->from_step == step)
            return lent->pdata[i];
    return NULL;
}

gint64
batch_part_is_back (const BatchPart *part)
{
    gint64 back = 0;

    for (guint i = 0; i < part->stays->len; i++)
        back = MAX (back, g_array_index (part->stays, BatchStay, i).to);
    return back;
}

gint64
view_leaves (const BatchView *view, const BatchUnit *unit)
{
    const GPtrArray *lent = view_lent (view, unit);
    gint64 leaves = view_ends (unit);

    for (guint i = 0; lent != NULL && i < lent->len; i++)
        leaves = MAX (leaves, batch_part_is_back (lent->pdata[i]));
    return leaves;
}

static gint64
leaves_late (const BatchView *view, const BatchUnit *unit)
{
    return !batch_unit_is_due (unit) ? 0 : MAX (view_leaves (view, unit) - unit->due, 0);
}

/* ---- Words ---- */

/* "dorvan-4c a1, serial D4-1118": on the sheet of its own unit. */
static char *
own_part_words (const BatchPart *part)
{
    g_autofree char *name = batch_short_part (part->part, part->stepping);

    return part->serial == NULL ? g_steal_pointer (&name) : g_strdup_printf ("%s, serial %s", name, part->serial);
}

/* "LK-2013 and LK-2018", in order of time. */
static char *
borrower_words (const BatchView *view, const BatchPart *part)
{
    g_autoptr (GPtrArray) ids = g_ptr_array_new ();

    for (guint i = 0; i < part->stays->len; i++)
        g_ptr_array_add (ids, (gpointer) view_unit (view, g_array_index (part->stays, BatchStay, i).unit)->unit->id);
    return batch_some_ids (ids, MOST_BORROWERS);
}

char *
batch_whose_words (const BatchView *view, const BatchUnit *unit, const BatchTask *task)
{
    const Step *step = view_step (view, unit, task);
    const BatchPart *part = task->part < 0 ? NULL : view->batch->parts->pdata[task->part];
    const BatchPart *lent =
        task->part < 0 && step->kind == STEP_REMOVE ? view_lent_by_step (view, unit, task->step) : NULL;
    g_autofree char *borrowers = lent == NULL ? NULL : borrower_words (view, lent);

    if (lent != NULL)
        return g_strdup_printf ("to be lent to %s", borrowers);
    if (part == NULL || part->from_unit < 0)
        return NULL;
    if (view_unit (view, (guint) part->from_unit) == unit)
        return g_strdup (step->kind == STEP_FIT ? "its own, lent on till then" : "its own, keep it with the unit");
    return step->kind == STEP_FIT ? g_strdup ("lent by that unit")
                                  : g_strdup_printf ("back to %s", view_unit (view, (guint) part->from_unit)->unit->id);
}

/* ---- The overview's head ---- */

typedef struct {
    guint units, parts, waiting;
    GPtrArray *late; /* char*; owned */
} LentCount;

static void
count_unit (const BatchView *view, const BatchUnit *unit, LentCount *count)
{
    const GPtrArray *lent = unit->aside == ASIDE_NOT ? view_lent (view, unit) : NULL;
    g_autofree char *late = NULL;

    if (lent == NULL)
        return;
    count->units++;
    count->parts += lent->len;
    if (view_leaves (view, unit) == view_ends (unit))
        return;
    count->waiting++;
    if (leaves_late (view, unit) == 0)
        return;
    late = batch_span_words (leaves_late (view, unit));
    g_ptr_array_add (count->late, g_strdup_printf ("%s by %s", unit->unit->id, late));
}

static void
say_waiting (Paper *paper, const LentCount *count)
{
    g_autofree char *which = batch_some_ids (count->late, MOST_WAITING);

    if (count->waiting > 0)
        paper_say (paper, 0, 2, "%u of these units %s, and can leave only then; the sheet%s when.", count->waiting,
                   count->waiting == 1 ? "is done before its part is back" : "are done before their parts are back",
                   count->waiting == 1 ? " says" : "s say");
    if (count->late->len > 0)
        paper_say (paper, 0, 2,
                   MARK_BAD "Late for parts of their own that are lent on" MARK_PLAIN
                            ": %s. The timetable counts only when a unit's own work is done.",
                   which);
}

void
batch_say_lent (Paper *paper, const BatchView *view)
{
    LentCount count = { 0, 0, 0, g_ptr_array_new_with_free_func (g_free) };
    g_autofree char *parts = NULL, *units = NULL;

    for (guint i = 0; i < view->batch->units->len; i++)
        count_unit (view, view_unit (view, i), &count);
    parts = words_count (count.parts, "part", "parts");
    units = words_count (count.units, "unit", "units");
    if (count.parts > 0)
        paper_say (
            paper, 0, 2,
            "Pulled parts are lent on, customers' own too: %s of %s before going back. `lend-pulled-parts: no` in "
            "the shop prevents that for all, `own-parts-stay: yes` (a table's `own parts stay`) for a unit.",
            parts, units);
    say_waiting (paper, &count);
    g_ptr_array_unref (count.late);
}

/* ---- Sheets ---- */

/* The hour alone on the day on which the unit's work begins. */
static char *
when_words (const BatchView *view, const BatchUnit *unit, gint64 time)
{
    return batch_day (view->clock, time) == batch_day (view->clock, view_begins (unit))
               ? batch_hour_words (view->clock, time)
               : batch_time_words (view->clock, time);
}

/* "to LK-2013 until 11:20, to LK-2018 until 14:00"; with `from`, "at LK-2013 from 10:05 to 11:20, ...". Transfer full. */
static char *
stay_words (const BatchView *view, const BatchUnit *unit, const BatchPart *part, gboolean with_from)
{
    GString *words = g_string_new (NULL);

    for (guint i = 0; i < part->stays->len; i++) {
        const BatchStay *stay = &g_array_index (part->stays, BatchStay, i);
        const char *id = view_unit (view, stay->unit)->unit->id;
        g_autofree char *from = when_words (view, unit, stay->from), *to = when_words (view, unit, stay->to);

        if (i > 0)
            g_string_append (words, ", ");
        if (with_from)
            g_string_append_printf (words, "at %s from %s to %s", id, from, to);
        else
            g_string_append_printf (words, "to %s until %s", id, to);
    }
    return g_string_free (words, FALSE);
}

void
batch_page_put_lent_head (const BatchView *view, const BatchUnit *unit, GString *out)
{
    const GPtrArray *lent = view_lent (view, unit);
    gboolean late = leaves_late (view, unit) > 0;
    g_autofree char *leaves = when_words (view, unit, view_leaves (view, unit));

    for (guint i = 0; lent != NULL && i < lent->len; i++) {
        g_autofree char *name = own_part_words (lent->pdata[i]);
        g_autofree char *where = stay_words (view, unit, lent->pdata[i], TRUE);

        g_string_append (out, "<p><b class=\"strong\">Lent on:</b> its ");
        markup_put (out, name);
        g_string_append (out, ", is ");
        markup_put (out, where);
        g_string_append (out, "</p>\n");
    }
    if (lent == NULL || view_leaves (view, unit) == view_ends (unit))
        return;
    g_string_append (out, "<p><b class=\"strong\">Can leave</b> from ");
    markup_put (out, leaves);
    g_string_append (out, late ? ", when what is lent on is back: LATE for its due time</p>\n"
                               : ", when what is lent on is back</p>\n");
}

void
batch_page_put_lent_ticks (const BatchView *view, const BatchUnit *unit, GString *out)
{
    const GPtrArray *lent = view_lent (view, unit);

    if (lent == NULL)
        return;
    g_string_append (out, "<p class=\"gap\"><b class=\"strong\">Not packed, shipped or handed over before</b></p>\n");
    for (guint i = 0; i < lent->len; i++) {
        g_autofree char *name = own_part_words (lent->pdata[i]);
        g_autofree char *where = stay_words (view, unit, lent->pdata[i], FALSE);

        g_string_append (out, "<p class=\"i2\"><span class=\"box\"></span> its ");
        markup_put (out, name);
        g_string_append (out, ", is back (lent ");
        markup_put (out, where);
        g_string_append (out, ")</p>\n");
    }
}

void
batch_page_put_lent_from (const BatchView *view, const BatchUnit *unit, const BatchTask *task, GString *out)
{
    const BatchPart *part = task->part < 0 ? NULL : view->batch->parts->pdata[task->part];
    g_autofree char *from = when_words (view, unit, task->begins);

    if (part != NULL && part->from_unit >= 0)
        g_string_append_printf (out, " (for step %u at %s)", task->step + 1, from);
}

GPtrArray *
batch_given_back (const BatchView *view, const BatchUnit *unit)
{
    GPtrArray *back = g_ptr_array_new_with_free_func (g_free);

    for (guint i = 0; i < unit->tasks->len; i++) {
        const BatchTask *task = view_task (unit, i);
        const BatchPart *part = task->part < 0 ? NULL : view->batch->parts->pdata[task->part];
        g_autofree char *name = NULL;

        if (part == NULL || part->owner == OWNER_STOCK || view_step (view, unit, task)->kind != STEP_REMOVE)
            continue;
        name = part->from_unit < 0 ? batch_part_words (view, part) : own_part_words (part);
        g_ptr_array_add (back, part->from_unit < 0
                                   ? g_strdup_printf ("back on the loan shelf: %s", name)
                                   : g_strdup_printf ("back with %s: its %s",
                                                      view_unit (view, (guint) part->from_unit)->unit->id, name));
    }
    return back;
}

/* ---- Situations ---- */

GPtrArray *
batch_borrow_from_units (const BatchView *view, const BatchWay *way)
{
    GPtrArray *ids = g_ptr_array_new ();

    for (guint i = 0; i < view->order->len; i++) {
        const BatchUnit *unit = view_unit (view, g_array_index (view->order, guint, i));
        gboolean borrows = FALSE;

        for (guint t = 0; view_way (view, unit) == way && t < unit->tasks->len; t++) {
            int part = view_task (unit, t)->part;

            borrows |= part >= 0 && ((const BatchPart *) view->batch->parts->pdata[part])->from_unit >= 0;
        }
        if (borrows)
            g_ptr_array_add (ids, (gpointer) unit->unit->id);
    }
    return ids;
}
