/* SPDX-License-Identifier: MIT */
/* The head of a published timetable: which one it is, of which moment and shop, and what was out of use already. */
#include "reports/batch_read.h"

#include <string.h>

enum { MARK_DIGITS = 8 };

gboolean
reading_is_mark (const char *text)
{
    guint digits = 0;

    while (g_ascii_isxdigit (text[digits]))
        digits++;
    return digits == MARK_DIGITS && text[digits] == '\0';
}

static gboolean
read_mark (Reading *reading, BatchPublished *published)
{
    const char *mark = reading_words (reading, reading->document, "timetable");

    if (mark == NULL)
        return FALSE;
    if (!reading_is_mark (mark)) {
        reading_enter (reading, "timetable");
        return reading_wrong (reading, "expected eight hexadecimal digits", "\"%s\" is no mark of a timetable", mark);
    }
    published->mark = g_intern_string (mark);
    return TRUE;
}

static gboolean
read_lost (Reading *reading, const json_t *object, BatchPublished *published)
{
    const char *unit = reading_words (reading, object, "unit");
    const char *of = json_string_value (json_object_get (object, "from-unit"));
    guint pulled_by = 0;
    PublishedLost lost = { .of = of == NULL ? NULL : g_intern_string (of) };

    if (unit == NULL || !reading_number (reading, object, "entry", 1, &lost.entry) ||
        (json_object_get (object, "number") != NULL && !reading_number (reading, object, "number", 1, &lost.number)) ||
        (json_object_get (object, "pulled-by") != NULL &&
         !reading_number (reading, object, "pulled-by", 1, &pulled_by)))
        return FALSE;
    lost.of_step = pulled_by - 1; /* none becomes G_MAXUINT */
    if (of != NULL) {
        Step step = { .at = MARK_NONE };

        if (!reading_part (reading, object, &step))
            return FALSE;
        lost.part = step.part;
        lost.stepping = step.stepping;
        lost.bound = step.bound;
    }
    lost.unit = g_intern_string (unit);
    g_array_append_val (published->lost, lost);
    return TRUE;
}

static gboolean
read_all_lost (Reading *reading, BatchPublished *published)
{
    const json_t *list = NULL;
    gsize back = 0;

    if (json_object_get (reading->document, "out-of-use") == NULL)
        return TRUE;
    list = reading_list (reading, reading->document, "out-of-use");
    if (list == NULL)
        return FALSE;
    back = reading_enter (reading, "out-of-use");
    for (guint i = 0; i < json_array_size (list); i++) {
        gsize entry = reading_enter_at (reading, i);

        if (!read_lost (reading, json_array_get (list, i), published))
            return FALSE;
        reading_leave (reading, entry);
    }
    reading_leave (reading, back);
    return TRUE;
}

gboolean
reading_found (Reading *reading, const json_t *object, guint *last)
{
    const json_t *list = reading_list (reading, object, "found");
    gsize back = reading_enter (reading, "found");

    if (list == NULL)
        return FALSE;
    for (guint i = 0; i < json_array_size (list); i++) {
        gsize one = reading_enter_at (reading, i);
        guint entry = 0;

        if (!reading_number (reading, json_array_get (list, i), "entry", 1, &entry))
            return FALSE;
        *last = MAX (*last, entry);
        reading_leave (reading, one);
    }
    reading_leave (reading, back);
    return TRUE;
}

gboolean
reading_head (Reading *reading, BatchPublished *published)
{
    const json_t *document = reading->document;
    const char *shop = json_string_value (json_object_get (document, "shop"));

    if (!read_mark (reading, published) ||
        (json_object_get (document, "now") != NULL && !reading_tenths (reading, document, "now", &published->made)) ||
        !reading_number (reading, document, "technicians", 0, &published->technicians) ||
        !reading_number (reading, document, "places", 0, &published->places))
        return FALSE;
    published->shop = shop == NULL ? NULL : g_intern_string (shop);
    return read_all_lost (reading, published);
}
