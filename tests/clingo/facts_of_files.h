/* SPDX-License-Identifier: MIT */
/* Facts of what was read from files. Uses the book room's structs, and of its functions those that look names up, list
 * what is on offer and compare versions; nothing of the checker's or the planner's. */
#ifndef CLINGO_FACTS_OF_FILES_H
#define CLINGO_FACTS_OF_FILES_H

#include "facts.h"

#include "book/book.h"

/* Everything that route.lp asks for. Transfer full. */
char *facts_of_files (const Library *library, const Shop *shop, const Unit *unit, const Want *want);

/* facts_of_rules.c: expressions and rules. */
/* An expression as a term; adds which versions on offer answer its comparisons. Transfer full. */
char *facts_expression (Facts *facts, const Library *library, const Unit *unit, const Expr *expr);
void facts_of_rules (Facts *facts, const Library *library, const Unit *unit);

#endif
