/* SPDX-License-Identifier: MIT */
/* A published timetable, read back from the JSON of the run that made it. */
#include "reports/batch_read.h"

#include <string.h>

#include "reports/json_place.h"

/* ---- Units ---- */

typedef struct {
    Reading *reading;
    GHashTable *boards; /* id -> Board* of the units of this run */
    GHashTable *read;   /* a set: ids */
    GPtrArray *routes;  /* of the document's modes, in order: GArray of Step, NULL until a unit goes by it; owned */
    GArray *first_mode; /* guint: per class, where in `routes` its modes begin */
    BatchPublished *published;
} Units;

/* The steps of the unit's mode. NULL after a complaint. */
static const GArray *
route_of (Units *units, const json_t *object, const Board *board)
{
    Reading *reading = units->reading;
    const json_t *classes = json_object_get (reading->document, "classes");
    guint class = 0, mode = 0;
    const json_t *one = NULL, *steps = NULL;
    g_autofree char *path = NULL;
    g_autofree char *before = g_strdup (reading->path->str);
    guint place = 0;

    if (!reading_number (reading, object, "class", 1, &class) || !reading_number (reading, object, "mode", 1, &mode))
        return NULL;
    one = json_array_get (json_object_get (json_array_get (classes, class - 1), "modes"), mode - 1);
    if (one == NULL) {
        reading_wrong (reading, "expected a class and a mode that stand under classes",
                       "there is no mode %u of class %u", mode, class);
        return NULL;
    }
    if (g_strcmp0 (json_string_value (json_object_get (json_object_get (json_array_get (classes, class - 1), "for"),
                                                       "board")),
                   board->name) != 0) {
        reading_wrong (reading, "expected a class of units with the same board", "class %u is not of units with board %s",
                       class, board->name);
        return NULL;
    }
    place = g_array_index (units->first_mode, guint, class - 1) + mode - 1;
    if (units->routes->pdata[place] != NULL)
        return units->routes->pdata[place];
    path = g_strdup_printf ("classes\n%u\nmodes\n%u", class - 1, mode - 1);
    g_string_assign (reading->path, path);
    steps = reading_list (reading, one, "steps");
    reading_enter (reading, "steps");
    units->routes->pdata[place] = steps == NULL ? NULL : reading_steps (reading, steps, board);
    g_string_assign (reading->path, before);
    return units->routes->pdata[place];
}

/* A start that is a task of its own, behind the last step. */
static gboolean
read_start (Reading *reading, const json_t *object, gboolean is_last, PublishedTask *task)
{
    LastStart *start = &task->start;
    guint technician = 0;

    if (json_object_get (object, "start-begins") == NULL)
        return TRUE;
    if (!is_last)
        return reading_wrong (reading, "expected start-begins with the last task alone", "a start behind a step that "
                              "is not the last one");
    if (!reading_tenths (reading, object, "start-begins", &start->begins) ||
        !reading_tenths (reading, object, "step-ends", &start->step_ends) ||
        !reading_number (reading, object, "start-technician", 1, &technician))
        return FALSE;
    if (start->step_ends < task->attended_until || start->begins < start->step_ends || task->ends < start->begins)
        return reading_wrong (reading, "expected attended-until, step-ends, start-begins and ends in this order",
                              "the times of the start go backwards");
    start->apart = TRUE;
    start->technician = technician - 1;
    return TRUE;
}

static gboolean
read_task (Reading *reading, const json_t *object, const GArray *steps, guint index, PublishedTask *task)
{
    guint step = 0, technician = 0, place = 0;

    if (!reading_number (reading, object, "step", 1, &step) ||
        !reading_tenths (reading, object, "begins", &task->begins) ||
        !reading_tenths (reading, object, "attended-until", &task->attended_until) ||
        !reading_tenths (reading, object, "ends", &task->ends))
        return FALSE;
    if (step != index + 1)
        return reading_wrong (reading, "expected the tasks in the order of the steps, one for each",
                              "task %u is of step %u", index + 1, step);
    if (task->attended_until < task->begins || task->ends < task->attended_until)
        return reading_wrong (reading, "expected begins, attended-until and ends in this order",
                              "the times of task %u go backwards", index + 1);
    if (json_object_get (object, "technician") != NULL &&
        !reading_number (reading, object, "technician", 1, &technician))
        return FALSE;
    if (json_object_get (object, "place") != NULL && !reading_number (reading, object, "place", 1, &place))
        return FALSE;
    if (json_object_get (object, "part-number") != NULL &&
        !reading_number (reading, object, "part-number", 1, &task->part_number))
        return FALSE;
    task->step = g_array_index (steps, Step, index);
    task->technician = technician - 1; /* none becomes G_MAXUINT */
    task->place = place - 1;
    return read_start (reading, object, index + 1 == steps->len, task);
}

