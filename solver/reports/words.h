/* SPDX-License-Identifier: MIT */
/* Words: how parts, releases, methods, times and places are said, the same in every report.
 *
 * Functions that return `char *` transfer full; those that return `const char *` return static text. */
#ifndef RUNGWISE_WORDS_H
#define RUNGWISE_WORDS_H

#include "route/route.h"

/* Whether a state starts, over all cases of a unit. */
typedef enum { ANSWER_NO, ANSWER_YES, ANSWER_DEPENDS } Answer;

const char *words_answer (Answer answer);      /* "yes", "no", "depends on the release" */
const char *words_starts (Starts starts);      /* "starts", "does not start", "not known to start" */
const char *words_owner (Owner owner);         /* "the unit's own", "from the loan shelf", "from stock" */
const char *words_give_back (Owner owner);     /* where a part that comes out goes */
const char *words_effect (TakesEffect effect); /* what has to be done for a release to take effect */
const char *words_method (Method method);      /* "by the running host", ... */
/* The same, and whether the host is to be off or running where the book says so. */
const char *words_method_here (const MethodEntry *entry, Method method);
const char *words_effect_key (TakesEffect effect);  /* the word of the book: "host-restart", ... */
const char *words_breaking_key (Breaking breaking); /* the word of the rules: "stops", ... */

char *words_minutes (double minutes); /* "1 minute", "2.5 minutes" */
char *words_count (guint count, const char *one, const char *many);
/* What an objective minimises first, in its own unit: steps, insertions, tenths of a minute. */
char *words_count_of (Objective objective, guint amount);
guint amount_of_walk (Objective objective, const Walk *walk);
/* What an objective minimises first, in its own unit: steps, insertions, tenths of a minute. */
char *words_count_of (Objective objective, guint amount);
guint amount_of_walk (Objective objective, const Walk *walk);
char *words_number (double number);                          /* without trailing zeros, at most one decimal */
char *words_place (Mark at);                                 /* "file:line", or "" without a place */
char *words_part (const Part *part, const char *stepping);   /* "elvane-14 (stepping b1)"; "empty" for NULL */
char *words_methods (guint mask, const char *last);          /* "controller or clip" with last = "or"; "" for none */
char *words_source (const Source *source); /* "release note 2.1.0 (checked 2034-01-02)"; NULL when not stated */

/* What a step does: "write system 1.4.0 from the running host". */
char *words_step (const Board *board, const Step *step);

/* What a want asks, in the board's order: "cpu1 = elvane-14; system >= 2.1.0". */
char *words_want (const Board *board, const Want *want);

/* One combination of releases, of components that the unit does not know: "system 1.0.2 and controller 2.0". "as told"
 * when all are known. `left_out`: per component, whether it is not said; NULL: none is left out. */
char *words_case (const Unit *unit, const guint *releases, const gboolean *left_out);

#endif
