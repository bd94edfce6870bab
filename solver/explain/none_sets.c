/* SPDX-License-Identifier: MIT */
/* Dualise and advance: every minimal hitting set of the forbidding sets so far is either a correction, or what is left
 * without it holds a further forbidding set. When all are corrections, both lists are complete. */
#include "explain/none_sets.h"

/* Candidates kept at one time; beyond it the lists are not complete. */
#define MOST_CANDIDATES 20000
/* Answers that were not settled. Each costs as much as hundreds of settled ones, so that a few are enough to see that
 * the question is too large. */
#define MOST_UNDECIDED 6

typedef struct {
    FactSet set;
    guint size;
    gboolean asked; /* whether there is a way without it */
    WayAnswer answer;
} Candidate;

typedef struct {
    guint n_facts;
    FactSet late;
    AskWay ask;
    gpointer data;
    guint most_asked;
    guint undecided;
    NoneSets *sets;
    GArray *opened;     /* FactSet: kept, and a way there was; owned */
    GArray *candidates; /* Candidate: the minimal hitting sets of sets->forbidding; owned */
} Finding;

static const FactSet *
set_at (const GArray *sets, guint index)
{
    return &g_array_index (sets, FactSet, index);
}

static gboolean
holds_one_within (const GArray *sets, const FactSet *outer)
{
    for (guint i = 0; i < sets->len; i++)
        if (fact_set_within (set_at (sets, i), outer))
            return TRUE;
    return FALSE;
}

static gboolean
holds_one_around (const GArray *sets, const FactSet *inner)
{
    for (guint i = 0; i < sets->len; i++)
        if (fact_set_within (inner, set_at (sets, i)))
            return TRUE;
    return FALSE;
}

static gboolean
is_spent (const Finding *finding)
{
    return finding->sets->asked >= finding->most_asked || finding->undecided >= MOST_UNDECIDED;
}

static WayAnswer
ask (Finding *finding, const FactSet *kept)
{
    if (holds_one_within (finding->sets->forbidding, kept))
        return WAY_NONE;
    if (holds_one_around (finding->opened, kept))
        return WAY_OPEN;
    if (is_spent (finding))
        return WAY_UNDECIDED;
    finding->sets->asked++;
    WayAnswer answer = finding->ask (kept, finding->data);
    if (answer == WAY_OPEN)
        g_array_append_val (finding->opened, *kept);
    finding->undecided += answer == WAY_UNDECIDED;
    return answer;
}

/* Those of the facts first .. first + n - 1 that are kept and are in `may_go`. */
static FactSet
block_of (const FactSet *kept, const FactSet *may_go, guint first, guint n)
{
    FactSet block = { { 0 } };
    for (guint i = first; i < first + n; i++)
        if (fact_set_has (kept, i) && fact_set_has (may_go, i))
            fact_set_add (&block, i);
    return block;
}

/* Drops of the facts first .. first + n - 1 as many of `may_go` as can go, high ones first. `needed`: it is known that
 * not all can. Whole blocks are tried before their halves, so that facts that don't matter go many at a time. */
static void
shrink_block (Finding *finding, FactSet *kept, const FactSet *may_go, guint first, guint n, gboolean needed)
{
    FactSet block = block_of (kept, may_go, first, n);
    if (fact_set_count (&block) == 0)
        return;
    if (!needed) {
        FactSet without = fact_set_without (kept, &block);
        WayAnswer answer = ask (finding, &without);
        if (answer == WAY_NONE) {
            *kept = without;
            return;
        }
        if (answer == WAY_UNDECIDED && n == 1)
            finding->sets->minimal = FALSE;
        needed = answer == WAY_OPEN;
    }
    if (n == 1)
        return;
    guint low = n / 2;
    shrink_block (finding, kept, may_go, first + low, n - low, FALSE);
    FactSet high = block_of (kept, may_go, first + low, n - low);
    shrink_block (finding, kept, may_go, first, low, needed && fact_set_count (&high) == 0);
}

static Candidate *
candidate_at (const GArray *candidates, guint index)
{
    return &g_array_index (candidates, Candidate, index);
}

/* Adds `missing` grown by each fact of `set`, unless one of the first `n_hitting` of `hitting` is within. */
static void
grow_candidate (const Finding *finding, const Candidate *missing, const FactSet *set, GArray *hitting, guint n_hitting)
{
    for (guint f = 0; f < finding->n_facts; f++) {
        Candidate grown = { missing->set, missing->size + 1, FALSE, WAY_UNDECIDED };
        gboolean other_within = FALSE;
        if (!fact_set_has (set, f))
            continue;
        fact_set_add (&grown.set, f);
        for (guint h = 0; h < n_hitting && !other_within; h++)
            other_within = fact_set_within (&candidate_at (hitting, h)->set, &grown.set);
        if (!other_within)
            g_array_append_val (hitting, grown);
    }
}

