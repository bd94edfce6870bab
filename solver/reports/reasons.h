/* SPDX-License-Identifier: MIT */
/* Reasons: why a step is in a route. */
#ifndef RUNGWISE_REASONS_H
#define RUNGWISE_REASONS_H

#include "reports/words.h"

typedef struct {
    const Library *library;
    const Shop *shop;
    const Want *want;        /* nullable */
    const GArray *steps;     /* Step */
    const GPtrArray *states; /* State*: before each step and after the last */
} RouteJob;

/* One sentence, or NULL where the step speaks for itself. Writes: what goes wrong when the step is left out. Loaners:
 * what keeps the part that ends in the slot from doing. Parts out for a while, and parts that change along with what is
 * wanted: what keeps the unit dark with the old one in. Cost: one walk of the route. Transfer full. */
char *route_reason (const RouteJob *job, guint index);

#endif
