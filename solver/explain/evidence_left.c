/* SPDX-License-Identifier: MIT */
/* What the observations that count leave: cases, releases, and what each of them means by itself. */
#include "explain/evidence_kept.h"

#include "check/facts.h"
#include "explain/explain_words.h"

#include <string.h>

const DarkCase *
dark_case (const DarkAnswer *dark, guint index)
{
    return g_ptr_array_index (dark->cases, index);
}

static gboolean
has_release (const Kept *kept, const Combination *one, guint component, guint release)
{
    return one->releases != NULL ? one->releases[component] == release
                                 : dark_case (kept->dark, one->case_index)->may_be[component][release];
}

/* All that the unit may have where there are no cases to look at. */
static gboolean
may_have (const Kept *kept, guint component, guint release)
{
    if (kept->dark->cases->len == 0)
        return kept->question->unit->releases[component].may_be[release];
    for (guint i = 0; i < kept->combinations->each->len; i++) {
        const Combination *one = kept_combination (kept, i);

        if (case_is_left (kept->evidence, one->case_index) && !kept_excludes_combination (kept, one) &&
            has_release (kept, one, component, release))
            return TRUE;
    }
    return FALSE;
}

static void
fill_what_is_left (const Kept *kept, Evidence *evidence)
{
    const Board *board = kept->question->unit->board;

    for (guint i = 0; i < kept->dark->cases->len; i++)
        evidence->case_out[i] = !kept_explains_case (kept, i);
    evidence->may_be = g_new0 (gboolean *, board->components->len + 1);
    for (guint c = 0; c < board->components->len; c++) {
        guint n_releases = board_component (board, c)->releases->len;

        evidence->may_be[c] = g_new0 (gboolean, n_releases + 1);
        for (guint r = 0; r < n_releases; r++)
            evidence->may_be[c][r] = may_have (kept, c, r);
    }
}

/* ---- Told anew ---- */

/* How many combinations of releases one stands for. */
static guint64
members_of (const Kept *kept, const Combination *one)
{
    return one->releases != NULL ? 1 : dark_case (kept->dark, one->case_index)->members;
}

static gboolean
is_left (const Kept *kept, const Combination *one)
{
    return case_is_left (kept->evidence, one->case_index) && !kept_excludes_combination (kept, one);
}

/* A case that is left, and some of whose combinations are not. */
static gboolean
some_case_is_split (const Kept *kept)
{
    for (guint i = 0; i < kept->combinations->each->len; i++) {
        const Combination *one = kept_combination (kept, i);

        if (case_is_left (kept->evidence, one->case_index) && kept_excludes_combination (kept, one))
            return TRUE;
    }
    return FALSE;
}

/* As many combinations are left as there are choices of the releases that are. */
static gboolean
left_is_every_choice (const Kept *kept)
{
    const Board *board = kept->question->unit->board;
    guint64 left = 0, choices = 1;

    for (guint i = 0; i < kept->combinations->each->len; i++)
        if (is_left (kept, kept_combination (kept, i)))
            left += members_of (kept, kept_combination (kept, i));
    for (guint c = 0; c < board->components->len; c++) {
        guint count = 0;

        for (guint r = 0; r < board_component (board, c)->releases->len; r++)
            count += kept->evidence->may_be[c][r] ? 1 : 0;
        choices *= count; /* of no more than was counted, one by one, of the cases' classes */
    }
    return left == choices;
}

/* ---- What each means by itself ---- */

/* Whether this given alone rules these releases out. */
static gboolean
alone_rules_out (const Kept *alone, const Combination *one)
{
    return kept_excludes_combination (alone, one) || !kept_explains_case (alone, one->case_index);
}

/* The releases of a component that are in no combination but ones with `out`. Appends to `words`. */
static void
add_component_out (const Kept *kept, const gboolean *out, guint component, GPtrArray *words)
{
    const Component *entry = board_component (kept->question->unit->board, component);
    g_autofree gboolean *mask = g_new0 (gboolean, entry->releases->len + 1);
    gboolean some = FALSE;

    for (guint r = 0; r < entry->releases->len; r++) {
        mask[r] = kept->question->unit->releases[component].may_be[r];
        for (guint i = 0; i < kept->combinations->each->len && mask[r]; i++)
            mask[r] = out[i] || !has_release (kept, kept_combination (kept, i), component, r);
        some |= mask[r];
    }
    if (!some)
        return;
    g_autofree char *releases = explain_releases (entry, mask);
    g_ptr_array_add (words, g_strdup_printf ("%s %s", entry->name, releases));
}

