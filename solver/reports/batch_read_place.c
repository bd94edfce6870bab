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

guint
batch_published_step (const char *text, const char *unit, const char *label)
{
    json_t *document = json_loads (text, 0, NULL);
    const json_t *units = json_object_get (document, "units"), *tasks = NULL;
    int index = index_of_unit (units, unit);
    guint step = 0;

    tasks = index < 0 ? NULL : json_object_get (json_array_get (units, (gsize) index), "tasks");
    for (guint i = 0; i < json_array_size (tasks) && step == 0; i++)
        if (g_strcmp0 (json_string_value (json_object_get (json_array_get (tasks, i), "label")), label) == 0)
            step = i + 1;
    json_decref (document);
    return step;
}

char *
batch_published_note (const char *text, const char *unit)
{
    json_t *document = json_loads (text, 0, NULL);
    const json_t *units = json_object_get (document, "units");
    const char *mark = json_string_value (json_object_get (document, "timetable"));
    int index = index_of_unit (units, unit);
    const json_t *object = index < 0 ? NULL : json_array_get (units, (gsize) index);
    const char *why = json_string_value (json_object_get (object, "why"));
    char *note = NULL;

    if (object == NULL)
        note = g_strdup_printf ("timetable %s has no such unit: what other units take is not known here.", mark);
    else if (why != NULL)
        note = g_strdup_printf ("timetable %s has set it aside: %s. This plan knows nothing of the other units, and may take what "
                                "they are to have.",
                                mark, why);
    else
        note = g_strdup_printf ("its sheet of timetable %s is what counts. Where the batch is planned anew it may go "
                                "another way than here, since stock and loaners are shared.",
                                mark);
    json_decref (document);
    return note;
}

char *
batch_published_mark (const char *text)
{
    json_t *document = json_loads (text, 0, NULL);
    char *mark = g_strdup (json_string_value (json_object_get (document, "timetable")));

    json_decref (document);
    return mark;
}
