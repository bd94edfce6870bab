/* SPDX-License-Identifier: MIT */
/* A batch as JSON: docs/batch-json.md, docs/schemas/printed-batch.schema.json. The long lists are written entry by entry, a line each, so that
 * ten thousand units never stand in memory as a tree. */
#include "batch/bench.h"
#include "reports/batch_branches.h"
#include "reports/batch_branches_json.h"
#include "reports/batch_changes.h"
#include "reports/batch_found.h"
#include "reports/batch_late.h"
#include "reports/batch_left_open.h"
#include "reports/batch_rows.h"
#include "reports/route_json.h"
#include "reports/route_none_json.h"

#include <string.h>

static json_t *
json_tenths (gint64 tenths)
{
    return json_number ((double) tenths / 10.0);
}

static json_t *
json_cost (const TimetableCost *cost)
{
    json_t *object = json_object ();

    json_object_set_new (object, "lateness", json_tenths (cost->lateness));
    json_object_set_new (object, "finish", json_tenths (cost->finish));
    json_object_set_new (object, "moved", json_integer ((json_int_t) cost->moved));
    json_object_set_new (object, "insertions", json_integer ((json_int_t) cost->insertions));
    json_object_set_new (object, "attended", json_tenths (cost->attended));
    return object;
}

static json_t *
json_windows (const GArray *windows, gint64 until)
{
    json_t *list = json_array ();

    for (guint i = 0; i < windows->len && g_array_index (windows, Window, i).from < until; i++) {
        const Window *window = &g_array_index (windows, Window, i);
        json_t *entry = json_object ();

        json_object_set_new (entry, "from", json_tenths (window->from));
        json_object_set_new (entry, "to", json_tenths (window->to));
        json_array_append_new (list, entry);
    }
    return list;
}

/* ---- The head ---- */

static void
set_question (json_t *head, const BatchView *view)
{
    const BatchQuestion *question = view->report->question;

    if (view->clock->begin != NULL) {
        g_autofree char *begin = batch_time_words (view->clock, 0);

        json_set_text (head, "begin", begin);
    }
    json_object_set_new (head, "from-monday", json_tenths (view->clock->from_monday));
    json_set_text (head, "shop", question->shop->name);
    json_object_set_new (head, "technicians", json_integer (question->shop->technicians));
    json_object_set_new (head, "places", json_integer (question->shop->stations));
    json_set_text (head, "objective", objective_name (question->route->objective));
    json_object_set_new (head, "seed", json_integer ((json_int_t) question->schedule.seed));
    if (question->published != NULL)
        json_object_set_new (head, "now", json_tenths (question->now));
}

static void
set_answer (json_t *head, const BatchView *view)
{
    const Batch *batch = view->batch;
    json_t *said = json_array ();
    const TimetableCost cost = batch_true_cost (view, &batch->schedule->cost),
                        bound = batch_true_cost (view, &batch->schedule->bound);

    json_object_set_new (head, "planned", json_integer (view->planned));
    json_object_set_new (head, "aside", json_integer (batch->aside));
    json_object_set_new (head, "may-have-no-way", json_integer (batch->unsure));
    json_object_set_new (head, "rows-left-out", json_integer (batch_count_rows (view->report)));
    json_object_set_new (head, "left-out", batch_rows_to_json (view));
    json_object_set_new (head, "planning-runs", json_integer (batch->plans));
    if (view->report->question->published != NULL)
        json_object_set_new (head, "moved", json_integer (batch->moved));
    for (guint i = 0; i < batch->said->len; i++)
        json_array_append_new (said, json_string (batch->said->pdata[i]));
    json_object_set_new (head, "contradictions", said);
    batch_json_replan (head, view);
    json_object_set_new (head, "cost", json_cost (&cost));
    json_object_set_new (head, "at-least", json_cost (&bound));
    json_object_set_new (head, "proved", json_boolean (batch->schedule->proved));
    json_object_set_new (head, "stopped", json_boolean (batch->schedule->stopped));
    json_object_set_new (head, "timetables-tried", json_integer ((json_int_t) batch->schedule->tried));
    json_object_set_new (head, "shifts", json_windows (batch->timetable->calendar.shifts, view->ends));
    json_object_set_new (head, "breaks", json_windows (batch->timetable->calendar.breaks, view->ends));
}

