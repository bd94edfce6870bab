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
        return (broken->powers & POWER_STANDBY) != 0 ? TOPIC_HARMS_PLUGGED : TOPIC_HARMS;
    case BREAKING_BARS:
        return TOPIC_BARS;
    case BREAKING_WARNS:
        return TOPIC_WARNS;
    }
    g_assert_not_reached ();
}

gboolean
broken_only_harms (const GPtrArray *broken)
{
    gboolean harms = FALSE;

    for (guint i = 0; i < broken->len; i++) {
        const Broken *rule = g_ptr_array_index (broken, i);

        if (rule->breaking == BREAKING_STOPS && rule->sureness == SURE_STATED)
            return FALSE;
        harms |= rule->breaking == BREAKING_HARMS && (rule->powers & POWER_ON) != 0;
    }
    return harms;
}

/* Where no fact says no, nothing is broken: a yes is missing. */
static const char *
heading_of (BrokenTopic topic, const GPtrArray *broken)
{
    static const char *const headings[TOPIC_COUNT] = {
        MARK_BAD
        "Do not power it like this, leave the mains out: it may do damage on standby power already." MARK_PLAIN,
        MARK_BAD "Do not power it like this: it may do damage." MARK_PLAIN,
        "What is broken:",
        "In the way of writing firmware, not of starting:",
        "Warnings:",
    };

    if (topic != TOPIC_DARK)
        return headings[topic];
    for (guint i = 0; i < broken->len; i++) {
        const Broken *rule = g_ptr_array_index (broken, i);

        if (topic_of (rule) == TOPIC_DARK && rule->sureness == SURE_STATED)
            return headings[topic];
    }
    return "What is missing:";
}

void
broken_text_topic (Paper *paper, const GPtrArray *broken, BrokenTopic topic)
{
    gboolean headed = FALSE;

    for (guint i = 0; i < broken->len; i++) {
        const Broken *rule = g_ptr_array_index (broken, i);

        if (topic_of (rule) != topic)
            continue;
        if (!headed)
            paper_say (paper, 0, 2, "%s", heading_of (topic, broken));
        headed = TRUE;
        say_broken (paper, rule);
    }
}
