/* SPDX-License-Identifier: MIT */
/* Looks: what to look at before a part is blamed, and the causes that each of them finds. */
#include "book/causes.h"
#include "book/library.h"
#include "book/read.h"

#include <string.h>

/* ---- Causes ---- */

/* Kinds of part, in the order of PartKind, and `board` as the last. */
static void
read_blames (Loader *loader, const Node *node, Cause *cause)
{
    const char *words[KIND_COUNT + 2] = { NULL };
    guint mask = 0;
    for (int kind = 0; kind < KIND_COUNT; kind++)
        words[kind] = part_kind_name ((PartKind) kind);
    words[KIND_COUNT] = "board";
    if (value_words (loader, node, "blames", words, &mask) && mask == 0)
        loader_complain (loader, node, "expected a kind of part or board, or no such key", "blames is an empty list");
    cause->blames_board = (mask & (1u << KIND_COUNT)) != 0;
    cause->blames = mask & ((1u << KIND_COUNT) - 1);
}

static void
read_fit_of (Loader *loader, const Node *node, Cause *cause)
{
    if (value_words (loader, node, "fit-of", part_kind_words (), &cause->fit_of) && cause->fit_of == 0)
        loader_complain (loader, node, "expected a kind of part, or no such key", "fit-of is an empty list");
}

static void
read_share (Loader *loader, const Node *node, Cause *cause)
{
    if (value_number (loader, node, "share", &cause->share) && cause->share == 0)
        loader_complain (loader, node, "expected a weight above 0, beside those of the other causes", "share is 0");
}

/* FALSE after a complaint: the name is taken, or means something else. */
static gboolean
cause_name_is_free (Loader *loader, const LookFirst *look, const Node *node, const char *id)
{
    if (strcmp (id, ANY_RULE) == 0 || strcmp (id, NOTHING) == 0) {
        loader_complain (loader, node, "expected another name", "\"%s\" cannot be the name of a cause", id);
        return FALSE;
    }
    const Cause *first = causes_find (loader, id);
    for (guint i = 0; !first && i < look->finds->len; i++) {
        const Cause *earlier = g_ptr_array_index (look->finds, i);
        first = earlier->id == id ? earlier : NULL;
    }
    if (!loader_is_first (loader, "cause", id, node->at, first ? &first->at : NULL))
        return FALSE;
    const Rule *rule = rules_find (loader, id);
    if (!rule)
        return TRUE;
    g_autofree char *expected = g_strdup_printf ("expected a name that is not taken; there is rule %s at %s:%u:%u", id,
                                                 rule->at.file, rule->at.line, rule->at.column);
    complaints_add (loader->complaints, node->at, expected, "the name of cause %s is taken", id);
    return FALSE;
}

static void
read_cause (Loader *loader, const Node *node, LookFirst *look)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this cause"))
        return;
    const Node *id_node = map_take (&reader, "cause", KEY_REQUIRED);
    Cause *cause = g_new0 (Cause, 1);
    cause->id = value_name (loader, id_node, "cause");
    cause->at = id_node ? id_node->at : node->at;
    cause->look = look;
    cause->says = value_text (loader, map_take (&reader, "says", KEY_REQUIRED), "says");
    read_share (loader, map_take (&reader, "share", KEY_REQUIRED), cause);
    read_blames (loader, map_take (&reader, "blames", KEY_OPTIONAL), cause);
    read_fit_of (loader, map_take (&reader, "fit-of", KEY_OPTIONAL), cause);
    map_end (&reader);
    if (cause->id && cause_name_is_free (loader, look, id_node, cause->id))
        g_ptr_array_add (look->finds, cause);
    else
        g_free (cause);
}

static void
read_finds (Loader *loader, const Node *node, LookFirst *look)
{
    const GPtrArray *items = value_list (loader, node, "finds");
    for (guint i = 0; items && i < items->len; i++)
        read_cause (loader, g_ptr_array_index (items, i), look);
    if (items && items->len == 0)
        loader_complain (loader, node, "expected at least one cause, or no such key", "finds is an empty list");
}

/* ---- Looks ---- */

static void
read_after (Loader *loader, const Node *node, LookFirst *look)
{
    if (value_words (loader, node, "after", part_kind_words (), &look->after) && look->after == 0)
        loader_complain (loader, node, "expected at least one kind of part", "after is an empty list");
}

static void
read_works_on (Loader *loader, const Node *node, LookFirst *look)
{
    if (node && value_words (loader, node, "works-on", part_kind_words (), &look->works_on) && look->works_on == 0)
        loader_complain (loader, node, "expected at least one kind of part, or no such key",
                         "works-on is an empty list");
}

/* Of a look there is nothing to do for, it says nothing whether the unit is on. */
static void
read_unit_on (Loader *loader, const Node *node, LookFirst *look)
{
    if (value_yes (loader, node, "unit-on", &look->unit_on) && look->unit_on && look->by_elimination)
        loader_complain (loader, node, "expected no such key: by elimination there is nothing to look at",
                         "unit-on beside by-elimination");
}

/* There is nothing to do by elimination, so it takes no time, and has to say what is left. */
static void
read_minutes_and_finds (Loader *loader, MapReader *reader, LookFirst *look)
{
    gboolean by_elimination = look->by_elimination;
    const Node *minutes = map_take (reader, "minutes", by_elimination ? KEY_OPTIONAL : KEY_REQUIRED);
    if (minutes && by_elimination)
        loader_complain (loader, minutes, "expected no minutes: by elimination there is nothing to look at",
                         "minutes beside by-elimination");
    else
        value_minutes (loader, minutes, "minutes", &look->minutes);
    read_finds (loader, map_take (reader, "finds", by_elimination ? KEY_REQUIRED : KEY_OPTIONAL), look);
}

static void
read_look (Loader *loader, const Node *node)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this look"))
        return;
    const Node *id_node = map_take (&reader, "look", KEY_REQUIRED);
    LookFirst *look = look_new (value_name (loader, id_node, "look"), id_node ? id_node->at : node->at);
    read_after (loader, map_take (&reader, "after", KEY_REQUIRED), look);
    look->says = value_text (loader, map_take (&reader, "says", KEY_REQUIRED), "says");
    value_yes (loader, map_take (&reader, "by-elimination", KEY_OPTIONAL), "by-elimination", &look->by_elimination);
    read_works_on (loader, map_take (&reader, "works-on", KEY_OPTIONAL), look);
    read_unit_on (loader, map_take (&reader, "unit-on", KEY_OPTIONAL), look);
    read_minutes_and_finds (loader, &reader, look);
    map_take_source (&reader, &look->source);
    map_end (&reader);
    const LookFirst *first = look->id ? looks_find (loader, look->id) : NULL;
    if (look->id && loader_is_first (loader, "look", look->id, look->at, first ? &first->at : NULL)) {
        g_ptr_array_add (loader->library->looks, look);
        return;
    }
    loader_lose_node (loader, node); /* its causes go with it */
    look_free (look);
}

void
read_looks (Loader *loader, const Node *root)
{
    MapReader reader;
    if (!map_begin (&reader, loader, root, "this document"))
        return;
    const GPtrArray *items = value_list (loader, map_take (&reader, "looks", KEY_REQUIRED), "looks");
    for (guint i = 0; items && i < items->len; i++)
        read_look (loader, g_ptr_array_index (items, i));
    map_end (&reader);
}