/* ---- Classes ---- */

json_t *
json_lots (const GArray *lots)
{
    json_t *list = json_array ();

    for (guint i = 0; i < lots->len; i++) {
        const Lot *lot = &g_array_index (lots, Lot, i);
        json_t *entry = json_object ();

        json_set_text (entry, "part", lot->part->name);
        json_set_text (entry, "stepping", lot->stepping);
        json_set_text (entry, "bound", lot->bound);
        json_object_set_new (entry, "count", json_integer (lot->count));
        json_array_append_new (list, entry);
    }
    return list;
}

/* Taken out of the document, it is a written route that `walk` reads. */
static json_t *
json_mode (const BatchView *view, const BatchClass *class, guint class_index, guint index)
{
    const BatchMode *mode = class->modes->pdata[index];
    guint way = view->way_of[class_index][index];
    json_t *object = json_object ();
    json_t *pulled = json_array ();
    g_autofree char *title = g_strdup_printf ("class %u, mode %u", class_index + 1, index + 1);

    json_set_text (object, "route", title);
    json_object_set_new (object, "units", json_integer (
        way == G_MAXUINT ? 0 : ((const BatchWay *) view->ways->pdata[way])->units));
    json_set_text (object, "claim", json_claim_word (mode->claim));
    json_object_set_new (object, "branches", json_boolean (mode->answer->claim == CLAIM_BRANCHES));
    if (mode->branching != NULL)
        json_set_branching (object, class, mode);
    json_object_set_new (object, "counts", json_counts (mode->walk));
    json_object_set_new (object, "stock", json_lots (mode->stock));
    json_object_set_new (object, "lent", json_lots (mode->lent));
    for (guint i = 0; i < mode->pulled->len; i++)
        json_array_append_new (pulled, json_integer (g_array_index (mode->pulled, guint, i) + 1));
    json_object_set_new (object, "pulled", pulled);
    json_object_set_new (object, "steps", json_written_steps (class->unit->board, mode->steps));
    return object;
}

static json_t *
json_class (const BatchView *view, guint index)
{
    const BatchClass *class = view->batch->classes->pdata[index];
    json_t *object = json_object ();
    json_t *modes = json_array ();
    g_autofree char *wanted = words_want (class->unit->board, class->want);

    json_object_set_new (object, "class", json_integer (index + 1));
    json_set_text (object, "situation", view_situation (view, index));
    json_object_set_new (object, "for", json_unit (class->unit));
    json_object_set_new (object, "units", json_integer (class->units));
    json_set_text (object, "wanted", wanted);
    for (guint m = 0; m < class->modes->len; m++)
        json_array_append_new (modes, json_mode (view, class, index, m));
    json_object_set_new (object, "modes", modes);
    if (class->none != NULL) {
        const RouteReport report = { .library = view->report->question->library,
                                     .shop = view->report->question->shop,
                                     .unit = class->unit,
                                     .want = class->want,
                                     .answer = class->failed,
                                     .none = class->none };

        json_object_set_new (object, "none", none_to_json (&report));
    }
    return object;
}

/* ---- Parts ---- */

static json_t *
json_stay (const BatchView *view, const BatchStay *stay)
{
    const BatchUnit *unit = view_unit (view, stay->unit);
    const Window in = bench_stay (view->report->question, view->batch, stay);
    json_t *object = json_object ();

    json_set_text (object, "unit", unit->unit->id);
    json_set_text (object, "slot", board_slot (unit->unit->board, stay->slot)->name);
    if (stay->fit_step != G_MAXUINT)
        json_object_set_new (object, "fitted-by", json_integer (stay->fit_step + 1));
    if (stay->remove_step != G_MAXUINT)
        json_object_set_new (object, "removed-by", json_integer (stay->remove_step + 1));
    json_object_set_new (object, "from", json_tenths (in.from));
    if (in.to != G_MAXINT64)
        json_object_set_new (object, "to", json_tenths (in.to));
    return object;
}

