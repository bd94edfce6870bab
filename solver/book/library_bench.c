/* SPDX-License-Identifier: MIT */
/* Library: making and freeing what is one bench's own: units, wants, shops, routes, records. */
#include "book/library.h"

/* ---- Units ---- */

UnitRelease *
unit_releases_new (const Board *board)
{
    UnitRelease *releases = g_new0 (UnitRelease, board->components->len + 1);
    for (guint i = 0; i < board->components->len; i++) {
        releases[i].may_be = g_new0 (gboolean, board_component (board, i)->releases->len + 1);
        releases[i].floor = -1;
    }
    return releases;
}

static void
unit_releases_free (UnitRelease *releases, const Board *board)
{
    for (guint i = 0; releases && i < board->components->len; i++)
        g_free (releases[i].may_be);
    g_free (releases);
}

Unit *
unit_new (const char *id, const Board *board, Mark at)
{
    Unit *unit = g_new0 (Unit, 1);
    unit->id = id;
    unit->file = at.file;
    unit->board = board;
    unit->priority = 1;
    unit->becomes_at = unit->at = at;
    unit->releases = unit_releases_new (board);
    unit->fitted = g_new0 (Fitted, board->slots->len + 1);
    for (guint i = 0; i < board->slots->len; i++)
        unit->fitted[i].at = at;
    return unit;
}

void
unit_free (Unit *unit)
{
    unit_releases_free (unit->releases, unit->board);
    unit_releases_free (unit->began_releases, unit->board);
    g_free (unit->fitted);
    g_free (unit->began);
    g_clear_pointer (&unit->pulled, g_array_unref);
    g_free (unit->failed);
    g_free (unit->insertions);
    g_free (unit->counted);
    g_free (unit->factory.label);
    g_free (unit);
}

Factory
factory_copy (const Factory *factory, const Board *board)
{
    Factory copy = *factory;
    copy.label = g_memdup2 (factory->label, board->components->len * sizeof *factory->label);
    return copy;
}

/* ---- Wants ---- */

Want *
want_new (const char *name, const Board *board, Mark at)
{
    Want *want = g_new0 (Want, 1);
    want->name = name;
    want->file = at.file;
    want->board = board;
    want->slots = g_new0 (WantSlot, board->slots->len + 1);
    want->keep_slot = g_new0 (gboolean, board->slots->len + 1);
    want->firmware = g_new0 (Expr *, board->components->len + 1);
    want->keep_component = g_new0 (gboolean, board->components->len + 1);
    want->at = at;
    return want;
}

void
want_free (Want *want)
{
    for (guint i = 0; i < want->board->slots->len; i++)
        if (want->slots[i].tests)
            g_array_unref (want->slots[i].tests);
    for (guint i = 0; i < want->board->components->len; i++)
        expression_free (want->firmware[i]);
    g_free (want->slots);
    g_free (want->firmware);
    g_free (want->keep_slot);
    g_free (want->keep_component);
    g_free (want->exact_release);
    g_free (want);
}

/* ---- Shops ---- */

void
shop_free (Shop *shop)
{
    if (!shop)
        return;
    g_array_unref (shop->lots);
    g_clear_pointer (&shop->shifts, g_array_unref);
    g_clear_pointer (&shop->found, g_array_unref);
    g_free (shop);
}

Shop *
shop_new_default (void)
{
    Shop *shop = g_new0 (Shop, 1);
    shop->methods = (1u << METHOD_COUNT) - 1;
    shop->lots = g_array_new (FALSE, TRUE, sizeof (Lot));
    shop->opening_minutes = 6;
    shop->start_minutes = 5;
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        shop->remove_minutes[kind] = 2;
        shop->fit_minutes[kind] = 3;
    }
    shop->dark_after_minutes = 10;
    shop->technicians = shop->stations = 1;
    return shop;
}

Shop *
shop_copy (const Shop *shop)
{
    Shop *copy = g_memdup2 (shop, sizeof *shop);
    copy->lots = g_array_copy (shop->lots);
    copy->shifts = shop->shifts ? g_array_ref (shop->shifts) : NULL; /* never changed */
    copy->found = shop->found ? g_array_copy (shop->found) : NULL;
    return copy;
}

/* ---- Routes and records ---- */

void
route_free (gpointer data)
{
    WrittenRoute *route = data;
    g_array_unref (route->steps);
    g_free (route);
}

RecordEntry *
record_entry_new (Mark at)
{
    RecordEntry *entry = g_new0 (RecordEntry, 1);
    entry->at = at;
    return entry;
}

static void
record_entry_free (RecordEntry *entry, const Board *board)
{
    unit_releases_free (entry->firmware, board);
    g_free (entry->fitted);
    g_free (entry->looked_at);
    g_free (entry);
}

Record *
record_new (const char *name, const Board *board, Mark at)
{
    Record *record = g_new0 (Record, 1);
    record->name = name;
    record->file = at.file;
    record->board = board;
    record->entries = g_ptr_array_new ();
    record->at = at;
    return record;
}

void
record_free (gpointer data)
{
    Record *record = data;
    for (guint i = 0; i < record->entries->len; i++)
        record_entry_free (g_ptr_array_index (record->entries, i), record->board);
    g_ptr_array_unref (record->entries);
    g_free (record);
}

void
library_add_record (Library *library, Record *record)
{
    GPtrArray *of_unit = g_hash_table_lookup (library->records_by_unit, record->unit);

    if (of_unit == NULL) {
        of_unit = g_ptr_array_new ();
        g_hash_table_insert (library->records_by_unit, (gpointer) record->unit, of_unit);
    }
    g_ptr_array_add (of_unit, record);
    g_ptr_array_add (library->records, record);
}

const GPtrArray *
library_records_of (const Library *library, const char *unit)
{
    return g_hash_table_lookup (library->records_by_unit, unit);
}
