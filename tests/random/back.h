/* SPDX-License-Identifier: MIT */
/* Back: what can be brought back from where, by trying everything. docs/method.md, "No return". */
#ifndef RANDOM_BACK_H
#define RANDOM_BACK_H

#include "exhaustive.h"

/* All worlds that the unit can come to, whatever the want keeps, and the moves between them. */
typedef struct {
    Job job; /* that keeps nothing */
    Play play;
    WorldTable table;
    GArray *into;  /* guint: for each world, where its part of `froms` begins; owned; one more at the end */
    GArray *froms; /* int: worlds that one move leads from; owned */
    gboolean too_large;
    GHashTable *distances; /* of int: a world's number -> how far each world is from one like it; owned */
} Graph;

/* With more than `most_worlds` it is too large, and nothing may be asked of it. Transfer full. */
Graph *graph_new (const Job *job, int most_worlds);
void graph_free (Graph *graph);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Graph, graph_free)

typedef enum { WAY_NONE_BEFORE, WAY_THERE, WAY_NO_RETURN } BackAnswer;

/* The working state of a step and what follows it, as it is walked. */
typedef struct {
    gboolean works; /* some state at or before the step's beginning starts */
    World working;  /* the last of them */
} WorkingState;

/* `world`, which `starts` or not, comes next. */
void working_state_note (WorkingState *state, const World *world, gboolean starts);
/* What leads from `after` back to the working state; `*steps`: the fewest, where there is a way. */
BackAnswer graph_way_back (Graph *graph, const WorkingState *state, const World *after, int *steps);
/* Whether it is for want of knowing what to write back: a release that is not known in the working state differs after. */
gboolean is_unknown_lost (const Play *play, const WorkingState *state, const World *after);

/* Of all orders of these moves that keep the order of those on one slot or component, are allowed and cost the same: how many
 * steps come before the first no-return step, at the most. `moves` is one of them, and `*own` what it has itself. FALSE: there
 * are more than can be looked at. */
gboolean latest_no_return (const Play *play, Graph *graph, const GArray *moves, Goal goal, int *own, int *most);

#endif
