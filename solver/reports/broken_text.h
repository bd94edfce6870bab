/* SPDX-License-Identifier: MIT */
/* Saying which rules a state breaks. */
#ifndef RUNGWISE_BROKEN_TEXT_H
#define RUNGWISE_BROKEN_TEXT_H

#include "reports/paper.h"
#include "reports/words.h"

/* Which heading a broken rule stands under. */
typedef enum { TOPIC_DARK, TOPIC_HARMS, TOPIC_BARS, TOPIC_WARNS, TOPIC_COUNT } BrokenTopic;

/* The broken rules of one topic under its heading: sentence, facts with their places, sureness, source. Nothing when
 * there is none. `broken`: Broken*. */
void broken_text_topic (Paper *paper, const GPtrArray *broken, BrokenTopic topic);

#endif
