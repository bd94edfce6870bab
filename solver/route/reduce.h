/* SPDX-License-Identifier: MIT */
/* The steps of reduction, shared by reduce*.c; and propagation, which the lower bound uses too. */
#ifndef RUNGWISE_ROUTE_REDUCE_H
#define RUNGWISE_ROUTE_REDUCE_H

#include "route/problem.h"

/* Every list of clauses there is. Transfer container. */
GPtrArray *reduce_lists (Problem *problem);
/* Drops literals that are never true, clauses that always hold, writes that can never happen. */
void reduce_settle (Problem *problem);
/* Gives each value of a variable the number in `map`; -1: gone, with the writes that would set it. */
void reduce_remap (Problem *problem, guint var, const int *map, guint new_size);
/* Keeps the values marked, in their order. TRUE when some went. */
gboolean reduce_keep_values (Problem *problem, guint var, const guint8 *keep);
/* reduce_settle for one list, its empty clauses left in. */
void reduce_settle_list (const Problem *problem, GPtrArray *clauses);
/* Each of these is TRUE when it changed something. Releases that no write could ever reach, and such writes. */
gboolean reduce_drop_unreached (Problem *problem);
/* Parts with which nothing starts, where an empty slot serves as well. */
gboolean reduce_drop_never_starting (Problem *problem);
gboolean reduce_collapse_releases (Problem *problem);
gboolean reduce_drop_repeated_writes (Problem *problem);
/* Writes that change nothing that is left. */
gboolean reduce_drop_idle_writes (Problem *problem);
/* Fixes variables that no shortest route touches. TRUE when it fixed one. */
gboolean reduce_fix_idle (Problem *problem);
/* Drops writes that are below the floor for good, and numbers floors by how many limits they rule out; floors that
 * never stand in the way disappear. May be called again as writes go. */
void reduce_floors (Problem *problem);

/* One byte per value of each variable, all 1 (fixed: only the initial one). Free with g_strfreev after a cast. */
guint8 **reduce_domains (const Problem *problem);
/* Narrows the domains to what the start clauses allow, clause by clause. FALSE when nothing starts. */
gboolean reduce_propagate (const Problem *problem, guint8 **domains);
/* The same by these lists of clauses (entries may be NULL). */
gboolean reduce_propagate_lists (const Problem *problem, guint8 **domains, const GPtrArray *const *lists, guint n);

#endif
