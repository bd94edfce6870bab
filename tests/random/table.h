/* SPDX-License-Identifier: MIT */
/* Table: worlds, each once, by number; and the moves that lead out of one. */
#ifndef RANDOM_TABLE_H
#define RANDOM_TABLE_H

#include "world.h"

typedef struct {
    GArray *worlds; /* World; owned */
    int *index;     /* number + 1; 0: free; owned */
    guint slots;    /* of `index`, a power of two, more than twice as many as there are worlds */
} WorldTable;

void world_table_init (WorldTable *table);
void world_table_clear (WorldTable *table);
const World *world_table_get (const WorldTable *table, int number);
/* The world's number; it is added if it is new (`*is_new`). Borrowed worlds move when one is added. */
int world_table_add (WorldTable *table, const World *world, gboolean *is_new);

typedef void (*MoveVisit) (const Move *move, gpointer data);
/* Every move that is allowed in `world`, in a fixed order; `verdict` is the world's. */
void each_move (const Play *play, const World *world, const Verdict *verdict, MoveVisit visit, gpointer data);

#endif
