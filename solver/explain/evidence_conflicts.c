/* SPDX-License-Identifier: MIT */
/* Conflicts: the minimal sets of observations that leave no case with an explanation, and the cases that the others
 * exclude. */
#include "explain/diagnosis_parts.h"

#include "check/facts.h"
#include "explain/none_sets.h"

#define MOST_ASKED     4000
#define MOST_CONFLICTS 16

typedef struct {
    const DiagnosisQuestion *question;
    const DarkAnswer *dark;
    const Evidence *evidence;
    const Combinations *combinations;
    GPtrArray *observations; /* const Observation*; owned array: facts 0, 1, ... of the sets; each has a given */
    gboolean *kept;          /* owned; per given: it counts for now */
} Finding;

const DarkCase *
dark_case (const DarkAnswer *dark, guint index)
{
    return g_ptr_array_index (dark->cases, index);
}

/* ---- Which explanations are left ---- */

static const Combination *
combination_at (const Finding *finding, guint index)
{
    return &g_array_index (finding->combinations->each, Combination, index);
}

static gboolean
combination_is_excluded (const Finding *finding, const Combination *one)
{
    for (guint g = 0; g < finding->evidence->given->len; g++)
        if (finding->kept[g] && one->excluded_by[g])
            return TRUE;
    return FALSE;
}

static gboolean
some_combination_is_left (const Finding *finding, guint case_index)
{
    for (guint i = 0; i < finding->combinations->each->len; i++)
        if (combination_at (finding, i)->case_index == case_index &&
            !combination_is_excluded (finding, combination_at (finding, i)))
            return TRUE;
    return FALSE;
}

static gboolean
rule_is_excluded (const Finding *finding, const char *rule)
{
    for (guint g = 0; g < finding->evidence->given->len; g++)
        if (finding->kept[g] && given_excludes_rule (evidence_given (finding->evidence, g), rule))
            return TRUE;
    return FALSE;
}

static gboolean
cause_is_excluded (const Finding *finding, const Cause *cause)
{
    for (guint g = 0; g < finding->evidence->given->len; g++)
        if (finding->kept[g] && given_excludes_cause (evidence_given (finding->evidence, g), cause))
            return TRUE;
    return FALSE;
}

static gboolean
cause_was_found (const Finding *finding, const Cause *cause)
{
    for (guint g = 0; g < finding->evidence->given->len; g++)
        if (finding->kept[g] && evidence_given (finding->evidence, g)->observation->cause == cause)
            return TRUE;
    return FALSE;
}

/* Some physical cause is left, or the files name none for such a unit and nothing excludes what they do not name. */
static gboolean
some_cause_is_left (const Finding *finding)
{
    const GPtrArray *looks = finding->question->library->looks;
    gboolean named = FALSE;

    for (guint g = 0; g < finding->evidence->given->len; g++)
        if (finding->kept[g] && given_excludes_all_causes (evidence_given (finding->evidence, g)))
            return FALSE;
    for (guint i = 0; i < looks->len; i++) {
        const LookFirst *look = looks->pdata[i];

        for (guint c = 0; look->finds != NULL && c < look->finds->len; c++) {
            const Cause *cause = look->finds->pdata[c];

            if (!cause_suits (finding->question->unit, cause) && !cause_was_found (finding, cause))
                continue;
            named = TRUE;
            if (!cause_is_excluded (finding, cause))
                return TRUE;
        }
    }
    return !named;
}

static gboolean
case_is_explained (const Finding *finding, guint index)
{
    const DarkCase *one = dark_case (finding->dark, index);

    if (!some_combination_is_left (finding, index))
        return FALSE;
    if (one->starts == STARTS_YES)
        return some_cause_is_left (finding);
    for (guint i = 0; i < one->broken->len; i++) {
        const Broken *broken = one->broken->pdata[i];

        if (broken_keeps_dark (broken) && !rule_is_excluded (finding, broken->rule))
            return TRUE;
    }
    return FALSE;
}

static gboolean
something_is_left (const Finding *finding)
{
    for (guint i = 0; i < finding->dark->cases->len; i++)
        if (case_is_explained (finding, i))
            return TRUE;
    return FALSE;
}

/* Whether such a thing could be seen on any unit with these parts: were the files silent about its rules and releases.
 * */
static gboolean
could_be_seen (const Finding *finding)
{
    return some_cause_is_left (finding) || !rule_is_excluded (finding, g_intern_static_string ("")); /* of no name */
}

/* ---- Minimal sets ---- */

static void
keep_observations (Finding *finding, const FactSet *kept)
{
    for (guint g = 0; g < finding->evidence->given->len; g++) {
        guint fact = 0;

        finding->kept[g] =
            g_ptr_array_find (finding->observations, evidence_given (finding->evidence, g)->observation, &fact) &&
            fact_set_has (kept, fact);
    }
}

