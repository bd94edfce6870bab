/* SPDX-License-Identifier: MIT */
/* A small batch that is planned, hung on the wall, and planned anew. */
#ifndef RUNGWISE_BATCH_WALL_H
#define RUNGWISE_BATCH_WALL_H

#include "batch_units.h"

typedef struct {
    SmallBatch *small;
    BatchPublished *published;
} Wall;

/* Units and records as the text says; the first plan goes by no record. */
static inline Wall
wall_new (const char *shop, const char *text)
{
    Wall wall = { .small = small_batch (shop, text) };

    wall.published = batch_publish (small_batch_plan (wall.small));
    return wall;
}

static inline Batch *
replan (Wall *wall, gint64 now)
{
    wall->small->question.published = wall->published;
    wall->small->question.now = now;
    return small_batch_plan (wall->small);
}

static inline void
wall_clear (Wall *wall)
{
    small_batch_free (wall->small);
    batch_published_free (wall->published);
}

static inline const BatchChange *
change_of (const Batch *batch, const char *id)
{
    for (guint i = 0; i < batch->units->len; i++)
        if (strcmp (((BatchUnit *) batch->units->pdata[i])->unit->id, id) == 0)
            return &batch->replan->changes[i];
    fail_msg ("there is no unit %s", id);
    return NULL;
}

static inline gboolean
is_said (const Batch *batch, const char *piece)
{
    for (guint i = 0; i < batch->said->len; i++)
        if (strstr (batch->said->pdata[i], piece) != NULL)
            return TRUE;
    return FALSE;
}

#endif
