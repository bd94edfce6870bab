/* SPDX-License-Identifier: MIT */
/* The parts of an explanation's JSON that stand in files of their own: docs/explain-json.md. */
#ifndef RUNGWISE_EXPLAIN_JSON_H
#define RUNGWISE_EXPLAIN_JSON_H

#include "reports/json.h"
#include "reports/reports.h"

/* One case with its facts, sets and changes. */
json_t *json_dark_case (const ExplainReport *report, guint index);
/* What was seen and what it means. */
json_t *json_evidence (const ExplainReport *report);
/* Ways out, one of them. */
json_t *json_way (const ExplainReport *report, const WayOut *way);
/* What tells cases apart. */
json_t *json_telling (const ExplainReport *report, const Telling *telling);
/* Causes, checks in their order, what is expected of it. */
json_t *json_physical (const ExplainReport *report);
/* Shares and probabilities, with four decimals. */
json_t *json_share (double share);

#endif
