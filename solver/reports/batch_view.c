/* SPDX-License-Identifier: MIT */
/* The order of things in a batch, and what each step of a mode moves. */
#include "reports/batch_view.h"

#include "reports/batch_branches.h"
#include "reports/batch_csv.h"
#include "reports/batch_sheet.h"

#define MARK_DIGITS 8

const BatchUnit *
view_unit (const BatchView *view, guint index)
{
    return g_ptr_array_index (view->batch->units, index);
}

const BatchTask *
view_task (const BatchUnit *unit, guint index)
{
    return &g_array_index (unit->tasks, BatchTask, index);
}

const char *
view_situation (const BatchView *view, guint class)
{
    return view->situations->pdata[class];
}

const BatchWay *
view_way (const BatchView *view, const BatchUnit *unit)
{
    return g_ptr_array_index (view->ways, view->way_of[unit->class][unit->mode]);
}

const Step *
view_step (const BatchView *view, const BatchUnit *unit, const BatchTask *task)
{
    return &g_array_index (view_way (view, unit)->mode->steps, Step, task->step);
}

gint64
view_begins (const BatchUnit *unit)
{
    gint64 first = unit->tasks->len == 0 ? 0 : G_MAXINT64;

    for (guint i = 0; i < unit->tasks->len; i++)
        first = MIN (first, view_task (unit, i)->begins);
    return first;
}

gint64
view_ends (const BatchUnit *unit)
{
    gint64 last = 0;

    for (guint i = 0; i < unit->tasks->len; i++)
        last = MAX (last, view_task (unit, i)->ends);
    return last;
}

gint64
view_late (const BatchUnit *unit)
{
    return !batch_unit_is_due (unit) || unit->aside != ASIDE_NOT ? 0 : MAX (view_ends (unit) - unit->due, 0);
}

/* ---- Ways ---- */

static void
way_free (gpointer data)
{
    BatchWay *way = data;

    g_array_unref (way->moved);
    batch_words_free (way->words);
    g_free (way);
}

/* In any case of the unit the same parts are moved, so the first one serves. */
static GArray *
moved_by_steps (const BatchClass *class, const BatchMode *mode)
{
    GArray *moved = g_array_new (FALSE, TRUE, sizeof (Held));
    g_autoptr (State) state = state_from_unit (class->unit, NULL);

    for (guint i = 0; i < mode->steps->len; i++) {
        const Step *step = &g_array_index (mode->steps, Step, i);
        Held held = { 0 };

        if (step->kind == STEP_REMOVE)
            held = state->held[step->slot];
        else if (step->kind == STEP_FIT)
            held = (Held){ step->part, step->stepping, step->owner, step->bound };
        g_array_append_val (moved, held);
        state_apply (state, step);
    }
    return moved;
}

static void
count_ways (BatchView *view)
{
    const GPtrArray *classes = view->batch->classes;

    view->way_of = g_new0 (guint *, classes->len + 1);
    for (guint c = 0; c < classes->len; c++)
        view->way_of[c] = g_new0 (guint, ((const BatchClass *) classes->pdata[c])->modes->len + 1);
    for (guint u = 0; u < view->batch->units->len; u++) {
        const BatchUnit *unit = view_unit (view, u);

        if (unit->aside == ASIDE_NOT)
            view->way_of[unit->class][unit->mode]++;
    }
}

static void
collect_ways (BatchView *view)
{
    const GPtrArray *classes = view->batch->classes;

    count_ways (view);
    for (guint c = 0; c < classes->len; c++) {
        const BatchClass *class = classes->pdata[c];

        for (guint m = 0; m < class->modes->len; m++) {
            guint units = view->way_of[c][m];
            BatchWay *way = NULL;

            view->way_of[c][m] = units == 0 ? G_MAXUINT : view->ways->len;
            if (units == 0)
                continue;
            way = g_new0 (BatchWay, 1);
            *way = (BatchWay){ class, class->modes->pdata[m], c, m, units, NULL, NULL };
            way->moved = moved_by_steps (class, way->mode);
            way->words = batch_words_new (class, way->mode);
            g_ptr_array_add (view->ways, way);
        }
    }
}

