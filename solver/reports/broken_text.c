/* SPDX-License-Identifier: MIT */
/* Broken rules as text. */
#include "reports/broken_text.h"

static void
say_facts (Paper *paper, const Broken *broken)
{
    for (guint i = 0; i < broken->facts->len; i++) {
        const Fact *fact = g_ptr_array_index (broken->facts, i);
        g_autofree char *place = words_place (fact->at);

        if (*place == '\0')
            paper_say (paper, 6, 8, "%s", fact->text);
        else
            paper_say (paper, 6, 8, "%s (%s)", fact->text, place);
    }
}

static void
say_broken (Paper *paper, const Broken *broken)
{
    g_autofree char *source = words_source (&broken->source);
    g_autofree char *place = words_place (broken->at);
    const char *sure =
        broken->sureness == SURE_NOT_STATED ? "no fact says that it holds" : "the facts say that it does not hold";

    paper_say (paper, 2, 4, MARK_STRONG "[%s]" MARK_PLAIN " %s", broken->rule, broken->says);
    say_facts (paper, broken);
    paper_say (paper, 6, 8, "%s%s%s%s%s", sure, *place == '\0' ? "" : "; rule in ", place,
               source == NULL ? "" : "; source: ", source == NULL ? "" : source);
}

static BrokenTopic
topic_of (const Broken *broken)
{
    switch (broken->breaking) {
    case BREAKING_STOPS:
        return TOPIC_DARK;
    case BREAKING_HARMS:
        return (broken->powers & POWER_ON) != 0 ? TOPIC_DARK : TOPIC_HARMS;
    case BREAKING_BARS:
        return TOPIC_BARS;
    case BREAKING_WARNS:
        return TOPIC_WARNS;
    }
    g_assert_not_reached ();
}

void
broken_text_topic (Paper *paper, const GPtrArray *broken, BrokenTopic topic)
{
    static const char *const headings[TOPIC_COUNT] = {
        "What is broken:",
        "May do damage on standby power already; leave the mains out:",
        "In the way of writing firmware, not of starting:",
        "Warnings:",
    };
    gboolean headed = FALSE;

    for (guint i = 0; i < broken->len; i++) {
        const Broken *rule = g_ptr_array_index (broken, i);

        if (topic_of (rule) != topic)
            continue;
        if (!headed)
            paper_say (paper, 0, 2, "%s", headings[topic]);
        headed = TRUE;
        say_broken (paper, rule);
    }
}
