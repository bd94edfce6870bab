/* SPDX-License-Identifier: MIT */
/* The stages of an account, shared by account*.c. */
#ifndef RUNGWISE_ACCOUNT_PARTS_H
#define RUNGWISE_ACCOUNT_PARTS_H

#include "reports/account.h"

/* What the stages of one account hand to each other. */
typedef struct {
    const Library *library;
    const Shop *shop;
    const Unit *unit;
    const Want *want;
    const GArray *steps;
    GPtrArray *cases;  /* guint*: see RouteJob */
    GPtrArray *walks;  /* Walk*: one per case */
    GPtrArray *states; /* State*: before each step and after the last, in the first case */
    RouteAccount *account;
    const AccountPart *part; /* nullable */
} Making;

/* Where the case begins. Transfer full. */
State *making_start (const Making *making, guint at_case);

static inline const Step *
making_step (const Making *making, guint index)
{
    return &g_array_index (making->steps, Step, index);
}

/* What a write replaces, whether one method recovers all of it, and which floors rise. */
void account_write (const Making *making, guint index, gboolean raises_floor, StepAccount *step);
/* Every caution where it is due. The steps' accounts must be there. */
void account_place_cautions (const Making *making);

#endif
