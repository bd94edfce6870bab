/* SPDX-License-Identifier: MIT */
/* What is claimed of a route, and its counts. */
#include "reports/route_text.h"

typedef struct {
    const char *proved;     /* "%s": the amount, twice; then how it was proved */
    const char *best_found; /* the amount, the bound, the gap */
    const char *order;      /* in which its counts are minimised; NULL: as everybody expects */
} ClaimWords;

static const ClaimWords *
words_of (Objective objective)
{
    static const ClaimWords words[OBJECTIVE_COUNT] = {
        { ", proved shortest: no route has fewer than ", ", best found, not proved shortest: any route has at least ",
          NULL },
        { ", proved least: no route has fewer than ", ", best found, not proved least: any route has at least ",
          "least handling: insertions first, then openings, steps, minutes" },
        { ", proved fastest: no route takes less than ", ", best found, not proved fastest: any route takes at least ",
          "least time: minutes first, then insertions, steps" },
    };

    return &words[objective];
}

static void
say_amount (Paper *paper, const RouteAnswer *answer)
{
    const ClaimWords *words = words_of (answer->objective);
    guint amount = amount_of_walk (answer->objective, answer->walk);
    guint least = MIN (answer->lower_bound, amount);
    g_autofree char *has = words_count_of (answer->objective, amount);
    g_autofree char *bound = words_count_of (answer->objective, least);
    g_autofree char *gap = words_count_of (answer->objective, amount - least);

    if (answer->claim == CLAIM_PROVED_SHORTEST)
        paper_say (paper, 0, 2, MARK_STRONG "%s" MARK_PLAIN "%s%s (%s).", has, words->proved, has, answer->proof);
    else if (amount == least) /* handling, time: what comes after that was not looked at to the end */
        paper_say (paper, 0, 2, MARK_STRONG "%s" MARK_PLAIN ", proved least; what counts after that is the best found.",
                   has);
    else
        paper_say (paper, 0, 2, MARK_STRONG "%s" MARK_PLAIN "%s%s; gap: %s.", has, words->best_found, bound, gap);
}

static void
say_counts (Paper *paper, const RouteAnswer *answer)
{
    const Walk *walk = answer->walk;
    g_autofree char *steps = words_count (walk->steps, "step, ", "steps, ");
    g_autofree char *insertions = words_count (walk->insertions, "insertion", "insertions");
    g_autofree char *openings = words_count (walk->openings, "opening", "openings");
    g_autofree char *starts = words_count (walk->starts, "start", "starts");
    g_autofree char *minutes = words_minutes (walk->minutes);
    g_autofree char *attended = words_number (walk->attended);

    paper_say (paper, 0, 2, "%s%s of processors, %s, %s; %s in all, %s of them attended.",
               answer->objective == OBJECTIVE_STEPS ? "" : steps, insertions, openings, starts, minutes, attended);
}

void
route_text_asked_for (Paper *paper, Objective objective)
{
    const char *order = words_of (objective)->order;

    if (order != NULL)
        paper_say (paper, 0, 2, "asked for: %s", order);
}

void
route_text_claim (Paper *paper, const RouteAnswer *answer)
{
    route_text_asked_for (paper, answer->objective);
    say_amount (paper, answer);
    say_counts (paper, answer);
}
