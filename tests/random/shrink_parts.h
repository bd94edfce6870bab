/* SPDX-License-Identifier: MIT */
/* Shrink: what its files share. An edit is made where `turn`, counted down, reaches it; TRUE: it was made. */
#ifndef RANDOM_SHRINK_PARTS_H
#define RANDOM_SHRINK_PARTS_H

#include "model.h"

gboolean shrink_is_turn (int *turn);
/* Whether a condition somewhere in the job has such an atom; `value` -1: any. */
gboolean shrink_is_named (Job *job, NodeKind kind, int subject, int value);

/* shrink_hardware.c */
gboolean shrink_hardware (Job *job, int *turn);
gboolean shrink_habits (Job *job, int *turn);

#endif
