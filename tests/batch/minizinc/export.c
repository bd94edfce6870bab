/* SPDX-License-Identifier: MIT */
#include "export.h"

/* The rows of the model, as they grow. */
typedef enum {
    DUE, WEIGHT, MODE_JOB, INSERTIONS, TASK_MODE, DURATION, ATTENDED, NOT_BEFORE, BEFORE, AFTER, SPAN_RESOURCE, SPAN_AMOUNT,
    SPAN_FIRST, SPAN_LAST, SPAN_LEAD, SPAN_TAIL, GAIN_RESOURCE, GAIN_AMOUNT, GAIN_TASK, GAIN_EARLY, CAPACITY, SHIFT_FROM, SHIFT_TO, BREAK_FROM, BREAK_TO, ROWS
} Row;

static const char *const row_names[ROWS] = {
    "due", "weight", "mode_job", "insertions", "task_mode", "duration", "attended", "not_before", "before", "after",
    "span_resource", "span_amount", "span_first", "span_last", "span_lead", "span_tail", "gain_resource", "gain_amount", "gain_task", "gain_early", "capacity",
    "shift_from", "shift_to", "break_from", "break_to",
};

typedef struct {
    GArray *row[ROWS]; /* gint64 */
} Rows;

static void
add (Rows *rows, Row row, gint64 number)
{
    g_array_append_val (rows->row[row], number);
}

static void
add_mode (Rows *rows, const Mode *mode, guint job)
{
    gint64 first = rows->row[DURATION]->len + 1; /* the model counts from 1 */
    add (rows, MODE_JOB, job + 1);
    add (rows, INSERTIONS, mode->insertions);
    for (guint k = 0; k < mode->tasks->len; k++) {
        const Task *task = &g_array_index (mode->tasks, Task, k);
        add (rows, TASK_MODE, rows->row[MODE_JOB]->len);
        add (rows, DURATION, task->duration);
        add (rows, ATTENDED, task->attended);
        add (rows, NOT_BEFORE, task->not_before);
        for (guint i = 0; task->after != NULL && i < task->after->len; i++) {
            add (rows, BEFORE, first + g_array_index (task->after, guint, i));
            add (rows, AFTER, first + k);
        }
    }
    for (guint i = 0; i < mode->spans->len; i++) {
        const Span *span = &g_array_index (mode->spans, Span, i);
        add (rows, SPAN_RESOURCE, span->resource + 1);
        add (rows, SPAN_AMOUNT, span->amount);
        add (rows, SPAN_FIRST, first + span->first);
        add (rows, SPAN_LAST, first + span->last);
        add (rows, SPAN_LEAD, span->lead);
        add (rows, SPAN_TAIL, span->tail);
    }
    for (guint i = 0; i < mode->gains->len; i++) {
        const Gain *gain = &g_array_index (mode->gains, Gain, i);
        add (rows, GAIN_RESOURCE, gain->resource + 1);
        add (rows, GAIN_AMOUNT, gain->amount);
        add (rows, GAIN_TASK, first + gain->task);
        add (rows, GAIN_EARLY, gain->early);
    }
}

static void
add_windows (Rows *rows, const GArray *windows, gint64 horizon, Row from, Row to)
{
    for (guint i = 0; i < windows->len; i++) {
        const Window *window = &g_array_index (windows, Window, i);
        if (window->from >= horizon)
            break;
        add (rows, from, window->from);
        add (rows, to, window->to);
    }
}

static void
write_rows (const Rows *rows, GString *text)
{
    static const struct {
        const char *name;
        Row row;
    } sizes[] = { { "jobs", DUE }, { "modes", MODE_JOB }, { "tasks", DURATION }, { "orders", BEFORE }, { "spans", SPAN_FIRST },
                  { "gains", GAIN_TASK }, { "resources", CAPACITY }, { "shifts", SHIFT_FROM }, { "breaks", BREAK_FROM } };
    for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
        g_string_append_printf (text, "%s = %u;\n", sizes[i].name, rows->row[sizes[i].row]->len);
    for (guint r = 0; r < ROWS; r++) {
        g_string_append_printf (text, "%s = [", row_names[r]);
        for (guint i = 0; i < rows->row[r]->len; i++)
            g_string_append_printf (text, "%s%" G_GINT64_FORMAT, i > 0 ? "," : "", g_array_index (rows->row[r], gint64, i));
        g_string_append (text, "];\n");
    }
}

char *
export_timetable (const Timetable *timetable, gint64 horizon, gint64 most_lateness)
{
    GString *text = g_string_new (NULL);
    Rows rows;
    for (guint r = 0; r < ROWS; r++)
        rows.row[r] = g_array_new (FALSE, FALSE, sizeof (gint64));
    for (guint i = 0; i < timetable->jobs->len; i++) {
        const Job *job = g_ptr_array_index (timetable->jobs, i);
        add (&rows, DUE, job->due);
        add (&rows, WEIGHT, job->weight);
        for (guint m = 0; m < job->modes->len; m++)
            add_mode (&rows, g_ptr_array_index (job->modes, m), i);
    }
    for (guint i = 0; i < timetable->resources->len; i++)
        add (&rows, CAPACITY, ((const Resource *) g_ptr_array_index (timetable->resources, i))->capacity);
    add_windows (&rows, timetable->calendar.shifts, horizon, SHIFT_FROM, SHIFT_TO);
    add_windows (&rows, timetable->calendar.breaks, horizon, BREAK_FROM, BREAK_TO);
    g_string_append_printf (text, "horizon = %" G_GINT64_FORMAT ";\nmost_lateness = %" G_GINT64_FORMAT ";\nhands = %d;\n",
                            horizon, most_lateness, timetable->hands + 1);
    write_rows (&rows, text);
    for (guint r = 0; r < ROWS; r++)
        g_array_unref (rows.row[r]);
    return g_string_free (text, FALSE);
}
