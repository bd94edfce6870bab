/* SPDX-License-Identifier: MIT */
/* Plans one job given as text, for tests that only care for its length. */
#ifndef PLAN_TEXT_H
#define PLAN_TEXT_H

#include "book/book.h"

/* The text, read as a file. Fails the cmocka test when it is refused. Transfer full. */
Library *plan_text_load (const char *text);
/* What a command prints. Fails the cmocka test unless it exits with 0. Transfer full. */
char *plan_text_printed (const char *command);
/* Fails the cmocka test unless the files are accepted, the claim is `proved shortest` and the checker finds the route
 * sound. Returns the number of steps; with `insertions`, the fittings of processors too. */
guint plan_text_shortest (const char *text, guint *insertions);

#endif
