/* SPDX-License-Identifier: MIT */
#include "against.h"

#include "route/start.h"

static guint
bit_of (const Enumeration *all, const DarkFact *fact)
{
    switch (fact->kind) {
    case DARK_HELD:
    case DARK_EMPTY:
        return fact->index;
    case DARK_RELEASE:
    case DARK_FAILED:
        return enumeration_bit_of_component (all, fact->index);
    case DARK_REVISION:
        return enumeration_bit_of_revision (all);
    case DARK_REDUNDANT:
        return enumeration_bit_of_redundancy (all);
    }
    g_assert_not_reached ();
}

guint64
facts_of_indices (const Enumeration *all, const DarkCase *one, const GArray *indices)
{
    guint64 facts = 0;

    for (guint i = 0; i < indices->len; i++)
        facts |= (guint64) 1 << bit_of (all, one->facts->pdata[g_array_index (indices, guint, i)]);
    return facts;
}

static int
ascending (gconstpointer left, gconstpointer right)
{
    guint64 one = *(const guint64 *) left, other = *(const guint64 *) right;

    return one < other ? -1 : one > other;
}

static gboolean
same_list (const GArray *one, const GArray *other)
{
    gboolean same = one->len == other->len;

    for (guint i = 0; i < one->len && same; i++)
        same = g_array_index (one, guint64, i) == g_array_index (other, guint64, i);
    return same;
}

static char *
list_in_words (const GArray *list)
{
    GString *words = g_string_new (NULL);

    for (guint i = 0; i < list->len; i++)
        g_string_append_printf (words, " %" G_GINT64_MODIFIER "x", g_array_index (list, guint64, i));
    return g_string_free (words, FALSE);
}

/* NULL: the lists are the same. Transfer full. */
static char *
differ (const char *what, const GArray *found, const GArray *expected)
{
    if (same_list (found, expected))
        return NULL;
    g_autofree char *left = list_in_words (found), *right = list_in_words (expected);
    return g_strdup_printf ("%s: found%s, the enumeration has%s", what, left, right);
}

/* ---- The rules of a set ---- */

static guint64
rules_of (const Enumeration *all, const DarkSet *set)
{
    guint64 rules = 0;

    for (guint i = 0; i < set->rules->len; i++) {
        const DarkRule *rule = set->rules->pdata[i];

        rules |= (guint64) 1 << enumeration_bit_of_rule (all, rule->id, rule->at);
    }
    return rules;
}

/* A rule of a set is linked to how it is broken exactly where the unit as it stands breaks it. */
static gboolean
is_linked_right (const DarkCase *one, const DarkRule *rule)
{
    gboolean broken = FALSE;

    for (guint i = 0; i < one->broken->len; i++) {
        const Broken *other = one->broken->pdata[i];

        broken = broken || (other->rule == rule->id && other->at.line == rule->at.line &&
                            g_strcmp0 (other->at.file, rule->at.file) == 0);
    }
    return broken == (rule->broken != NULL) && (rule->broken == NULL || rule->broken->rule == rule->id);
}

static char *
rules_are_wrong (const Enumeration *all, const DarkCase *one, const guint *releases, const DarkSet *set, Tally *tally)
{
    guint64 facts = facts_of_indices (all, one, set->facts), rules = rules_of (all, set);
    gboolean some_broken = rules == 0 || all->unit->failed != NULL; /* what failed has no release that breaks any */

    if (!enumeration_keeps_dark (all, releases, facts, rules, FALSE))
        return g_strdup_printf ("the rules of a set are not enough: %" G_GINT64_MODIFIER "x", facts);
    for (guint64 left = rules; left != 0; left &= left - 1, tally->rules++)
        if (enumeration_keeps_dark (all, releases, facts, rules & ~(left & -left), FALSE))
            return g_strdup_printf ("a set does not need all its rules: %" G_GINT64_MODIFIER "x", facts);
    if (set->stated != enumeration_keeps_dark (all, releases, facts, rules, TRUE))
        return g_strdup_printf ("a set is called stated, or not, wrongly: %" G_GINT64_MODIFIER "x", facts);
    tally->stated += set->stated ? 1 : 0;
    for (guint i = 0; i < set->rules->len; i++) {
        if (!is_linked_right (one, set->rules->pdata[i]))
            return g_strdup ("a rule of a set is not linked to how it is broken");
        some_broken = some_broken || ((const DarkRule *) set->rules->pdata[i])->broken != NULL;
    }
    return some_broken ? NULL : g_strdup ("no rule of a set is broken as things stand");
}

/* ---- One combination ---- */

static GArray *
facts_of_sets (const Enumeration *all, const DarkCase *one)
{
    GArray *list = g_array_new (FALSE, FALSE, sizeof (guint64));

    for (guint i = 0; i < one->sets->len; i++) {
        guint64 facts = facts_of_indices (all, one, ((const DarkSet *) one->sets->pdata[i])->facts);

        g_array_append_val (list, facts);
    }
    g_array_sort (list, ascending);
    return list;
}

static GArray *
facts_of_corrections (const Enumeration *all, const DarkCase *one)
{
    GArray *list = g_array_new (FALSE, FALSE, sizeof (guint64));

    for (guint i = 0; i < one->corrections->len; i++) {
        guint64 facts = facts_of_indices (all, one, one->corrections->pdata[i]);

        g_array_append_val (list, facts);
    }
    g_array_sort (list, ascending);
    return list;
}