/* ---- Order ---- */

static int
compare_times (gint64 left, gint64 right)
{
    return left < right ? -1 : left > right;
}

static int
compare_units (gconstpointer left, gconstpointer right, gpointer data)
{
    const BatchView *view = data;
    guint a = *(const guint *) left, b = *(const guint *) right;
    const BatchUnit *one = view_unit (view, a), *other = view_unit (view, b);
    int by_time = compare_times (view_begins (one), view_begins (other));

    if (by_time != 0)
        return by_time;
    if (one->tasks->len > 0 && other->tasks->len > 0 && view_task (one, 0)->place != view_task (other, 0)->place)
        return view_task (one, 0)->place < view_task (other, 0)->place ? -1 : 1;
    return a < b ? -1 : a > b;
}

static int
compare_moments (gconstpointer left, gconstpointer right, gpointer data)
{
    const BatchView *view = data;
    const BatchMoment *one = left, *other = right;
    int by_time = compare_times (one->begins, other->begins);

    if (by_time == 0)
        by_time = compare_times (view_piece (view, one).ends, view_piece (view, other).ends);
    if (by_time == 0)
        by_time = one->unit < other->unit ? -1 : one->unit > other->unit;
    return by_time != 0 ? by_time : one->step < other->step ? -1 : one->step > other->step;
}

static void
put_in_order (BatchView *view)
{
    for (guint u = 0; u < view->batch->units->len; u++) {
        const BatchUnit *unit = view_unit (view, u);

        if (unit->aside != ASIDE_NOT)
            continue;
        view->planned++;
        view->ends = MAX (view->ends, view_ends (unit));
        g_array_append_val (view->order, u);
        for (guint t = 0; t < unit->tasks->len; t++) {
            const BatchTask *task = view_task (unit, t);
            BatchMoment moment = { u, t, task->begins, FALSE }, start = { u, t, task->start.begins, TRUE };

            g_array_append_val (view->moments, moment);
            if (task->start.apart)
                g_array_append_val (view->moments, start);
        }
    }
    g_array_sort_with_data (view->order, compare_units, view);
    g_array_sort_with_data (view->moments, compare_moments, view);
    view->rank = g_new0 (guint, view->batch->units->len + 1);
    for (guint i = 0; i < view->order->len; i++)
        view->rank[g_array_index (view->order, guint, i)] = i;
}

/* Sheets of an earlier timetable must not be taken for this one's. Anybody can work it out again from timetable.csv. */
static char *
mark_of (const BatchView *view)
{
    g_autofree char *digest = g_compute_checksum_for_string (G_CHECKSUM_SHA256, view->table, -1);

    return g_strndup (digest, MARK_DIGITS);
}

BatchView *
batch_view_new (const BatchReport *report)
{
    BatchView *view = g_new0 (BatchView, 1);

    view->report = report;
    view->batch = report->batch;
    view->clock = &report->question->clock;
    view->ways = g_ptr_array_new_with_free_func (way_free);
    view->order = g_array_new (FALSE, FALSE, sizeof (guint));
    view->moments = g_array_new (FALSE, FALSE, sizeof (BatchMoment));
    collect_ways (view);
    put_in_order (view);
    view->lent = batch_lent_by_unit (view);
    view->situations = batch_situations (view);
    view->table = batch_table_of_view (view);
    view->mark = mark_of (view);
    view->sheets = g_hash_table_new_full (NULL, NULL, NULL, mode_sheet_free);
    return view;
}

void
batch_view_free (BatchView *view)
{
    if (view == NULL)
        return;
    for (guint c = 0; c < view->batch->classes->len; c++)
        g_free (view->way_of[c]);
    g_free (view->way_of);
    g_free (view->rank);
    g_ptr_array_unref (view->situations);
    g_free (view->table);
    g_free (view->mark);
    g_hash_table_unref (view->lent);
    g_hash_table_unref (view->sheets);
    g_ptr_array_unref (view->ways);
    g_array_unref (view->order);
    g_array_unref (view->moments);
    g_free (view);
}
