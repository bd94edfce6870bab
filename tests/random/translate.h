/* SPDX-License-Identifier: MIT */
/* Translate: between the model's words and the program's, by the names that stand in the files. */
#ifndef RANDOM_TRANSLATE_H
#define RANDOM_TRANSLATE_H

#include "exhaustive.h"

#include "route/route.h"

/* The model's numbers of a release, as the component and release of a move. FALSE: it knows none of that name. */
gboolean find_release (const Job *job, const char *component, const char *release, Move *move);
/* A step from `world`. FALSE when the model knows nothing of that name, or another part is removed than is there. */
gboolean step_to_move (const Play *play, const World *world, const Board *board, const Step *step, Move *move);
Step move_to_step (const Play *play, const Library *library, const Board *board, const Move *move);
Objective goal_objective (Goal goal);
/* The model's case in which each component has these releases of the program's; -1: none. */
int find_case (const Play *play, const Board *board, const guint *releases);

#endif