static json_t *
json_part (const BatchView *view, guint index)
{
    const BatchPart *part = view->batch->parts->pdata[index];
    json_t *object = json_object ();
    json_t *stays = json_array ();
    g_autofree char *words = batch_part_words (view, part);

    json_set_text (object, "called", words);
    json_set_text (object, "part", part->part->name);
    json_set_text (object, "stepping", part->stepping);
    json_set_text (object, "bound", part->bound);
    json_set_text (object, "owner", part->from_unit >= 0 ? "pulled" : owner_name (part->owner));
    json_object_set_new (object, "number", json_integer (part->number));
    if (part->from_unit >= 0)
        json_set_text (object, "from-unit", view_unit (view, (guint) part->from_unit)->unit->id);
    if (part->from_unit >= 0 && part->from_step != G_MAXUINT)
        json_object_set_new (object, "pulled-by", json_integer (part->from_step + 1));
    json_set_text (object, "serial", part->serial);
    for (guint i = 0; i < part->stays->len; i++)
        json_array_append_new (stays, json_stay (view, &g_array_index (part->stays, BatchStay, i)));
    json_object_set_new (object, "stays", stays);
    return object;
}

/* ---- Units ---- */

static json_t *
json_task (const BatchView *view, const BatchUnit *unit, const BatchTask *task)
{
    json_t *object = json_object (), *left_open = batch_left_open_json (view, unit, task->step);
    json_t *start_left_open = task->start.apart ? batch_left_open_json (view, unit, task->step + 1) : NULL;
    g_autofree char *what = batch_task_words (view, unit, task);
    g_autofree char *at = batch_time_words (view->clock, task->begins);

    json_object_set_new (object, "step", json_integer (task->step + 1));
    json_set_text (object, "what", what);
    json_set_step_of_branch (object, view_way (view, unit), unit, task->step);
    if (task->technician != G_MAXUINT)
        json_object_set_new (object, "technician", json_integer (task->technician + 1));
    if (task->place != G_MAXUINT)
        json_object_set_new (object, "place", json_integer (task->place + 1));
    if (task->part >= 0)
        json_object_set_new (object, "part-number",
                             json_integer (((const BatchPart *) view->batch->parts->pdata[task->part])->number));
    json_set_text (object, "at", at);
    json_object_set_new (object, "begins", json_tenths (task->begins));
    json_object_set_new (object, "attended-until", json_tenths (task->attended_until));
    json_object_set_new (object, "ends", json_tenths (task->ends));
    batch_json_last_start (object, &task->start);
    if (task->done)
        json_object_set_new (object, "done", json_true ());
    if (left_open != NULL)
        json_object_set_new (object, "left-open", left_open);
    if (start_left_open != NULL)
        json_object_set_new (object, "start-left-open", start_left_open);
    batch_json_task_done (object, view, task);
    return object;
}

static json_t *
json_earlier (const BatchUnit *unit)
{
    json_t *list = json_array ();

    for (guint i = 0; i < unit->earlier->len; i++) {
        const BatchEarlier *earlier = unit->earlier->pdata[i];
        json_t *object = json_object ();

        json_object_set_new (object, "entries", json_integer (earlier->entries));
        if (earlier->entries == 0)
            json_object_set_new (object, "done", json_integer (earlier->done));
        json_object_set_new (object, "steps", json_written_steps (unit->unit->board, earlier->steps));
        json_array_append_new (list, object);
    }
    return list;
}

