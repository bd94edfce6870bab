/* SPDX-License-Identifier: MIT */
/* What flat.c has done in other files. */
#ifndef RUNGWISE_BATCH_FLAT_PARTS_H
#define RUNGWISE_BATCH_FLAT_PARTS_H

#include "batch/flat.h"

/* Of one task of a mode: FlatTask.use_at, needs, holds, closes, gains. */
void flat_add_uses (Flat *flat, const Timetable *timetable, const Mode *mode, guint index, FlatTask *task);
void flat_fill_times (Flat *flat); /* FlatTask.head and tail, FlatMode.shortest_end */
void flat_fill_possible (Flat *flat,
                         const Timetable *timetable); /* most, FlatJob.possible; NEVER where a mode is not */
void flat_fill_goal (Flat *flat);                     /* goal_lateness, goal_finish, all_published */

#endif
