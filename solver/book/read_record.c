/* SPDX-License-Identifier: MIT */
/* Records: what was done at the bench, read for the board of the unit that they are about. */
#include "book/library.h"
#include "book/read.h"
#include "book/read_unit.h"

#define MOST_STEPS 100000 /* more than anybody does to one unit */

/* The step's number in the route, or a step written out. FALSE after a complaint. */
static gboolean
read_entry_step (Loader *loader, const Board *board, const Node *node, RecordEntry *entry)
{
    gint64 number = 0;
    if (!node)
        return FALSE;
    if (node->kind == NODE_MAP)
        return read_step (loader, board, node, &entry->step);
    if (node->kind == NODE_LIST || node_is_blank (node)) {
        complain_of_kind (loader, node, "step", "expected the step's number in the route, or a step written out");
        return FALSE;
    }
    if (!value_whole (loader, node, "step", 1, MOST_STEPS, &number))
        return FALSE;
    entry->number = (guint) number;
    entry->step.at = node->at;
    return TRUE;
}

static void
read_entry_parts (Loader *loader, const Node *node, const Board *board, RecordEntry *entry)
{
    if (!node)
        return;
    entry->fitted = g_new0 (Fitted, board->slots->len + 1);
    entry->looked_at = g_new0 (gboolean, board->slots->len + 1);
    read_fitted (loader, node, "fitted", board, entry->fitted, entry->looked_at);
}

static const char *const outcome_words[] = { "done", "failed", "skipped", NULL }; /* in the order of EntryOutcome */

const char *
entry_outcome_name (EntryOutcome outcome)
{
    return outcome_words[outcome];
}

static void
read_entry (Loader *loader, const Node *node, Record *record)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this entry"))
        return;
    RecordEntry *entry = record_entry_new (node->at);
    g_ptr_array_add (record->entries, entry);
    read_entry_step (loader, record->board, map_take (&reader, "step", KEY_REQUIRED), entry);
    int outcome = value_word (loader, map_take (&reader, "outcome", KEY_REQUIRED), "outcome", outcome_words);
    entry->outcome = (EntryOutcome) MAX (outcome, 0);
    KeyNeed found_need = outcome == ENTRY_FAILED ? KEY_REQUIRED : KEY_OPTIONAL;
    entry->found = value_text (loader, map_take (&reader, "found", found_need), "found");
    entry->firmware = read_releases_found (loader, map_take (&reader, "firmware", KEY_OPTIONAL), record->board);
    read_entry_parts (loader, map_take (&reader, "fitted", KEY_OPTIONAL), record->board, entry);
    entry->time = value_time (loader, map_take (&reader, "time", KEY_REQUIRED), "time");
    entry->initials = value_text (loader, map_take (&reader, "initials", KEY_REQUIRED), "initials");
    map_end (&reader);
}

void
read_record (Loader *loader, const Node *root)
{
    MapReader reader;
    if (!map_begin (&reader, loader, root, "this record"))
        return;
    const char *name = value_text (loader, map_take (&reader, "record", KEY_REQUIRED), "record");
    const Node *unit_node = map_take (&reader, "unit", KEY_REQUIRED);
    const char *id = value_text (loader, unit_node, "unit");
    const char *route = value_text (loader, map_take (&reader, "route", KEY_OPTIONAL), "route");
    const Node *entries = map_take (&reader, "entries", KEY_REQUIRED);
    const GPtrArray *items = value_list (loader, entries, "entries");
    map_end (&reader);
    const Unit *unit = read_unit_name (loader, unit_node, id);
    if (!unit)
        return;
    Record *record = record_new (name, unit->board, root->at);
    record->unit = id;
    record->route = route;
    record->entries_at = entries ? entries->at : root->at;
    for (guint i = 0; items && i < items->len; i++)
        read_entry (loader, g_ptr_array_index (items, i), record);
    library_add_record (loader->library, record);
}

gboolean
record_names_steps (const Record *record)
{
    for (guint i = 0; i < record->entries->len; i++)
        if (((const RecordEntry *) g_ptr_array_index (record->entries, i))->number > 0)
            return TRUE;
    return FALSE;
}

/* With or without seconds; GLib reads it with them alone. */
GDateTime *
record_entry_moment (const RecordEntry *entry)
{
    static const gsize to_minutes = sizeof "2034-03-05T09:41" - 1;
    g_autoptr (GString) text = g_string_new (entry->time);

    if (text->len > to_minutes && text->str[to_minutes] != ':')
        g_string_insert (text, (gssize) to_minutes, ":00");
    return g_date_time_new_from_iso8601 (text->str, NULL);
}
