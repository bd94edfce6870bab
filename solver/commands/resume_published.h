/* SPDX-License-Identifier: MIT */
/* Resume, for a unit that is worked by a published timetable. */
#ifndef RUNGWISE_RESUME_PUBLISHED_H
#define RUNGWISE_RESUME_PUBLISHED_H

#include "commands/load.h"

/* Where the unit's record leaves it; `record`: that one, NULL where it has none. NULL: it has none, or something is in
 * `complaints`. `by_earlier`: as batch_resume() says. Transfer full. */
Resumed *resume_from_published (const Loaded *loaded, const Unit *unit, const Record **record, gboolean *by_earlier,
                                Complaints *complaints);

#endif
