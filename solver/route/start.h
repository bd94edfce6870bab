/* SPDX-License-Identifier: MIT */
/* Start: which states of a board start at all, over everything that the book knows.
 *
 * Owns:   the rules grounded over whole domains: each slot any part of the book or empty, each component any release.
 * Calls:  grounding (ground*.c); libsolv is not asked.
 * Method: docs/method.md, "Why a unit is dark". */
#ifndef RUNGWISE_ROUTE_START_H
#define RUNGWISE_ROUTE_START_H

#include "check/check.h"

typedef struct StartSpace StartSpace;

/* `only` (nullable): one entry per rule of the library; FALSE: that rule is left out. `running`: `while-running` counts.
 * What `unit` holds and has is in the domains, whatever it is; failures of writes are not looked at. NULL with `*reason`
 * (transfer full) when a rule is too large. Transfer full. */
StartSpace *start_space_new (const Library *library, const Shop *shop, const Unit *unit, guint revision,
                             gboolean redundant, const gboolean *only, gboolean running, char **reason);
void start_space_free (StartSpace *space);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StartSpace, start_space_free)

typedef enum { START_POSSIBLE, START_IMPOSSIBLE, START_UNDECIDED } StartAnswer;

/* Whether some state starts in which each slot marked in `keep_slot` holds what `unit` holds, and each component marked in
 * `keep_component` has the release `releases` says. START_UNDECIDED after `most` decisions. */
StartAnswer start_space_ask (const StartSpace *space, const gboolean *keep_slot, const gboolean *keep_component,
                             const guint *releases, guint64 most);
/* Releases of a component that no rule tells apart have the same class number. */
guint start_space_class (const StartSpace *space, guint component, guint release);

#endif