static gboolean
read_tasks (Units *units, const json_t *object, const Board *board, PublishedUnit *unit)
{
    Reading *reading = units->reading;
    const json_t *tasks = reading_list (reading, object, "tasks");
    const GArray *steps = tasks == NULL ? NULL : route_of (units, object, board);
    gsize back = reading_enter (reading, "tasks");

    if (steps == NULL)
        return FALSE;
    if (json_array_size (tasks) != steps->len)
        return reading_wrong (reading, "expected one task for each step of the mode", "%u tasks for %u steps",
                              (guint) json_array_size (tasks), steps->len);
    for (guint i = 0; i < steps->len; i++) {
        PublishedTask task = { .part_number = 0 };
        gsize entry = reading_enter_at (reading, i);

        if (!read_task (reading, json_array_get (tasks, i), steps, i, &task))
            return FALSE;
        reading_leave (reading, entry);
        g_array_append_val (unit->tasks, task);
    }
    reading_leave (reading, back);
    return TRUE;
}

/* NULL after a complaint. Transfer full. */
static BatchEarlier *
read_earlier_route (Reading *reading, const json_t *object, const Board *board)
{
    const json_t *steps = reading_list (reading, object, "steps");
    guint entries = 0, done = 0;
    BatchEarlier *earlier = NULL;
    GArray *route = NULL;

    if (steps == NULL || !reading_number (reading, object, "entries", 0, &entries) ||
        (entries == 0 && !reading_number (reading, object, "done", 0, &done)))
        return NULL;
    if (done > json_array_size (steps)) {
        reading_wrong (reading, "expected no more steps done than the route has", "%u steps done of %u", done,
                       (guint) json_array_size (steps));
        return NULL;
    }
    reading_enter (reading, "steps");
    route = reading_steps (reading, steps, board);
    if (route == NULL)
        return NULL;
    earlier = g_new0 (BatchEarlier, 1);
    *earlier = (BatchEarlier){ route, entries, done };
    return earlier;
}

static gboolean
read_earlier (Reading *reading, const json_t *object, const Board *board, PublishedUnit *unit)
{
    const json_t *list = reading_list (reading, object, "earlier");
    gsize back = reading_enter (reading, "earlier");

    if (list == NULL)
        return FALSE;
    unit->earlier = g_ptr_array_new_with_free_func (batch_earlier_free);
    for (guint i = 0; i < json_array_size (list); i++) {
        gsize entry = reading_enter_at (reading, i);
        BatchEarlier *earlier = read_earlier_route (reading, json_array_get (list, i), board);

        if (earlier == NULL)
            return FALSE;
        g_ptr_array_add (unit->earlier, earlier);
        reading_leave (reading, entry);
    }
    reading_leave (reading, back);
    return TRUE;
}

/* A unit that has left the batch since says nothing any more. */
static gboolean
read_unit (Units *units, const json_t *object)
{
    Reading *reading = units->reading;
    const char *id = reading_words (reading, object, "unit");
    const char *board_name = id == NULL ? NULL : reading_words (reading, object, "board");
    const Board *board = id == NULL ? NULL : g_hash_table_lookup (units->boards, id);
    PublishedUnit *unit = NULL;

    if (id == NULL || board_name == NULL)
        return FALSE;
    if (!g_hash_table_add (units->read, (gpointer) id))
        return reading_wrong (reading, "expected each unit once", "unit %s stands there twice", id);
    if (board == NULL) {
        if (json_object_get (object, "set-aside") == NULL)
            g_ptr_array_add (units->published->gone, g_strdup (id));
        return TRUE;
    }
    if (!g_str_equal (board_name, board->name))
        return reading_wrong (reading, "expected the board that the files give the unit",
                              "unit %s has board %s here, and %s in the files", id, board_name, board->name);
    unit = batch_published_add (units->published, id);
    unit->sheet = units->published->mark;
    if (json_object_get (object, "as-in") != NULL) {
        const char *mark = reading_words (reading, object, "as-in");

        if (mark == NULL)
            return FALSE;
        if (!reading_is_mark (mark))
            return reading_wrong (reading, "expected eight hexadecimal digits", "as-in is no mark of a timetable");
        unit->sheet = g_intern_string (mark);
    }
    if (json_object_get (object, "earlier") != NULL && !read_earlier (reading, object, board, unit))
        return FALSE;
    if (json_object_get (object, "found") != NULL && !reading_found (reading, object, &unit->found))
        return FALSE;
    return json_object_get (object, "set-aside") != NULL || read_tasks (units, object, board, unit);
}

static void
free_route (gpointer data)
{
    if (data != NULL)
        g_array_unref (data);
}

