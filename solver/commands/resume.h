/* SPDX-License-Identifier: MIT */
/* Resume: a unit as its bench records leave it. */
#ifndef RUNGWISE_RESUME_H
#define RUNGWISE_RESUME_H

#include "commands/load.h"

/* Where the records of `unit` among the files leave it. Several records go on from one another, in the order in which the
 * files were read; `record` is set to the last (borrowed). The route that a record names is found by its title, first in
 * the record's own file; a record that names none goes by the only route there is. NULL: there is no record of this unit,
 * or an entry cannot have happened, which is then in `complaints`. Transfer full. */
Resumed *resume_from_files (const Loaded *loaded, const Unit *unit, const Record **record, Complaints *complaints);

/* The same for a command: complaints go to standard error. OUTCOME_ANSWERED, with `*resumed` NULL where there is no record
 * (transfer full), or what to end with. */
Outcome resume_unit (const Loaded *loaded, const Unit *unit, Resumed **resumed, const Record **record);

#endif
