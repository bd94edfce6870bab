/* SPDX-License-Identifier: MIT */
/* Saying which rules a state breaks. */
#ifndef RUNGWISE_BROKEN_TEXT_H
#define RUNGWISE_BROKEN_TEXT_H

#include "reports/paper.h"
#include "reports/words.h"

/* Which heading a broken rule stands under, in the order in which they are said: what may do damage comes first. */
typedef enum { TOPIC_HARMS_PLUGGED, TOPIC_HARMS, TOPIC_DARK, TOPIC_BARS, TOPIC_WARNS, TOPIC_COUNT } BrokenTopic;

/* What keeps a unit from its start is harm alone: it might come up, and must not be tried. `broken`: Broken*, of a state
 * whose verdict is STARTS_NO. */
gboolean broken_only_harms (const GPtrArray *broken);

/* The broken rules of one topic under its heading: sentence, facts with their places, sureness, source. Nothing when
 * there is none. `broken`: Broken*. */
void broken_text_topic (Paper *paper, const GPtrArray *broken, BrokenTopic topic);

#endif
