/* SPDX-License-Identifier: MIT */
/* Asking: planning runs on a question that is changed for a while. The caller's go_on is asked after each of them too, and is told of the
 * states that all of them have opened; no run opens more than the caller allows one. */
#ifndef RUNGWISE_EXPLAIN_ASKING_H
#define RUNGWISE_EXPLAIN_ASKING_H

#include "explain/blocking_facts.h"
#include "explain/none_sets.h"

typedef struct {
    Asked asked;
    const RouteOptions *options; /* the caller's; nullable */
    const GPtrArray *facts;      /* BlockingFact*; borrowed */
    guint plans;                 /* made so far */
    guint64 opened;              /* states, by the runs that are over */
    guint64 in_run, last;        /* by the one that goes on; of its present search */
    gboolean stopped;            /* the caller said so */
} Asking;

/* Whether there is a way with these facts kept and all others dropped. `data` is an Asking. */
WayAnswer asking_way (const FactSet *kept, gpointer data);
/* Plans for the question as it stands now, by the caller's objective. Transfer full. */
RouteAnswer *asking_route (Asking *asking);
/* Whether an answer has a route that was walked. */
gboolean answer_has_route (const RouteAnswer *answer);

/* Additions that open a route, cheapest first (GPtrArray of Addition*). Transfer full. */
GPtrArray *additions_find (Asking *asking, guint *tried, gboolean *all_tried);

#endif
