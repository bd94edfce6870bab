/* SPDX-License-Identifier: MIT */
/* What stands beside a route, as JSON: sockets, images, looks, alternatives. */
#include "reports/route_json.h"

static json_t *
json_sockets (const Board *board, const GArray *counts)
{
    json_t *list = json_array ();

    for (guint i = 0; i < counts->len; i++) {
        const SocketCount *count = &g_array_index (counts, SocketCount, i);
        json_t *socket = json_object ();

        json_set_text (socket, "slot", board_slot (board, count->slot)->name);
        json_object_set_new (socket, "had", json_integer (count->had));
        json_object_set_new (socket, "stated", json_boolean (count->counted));
        json_object_set_new (socket, "after", json_integer (count->after));
        json_object_set_new (socket, "rated", json_integer (count->rated));
        json_object_set_new (socket, "worn", json_boolean (count->worn));
        json_array_append_new (list, socket);
    }
    return list;
}

static json_t *
json_equal_images (const State *last, const GArray *equal)
{
    json_t *images = json_object ();

    for (guint i = 0; i < equal->len; i++) {
        guint index = g_array_index (equal, guint, i);
        const Component *component = board_component (last->board, index);

        json_set_text (images, component->name, component_release (component, last->releases[index])->name);
    }
    return images;
}

static json_t *
json_looks (const RouteReport *report)
{
    g_autoptr (GPtrArray) looks = looks_of_steps (report->library, report->answer->steps);
    json_t *list = json_array ();

    for (guint i = 0; i < looks->len; i++) {
        const LookFirst *look = looks->pdata[i];
        json_t *entry = json_object ();

        json_set_text (entry, "look", look->id);
        json_set_text (entry, "says", look->says);
        json_object_set_new (entry, "minutes", json_number (look->minutes));
        json_set_text (entry, "source", look->source.text);
        json_array_append_new (list, entry);
    }
    return list;
}

/* Empty lists and objects are left out. Takes `value` over. */
static void
set_unless_empty (json_t *document, const char *key, json_t *value)
{
    if (json_array_size (value) + json_object_size (value) > 0)
        json_object_set (document, key, value);
    json_decref (value);
}

void
json_set_beside (json_t *document, const RouteReport *report, const RouteAccount *account)
{
    g_autoptr (GArray) counts = socket_counts (report->unit, account->last);
    g_autoptr (GArray) equal = components_with_equal_images (report, account->last);

    set_unless_empty (document, "sockets", json_sockets (report->unit->board, counts));
    set_unless_empty (document, "equal-images", json_equal_images (account->last, equal));
    set_unless_empty (document, "looks", json_looks (report));
}

/* ---- Alternatives ---- */

static json_t *
json_lots (const GArray *lots)
{
    json_t *list = json_array ();

    for (guint i = 0; i < lots->len; i++) {
        const Lot *lot = &g_array_index (lots, Lot, i);
        json_t *entry = json_object ();

        json_set_text (entry, "part", lot->part->name);
        json_set_text (entry, "stepping", lot->stepping);
        json_set_text (entry, "bound", lot->bound);
        json_set_text (entry, "from", owner_name (lot->owner));
        json_object_set_new (entry, "count", json_integer (lot->count));
        json_array_append_new (list, entry);
    }
    return list;
}

static json_t *
json_without (const Alternative *alternative)
{
    json_t *list = json_array ();

    for (guint i = 0; i < alternative->without->len; i++)
        json_array_append_new (list, json_string (alternative->without->pdata[i]));
    return list;
}

static json_t *
json_alternative (const Board *board, const Alternative *alternative)
{
    json_t *object = json_object ();
    json_t *needs = json_object ();

    json_set_text (object, "claim", json_claim_word (alternative->answer->claim));
    json_object_set_new (object, "counts", json_counts (alternative->answer->walk));
    json_object_set_new (needs, "methods", json_methods (alternative->needed.methods));
    json_object_set_new (needs, "opening", json_boolean (alternative->needed.opens));
    json_object_set_new (needs, "parts", json_lots (alternative->needed.lots));
    json_object_set_new (object, "needs", needs);
    json_object_set_new (object, "without", json_without (alternative));
    json_object_set_new (object, "steps", json_written_steps (board, alternative->answer->steps));
    return object;
}

void
json_set_alternatives (json_t *document, const RouteReport *report)
{
    json_t *object = NULL;
    json_t *list = NULL;

    if (report->alternatives == NULL)
        return;
    object = json_object ();
    list = json_array ();
    for (guint i = 0; i < report->alternatives->len; i++)
        json_array_append_new (list, json_alternative (report->unit->board, report->alternatives->pdata[i]));
    json_object_set_new (object, "routes", list);
    json_object_set_new (object, "complete", json_boolean (report->alternatives_complete));
    json_object_set_new (document, "alternatives", object);
}
