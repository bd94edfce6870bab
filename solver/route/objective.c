/* SPDX-License-Identifier: MIT */
/* The names of objectives. */
#include "route/route.h"

const char *
objective_name (Objective objective)
{
    static const char *const NAMES[OBJECTIVE_COUNT] = { "steps", "handling", "time" };
    return NAMES[objective];
}
