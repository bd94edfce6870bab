/* SPDX-License-Identifier: MIT */
/* The encoding's working state; for layers*.c only. */
#ifndef RUNGWISE_ROUTE_LAYERS_PARTS_H
#define RUNGWISE_ROUTE_LAYERS_PARTS_H

#include "route/layers.h"

struct Layers {
    const Problem *problem; /* borrowed */
    guint *group;           /* owned; per variable */
    GArray *active;         /* guint: variables that can change; owned */
    GArray *order;          /* guint: groups in the order of the sweep; owned */
    guint *position;        /* owned; per variable: its group's place in the sweep; slots: before all of it */
    GPtrArray *writes_at;   /* per place in the sweep: GArray of guint (index into Problem.writes); owned */
    /* Learnt from what solutions broke; hold wherever the clauses they stand beside do. */
    GPtrArray *start, *standby, *bars[METHOD_COUNT]; /* Clause*; owned */
    GPtrArray *always;                               /* Clause*; owned; hold between any two layers */
    gboolean hopeless;                               /* something that cannot change is not as wanted */
    guint runs;
};

/* One unrolling. Names by variable and time, by place in the sweep and layer, and so on. */
typedef struct {
    Layers *layers;     /* borrowed */
    Packages *packages; /* owned */
    guint n_layers;
    PackageName *value;  /* owned; [time * n_vars + var]: version = value */
    PackageName *floor;  /* owned; likewise: version = highest level - level, so that low floors are tried first */
    PackageName *write;  /* owned; [layer * places + place]: version = number in writes_at, the last one "none" */
    PackageName *fit;    /* owned; [layer * n_vars + slot]: version = value - 1, the last one "none" */
    PackageName *take;   /* owned; likewise: 0 taken out, 1 "none" */
    PackageName *starts; /* owned; [layer * (places + 1) + place]: the state before that place starts */
    PackageName *quiet;  /* owned; likewise: nothing harms on standby */
    gint8 *starts_made;  /* owned; whether starts/quiet were made */
    gint8 *quiet_made;
} Unrolled;

Unrolled *unrolled_new (Layers *layers, guint n_layers);
void unrolled_free (Unrolled *unrolled);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Unrolled, unrolled_free)
/* At most `most` steps in all. */
void unrolled_count (Unrolled *unrolled, guint most);

/* Learns from a replay that broke a total or a count of parts. */
void layers_learn (Layers *layers, const Replay *replay);

static inline guint
layers_places (const Layers *layers)
{
    return layers->order->len;
}

#endif
