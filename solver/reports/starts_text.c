/* SPDX-License-Identifier: MIT */
/* The answer of `starts` as text. */
#include "reports/broken_text.h"
#include "reports/releases_text.h"
#include "reports/reports.h"

static const char *
verdict_mark (Starts starts)
{
    return starts == STARTS_YES ? MARK_GOOD : starts == STARTS_NO ? MARK_BAD : MARK_CAUTION;
}

/* "starts", as what is said of a unit. */
static const char *
verdict_words (const StartsGroup *group)
{
    if (group->starts == STARTS_NO && broken_only_harms (group->broken))
        return "must not be started as it stands";
    return words_starts (group->starts);
}

static void
say_group (Paper *paper, const StartsAnswer *answer, const StartsGroup *group)
{
    const char *mark = verdict_mark (group->starts);
    const char *words = verdict_words (group);
    const char *tail =
        group->starts == STARTS_NOT_KNOWN ? ": nothing says that it can't, and nothing says that it does" : "";

    if (answer->groups->len > 1) {
        g_autofree char *releases = releases_in_words (answer->unit, group->cases);

        paper_blank (paper);
        paper_say (paper, 0, 2, MARK_STRONG "With %s" MARK_PLAIN ": %s%s" MARK_PLAIN "%s.", releases, mark, words,
                   tail);
    } else if (group->starts == STARTS_NO && broken_only_harms (group->broken)) {
        paper_say (paper, 0, 2, "%sMust not be started as it stands" MARK_PLAIN ".", mark);
    } else {
        paper_say (paper, 0, 2, "The unit %s%s%s" MARK_PLAIN "%s.", group->starts == STARTS_NOT_KNOWN ? "is " : "",
                   mark, words, tail);
    }
    for (int topic = 0; topic < TOPIC_COUNT; topic++)
        broken_text_topic (paper, group->broken, (BrokenTopic) topic);
}

static const char *
summary (const StartsAnswer *answer)
{
    switch (answer->outcome) {
    case OUTCOME_SOME_START:
        return "It starts with some of the releases that it may have, not with all.";
    case OUTCOME_READ_FIRST:
        return "It may have too many combinations of releases to go through. Read one of them first and put it into "
               "the unit's file.";
    default:
        return NULL;
    }
}

char *
report_starts_text (const GPtrArray *answers, gboolean colour)
{
    Paper *paper = paper_new (colour);

    for (guint i = 0; i < answers->len; i++) {
        const StartsAnswer *answer = g_ptr_array_index (answers, i);
        const Unit *unit = answer->unit;

        paper_blank (paper);
        paper_say (paper, 0, 2, MARK_STRONG "Unit %s" MARK_PLAIN ", board %s, revision %s", unit->id, unit->board->name,
                   (const char *) g_ptr_array_index (unit->board->revisions, unit->revision));
        if (answer->groups->len > 1 && answer->cases > 1)
            paper_say (paper, 0, 2, "%u combinations of releases are possible.", answer->cases);
        if (summary (answer) != NULL)
            paper_say (paper, 0, 2, "%s", summary (answer));
        for (guint g = 0; g < answer->groups->len; g++)
            say_group (paper, answer, g_ptr_array_index (answer->groups, g));
    }
    return paper_finish (paper);
}
