/* SPDX-License-Identifier: MIT */
/* Puzzles: planning puzzles whose shortest lengths are published, written as books, units and wants.
 *
 * Hanoi: discs are components, pegs are their releases, so that a move is one write. Rings: a ring is a component, on
 * and off are its releases. The board has no slots, firmware is written on standby power, and no rule stops anything,
 * so every state starts and only `to-write` decides what may follow what. */
#ifndef PUZZLES_H
#define PUZZLES_H

#include <glib.h>

/* Files of one job in one text: discs on the first of `pegs` pegs, wanted on the last. Transfer full. */
char *puzzle_hanoi (int discs, int pegs);
/* Chinese rings, all on, wanted all off. Transfer full. */
char *puzzle_rings (int rings);

#endif