static void
set_planned (json_t *object, const BatchView *view, const BatchUnit *unit)
{
    json_t *tasks = json_array ();

    json_object_set_new (object, "mode", json_integer (unit->mode + 1));
    json_object_set_new (object, "begins", json_tenths (view_begins (unit)));
    json_object_set_new (object, "ends", json_tenths (view_ends (unit)));
    if (view_leaves (view, unit) > view_ends (unit))
        json_object_set_new (object, "leaves", json_tenths (view_leaves (view, unit)));
    if (batch_unit_is_due (unit))
        json_object_set_new (object, "late", json_tenths (view_late (unit)));
    for (guint i = 0; i < unit->tasks->len; i++)
        json_array_append_new (tasks, json_task (view, unit, view_task (unit, i)));
    json_object_set_new (object, "tasks", tasks);
    if (unit->open)
        json_object_set_new (object, "depends-on-reading", json_true ());
    if (unit->open && view_way (view, unit)->mode->branching->given_up > 0)
        json_object_set_new (object, "may-have-no-way", json_true ());
}

static json_t *
json_batch_unit (const BatchView *view, guint index)
{
    const BatchUnit *unit = view_unit (view, index);
    json_t *object = json_object (), *found = batch_json_found (view, index);

    json_set_text (object, "unit", unit->unit->id);
    json_set_text (object, "board", unit->unit->board->name);
    json_object_set_new (object, "class", json_integer (unit->class + 1));
    if (batch_unit_is_due (unit))
        json_object_set_new (object, "due", json_tenths (unit->due));
    if (unit->aside == ASIDE_NOT) {
        set_planned (object, view, unit);
    } else {
        json_set_text (object, "set-aside", batch_aside_key (unit->aside));
        json_set_text (object, "why", unit->why);
    }
    if (batch_sheet_still_holds (view, index) != NULL)
        json_set_text (object, "as-in", batch_sheet_still_holds (view, index));
    if (unit->earlier != NULL)
        json_object_set_new (object, "earlier", json_earlier (unit));
    if (found != NULL)
        json_object_set_new (object, "found", found);
    return object;
}

/* ---- The document ---- */

#define REAL_DIGITS 10 /* as json_finish() has it: 9.1 must not come out as 9.0999999999999996 */

static void
put_entry (json_t *entry, gboolean first, GString *out)
{
    char *text = json_dumps (entry, JSON_REAL_PRECISION (REAL_DIGITS));

    g_assert (text != NULL);
    g_string_append_printf (out, "%s\n    %s", first ? "" : ",", text);
    free (text);
    json_decref (entry);
}

/* `entry_of` may give NULL: nothing is said of that one. */
static void
put_list (const BatchView *view, const char *name, guint count, json_t *(*entry_of) (const BatchView *, guint),
          GString *out)
{
    guint said = 0;

    g_string_append_printf (out, ",\n  \"%s\": [", name);
    for (guint i = 0; i < count; i++) {
        json_t *entry = entry_of (view, i);

        if (entry == NULL)
            continue;
        put_entry (entry, said++ == 0, out);
    }
    g_string_append (out, said == 0 ? "]" : "\n  ]");
}

char *
report_batch_json (const BatchView *view)
{
    json_t *head = json_object ();
    GString *out = NULL;
    char *text = NULL;

    json_set_text (head, "schema", BATCH_SCHEMA_NAME);
    json_object_set_new (head, "version", json_integer (BATCH_SCHEMA_VERSION));
    json_set_text (head, "timetable", view->mark);
    set_question (head, view);
    set_answer (head, view);
    text = json_finish (head);
    out = g_string_new (text);
    g_free (text);
    g_string_truncate (out, out->len - strlen ("\n}\n"));
    put_list (view, "classes", view->batch->classes->len, json_class, out);
    put_list (view, "parts", view->batch->parts->len, json_part, out);
    put_list (view, "units", view->batch->units->len, json_batch_unit, out);
    if (view->batch->replan != NULL)
        put_list (view, "changes", view->batch->units->len, batch_json_change, out);
    g_string_append (out, "\n}\n");
    return g_string_free (out, FALSE);
}
