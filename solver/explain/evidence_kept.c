/* SPDX-License-Identifier: MIT */
/* Which cases have an explanation while some of the observations count. */
#include "explain/evidence_kept.h"

#include "check/facts.h"

#include <string.h>

const Combination *
kept_combination (const Kept *kept, guint index)
{
    return &g_array_index (kept->combinations->each, Combination, index);
}

gboolean
kept_excludes_combination (const Kept *kept, const Combination *one)
{
    for (guint g = 0; g < kept->evidence->given->len; g++)
        if (kept->given[g] && one->excluded_by[g])
            return TRUE;
    return FALSE;
}

static gboolean
some_combination_is_left (const Kept *kept, guint case_index)
{
    for (guint i = 0; i < kept->combinations->each->len; i++)
        if (kept_combination (kept, i)->case_index == case_index &&
            !kept_excludes_combination (kept, kept_combination (kept, i)))
            return TRUE;
    return FALSE;
}

static gboolean
rule_is_excluded (const Kept *kept, const char *rule)
{
    for (guint g = 0; g < kept->evidence->given->len; g++)
        if (kept->given[g] && given_excludes_rule (evidence_given (kept->evidence, g), rule))
            return TRUE;
    return FALSE;
}

static gboolean
comes_before_rule (const Kept *kept, const char *rule)
{
    for (guint g = 0; g < kept->evidence->given->len; g++)
        if (kept->given[g] && given_comes_before_rule (evidence_given (kept->evidence, g), rule))
            return TRUE;
    return FALSE;
}

/* With the releases of `one`; NULL: whatever the releases. */
static gboolean
cause_is_excluded (const Kept *kept, const Cause *cause, const Combination *one)
{
    for (guint g = 0; g < kept->evidence->given->len; g++) {
        const SignGiven *given = evidence_given (kept->evidence, g);

        if (kept->given[g] && (given_excludes_cause (given, cause) ||
                               (one != NULL && one->clears[g] && given_swap_excludes (given, cause))))
            return TRUE;
    }
    return FALSE;
}

static gboolean
cause_was_found (const Kept *kept, const Cause *cause)
{
    for (guint g = 0; g < kept->evidence->given->len; g++)
        if (kept->given[g] && evidence_given (kept->evidence, g)->observation->cause == cause)
            return TRUE;
    return FALSE;
}

/* Some physical cause is left, or the files name none for such a unit and nothing excludes what they do not name. */
static gboolean
some_cause_is_left (const Kept *kept, const Combination *one)
{
    const GPtrArray *looks = kept->question->library->looks;
    gboolean named = FALSE;

    for (guint g = 0; g < kept->evidence->given->len; g++)
        if (kept->given[g] && given_excludes_all_causes (evidence_given (kept->evidence, g)))
            return FALSE;
    for (guint i = 0; i < looks->len; i++) {
        const LookFirst *look = looks->pdata[i];

        for (guint c = 0; look->finds != NULL && c < look->finds->len; c++) {
            const Cause *cause = look->finds->pdata[c];

            if (!cause_suits (kept->question->unit, cause) && !cause_was_found (kept, cause))
                continue;
            named = TRUE;
            if (!cause_is_excluded (kept, cause, one))
                return TRUE;
        }
    }
    return !named;
}

/* With some combination of its releases that is left, a cause is. Of combinations with
 * which the same starts are cleared one is asked. */
static gboolean
case_has_cause_left (const Kept *kept, guint case_index)
{
    const gboolean *asked = NULL;

    for (guint i = 0; i < kept->combinations->each->len; i++) {
        const Combination *one = kept_combination (kept, i);
        gsize size = kept->evidence->given->len * sizeof (gboolean);

        if (one->case_index != case_index || kept_excludes_combination (kept, one) ||
            (asked != NULL && memcmp (asked, one->clears, size) == 0))
            continue;
        asked = one->clears;
        if (some_cause_is_left (kept, one))
            return TRUE;
    }
    return FALSE;
}

gboolean
kept_rule_explains (const Kept *kept, guint index)
{
    const DarkCase *one = dark_case (kept->dark, index);

    for (guint i = 0; i < one->broken->len; i++) {
        const Broken *broken = one->broken->pdata[i];

        if (broken_keeps_dark (broken) && !rule_is_excluded (kept, broken->rule) &&
            !comes_before_rule (kept, broken->rule))
            return TRUE;
    }
    return FALSE;
}

/* A rule that may be broken beside a physical cause, which is what is seen. */
static gboolean
rule_is_beside (const Kept *kept, guint index)
{
    const DarkCase *one = dark_case (kept->dark, index);

    for (guint i = 0; i < one->broken->len; i++) {
        const Broken *broken = one->broken->pdata[i];

        if (broken_keeps_dark (broken) && !rule_is_excluded (kept, broken->rule))
            return TRUE;
    }
    return FALSE;
}

gboolean
kept_explains_case (const Kept *kept, guint index)
{
    if (!some_combination_is_left (kept, index))
        return FALSE;
    if (dark_case (kept->dark, index)->starts == STARTS_YES)
        return case_has_cause_left (kept, index);
    return kept_rule_explains (kept, index) || (rule_is_beside (kept, index) && case_has_cause_left (kept, index));
}

gboolean
kept_explains_something (const Kept *kept)
{
    if (starts_both_ways (kept->question->unit, kept->evidence, kept->given))
        return FALSE;
    for (guint i = 0; i < kept->dark->cases->len; i++)
        if (kept_explains_case (kept, i))
            return TRUE;
    return FALSE;
}

/* Whether such a thing could be seen on any unit with these parts: were the files silent about its rules and releases.
 * */
gboolean
kept_could_be_seen (const Kept *kept)
{
    if (starts_both_ways (kept->question->unit, kept->evidence, kept->given))
        return FALSE;
    return some_cause_is_left (kept, NULL) || !rule_is_excluded (kept, g_intern_static_string ("")); /* of no name */
}
