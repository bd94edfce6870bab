/* SPDX-License-Identifier: MIT */
#include "table.h"

#include <string.h>

enum { FIRST_SLOTS = 1024 };

void
world_table_init (WorldTable *table)
{
    table->worlds = g_array_new (FALSE, FALSE, sizeof (World));
    table->slots = FIRST_SLOTS;
    table->index = g_new0 (int, table->slots);
}

void
world_table_clear (WorldTable *table)
{
    g_clear_pointer (&table->worlds, g_array_unref);
    g_clear_pointer (&table->index, g_free);
}

const World *
world_table_get (const WorldTable *table, int number)
{
    return &g_array_index (table->worlds, World, number);
}

/* FNV-1a over whole words, its constants from memory; any good mixer would do. */
static guint
world_hash (const World *world)
{
    guint64 words[sizeof *world / 8], hash = 0xcbf29ce484222325u;
    memcpy (words, world, sizeof words);
    for (gsize i = 0; i < G_N_ELEMENTS (words); i++) {
        hash = (hash ^ words[i]) * 0x100000001b3u;
        hash ^= hash >> 29;
    }
    return (guint) (hash ^ hash >> 32);
}

/* Where the world stands in the index, or the free place for it. */
static int *
find (const WorldTable *table, const World *world)
{
    for (guint at = world_hash (world);; at++) {
        int *entry = &table->index[at & (table->slots - 1)];
        if (!*entry || !memcmp (world_table_get (table, *entry - 1), world, sizeof *world))
            return entry;
    }
}

static void
grow (WorldTable *table)
{
    g_free (table->index);
    table->slots *= 4;
    table->index = g_new0 (int, table->slots);
    for (guint i = 0; i < table->worlds->len; i++)
        *find (table, world_table_get (table, (int) i)) = (int) i + 1;
}

int
world_table_add (WorldTable *table, const World *world, gboolean *is_new)
{
    int *entry = find (table, world);
    *is_new = !*entry;
    if (*entry)
        return *entry - 1;
    g_array_append_vals (table->worlds, world, 1);
    *entry = (int) table->worlds->len;
    if (2 * table->worlds->len >= table->slots)
        grow (table);
    return (int) table->worlds->len - 1;
}

typedef struct {
    const Play *play;
    const World *world;
    const Verdict *verdict;
    MoveVisit visit;
    gpointer data;
} Visiting;

static void
visit_if_allowed (const Visiting *to, const Move *move)
{
    if (move_allowed (to->play, to->world, to->verdict, move))
        to->visit (move, to->data);
}

static void
each_write (const Visiting *to, int component)
{
    const Firmware *firmware = &to->play->job->firmware[component];
    for (int r = 0; r < firmware->count; r++) {
        for (int way = 0; way < WAYS; way++) {
            Move write = { .kind = MOVE_WRITE, .component = component, .release = r, .way = way };
            if (firmware->ways[way].there)
                visit_if_allowed (to, &write);
        }
    }
}

void
each_move (const Play *play, const World *world, const Verdict *verdict, MoveVisit visit, gpointer data)
{
    const Visiting to = { play, world, verdict, visit, data };
    for (int slot = 0; slot < play->job->place_count; slot++) {
        for (int triple = 0; triple < play->triple_count; triple++) {
            Move move = { .kind = MOVE_FIT, .slot = slot, .triple = triple };
            if (world->held[slot] == triple + 1)
                move.kind = MOVE_REMOVE;
            else if (world->held[slot])
                continue;
            visit_if_allowed (&to, &move);
        }
    }
    for (int c = 0; c < play->job->firmware_count; c++)
        if (!play->job->firmware[c].gone)
            each_write (&to, c);
}
