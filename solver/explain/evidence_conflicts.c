/* SPDX-License-Identifier: MIT */
/* Conflicts: the minimal sets of observations that leave no case with an explanation, and the cases that the others
 * exclude. */
#include "explain/evidence_kept.h"

#include "explain/none_sets.h"

#define MOST_ASKED     4000
#define MOST_CONFLICTS 16

typedef struct {
    Kept kept;
    const Evidence *evidence;
    GPtrArray *observations; /* const Observation*; owned array: facts 0, 1, ... of the sets; each has a given */
} Finding;

/* ---- Minimal sets ---- */

static void
keep_observations (Finding *finding, const FactSet *kept)
{
    for (guint g = 0; g < finding->evidence->given->len; g++) {
        guint fact = 0;

        finding->kept.given[g] =
            g_ptr_array_find (finding->observations, evidence_given (finding->evidence, g)->observation, &fact) &&
            fact_set_has (kept, fact);
    }
}

static WayAnswer
ask_kept (const FactSet *kept, gpointer data)
{
    Finding *finding = data;

    keep_observations (finding, kept);
    return kept_explains_something (&finding->kept) ? WAY_OPEN : WAY_NONE;
}

/* Of the signs of a minimal set of observations those that it takes. */
static Conflict *
conflict_new (Finding *finding, const FactSet *set)
{
    Conflict *conflict = g_new0 (Conflict, 1);

    conflict->given = g_array_new (FALSE, FALSE, sizeof (guint));
    keep_observations (finding, set);
    conflict->with_files = kept_could_be_seen (&finding->kept);
    for (guint g = 0; g < finding->evidence->given->len; g++) {
        if (!finding->kept.given[g])
            continue;
        finding->kept.given[g] = FALSE;
        if (!kept_explains_something (&finding->kept))
            continue;
        finding->kept.given[g] = TRUE;
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

void
evidence_find_conflicts (const DiagnosisQuestion *question, const DarkAnswer *dark, Evidence *evidence)
{
    g_autoptr (Combinations) combinations = combinations_list (question, dark, evidence);
    g_autofree gboolean *kept = g_new0 (gboolean, evidence->given->len + 1);
    g_autoptr (GPtrArray) observations = g_ptr_array_new ();
    Finding finding = { { question, dark, evidence, combinations, kept }, evidence, observations };

    evidence->case_out = g_new0 (gboolean, dark->cases->len + 1);
    if (dark->cases->len > 0)
        find_sets (&finding, evidence);
    evidence->against_book = evidence->conflicts->len > 0;
    for (guint i = 0; i < evidence->conflicts->len; i++)
        evidence->against_book &= ((const Conflict *) evidence->conflicts->pdata[i])->with_files;
    evidence_fill_left (&finding.kept, evidence);
}
