/* SPDX-License-Identifier: MIT */
/* Loose: families of jobs in which what a route costs at the least is hard to see piece by piece, so that the lower
 * bound is below the length and shorter routes have to be refuted by looking. Each program prints one job, as files in
 * one, and has the length worked out by hand at its top. This file has the text that they share. */
#ifndef LOOSE_TEXT_H
#define LOOSE_TEXT_H

/* All arguments but the program's name are whole numbers at or above the least given. 0 when not. */
int loose_read_numbers (int argc, char **argv, int count, const int *least, int *numbers);

/* The rules that the families go by, as a document. `with_memory`: memory too. */
void loose_print_rules (int with_memory);

/* The release line of a firmware that starts generations `first` to `last`. */
void loose_print_starts (int first, int last);

#endif
