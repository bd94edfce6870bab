/* SPDX-License-Identifier: MIT */
/* Serials: which of the unit's own parts, by serial number, each step moves. */
#ifndef RUNGWISE_SERIALS_H
#define RUNGWISE_SERIALS_H

#include "reports/account.h"

/* Sets `serial` in each StepAccount of `steps` that moves one of the unit's own parts with a serial. */
void serials_follow (const Unit *unit, const GPtrArray *steps);

#endif
