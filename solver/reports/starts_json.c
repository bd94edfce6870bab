/* SPDX-License-Identifier: MIT */
/* The answer of `starts` as JSON: docs/route-json.md, "What starts prints". */
#include "reports/json.h"
#include "reports/reports.h"

#define SCHEMA_NAME    "rungwise-starts"
#define SCHEMA_VERSION 1

static const char *
starts_key (Starts starts)
{
    static const char *const keys[] = { "yes", "no", "not-known" };

    return keys[starts];
}

static json_t *
json_group (const StartsAnswer *answer, const StartsGroup *group)
{
    json_t *object = json_object ();
    json_t *combinations = json_array ();
    json_t *broken = json_array ();

    json_set_text (object, "starts", starts_key (group->starts));
    for (guint i = 0; i < group->cases->len; i++)
        json_array_append_new (combinations, json_releases (answer->unit->board, g_ptr_array_index (group->cases, i)));
    json_object_set_new (object, "combinations", combinations);
    for (guint i = 0; i < group->broken->len; i++)
        json_array_append_new (broken, json_broken (g_ptr_array_index (group->broken, i)));
    json_object_set_new (object, "broken", broken);
    return object;
}

char *
report_starts_json (const GPtrArray *answers)
{
    json_t *document = json_object ();
    json_t *units = json_array ();

    json_set_text (document, "schema", SCHEMA_NAME);
    json_object_set_new (document, "version", json_integer (SCHEMA_VERSION));
    for (guint i = 0; i < answers->len; i++) {
        const StartsAnswer *answer = g_ptr_array_index (answers, i);
        json_t *unit = json_unit (answer->unit);
        json_t *groups = json_array ();

        for (guint g = 0; g < answer->groups->len; g++)
            json_array_append_new (groups, json_group (answer, g_ptr_array_index (answer->groups, g)));
        json_object_set_new (unit, "outcome", json_integer (answer->outcome));
        json_object_set_new (unit, "answers", groups);
        json_array_append_new (units, unit);
    }
    json_object_set_new (document, "units", units);
    return json_finish (document);
}
