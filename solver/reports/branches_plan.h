/* SPDX-License-Identifier: MIT */
/* A plan with branches, worked out once for text, page and JSON: its parts, with letters, and what is said of their steps.
 *
 * Owns:   the letters A, B, ... of the parts, the names of their steps (B1), the conditions that lead from one to the next.
 * Calls:  check (carries each case through the plan), account.
 * Method: docs/method.md, "Plans with branches". */
#ifndef RUNGWISE_BRANCHES_PLAN_H
#define RUNGWISE_BRANCHES_PLAN_H

#include "reports/account.h"
#include "reports/reports.h"
#include "route/branched.h"

/* One branch of the plan, as a part of the sheet. */
typedef struct PlanPart {
    const Branch *branch;         /* borrowed */
    char *letter;                 /* owned: "A"; after "Z" comes "AA" */
    const struct PlanPart *after; /* the part that it follows; NULL: it is the beginning */
    const GPtrArray *all;         /* PlanPart*: every part of the plan; borrowed */
    GPtrArray *came_in;           /* State*: each of its cases as the unit came in; owned */
    GPtrArray *starts;            /* State*: ... as it stands when the part begins; owned */
    GPtrArray *ends;              /* State*: ... when its steps are done; owned */
    GPtrArray *labels;            /* char*: what its steps are called; owned */
    GArray *way;                  /* Step: everything from the beginning on, its own steps included; owned */
    GPtrArray *way_labels;        /* char*; owned */
    AccountPart place, way_place; /* of its own steps; of the way */
    char *before;                 /* owned: what the state is called that it begins with */
    RouteReport report;           /* of its own steps: what a sheet says of a route */
    RouteAccount *account;        /* owned; NULL without steps of its own */
    RouteReport way_report;       /* of the way; with THEN_END and THEN_GIVE_UP */
    RouteAnswer way_answer;       /* only `steps`, borrowed */
    RouteAccount *way_account;    /* owned; NULL without steps on the way, and where the part goes on */
} PlanPart;

typedef struct {
    const RouteReport *report;  /* borrowed */
    const BranchAnswer *answer; /* borrowed from it */
    GPtrArray *parts;           /* PlanPart*, as the answer's legs; owned */
} PlanSheet;

/* `report` has CLAIM_BRANCHES. Cost: as route_account_new() for each part, and for each way through the plan. Transfer
 * full. */
PlanSheet *plan_sheet_new (const RouteReport *report);
void plan_sheet_free (PlanSheet *sheet);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PlanSheet, plan_sheet_free)

static inline const PlanPart *
plan_part (const PlanSheet *sheet, guint index)
{
    return g_ptr_array_index (sheet->parts, index);
}

/* What the part of the leg with that index is called: "A" to "Z", "AA", "AB", ... Transfer full. */
char *plan_part_letter (guint index);
/* Whether the unit was started right before the part, and runs. */
gboolean plan_part_is_running (const PlanPart *part);
/* The part that one of `branch`'s next branches is. */
const PlanPart *plan_part_of (const GPtrArray *parts, const Branch *branch);

/* Fills in why each step of the part is there: what is refused without it in some way through the plan, or what could not
 * be tried or read. `report` is the whole plan's. Cost: per step a walk of the way in each of its cases. */
void plan_part_add_reasons (PlanPart *part, const RouteReport *report);

#endif