/* NULL: it rules none out. Transfer full. */
static char *
releases_out_by (const Kept *kept, guint given)
{
    g_autofree gboolean *only = g_new0 (gboolean, kept->evidence->given->len + 1);
    g_autofree gboolean *out = g_new0 (gboolean, kept->combinations->each->len + 1);
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
    Kept alone = *kept;
    guint64 count = 0;

    alone.given = only;
    only[given] = TRUE;
    for (guint i = 0; i < kept->combinations->each->len; i++) {
        out[i] = alone_rules_out (&alone, kept_combination (kept, i));
        count += out[i] ? members_of (kept, kept_combination (kept, i)) : 0;
    }
    if (count == 0)
        return NULL;
    for (guint c = 0; c < kept->question->unit->board->components->len; c++)
        add_component_out (kept, out, c, words);
    if (words->len == 0)
        g_ptr_array_add (words, g_strdup_printf ("%" G_GUINT64_FORMAT " combinations of releases", count));
    return text_join (words, "and");
}

/* It stayed dark so, and of the combinations that are left and start, none keeps it dark so. */
static gboolean
dark_start_shows (const Kept *kept, guint given)
{
    gboolean some = FALSE;

    for (guint i = 0; i < kept->combinations->each->len; i++) {
        const Combination *one = kept_combination (kept, i);

        if (!is_left (kept, one) || dark_case (kept->dark, one->case_index)->starts != STARTS_YES)
            continue;
        if (!one->clears[given])
            return FALSE;
        some = TRUE;
    }
    return some;
}

static void
fill_each (const Kept *kept, Evidence *evidence)
{
    for (guint g = 0; g < evidence->given->len; g++) {
        SignGiven *given = g_ptr_array_index (evidence->given, g);
        gboolean counts = evidence_counts (evidence, g);

        if (counts)
            given->releases_out = releases_out_by (kept, g);
        given->shows = counts && given_is_dark_start (given) && dark_start_shows (kept, g);
        given_say_swap (kept->question, given, counts);
    }
}

/* Something that was seen comes before a rule, and of the cases that are left no rule explains any. */
static gboolean
physical_goes_first (const Kept *kept)
{
    gboolean some = FALSE;

    for (guint g = 0; g < kept->evidence->given->len; g++) {
        const SignGiven *given = evidence_given (kept->evidence, g);

        for (guint i = 0; kept->given[g] && i < kept->question->library->rules->len; i++)
            some |= given_comes_before_rule (given, ((const Rule *) kept->question->library->rules->pdata[i])->id);
    }
    for (guint i = 0; some && i < kept->dark->cases->len; i++)
        if (case_is_left (kept->evidence, i) && kept_rule_explains (kept, i))
            return FALSE;
    return some;
}

void
evidence_fill_left (const Kept *kept, Evidence *evidence)
{
    fill_what_is_left (kept, evidence);
    evidence->narrows = kept->dark->cases->len > 0 && some_case_is_split (kept) && left_is_every_choice (kept);
    evidence->physical_first = physical_goes_first (kept);
    fill_each (kept, evidence);
}

/* ---- What is left ---- */

gboolean
case_is_left (const Evidence *evidence, guint index)
{
    return !evidence->case_out[index];
}

DiagnosisStarts
diagnosis_starts (const DarkAnswer *dark, const Evidence *evidence)
{
    guint left = 0, start = 0, cannot = 0;

    if (dark->cases->len == 0)
        return TOO_MANY_CASES;
    for (guint i = 0; i < dark->cases->len; i++)
        if (case_is_left (evidence, i)) {
            left++;
            start += dark_case (dark, i)->starts == STARTS_YES;
            cannot += dark_case (dark, i)->starts == STARTS_NO;
        }
    if (start > 0)
        return start == left ? ALL_START : SOME_START;
    return cannot == left ? NONE_STARTS : NONE_KNOWN;
}
