/* SPDX-License-Identifier: MIT */
/* Sets of facts as bits, by value. */
#ifndef RUNGWISE_EXPLAIN_FACT_SET_H
#define RUNGWISE_EXPLAIN_FACT_SET_H

#include <glib.h>

#define FACTS_MOST  512
#define FACT_WORDS  (FACTS_MOST / 64)
#define FACT_BIT(i) ((guint64) 1 << ((i) % 64))

typedef struct {
    guint64 words[FACT_WORDS];
} FactSet;

static inline gboolean
fact_set_has (const FactSet *set, guint fact)
{
    return (set->words[fact / 64] & FACT_BIT (fact)) != 0;
}

static inline void
fact_set_add (FactSet *set, guint fact)
{
    set->words[fact / 64] |= FACT_BIT (fact);
}

static inline void
fact_set_remove (FactSet *set, guint fact)
{
    set->words[fact / 64] &= ~FACT_BIT (fact);
}

/* The facts 0 .. n - 1. */
static inline FactSet
fact_set_all (guint n)
{
    FactSet set = { { 0 } };
    for (guint i = 0; i < n; i++)
        fact_set_add (&set, i);
    return set;
}

static inline FactSet
fact_set_without (const FactSet *set, const FactSet *others)
{
    FactSet rest;
    for (guint w = 0; w < FACT_WORDS; w++)
        rest.words[w] = set->words[w] & ~others->words[w];
    return rest;
}

static inline gboolean
fact_set_within (const FactSet *inner, const FactSet *outer)
{
    for (guint w = 0; w < FACT_WORDS; w++)
        if ((inner->words[w] & ~outer->words[w]) != 0)
            return FALSE;
    return TRUE;
}

static inline gboolean
fact_set_meets (const FactSet *left, const FactSet *right)
{
    for (guint w = 0; w < FACT_WORDS; w++)
        if ((left->words[w] & right->words[w]) != 0)
            return TRUE;
    return FALSE;
}

static inline gboolean
fact_set_equal (const FactSet *left, const FactSet *right)
{
    return fact_set_within (left, right) && fact_set_within (right, left);
}

static inline guint
fact_set_count (const FactSet *set)
{
    guint count = 0;
    for (guint w = 0; w < FACT_WORDS; w++)
        for (guint64 word = set->words[w]; word != 0; word &= word - 1)
            count++;
    return count;
}

/* Smaller sets first; of equal size, the one with the lower facts. */
static inline int
fact_set_compare (const FactSet *left, const FactSet *right)
{
    guint n_left = fact_set_count (left), n_right = fact_set_count (right);
    if (n_left != n_right)
        return n_left < n_right ? -1 : 1;
    for (guint i = 0; i < FACTS_MOST; i++)
        if (fact_set_has (left, i) != fact_set_has (right, i))
            return fact_set_has (left, i) ? -1 : 1;
    return 0;
}

#endif
