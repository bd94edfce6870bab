/* SPDX-License-Identifier: MIT */
/* What was seen, what it means, and what cannot all be right. */
#include "reports/explain_sheet.h"

static const char *
seen_heading (const ExplainReport *report)
{
    return report->asked != NULL && report->seen == NULL ? NULL : "What was seen";
}

static void
say_given (Paper *paper, const ExplainReport *report, const SignGiven *given)
{
    g_autofree char *seen = observation_words (report->unit->board, given->observation);
    g_autofree char *means = words_with_place (given->says, MARK_NONE, &given->source);

    g_autofree char *out = given->sign == NULL || given->releases_out == NULL /* without a sign it is said in there */
                               ? g_strdup ("")
                               : g_strdup_printf (" It rules out %s.", given->releases_out);

    paper_label (paper, 2, 4, "-", MARK_STRONG "%s" MARK_PLAIN ": %s%s", seen, means, out);
}

/* What all of it together leaves of the releases. */
static void
say_releases_left (Paper *paper, const ExplainReport *report)
{
    g_autofree char *out = explain_ruled_out (report);
    g_autofree char *left = explain_firmware (explain_unit_left (report));

    if (out != NULL)
        paper_say (paper, 2, 4, MARK_STRONG "Ruled out by what was seen: %s." MARK_PLAIN " Left: %s.", out, left);
}

/* The log may speak of another day, and of other parts. */
static void
say_log_is_old (Paper *paper, const ExplainReport *report)
{
    for (guint i = 0; report->seen != NULL && i < report->seen->observations->len; i++) {
        if (((const Observation *) report->seen->observations->pdata[i])->kind != SEEN_EVENT)
            continue;
        paper_say (paper, 2, 4,
                   MARK_CAUTION "An event log keeps old entries" MARK_PLAIN
                                ": compare the times of these with when the part was fitted. Leave out those from "
                                "before, and ask again.");
        return;
    }
}

static void
say_conflicts (Paper *paper, const ExplainReport *report)
{
    const Evidence *evidence = report->diagnosis->evidence;

    for (guint i = 0; i < evidence->conflicts->len; i++) {
        const Conflict *conflict = g_ptr_array_index (evidence->conflicts, i);
        g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

        for (guint g = 0; g < conflict->given->len; g++) {
            const SignGiven *given = evidence->given->pdata[g_array_index (conflict->given, guint, g)];

            g_ptr_array_add (words, observation_words (report->unit->board, given->observation));
        }
        g_autofree char *joined = text_join (words, "and");
        paper_say (paper, 2, 4, MARK_BAD "%s" MARK_PLAIN " %s. Look again before going on.",
                   !conflict->with_files      ? "Cannot all be right:"
                   : conflict->given->len > 1 ? "Do not fit the files:"
                                              : "Does not fit the files:",
                   joined);
    }
}

static gboolean
minutes_were_said (const Evidence *evidence)
{
    for (guint i = 0; i < evidence->given->len; i++)
        if (((const SignGiven *) evidence->given->pdata[i])->observation->kind == SEEN_DARK_MINUTES)
            return TRUE;
    return FALSE;
}

/* Where a rule is broken whatever the releases are, waiting for it is no use. */
static void
say_how_long (Paper *paper, const ExplainReport *report)
{
    const Diagnosis *diagnosis = report->diagnosis;
    g_autofree char *minutes = words_minutes (explain_dark_after (report));

    if (!diagnosis->evidence->too_early || diagnosis->physical == NULL || report->asked != NULL ||
        explain_harms_while (report) != 0)
        return;
    if (!minutes_were_said (diagnosis->evidence))
        paper_say (paper, 2, 4,
                   MARK_CAUTION
                   "Too early to say" MARK_PLAIN
                   ": a first start may stay dark for %s while memory is trained, and nothing says that it "
                   "was left on for so long. Leave it on for that first.",
                   minutes);
}

static void
say_seen (Paper *paper, const ExplainReport *report)
{
    const Evidence *evidence = report->diagnosis->evidence;

    if (report->seen == NULL)
        paper_say (paper, 2, 4,
                   "Nothing was stated; what follows takes it that it stays dark. --seen takes what was seen and rules causes out: "
                   "lamps, fans, beeps, the event log (docs/files.md, \"Seen\").");
    for (guint i = 0; i < evidence->given->len; i++)
        say_given (paper, report, g_ptr_array_index (evidence->given, i));
    for (guint i = 0; i < evidence->without_sign->len; i++) {
        g_autofree char *seen = observation_words (report->unit->board, g_ptr_array_index (evidence->without_sign, i));

        paper_label (paper, 2, 4, "-", MARK_STRONG "%s" MARK_PLAIN ": nothing in the files says what that means", seen);
    }
    say_log_is_old (paper, report);
    say_conflicts (paper, report);
    say_releases_left (paper, report);
    say_how_long (paper, report);
}

const ExplainSection explain_seen = { seen_heading, say_seen };
