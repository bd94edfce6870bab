/* SPDX-License-Identifier: MIT */
/* Why there is no route: the facts that forbid it together, and the additions that would open one. */
#include "explain/asking.h"

/* Of more sets nobody would read. */
#define MOST_SETS 16
/* A set that could not be made smaller for want of answers explains nothing when it holds more facts than this. */
#define MOST_UNSURE_FACTS 20

void
no_route_free (NoRoute *none)
{
    g_clear_pointer (&none->facts, g_ptr_array_unref);
    g_clear_pointer (&none->sets, g_ptr_array_unref);
    g_clear_pointer (&none->lifts, g_ptr_array_unref);
    g_clear_pointer (&none->additions, g_ptr_array_unref);
    g_free (none);
}

static const BlockingFact *
fact_at (const NoRoute *none, guint index)
{
    return g_ptr_array_index (none->facts, index);
}

/* ---- What kind of no ---- */

/* About what starts, not about the way there. */
static gboolean
is_about_the_end (const BlockingFact *fact, const GPtrArray *rules)
{
    switch (fact->kind) {
    case FACT_RULE: {
        const Rule *rule = g_ptr_array_index (rules, fact->index);

        return rule->breaking == BREAKING_STOPS || (rule->breaking == BREAKING_HARMS && (rule->powers & POWER_ON) != 0);
    }
    case FACT_SUPPORT:
    case FACT_RUNNING:
    case FACT_PART:
    case FACT_WANT_SLOT:
    case FACT_WANT_RELEASE:
        return TRUE;
    default:
        return FALSE;
    }
}

static NoneKind
kind_of_set (const NoRoute *none, const FactSet *set, const GPtrArray *rules)
{
    gboolean about_the_end = TRUE, stated_no = FALSE;

    for (guint i = 0; i < none->facts->len; i++) {
        const BlockingFact *fact = fact_at (none, i);

        if (!fact_set_has (set, i))
            continue;
        if (fact->of_shop)
            return NONE_NOT_WITH_THIS;
        about_the_end = about_the_end && is_about_the_end (fact, rules);
        stated_no = stated_no || fact->stated_no;
    }
    if (!about_the_end || fact_set_count (set) == 0)
        return NONE_NOT_FROM_HERE;
    return stated_no ? NONE_NEVER : NONE_NOT_KNOWN;
}

/* ---- Putting it together ---- */

static GArray *
indices_of (const FactSet *set, guint n_facts)
{
    GArray *indices = g_array_new (FALSE, FALSE, sizeof (guint));

    for (guint i = 0; i < n_facts; i++)
        if (fact_set_has (set, i))
            g_array_append_val (indices, i);
    return indices;
}

/* The strongest no first; within it the smaller sets first, as they come. */
static void
take_sets (NoRoute *none, const NoneSets *sets, const GPtrArray *rules)
{
    const GArray *forbidding = sets->forbidding;

    none->kind = NONE_NOT_SETTLED;
    for (NoneKind kind = NONE_NEVER; kind <= NONE_NOT_WITH_THIS; kind++)
        for (guint i = 0; i < forbidding->len; i++) {
            const FactSet *set = &g_array_index (forbidding, FactSet, i);

            if (kind_of_set (none, set, rules) != kind || (!sets->minimal && fact_set_count (set) > MOST_UNSURE_FACTS))
                continue;
            none->kind = MIN (none->kind, kind);
            g_ptr_array_add (none->sets, indices_of (set, none->facts->len));
        }
}

static void
free_set (gpointer data)
{
    g_array_unref (data);
}

/* Rules are what is true of every machine: they are said, but no way out is looked for in them. */
static FactSet
rules_among (const GPtrArray *facts)
{
    FactSet rules = { { 0 } };

    for (guint i = 0; i < facts->len; i++)
        if (((const BlockingFact *) g_ptr_array_index (facts, i))->kind == FACT_RULE)
            fact_set_add (&rules, i);
    return rules;
}

/* Corrections that are the shop's, the order's or the maker's to make. */
static void
take_lifts (NoRoute *none, const GArray *corrections)
{
    for (guint i = 0; i < corrections->len; i++) {
        const FactSet *set = &g_array_index (corrections, FactSet, i);
        gboolean can_be = TRUE;

        for (guint f = 0; f < none->facts->len; f++)
            can_be = can_be && (!fact_set_has (set, f) || fact_can_be_lifted (fact_at (none, f)));
        if (can_be)
            g_ptr_array_add (none->lifts, indices_of (set, none->facts->len));
    }
}

NoRoute *
no_route_explain (Library *library, Shop *shop, Unit *unit, Want *want, const RouteOptions *options)
{
    NoRoute *none = g_new0 (NoRoute, 1);
    Asking asking = { .asked = { library, shop, unit, want }, .options = options };
    g_autoptr (Changes) changes = changes_new ();

    none->facts = blocking_facts_collect (&asking.asked);
    none->sets = g_ptr_array_new_with_free_func (free_set);
    none->lifts = g_ptr_array_new_with_free_func (free_set);
    gboolean all_facts = none->facts->len <= FACTS_MOST;
    if (!all_facts)
        g_ptr_array_set_size (none->facts, FACTS_MOST);
    asking.facts = none->facts;
    FactSet rules = rules_among (none->facts);
    asked_leave_useless_lots (&asking.asked, changes);
    g_autoptr (NoneSets) sets =
        none_sets_find (none->facts->len, &rules, asking_way, &asking, NO_ROUTE_MOST_PLANS, MOST_SETS);
    take_sets (none, sets, library->rules);
    take_lifts (none, sets->corrections);
    none->minimal = sets->minimal;
    none->complete = sets->complete && all_facts;
    none->additions = additions_find (&asking, &none->tried, &none->all_tried);
    none->plans = asking.plans;
    return none;
}
