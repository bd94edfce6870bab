/* SPDX-License-Identifier: MIT */
/* Written routes: steps in order, by hand or as this program prints them. */
#include "book/read.h"

#include <string.h>

/* What a printed route says beside the step itself; read past. */
static const char *const further_keys[] = {
    "number",      "starts-before", "starts-after", "minutes",         "attended",    "why",
    "no-return",   "recovery",      "cautions",     "file",            "note",        "text",
    "opening",     "start",         "exchange",     "power",           "serial",      "replaces",
    "also-writes", "takes-effect",  "way-back",     "clears-settings", "if-it-fails", "asks-clear-settings",
    "floor-rises", "looks",         "binds",        "needed",          "needed-by",   "needed-rule",
    "label",       "needed-by-label",
    NULL,
};

static gboolean
read_remove (MapReader *reader, const Board *board, Step *step)
{
    Loader *loader = reader->loader;
    const Node *slot = map_take (reader, "slot", KEY_REQUIRED), *part = map_take (reader, "part", KEY_OPTIONAL);
    const Node *stepping = map_take (reader, "stepping", KEY_OPTIONAL);
    value_word (loader, map_take (reader, "from", KEY_OPTIONAL), "from", owner_words ()); /* removing needs neither */
    value_name (loader, map_take (reader, "bound", KEY_OPTIONAL), "bound");
    int index = slot ? read_slot_name (loader, board, slot) : -1;
    if (index < 0)
        return FALSE;
    step->slot = (guint) index;
    step->part = part ? read_part_name (loader, part, board_slot (board, step->slot)->takes) : NULL;
    if (step->part && stepping)
        read_stepping (loader, step->part, stepping, part, &step->stepping);
    return TRUE;
}

static gboolean
read_fit (MapReader *reader, const Board *board, Step *step)
{
    Loader *loader = reader->loader;
    const Node *slot = map_take (reader, "slot", KEY_REQUIRED), *part = map_take (reader, "part", KEY_REQUIRED);
    const Node *stepping = map_take (reader, "stepping", KEY_OPTIONAL),
               *bound = map_take (reader, "bound", KEY_OPTIONAL);
    int owner = value_word (loader, map_take (reader, "from", KEY_REQUIRED), "from", owner_words ());
    int index = slot ? read_slot_name (loader, board, slot) : -1;
    if (index < 0 || owner < 0 || !part)
        return FALSE;
    step->slot = (guint) index;
    step->owner = (Owner) owner;
    step->bound = value_name (loader, bound, "bound");
    step->part = read_part_name (loader, part, board_slot (board, step->slot)->takes);
    return step->part && read_stepping (loader, step->part, stepping, part, &step->stepping);
}

static gboolean
read_write (MapReader *reader, const Board *board, Step *step)
{
    Loader *loader = reader->loader;
    const Node *component = map_take (reader, "component", KEY_REQUIRED);
    const Node *release = map_take (reader, "release", KEY_REQUIRED);
    int method = value_word (loader, map_take (reader, "by", KEY_REQUIRED), "by", method_words ());
    int index = component ? read_component_name (loader, board, component) : -1;
    if (index < 0 || !release)
        return FALSE;
    int found = read_release_name (loader, board_component (board, (guint) index), release);
    step->component = (guint) index;
    step->release = (guint) MAX (found, 0);
    step->method = (Method) MAX (method, 0);
    return found >= 0 && method >= 0;
}

gboolean
read_step (Loader *loader, const Board *board, const Node *node, Step *out)
{
    static const char *const words[] = { "remove", "fit", "write", NULL }; /* in the order of StepKind */
    static const char *const own_keys[] = { "do",    "slot",      "part",    "stepping", "from",
                                            "bound", "component", "release", "by" };
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this step"))
        return FALSE;
    Step step = { .at = node->at };
    int kind = value_word (loader, map_take (&reader, "do", KEY_REQUIRED), "do", words);
    gboolean right = FALSE;
    if (kind == STEP_REMOVE)
        right = read_remove (&reader, board, &step);
    else if (kind == STEP_FIT)
        right = read_fit (&reader, board, &step);
    else if (kind == STEP_WRITE)
        right = read_write (&reader, board, &step);
    for (guint i = 0; kind < 0 && i < G_N_ELEMENTS (own_keys); i++)
        map_take (&reader, own_keys[i], KEY_OPTIONAL);
    for (guint i = 0; further_keys[i]; i++)
        map_take (&reader, further_keys[i], KEY_OPTIONAL);
    map_end (&reader);
    step.kind = (StepKind) MAX (kind, 0);
    if (right)
        *out = step;
    return right;
}

static void
read_route_for (Loader *loader, const Node *root, const Board *board)
{
    MapReader reader;
    if (!map_begin (&reader, loader, root, "this route"))
        return;
    const char *name = value_text (loader, map_take (&reader, "route", KEY_REQUIRED), "route");
    const GPtrArray *items = value_list (loader, map_take (&reader, "steps", KEY_REQUIRED), "steps");
    map_end_reading_past (&reader);
    if (!board)
        return;
    WrittenRoute *route = g_new0 (WrittenRoute, 1);
    route->name = name;
    route->file = root->at.file;
    route->board = board;
    route->steps = g_array_new (FALSE, TRUE, sizeof (Step));
    route->at = root->at;
    for (guint i = 0; items && i < items->len; i++) {
        Step step;
        if (read_step (loader, board, g_ptr_array_index (items, i), &step))
            g_array_append_val (route->steps, step);
    }
    g_ptr_array_add (loader->library->routes, route);
}

void
read_route (Loader *loader, const Node *root)
{
    read_for_board (loader, root, "route", read_route_for);
}
