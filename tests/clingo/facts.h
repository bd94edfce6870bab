/* SPDX-License-Identifier: MIT */
/* Facts: a job as facts for route.lp, whose top has the list of them.
 *
 * Owns:   the text of facts: sorted, each once, so that two writers that mean the same write the same.
 * Calls:  GLib only. facts_of_job.c writes from the random model, facts_of_files.c from what the book room has read.
 * Never:  says what a fact means; that is route.lp's. */
#ifndef CLINGO_FACTS_H
#define CLINGO_FACTS_H

#include <glib.h>

typedef GPtrArray Facts; /* of char *, owned: facts without their full stop */

Facts *facts_new (void);
void facts_add (Facts *facts, const char *format, ...) G_GNUC_PRINTF (2, 3);
/* All of them, one a line. Transfer full. */
char *facts_to_text (Facts *facts);

/* A name as a term: "system", or ("generation","elvane") for one of two words. Transfer full.
 * Names need no escapes: docs/files.md allows them letters, digits and `. _ - + ~ :`. */
char *facts_name (const char *name);
/* A name, or none for NULL. Transfer full. */
char *facts_name_or_none (const char *name);

#endif
