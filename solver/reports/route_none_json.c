/* SPDX-License-Identifier: MIT */
/* Why there is no route, as JSON: docs/route-json.md, `none`. */
#include "reports/route_none_json.h"
#include "reports/json.h"

static const char *
kind_key (NoneKind kind)
{
    static const char *const keys[] = { "never", "not-known", "not-from-here", "not-with-this", "not-settled" };

    return keys[kind];
}

static json_t *
json_fact (const BlockingFact *fact)
{
    json_t *object = json_object ();

    json_set_text (object, "says", fact->says);
    json_set_place (object, "at", fact->at);
    json_set_text (object, "source", fact->source.text);
    json_object_set_new (object, "of-shop", json_boolean (fact->of_shop));
    json_object_set_new (object, "stated-no", json_boolean (fact->stated_no));
    return object;
}

static json_t *
json_sets (const NoRoute *none, const GPtrArray *sets)
{
    json_t *list = json_array ();

    for (guint i = 0; i < sets->len; i++) {
        const GArray *set = g_ptr_array_index (sets, i);
        json_t *facts = json_array ();

        for (guint f = 0; f < set->len; f++)
            json_array_append_new (facts, json_fact (g_ptr_array_index (none->facts, g_array_index (set, guint, f))));
        json_array_append_new (list, facts);
    }
    return list;
}

static json_t *
json_addition (const Addition *addition)
{
    const Walk *walk = addition->answer->walk;
    json_t *object = json_object ();

    json_set_text (object, "says", addition->says);
    if (addition->part != NULL) {
        json_set_text (object, "part", addition->part->name);
        json_set_text (object, "stepping", addition->stepping);
        json_set_text (object, "bound", addition->bound);
        json_object_set_new (object, "count", json_integer (addition->count));
    }
    json_object_set_new (object, "proved", json_boolean (addition->answer->claim == CLAIM_PROVED_SHORTEST));
    json_object_set_new (object, "steps", json_integer (walk->steps));
    json_object_set_new (object, "insertions", json_integer (walk->insertions));
    json_object_set_new (object, "openings", json_integer (walk->openings));
    json_object_set_new (object, "minutes", json_number (walk->minutes));
    return object;
}

json_t *
none_to_json (const RouteReport *report)
{
    const NoRoute *none = report->none;

    if (none == NULL)
        return NULL;
    json_t *object = json_object ();
    json_t *additions = json_array ();
    for (guint i = 0; i < none->additions->len; i++)
        json_array_append_new (additions, json_addition (g_ptr_array_index (none->additions, i)));
    json_set_text (object, "kind", kind_key (none->kind));
    json_object_set_new (object, "sets", json_sets (none, none->sets));
    json_object_set_new (object, "minimal", json_boolean (none->minimal));
    json_object_set_new (object, "complete", json_boolean (none->complete));
    json_object_set_new (object, "lifts", json_sets (none, none->lifts));
    json_object_set_new (object, "additions", additions);
    json_object_set_new (object, "tried", json_integer (none->tried));
    json_object_set_new (object, "all-tried", json_boolean (none->all_tried));
    return object;
}
