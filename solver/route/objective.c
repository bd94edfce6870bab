/* SPDX-License-Identifier: MIT */
#include "route/objective.h"

#define BIT(n)  ((Cost) 1 << (n))
#define FROM(n) (~(BIT (n) - 1))

static const Weights WEIGHTS[OBJECTIVE_COUNT] = {
    [OBJECTIVE_STEPS] = { .step = BIT (46),
                          .step_shift = 46,
                          .step_mask = 0x3ffff,
                          .insertion = BIT (36),
                          .tenth = BIT (8),
                          .odd = 1,
                          .lead_shift = 46,
                          .coarse = FROM (36) },
    [OBJECTIVE_HANDLING] = { .insertion = BIT (54),
                             .opening = BIT (44),
                             .step = BIT (34),
                             .step_shift = 34,
                             .step_mask = 0x3ff,
                             .tenth = BIT (8),
                             .odd = 1,
                             .lead_shift = 54,
                             .coarse = FROM (34) },
    [OBJECTIVE_TIME] = { .tenth = BIT (36),
                         .insertion = BIT (26),
                         .step = BIT (8),
                         .step_shift = 8,
                         .step_mask = 0x3ffff,
                         .odd = 1,
                         .lead_shift = 36,
                         .coarse = FROM (36) },
};

const Weights *
objective_weights (Objective objective)
{
    return &WEIGHTS[objective];
}

const char *
objective_name (Objective objective)
{
    static const char *const NAMES[OBJECTIVE_COUNT] = { "steps", "handling", "time" };
    return NAMES[objective];
}
