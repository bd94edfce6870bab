/* SPDX-License-Identifier: MIT */
/* Reasons: why a step is in a route. */
#ifndef RUNGWISE_REASONS_H
#define RUNGWISE_REASONS_H

#include "reports/counterfactual.h"

typedef struct {
    char *says;       /* owned: one sentence */
    gboolean needed;  /* FALSE: the route is sound without it, as far as was looked */
    int step;         /* needed: index of the step that is refused without it; -1: the end is */
    const char *rule; /* needed: id of what that breaks (docs/walk-rules.md) */
} Reason;

void reason_clear (Reason *reason);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Reason, reason_clear)

/* What is refused when the step is left out (counterfactual.h), in words: the step or the want that needs it, and the line
 * of the files that makes it so. Cost: as without_step(). */
void reason_of_step (const RouteJob *job, guint index, Reason *reason);

#endif