/* Minimal hitting sets of one set more (Berge). */
static void
advance_candidates (Finding *finding, const FactSet *set)
{
    g_autoptr (GArray) missing = g_array_new (FALSE, FALSE, sizeof (Candidate));
    GArray *hitting = g_array_new (FALSE, FALSE, sizeof (Candidate));
    for (guint i = 0; i < finding->candidates->len; i++) {
        const Candidate *one = candidate_at (finding->candidates, i);
        g_array_append_vals (fact_set_meets (&one->set, set) ? hitting : missing, one, 1);
    }
    guint n_hitting = hitting->len;
    for (guint i = 0; i < missing->len && hitting->len <= MOST_CANDIDATES; i++)
        grow_candidate (finding, candidate_at (missing, i), set, hitting, n_hitting);
    g_array_unref (finding->candidates);
    finding->candidates = hitting;
}

/* The smallest candidate that was not asked about yet; NULL: there is none. */
static Candidate *
next_candidate (const Finding *finding)
{
    Candidate *best = NULL;
    for (guint i = 0; i < finding->candidates->len; i++) {
        Candidate *one = candidate_at (finding->candidates, i);
        if (one->asked || (best != NULL && one->size > best->size))
            continue;
        if (best == NULL || one->size < best->size || fact_set_compare (&one->set, &best->set) < 0)
            best = one;
    }
    return best;
}

/* One forbidding set more, out of `kept`. */
static void
add_forbidding (Finding *finding, FactSet kept)
{
    FactSet all = fact_set_all (finding->n_facts);
    FactSet may_go = fact_set_without (&all, &finding->late);
    shrink_block (finding, &kept, &may_go, 0, finding->n_facts, FALSE);
    g_array_append_val (finding->sets->forbidding, kept);
    FactSet early = fact_set_without (&kept, &finding->late);
    advance_candidates (finding, &early);
}

static void
take_candidate (Finding *finding, Candidate *candidate)
{
    FactSet all = fact_set_all (finding->n_facts);
    FactSet kept = fact_set_without (&all, &candidate->set);
    candidate->asked = TRUE;
    candidate->answer = ask (finding, &kept);
    if (candidate->answer == WAY_NONE)
        add_forbidding (finding, kept);
}

/* Every set without the late facts that it does not need. */
static void
free_of_late (Finding *finding)
{
    for (guint i = 0; i < finding->sets->forbidding->len; i++) {
        FactSet kept = *set_at (finding->sets->forbidding, i);
        shrink_block (finding, &kept, &finding->late, 0, finding->n_facts, FALSE);
        g_array_index (finding->sets->forbidding, FactSet, i) = kept;
    }
}

static void
collect_corrections (const Finding *finding)
{
    for (guint i = 0; i < finding->candidates->len; i++) {
        const Candidate *one = candidate_at (finding->candidates, i);
        if (one->asked && one->answer == WAY_OPEN)
            g_array_append_val (finding->sets->corrections, one->set);
        else
            finding->sets->complete = FALSE;
    }
}

static int
by_size (gconstpointer left, gconstpointer right)
{
    return fact_set_compare (left, right);
}

NoneSets *
none_sets_find (guint n_facts, const FactSet *late, AskWay ask_way, gpointer data, guint most_asked, guint most_sets)
{
    NoneSets *sets = g_new0 (NoneSets, 1);
    Finding finding = {
        .n_facts = n_facts, .late = *late, .ask = ask_way, .data = data, .most_asked = most_asked, .sets = sets
    };
    Candidate nothing = { { { 0 } }, 0, TRUE, WAY_NONE };
    g_return_val_if_fail (n_facts <= FACTS_MOST, sets);
    sets->forbidding = g_array_new (FALSE, FALSE, sizeof (FactSet));
    sets->corrections = g_array_new (FALSE, FALSE, sizeof (FactSet));
    sets->minimal = sets->complete = TRUE;
    finding.opened = g_array_new (FALSE, FALSE, sizeof (FactSet));
    finding.candidates = g_array_new (FALSE, FALSE, sizeof (Candidate));
    g_array_append_val (finding.candidates, nothing);
    add_forbidding (&finding, fact_set_all (n_facts));
    for (Candidate *next; (next = next_candidate (&finding)) != NULL; take_candidate (&finding, next))
        if (sets->forbidding->len >= most_sets || finding.candidates->len > MOST_CANDIDATES || is_spent (&finding))
            break;
    free_of_late (&finding);
    collect_corrections (&finding);
    g_array_sort (sets->forbidding, by_size);
    g_array_sort (sets->corrections, by_size);
    g_array_unref (finding.opened);
    g_array_unref (finding.candidates);
    return sets;
}

void
none_sets_free (NoneSets *sets)
{
    g_clear_pointer (&sets->forbidding, g_array_unref);
    g_clear_pointer (&sets->corrections, g_array_unref);
    g_free (sets);
}
