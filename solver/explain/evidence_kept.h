/* SPDX-License-Identifier: MIT */
/* Observations that count for now, and what they leave. For evidence_*.c only.
 * Method: docs/method.md, "Evidence". */
#ifndef RUNGWISE_EXPLAIN_EVIDENCE_KEPT_H
#define RUNGWISE_EXPLAIN_EVIDENCE_KEPT_H

#include "explain/diagnosis_parts.h"

typedef struct {
    const DiagnosisQuestion *question;
    const DarkAnswer *dark;
    const Evidence *evidence;
    const Combinations *combinations;
    gboolean *given; /* owned by whoever asks; per given: it counts for now */
} Kept;

const Combination *kept_combination (const Kept *kept, guint index);
gboolean kept_excludes_combination (const Kept *kept, const Combination *one);
/* Whether a rule that is broken in the case explains by itself what was seen. */
gboolean kept_rule_explains (const Kept *kept, guint index);
gboolean kept_explains_case (const Kept *kept, guint index);
/* Whether some case has an explanation. */
gboolean kept_explains_something (const Kept *kept);
/* Whether such a thing could be seen on any unit with these parts: were the files silent about its rules and releases. */
gboolean kept_could_be_seen (const Kept *kept);

/* Fills `case_out`, `may_be` and `narrows` in, and what each given means by itself, with these that count. */
void evidence_fill_left (const Kept *kept, Evidence *evidence);

#endif
