/* SPDX-License-Identifier: MIT */
/* A unit on the bench while a record is applied to it: parts that move, releases that become known. Nothing here asks
 * whether a step was safe; what was done was done. */
#ifndef RUNGWISE_CHECK_RESUME_BENCH_H
#define RUNGWISE_CHECK_RESUME_BENCH_H

#include "check/check.h"

typedef struct {
    Unit *unit;          /* owned; nothing in it is NULL; NULL itself once it was taken over */
    Shop *shop;          /* owned; likewise */
    int *raised;         /* owned; per component: the highest `lowest` that entries made it hold; -1: none */
    gboolean *written;   /* owned; per component: what it has need not be what it began with */
    gboolean *worked_on; /* owned; per slot: what it holds need not be what it began with */
} Bench;

Bench *bench_new (const Unit *unit, const Shop *shop);
void bench_free (Bench *bench);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Bench, bench_free)

/* Out of its slot: own parts go beside the unit, others back to where they are from. */
void bench_take_out (Bench *bench, guint slot);
/* Takes what `step` fits from where it is: its own `bound` if it says one, otherwise a part bound to nobody before one
 * that is bound. FALSE: none is at hand, and nothing changed. */
gboolean bench_pick_up (Bench *bench, const Step *step, Fitted *part);
/* Into the slot. A part that is not a loaner and binds itself is taken as bound from here on. */
void bench_put_in (Bench *bench, guint slot, const Fitted *part);
/* A part that was picked up is not at hand any more. */
void bench_set_aside (Bench *bench, const Fitted *part);
/* The unit was running: what binds itself, and is in a live slot, is bound. */
void bench_note_running (Bench *bench);

void bench_write (Bench *bench, const Step *step);
void bench_fail_write (Bench *bench, const Step *step);

/* What was seen goes before what was worked out. */
void bench_find_part (Bench *bench, guint slot, const Fitted *found);
void bench_find_release (Bench *bench, guint component, const UnitRelease *found);

/* States the floors that entries raised. To be called once, after the last entry. */
void bench_state_floors (Bench *bench);

#endif
