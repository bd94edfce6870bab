/* SPDX-License-Identifier: MIT */
/* The sheet of a plan with branches: the pieces that text and page have in common, each a Paper's paragraphs.
 *
 * Wording: a branch is a part of the sheet, with a letter; what tells cases apart is a reading. */
#ifndef RUNGWISE_BRANCHES_TEXT_H
#define RUNGWISE_BRANCHES_TEXT_H

#include "reports/branches_plan.h"
#include "reports/paper.h"

/* Everything below the head of the text sheet. */
void plan_text (Paper *paper, const RouteReport *report);

/* What kind of plan it is, what is claimed of it, which releases it has no way for. */
void plan_text_facts (Paper *paper, const PlanSheet *sheet);
/* The releases that are not known, by name: what "any that it may have" is. Nothing where all are known. */
void plan_text_may_have (Paper *paper, const Unit *unit);
/* A line for each part. */
void plan_text_overview (Paper *paper, const PlanSheet *sheet);
/* Cautions for the whole job; what to look at before a part is blamed, of all parts together. */
void plan_text_cautions (Paper *paper, const PlanSheet *sheet);
void plan_text_looks (Paper *paper, const PlanSheet *sheet);
/* How a record is kept of such a plan. */
void plan_text_record (Paper *paper, const PlanSheet *sheet);

/* What leads to the part, its steps and minutes, what to think of when it is dark. */
void plan_text_part_facts (Paper *paper, const PlanPart *part);
/* The start to try or the page to read at the end of the part: what to do, and after the rows of where to go on, what else
 * may come of it. Nothing at an end. */
void plan_text_reading (Paper *paper, const PlanSheet *sheet, const PlanPart *part);
void plan_text_reading_else (Paper *paper, const PlanPart *part);
/* Where no way leads on; how the unit is set aside then, and the loaners that are in it given back. */
void plan_text_give_up (Paper *paper, const PlanPart *part);
void plan_text_set_aside (Paper *paper, const PlanPart *part, guint indent);
/* How the unit ends, what is left to do before it goes, recovery: what belongs to the part. */
void plan_text_below (Paper *paper, const PlanPart *part);

/* "Part B: it starts and shows system 1.4.0". Transfer full. */
char *plan_part_title (const PlanPart *part);
/* What is read where the plan goes on with the part: "it shows system 1.4.0", "it stays dark". Transfer full. */
char *plan_part_condition (const PlanPart *part);
/* The same of a branch: `unit` as it stands when the branch begins that it comes `after`; `starts` (State*): each of the
 * branch's own cases as it then stands. Transfer full. */
char *branch_condition (const Unit *unit, const Branch *after, const Branch *branch, const GPtrArray *starts);
/* What follows its steps: "then try a start", "done". Transfer full. */
char *plan_part_then (const PlanSheet *sheet, const PlanPart *part);
/* What the worst case has of what the objective minimises first, as RouteAnswer.lower_bound counts. */
guint plan_worst_amount (const PlanSheet *sheet);
/* Minutes of a part's own steps, openings included. */
double plan_part_minutes (const PlanPart *part);

#endif