static WayAnswer
ask_kept (const FactSet *kept, gpointer data)
{
    Finding *finding = data;

    keep_observations (finding, kept);
    return something_is_left (finding) ? WAY_OPEN : WAY_NONE;
}

/* Of the signs of a minimal set of observations those that it takes. */
static Conflict *
conflict_new (Finding *finding, const FactSet *set)
{
    Conflict *conflict = g_new0 (Conflict, 1);

    conflict->given = g_array_new (FALSE, FALSE, sizeof (guint));
    keep_observations (finding, set);
    conflict->with_files = could_be_seen (finding);
    for (guint g = 0; g < finding->evidence->given->len; g++) {
        if (!finding->kept[g])
            continue;
        finding->kept[g] = FALSE;
        if (!something_is_left (finding))
            continue;
        finding->kept[g] = TRUE;
        g_array_append_val (conflict->given, g);
    }
    return conflict;
}

/* The observations that count so far and have a meaning. */
static void
list_observations (Finding *finding)
{
    g_ptr_array_set_size (finding->observations, 0);
    for (guint g = 0; g < finding->evidence->given->len && finding->observations->len < FACTS_MOST; g++) {
        gpointer observation = (gpointer) evidence_given (finding->evidence, g)->observation;

        if (evidence_counts (finding->evidence, g) && !g_ptr_array_find (finding->observations, observation, NULL))
            g_ptr_array_add (finding->observations, observation);
    }
}

/* Once as a rule; again where the list of sets was cut short and what is left still leaves no case. */
static void
find_sets (Finding *finding, Evidence *evidence)
{
    const FactSet none_late = { { 0 } };
    FactSet all = { { 0 } };

    for (list_observations (finding);; list_observations (finding)) {
        all = fact_set_all (finding->observations->len);
        if (finding->observations->len == 0 || ask_kept (&all, finding) == WAY_OPEN)
            break;
        g_autoptr (NoneSets) sets =
            none_sets_find (finding->observations->len, &none_late, ask_kept, finding, MOST_ASKED, MOST_CONFLICTS);
        for (guint i = 0; i < sets->forbidding->len; i++)
            g_ptr_array_add (evidence->conflicts,
                             conflict_new (finding, &g_array_index (sets->forbidding, FactSet, i)));
    }
    keep_observations (finding, &all);
}

/* ---- Putting it together ---- */

static gboolean
has_release (const Finding *finding, const Combination *one, guint component, guint release)
{
    return one->releases != NULL ? one->releases[component] == release
                                 : dark_case (finding->dark, one->case_index)->may_be[component][release];
}

/* All that the unit may have where there are no cases to look at. */
static gboolean
may_have (const Finding *finding, guint component, guint release)
{
    if (finding->dark->cases->len == 0)
        return finding->question->unit->releases[component].may_be[release];
    for (guint i = 0; i < finding->combinations->each->len; i++) {
        const Combination *one = combination_at (finding, i);

        if (case_is_left (finding->evidence, one->case_index) && !combination_is_excluded (finding, one) &&
            has_release (finding, one, component, release))
            return TRUE;
    }
    return FALSE;
}

static void
fill_what_is_left (const Finding *finding, Evidence *evidence)
{
    const Board *board = finding->question->unit->board;

    for (guint i = 0; i < finding->dark->cases->len; i++)
        evidence->case_out[i] = !case_is_explained (finding, i);
    evidence->may_be = g_new0 (gboolean *, board->components->len + 1);
    for (guint c = 0; c < board->components->len; c++) {
        guint n_releases = board_component (board, c)->releases->len;

        evidence->may_be[c] = g_new0 (gboolean, n_releases + 1);
        for (guint r = 0; r < n_releases; r++)
            evidence->may_be[c][r] = may_have (finding, c, r);
    }
}

void
evidence_find_conflicts (const DiagnosisQuestion *question, const DarkAnswer *dark, Evidence *evidence)
{
    g_autoptr (Combinations) combinations = combinations_list (question, dark, evidence);
    Finding finding = { question, dark, evidence, combinations };

    finding.observations = g_ptr_array_new ();
    finding.kept = g_new0 (gboolean, evidence->given->len + 1);
    evidence->case_out = g_new0 (gboolean, dark->cases->len + 1);
    if (dark->cases->len > 0)
        find_sets (&finding, evidence);
    evidence->against_book = evidence->conflicts->len > 0;
    for (guint i = 0; i < evidence->conflicts->len; i++)
        evidence->against_book &= ((const Conflict *) evidence->conflicts->pdata[i])->with_files;
    fill_what_is_left (&finding, evidence);
    g_ptr_array_unref (finding.observations);
    g_free (finding.kept);
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
