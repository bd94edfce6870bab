/* SPDX-License-Identifier: MIT */
/* The parts of the bench sheet that stand in files of their own. */
#ifndef RUNGWISE_ROUTE_TEXT_H
#define RUNGWISE_ROUTE_TEXT_H

#include "reports/account.h"
#include "reports/paper.h"
#include "reports/reports.h"

/* What is to be least, where that is not the number of steps. */
void route_text_asked_for (Paper *paper, Objective objective);
/* What is claimed of the route, in the unit of its objective; and its counts. */
void route_text_claim (Paper *paper, const RouteAnswer *answer);

/* Unit, want, the record that was planned on from. */
void route_text_head (Paper *paper, const RouteReport *report);
/* Claim and counts, the cases that the route serves, floors that are assumed; `account` is NULL for a route without
 * steps. */
void route_text_facts (Paper *paper, const RouteReport *report, const RouteAccount *account);

/* Floors that nobody stated, and that matter. */
void route_text_assumed_floors (Paper *paper, const RouteReport *report);

/* The numbered steps under their power headings, and the last start. */
void route_text_steps (Paper *paper, const RouteReport *report, const RouteAccount *account);
/* The same piece by piece: what stands above a step (a power heading, cautions, a start); the step, or an exchange as one,
 * returning how many steps that were; the last start. */
void route_text_above_step (Paper *paper, const RouteReport *report, const RouteAccount *account, guint index);
guint route_text_step (Paper *paper, const RouteReport *report, const RouteAccount *account, guint index);
void route_text_last_start (Paper *paper, const RouteReport *report, const RouteAccount *account);

/* What the unit has changed in, images that hold the same, and what its sockets have had. */
void route_text_end (Paper *paper, const RouteReport *report, const RouteAccount *account);

/* The texts that the steps name by id: what to look at before a part is blamed. Nothing where no step names one. */
void route_text_looks (Paper *paper, const RouteReport *report);

/* "1 dorvan-8 (stepping a1)"; "none". Transfer full. */
char *needed_loaners_in_words (const Needed *needed);

/* The table of alternatives, and their steps. Nothing where none were asked for. */
void route_text_alternatives (Paper *paper, const RouteReport *report);

/* For an answer without a route: what to read first, or why there is none. */
void route_text_without (Paper *paper, const RouteReport *report);
/* For one that is no "read first". */
void route_text_none (Paper *paper, const RouteReport *report);

/* What to do when a write fails, and what is left to do before the unit goes: both for the end of the sheet, and nothing
 * where there is nothing to say. */
void route_text_recovery (Paper *paper, const RouteReport *report, const RouteAccount *account);
/* `back`: sentences (char*) on what is given back, where more is known of it than the route says; NULL: as the route says. */
void route_text_before_it_leaves (Paper *paper, const RouteReport *report, const RouteAccount *account, const GPtrArray *back);

/* The cautions in full that are first due, and one line with the ids of those that were said before. */
void route_text_cautions (Paper *paper, guint indent, const GArray *due);

#endif
