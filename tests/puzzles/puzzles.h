/* SPDX-License-Identifier: MIT */
/* Puzzles: planning puzzles whose shortest lengths are published, written as books, units and wants.
 *
 * A move is one write, and the board has no slots. Hanoi: discs are components, pegs are their releases. Rings: a ring
 * is a component, on and off are its releases. Sliding: a tile is a component, the cells are its releases. There,
 * firmware is written on standby power, no rule stops anything, every state starts, and only `from` and `to-write`
 * decide what may follow what.
 *
 * The crossings are the other way round: whoever is on a bank is a component; a file writes the boat along
 * (`also-writes`); who may not be alone together is a rule that stops, and the host writes, so that the unit starts
 * before and after each crossing. */
#ifndef PUZZLES_H
#define PUZZLES_H

#include <glib.h>

/* Files of one job in one text: discs on the first of `pegs` pegs, wanted on the last. Transfer full. */
char *puzzle_hanoi (int discs, int pegs);
/* Chinese rings, all on, wanted all off. Transfer full. */
char *puzzle_rings (int rings);

/* Sliding tiles, three by three. Both positions are nine characters, row by row: '1' to '8' for the tiles, '.' for the
 * blank. Transfer full. */
char *puzzle_sliding (const char *position, const char *goal);

/* Farmer, wolf, goat and cabbage from the west bank to the east one. Transfer full. */
char *puzzle_wolf (void);
/* Three missionaries and three cannibals from the west bank to the east one, one or two in the boat. Transfer full. */
char *puzzle_missionaries (void);

#endif
