/* SPDX-License-Identifier: MIT */
/* The pulled parts of a published timetable: whose each is, so that it stays that one. */
#include "reports/batch_read.h"

static gboolean
read_pulled (Reading *reading, const json_t *object, BatchPublished *published)
{
    const char *unit = reading_words (reading, object, "from-unit");
    const char *serial = json_string_value (json_object_get (object, "serial"));
    Step step = { .at = MARK_NONE };
    guint number = 0, pulled_by = 0;

    if (unit == NULL || !reading_part (reading, object, &step) || !reading_number (reading, object, "number", 1, &number) ||
        (json_object_get (object, "pulled-by") != NULL &&
         !reading_number (reading, object, "pulled-by", 1, &pulled_by)))
        return FALSE;
    PublishedPart part = { g_intern_string (unit),
                           step.part,
                           step.stepping,
                           step.bound,
                           serial == NULL ? NULL : g_intern_string (serial),
                           number,
                           pulled_by - 1 }; /* none becomes G_MAXUINT */
    g_array_append_val (published->parts, part);
    return TRUE;
}

gboolean
reading_lent (Reading *reading, BatchPublished *published)
{
    const json_t *list = NULL;

    g_string_truncate (reading->path, 0);
    list = reading_list (reading, reading->document, "parts");
    if (list == NULL)
        return FALSE;
    reading_enter (reading, "parts");
    for (guint i = 0; i < json_array_size (list); i++) {
        const json_t *object = json_array_get (list, i);
        gsize back = reading_enter_at (reading, i);

        if (g_strcmp0 (json_string_value (json_object_get (object, "owner")), "pulled") == 0 &&
            !read_pulled (reading, object, published))
            return FALSE;
        reading_leave (reading, back);
    }
    return TRUE;
}
