/* SPDX-License-Identifier: MIT */
/* The pieces that every puzzle's files are made of; for the generators of this folder only. */
#ifndef PUZZLE_PARTS_H
#define PUZZLE_PARTS_H

#include <glib.h>

/* The board, without slots. `components` is a list as YAML has it: "farmer, wolf, goat". */
void puzzle_begin_book (GString *out, const char *components);
/* A component that one method writes, up to and with the line `releases:`. */
void puzzle_begin_component (GString *out, const char *name, const char *method);
/* Shop, unit and want. `has` and `wanted` are maps of component and release as YAML has them: "farmer: east". */
void puzzle_add_work (GString *out, const char *method, const char *has, const char *wanted);
/* "STEM1SUFFIX, STEM2SUFFIX, ...", up to `count`. Transfer full. */
char *puzzle_numbered (const char *stem, int count, const char *suffix);

#endif