/* Lists that are cut short hold some of what there is. */
static char *
some_is_missing (const GArray *found, const GArray *expected)
{
    for (guint i = 0; i < found->len; i++) {
        gboolean there = FALSE;

        for (guint j = 0; j < expected->len && !there; j++)
            there = g_array_index (found, guint64, i) == g_array_index (expected, guint64, j);
        if (!there)
            return g_strdup ("a set that the enumeration has not");
    }
    return NULL;
}

static char *
sets_are_wrong (const Enumeration *all, const DarkCase *one, const guint *releases, Tally *tally)
{
    g_autoptr (GArray) sets = facts_of_sets (all, one), all_sets = enumeration_sets (all, releases);
    g_autoptr (GArray) corrections = facts_of_corrections (all, one),
                       all_corrections = enumeration_corrections (all, releases);
    char *wrong = NULL;

    tally->sets += sets->len;
    tally->corrections += corrections->len;
    tally->cut_short += one->complete ? 0 : 1;
    if (one->complete)
        wrong = differ ("sets", sets, all_sets);
    else
        wrong = some_is_missing (sets, all_sets);
    if (wrong == NULL && one->complete)
        wrong = differ ("corrections", corrections, all_corrections);
    for (guint i = 0; i < one->sets->len && wrong == NULL; i++)
        wrong = rules_are_wrong (all, one, releases, one->sets->pdata[i], tally);
    return wrong;
}

static const DarkCase *
case_of (const Enumeration *all, const DarkAnswer *answer, const guint *releases)
{
    const DarkCase *found = NULL;

    for (guint i = 0; i < answer->cases->len; i++) {
        const DarkCase *one = answer->cases->pdata[i];
        gboolean in = TRUE;

        for (guint c = 0; c < all->n_components; c++)
            in = in && one->may_be[c][releases[c]];
        if (in && found != NULL)
            return NULL;
        found = in ? one : found;
    }
    return found;
}

static char *
combination_is_wrong (const Enumeration *all, const DarkAnswer *answer, const guint *releases, Tally *tally)
{
    const DarkCase *one = case_of (all, answer, releases);
    g_autoptr (State) state = state_from_unit (all->unit, releases);
    g_autoptr (GPtrArray) broken = check_state (all->library, all->shop, state);
    Starts starts = broken_verdict (broken);

    tally->combinations++;
    if (one == NULL)
        return g_strdup ("a combination is in no case, or in several");
    if (one->starts != starts)
        return g_strdup_printf ("a combination's verdict is %d, its case's %d", starts, one->starts);
    if (starts == STARTS_YES)
        return one->sets->len == 0 ? NULL : g_strdup ("a set of what starts");
    tally->dark++;
    return sets_are_wrong (all, one, releases, tally);
}

char *
against_enumeration (const Enumeration *all, const DarkAnswer *answer, Tally *tally)
{
    g_autoptr (GPtrArray) combinations = unit_cases (all->unit, 4096);
    guint64 members = 0;
    char *wrong = NULL;

    tally->units++;
    tally->cases += answer->cases->len;
    for (guint i = 0; i < answer->cases->len; i++)
        members += ((const DarkCase *) answer->cases->pdata[i])->members;
    if (members != combinations->len || answer->combinations != combinations->len)
        return g_strdup ("the cases hold more or fewer combinations than there are");
    for (guint i = 0; i < combinations->len && wrong == NULL; i++)
        wrong = combination_is_wrong (all, answer, combinations->pdata[i], tally);
    return wrong;
}

/* ---- Classes ---- */

/* How far apart two states lie that differ in this component's release by one. */
static guint
stride_of (const Enumeration *all, guint component)
{
    guint stride = 1;

    for (guint c = component + 1; c < all->n_components; c++)
        stride *= all->sizes[c];
    return stride;
}

static gboolean
told_apart (const Enumeration *all, guint component, guint one, guint other, gboolean own_revision)
{
    guint stride = stride_of (all, component);
    guint64 revision = (guint64) 1 << enumeration_bit_of_revision (all);

    for (guint s = 0; s < all->states->len; s++) {
        const Enumerated *left = &g_array_index (all->states, Enumerated, s);

        if (s / stride % all->sizes[component] != one || (own_revision && (left->alike & revision) == 0))
            continue;
        if (left->starts != g_array_index (all->states, Enumerated, s + (other - one) * stride).starts)
            return TRUE;
    }
    return FALSE;
}

char *
classes_are_wrong (const Enumeration *all, Tally *tally)
{
    g_autofree char *reason = NULL;
    g_autoptr (StartSpace) space = start_space_new (all->library, all->unit, all->unit->revision, &reason);

    for (guint c = 0; c < all->n_components; c++)
        for (guint r = 1; r < board_component (all->unit->board, c)->releases->len; r++) {
            guint of_class = start_space_class (space, c, r);

            if (of_class == r)
                continue;
            tally->classes++;
            if (told_apart (all, c, of_class, r, TRUE))
                return g_strdup_printf ("releases %u and %u of component %u are told apart", of_class, r, c);
        }
    return NULL;
}