static void
count_modes (Units *units, const json_t *classes)
{
    for (guint c = 0; c < json_array_size (classes); c++) {
        const json_t *modes = json_object_get (json_array_get (classes, c), "modes");

        g_array_append_val (units->first_mode, units->routes->len);
        g_ptr_array_set_size (units->routes, (int) (units->routes->len + json_array_size (modes)));
    }
}

static gboolean
read_units (Reading *reading, const GPtrArray *of_run, BatchPublished *published)
{
    const json_t *classes = reading_list (reading, reading->document, "classes");
    const json_t *list = reading_list (reading, reading->document, "units");
    g_autoptr (GHashTable) boards = g_hash_table_new (g_str_hash, g_str_equal);
    g_autoptr (GHashTable) ids = g_hash_table_new (g_str_hash, g_str_equal);
    g_autoptr (GPtrArray) routes = g_ptr_array_new_with_free_func (free_route);
    g_autoptr (GArray) first_mode = g_array_new (FALSE, FALSE, sizeof (guint));
    Units units = { reading, boards, ids, routes, first_mode, published };

    if (classes == NULL || list == NULL)
        return FALSE;
    for (guint i = 0; i < of_run->len; i++) {
        const Unit *unit = of_run->pdata[i];

        g_hash_table_insert (boards, (gpointer) unit->id, (gpointer) unit->board);
    }
    count_modes (&units, classes);
    reading_enter (reading, "units");
    for (guint i = 0; i < json_array_size (list); i++) {
        gsize back = reading_enter_at (reading, i);

        if (!read_unit (&units, json_array_get (list, i)))
            return FALSE;
        reading_leave (reading, back);
    }
    if (published->units->len == 0 && json_array_size (list) > 0)
        return reading_wrong (reading, "expected the timetable of the units of this run",
                              "none of its units is among the files: it is of another batch");
    return TRUE;
}

/* ---- The document ---- */

static gboolean
is_a_batch (const json_t *document)
{
    return g_strcmp0 (json_string_value (json_object_get (document, "schema")), BATCH_SCHEMA_NAME) == 0 &&
           json_integer_value (json_object_get (document, "version")) == BATCH_SCHEMA_VERSION;
}

static gboolean
begins_then (Reading *reading, const BatchClock *clock)
{
    const char *begin = json_string_value (json_object_get (reading->document, "begin"));
    g_autofree char *asked = clock->begin == NULL ? NULL : batch_time_words (clock, 0);
    gint64 from_monday = 0;

    if (!reading_tenths (reading, reading->document, "from-monday", &from_monday))
        return FALSE;
    if (g_strcmp0 (begin, asked) == 0 && from_monday == clock->from_monday)
        return TRUE;
    reading_enter (reading, begin == NULL ? "from-monday" : "begin");
    return reading_wrong (reading, "expected the same beginning in both: times count from it",
                          "the published timetable begins %s, this run %s", begin == NULL ? "on no date" : begin,
                          asked == NULL ? "on no date, or at another time of the week" : asked);
}

static json_t *
parse (const char *file, const char *text, Complaints *complaints)
{
    json_error_t error;
    json_t *document = json_loads (text, JSON_REJECT_DUPLICATES, &error);
    Mark at = { g_intern_string (file), 1, 1 };

    if (document != NULL && is_a_batch (document))
        return document;
    if (document == NULL) {
        at.line = (guint) MAX (error.line, 1);
        at.column = (guint) MAX (error.column, 1);
        complaints_add (complaints, at, "expected what `rungwise batch --json` has written", "this is no JSON of a batch: %s",
                        error.text);
    } else {
        complaints_add (complaints, at, "expected what `rungwise batch --json` has written, version 1",
                        "this is no JSON of a batch, or one of another version");
    }
    json_decref (document);
    return NULL;
}

BatchPublished *
batch_published_read (const char *file, const char *text, const Book *book, const GPtrArray *units,
                      const BatchClock *clock, Complaints *complaints)
{
    g_autoptr (BatchPublished) published = batch_published_new ();
    Reading reading = { file, text, book, complaints, parse (file, text, complaints), g_string_new (NULL) };
    gboolean fine = reading.document != NULL && begins_then (&reading, clock);

    if (fine)
        fine = reading_head (&reading, published) && read_units (&reading, units, published) &&
               reading_lent (&reading, published);
    json_decref (reading.document);
    g_string_free (reading.path, TRUE);
    return fine ? g_steal_pointer (&published) : NULL;
}

gboolean
batch_published_begin (const char *file, const char *text, char **begin, Complaints *complaints)
{
    json_t *document = parse (file, text, complaints);

    if (document == NULL)
        return FALSE;
    *begin = g_strdup (json_string_value (json_object_get (document, "begin")));
    json_decref (document);
    return TRUE;
}
