/* SPDX-License-Identifier: MIT */
/* Units that are set aside, those with the same reason together; and what is missing for them. */
#ifndef RUNGWISE_BATCH_ASIDE_H
#define RUNGWISE_BATCH_ASIDE_H

#include "reports/batch_view.h"

typedef struct {
    const char *why;    /* borrowed: a sentence */
    Aside aside;
    guint class;        /* of the first of them */
    GPtrArray *units;   /* const char*: ids; owned */
} AsideGroup;

/* In the order in which the units are given. Transfer full (GPtrArray of AsideGroup*). */
GPtrArray *batch_aside_groups (const BatchView *view);

/* Something that would let units be done that are set aside. */
typedef struct {
    const char *says; /* borrowed: "lend one dorvan-8 a1" */
    guint units;
} Missing;

/* The cheapest addition for each class without a route, those that say the same together. Transfer full (GArray of Missing). */
GArray *batch_missing (const BatchView *view);

/* "LK-0107, LK-0108 and 12 more", `most` of them by name. Transfer full. */
char *batch_some_ids (const GPtrArray *ids, guint most);

#endif
