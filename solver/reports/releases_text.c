/* SPDX-License-Identifier: MIT */
/* A set of combinations of releases in words: per component where it is a product of sets, else one by one. */
#include "reports/releases_text.h"

#define MOST_COMBINATIONS 12 /* said one by one; the rest is counted */

/* Which releases of a component occur in the cases, as one flag per release. Transfer full. */
static gboolean *
releases_that_occur (const Unit *unit, const GPtrArray *cases, guint component)
{
    gboolean *occur = g_new0 (gboolean, board_component (unit->board, component)->releases->len);

    for (guint i = 0; i < cases->len; i++)
        occur[((const guint *) g_ptr_array_index (cases, i))[component]] = TRUE;
    return occur;
}

static guint
count_flags (const gboolean *flags, guint length)
{
    guint count = 0;

    for (guint i = 0; i < length; i++)
        count += flags[i] ? 1 : 0;
    return count;
}

char *
releases_of_component (const Component *component, const gboolean *may_be)
{
    g_autoptr (GPtrArray) names = g_ptr_array_new ();
    g_autofree char *joined = NULL;

    for (guint r = 0; r < component->releases->len; r++)
        if (may_be[r])
            g_ptr_array_add (names, (gpointer) component_release (component, r)->name);
    joined = words_join (names, "or");
    return g_strdup_printf ("%s %s", component->name, joined);
}

static char *
component_in_words (const Unit *unit, guint index, const gboolean *occur, guint count)
{
    const Component *component = board_component (unit->board, index);

    if (count == unit->releases[index].count)
        return g_strdup_printf ("any %s that it may have", component->name);
    return releases_of_component (component, occur);
}

static char *
one_by_one (const Unit *unit, const GPtrArray *cases)
{
    g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);

    for (guint i = 0; i < cases->len && i < MOST_COMBINATIONS; i++)
        g_ptr_array_add (texts, words_case (unit, g_ptr_array_index (cases, i)));
    if (cases->len > MOST_COMBINATIONS)
        g_ptr_array_add (texts, g_strdup_printf ("%u more combinations", cases->len - MOST_COMBINATIONS));
    g_ptr_array_add (texts, NULL);
    return g_strjoinv ("; ", (char **) texts->pdata);
}

char *
releases_in_words (const Unit *unit, const GPtrArray *cases)
{
    g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
    guint64 product = 1;

    for (guint c = 0; c < unit->board->components->len; c++) {
        g_autofree gboolean *occur = NULL;
        guint count = 0;

        if (unit->releases[c].count == 1)
            continue;
        occur = releases_that_occur (unit, cases, c);
        count = count_flags (occur, board_component (unit->board, c)->releases->len);
        product *= count;
        g_ptr_array_add (texts, component_in_words (unit, c, occur, count));
    }
    /* The cases are distinct and lie within the product, so equal numbers mean equal sets. */
    if (product != cases->len)
        return one_by_one (unit, cases);
    if (texts->len == 0)
        return g_strdup ("the releases as told");
    return words_join (texts, "and");
}
