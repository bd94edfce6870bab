/* SPDX-License-Identifier: MIT */
/* Values of a published timetable, and its steps, which have to be steps of the book as it is now. */
#include "reports/batch_read.h"

#include <math.h>

#include "reports/json_place.h"

gsize
reading_enter (Reading *reading, const char *key)
{
    gsize before = reading->path->len;

    g_string_append_printf (reading->path, "%s%s", before == 0 ? "" : "\n", key);
    return before;
}

gsize
reading_enter_at (Reading *reading, guint index)
{
    g_autofree char *key = g_strdup_printf ("%u", index);

    return reading_enter (reading, key);
}

void
reading_leave (Reading *reading, gsize to)
{
    g_string_truncate (reading->path, to);
}

gboolean
reading_wrong (Reading *reading, const char *expected, const char *format, ...)
{
    g_autofree char *what = NULL;
    va_list list;

    va_start (list, format);
    what = g_strdup_vprintf (format, list);
    va_end (list);
    complaints_add (reading->complaints, json_place (reading->file, reading->text, reading->path->str), expected, "%s",
                    what);
    return FALSE;
}

/* ---- Values ---- */

/* Complains of a member where it is, or of the object around it where it is missing. Always FALSE. */
static gboolean
wrong_member (Reading *reading, const char *key, const char *expected)
{
    gsize back = reading_enter (reading, key);

    reading_wrong (reading, expected, "%s is missing, or is something else", key);
    reading_leave (reading, back);
    return FALSE;
}

const json_t *
reading_list (Reading *reading, const json_t *object, const char *key)
{
    const json_t *list = json_object_get (object, key);

    if (json_is_array (list))
        return list;
    wrong_member (reading, key, "expected a list");
    return NULL;
}

const char *
reading_words (Reading *reading, const json_t *object, const char *key)
{
    const char *words = json_string_value (json_object_get (object, key));

    if (words == NULL)
        wrong_member (reading, key, "expected text");
    return words;
}

gboolean
reading_number (Reading *reading, const json_t *object, const char *key, guint least, guint *number)
{
    const json_t *value = json_object_get (object, key);
    json_int_t whole = json_integer_value (value);
    g_autofree char *expected = NULL;

    if (json_is_integer (value) && whole >= (json_int_t) least && whole < G_MAXINT) {
        *number = (guint) whole;
        return TRUE;
    }
    expected = g_strdup_printf ("expected a whole number from %u", least);
    return wrong_member (reading, key, expected);
}

gboolean
reading_tenths (Reading *reading, const json_t *object, const char *key, gint64 *tenths)
{
    const json_t *value = json_object_get (object, key);
    double minutes = json_number_value (value);

    if (!json_is_number (value) || !(minutes >= 0) || minutes > 1e12)
        return wrong_member (reading, key, "expected minutes, a number from 0");
    *tenths = llround (minutes * 10.0);
    return TRUE;
}

/* ---- Steps ---- */

static gboolean
read_owner (Reading *reading, const json_t *object, Step *step)
{
    const char *word = reading_words (reading, object, "from");

    for (int owner = 0; word != NULL && owner < OWNER_COUNT; owner++) {
        if (g_str_equal (word, owner_name ((Owner) owner))) {
            step->owner = (Owner) owner;
            return TRUE;
        }
    }
    return word == NULL ? FALSE : wrong_member (reading, "from", "expected own, loan or stock");
}

static gboolean
read_stepping (Reading *reading, const json_t *object, Step *step)
{
    const char *name = json_string_value (json_object_get (object, "stepping"));

    if (name == NULL)
        return step->part->steppings->len == 0
                   ? TRUE
                   : wrong_member (reading, "stepping", "expected a stepping of the part in the book");
    for (guint i = 0; i < step->part->steppings->len; i++) {
        if (g_str_equal (name, step->part->steppings->pdata[i])) {
            step->stepping = step->part->steppings->pdata[i];
            return TRUE;
        }
    }
    return wrong_member (reading, "stepping", "expected a stepping of the part in the book");
}

gboolean
reading_part (Reading *reading, const json_t *object, Step *step)
{
    const char *part = reading_words (reading, object, "part");
    const char *bound = json_string_value (json_object_get (object, "bound"));

    if (part == NULL)
        return FALSE;
    step->part = book_find_part (reading->book, part);
    step->bound = bound == NULL ? NULL : g_intern_string (bound);
    if (step->part == NULL)
        return wrong_member (reading, "part", "expected a part of the book");
    return read_stepping (reading, object, step);
}

static gboolean
read_fit (Reading *reading, const json_t *object, Step *step)
{
    return reading_part (reading, object, step) && read_owner (reading, object, step);
}

static gboolean
read_slot (Reading *reading, const json_t *object, const Board *board, Step *step)
{
    const char *name = reading_words (reading, object, "slot");
    int slot = name == NULL ? -1 : board_find_slot (board, name);

    if (name == NULL)
        return FALSE;
    if (slot < 0)
        return wrong_member (reading, "slot", "expected a slot of the board in the book");
    step->slot = (guint) slot;
    return step->kind == STEP_REMOVE || read_fit (reading, object, step);
}

static gboolean
read_write (Reading *reading, const json_t *object, const Board *board, Step *step)
{
    const char *component_name = reading_words (reading, object, "component");
    const char *release_name = reading_words (reading, object, "release");
    const char *by = reading_words (reading, object, "by");
    int component = component_name == NULL ? -1 : board_find_component (board, component_name);
    int release = component < 0 || release_name == NULL
                      ? -1
                      : component_find_release (board_component (board, (guint) component), release_name);

    if (component_name == NULL || release_name == NULL || by == NULL)
        return FALSE;
    if (component < 0)
        return wrong_member (reading, "component", "expected a component of the board in the book");
    if (release < 0)
        return wrong_member (reading, "release", "expected a release of the component in the book");
    step->component = (guint) component;
    step->release = (guint) release;
    for (int method = 0; method < METHOD_COUNT; method++) {
        if (g_str_equal (by, method_name ((Method) method))) {
            step->method = (Method) method;
            return TRUE;
        }
    }
    return wrong_member (reading, "by", "expected a method: host, controller, clip, jumper or spare");
}

static gboolean
read_step (Reading *reading, const json_t *object, const Board *board, Step *step)
{
    const char *verb = reading_words (reading, object, "do");

    if (verb == NULL)
        return FALSE;
    if (g_str_equal (verb, "write")) {
        step->kind = STEP_WRITE;
        return read_write (reading, object, board, step);
    }
    if (!g_str_equal (verb, "remove") && !g_str_equal (verb, "fit"))
        return wrong_member (reading, "do", "expected remove, fit or write");
    step->kind = g_str_equal (verb, "fit") ? STEP_FIT : STEP_REMOVE;
    return read_slot (reading, object, board, step);
}

GArray *
reading_steps (Reading *reading, const json_t *list, const Board *board)
{
    g_autoptr (GArray) steps = g_array_new (FALSE, TRUE, sizeof (Step));

    for (guint i = 0; i < json_array_size (list); i++) {
        Step step = { .at = MARK_NONE };
        gsize back = reading_enter_at (reading, i);

        if (!read_step (reading, json_array_get (list, i), board, &step))
            return NULL;
        reading_leave (reading, back);
        g_array_append_val (steps, step);
    }
    return g_steal_pointer (&steps);
}
