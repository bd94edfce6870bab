/* SPDX-License-Identifier: MIT */
/* What a published timetable says of itself, for complaints and for people. */
#include "reports/batch_read.h"

#include "reports/json_place.h"

static int
index_of_unit (const json_t *units, const char *id)
{
    for (guint i = 0; i < json_array_size (units); i++)
        if (g_strcmp0 (json_string_value (json_object_get (json_array_get (units, i), "unit")), id) == 0)
            return (int) i;
    return -1;
}

Mark
batch_published_place (const char *file, const char *text, const char *unit)
{
    json_t *document = json_loads (text, 0, NULL);
    int index = index_of_unit (json_object_get (document, "units"), unit);
    g_autofree char *path = index < 0 ? g_strdup ("units") : g_strdup_printf ("units\n%d", index);

    if (document == NULL)
        return (Mark){ g_intern_string (file), 1, 1 };
    json_decref (document);
    return json_place (file, text, path);
}

char *
batch_published_mark (const char *text)
{
    json_t *document = json_loads (text, 0, NULL);
    char *mark = g_strdup (json_string_value (json_object_get (document, "timetable")));

    json_decref (document);
    return mark;
}
