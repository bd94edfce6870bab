/* SPDX-License-Identifier: MIT */
/* Resume: a unit as its bench records leave it. */
#ifndef RUNGWISE_RESUME_H
#define RUNGWISE_RESUME_H

#include "commands/load.h"

/* Where the records of `unit` among the files leave it. Several records go on from one another, whole, in the order of
 * the times of their first entries; that they overlap in time is a complaint. The route that a record names is found by
 * its title, first in the record's own file; a record that names none goes by the only route there is. With a published
 * timetable the one record of the unit is read by that (resume_published.h). `records`
 * (nullable): gets the records in that order (Record*, borrowed). NULL: there is no record of this unit, or something is
 * in `complaints`. Transfer full. */
Resumed *resume_from_files (const Loaded *loaded, const Unit *unit, GPtrArray *records, Complaints *complaints);

/* The same for a command: complaints go to standard error. OUTCOME_ANSWERED, with `*resumed` NULL where there is no record
 * (transfer full), or what to end with. */
Outcome resume_unit (const Loaded *loaded, const Unit *unit, Resumed **resumed, GPtrArray *records);

#endif
