/* SPDX-License-Identifier: MIT */
/* A set of combinations of releases in words: per component where it is a product of sets, else as several products. What is said of it
 * is decided by at the bench, so that nothing is ever left out. */
#include "reports/releases_text.h"

#include "reports/releases_split.h"

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
    joined = text_join (names, "or");
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

/* ---- What plays no part ---- */

/* The first of the cases of each kind that the components not left out tell apart. Transfer container. */
static GPtrArray *
distinct_cases (const Unit *unit, const GPtrArray *cases, const gboolean *left_out)
{
    g_autoptr (GHashTable) met = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
    GPtrArray *distinct = g_ptr_array_new ();

    for (guint i = 0; i < cases->len; i++) {
        const guint *releases = cases->pdata[i];
        g_autoptr (GString) key = g_string_new (NULL);

        for (guint c = 0; c < unit->board->components->len; c++)
            if (!left_out[c])
                g_string_append_printf (key, "%u,", releases[c]);
        if (g_hash_table_add (met, g_strdup (key->str)))
            g_ptr_array_add (distinct, (gpointer) releases);
    }
    return distinct;
}

/* The components that may have any of their releases whatever the others have are flagged in `any`. The cases that the
 * others then tell apart; transfer container. */
static GPtrArray *
leave_out_any (const Unit *unit, const GPtrArray *cases, gboolean *any)
{
    GPtrArray *left = g_ptr_array_sized_new (cases->len);

    for (guint i = 0; i < cases->len; i++)
        g_ptr_array_add (left, cases->pdata[i]);
    for (guint c = 0; c < unit->board->components->len; c++) {
        g_autoptr (GPtrArray) without = NULL;

        if (unit->releases[c].count == 1)
            continue;
        any[c] = TRUE;
        without = distinct_cases (unit, left, any);
        any[c] = (guint64) without->len * unit->releases[c].count == left->len;
        if (any[c]) {
            g_ptr_array_unref (left);
            left = g_steal_pointer (&without);
        }
    }
    return left;
}

/* ---- In words ---- */

/* "; with each, any logic that it may have"; "" where there are none. Transfer full. */
static char *
any_in_words (const Unit *unit, const gboolean *any)
{
    g_autoptr (GPtrArray) names = g_ptr_array_new ();
    g_autofree char *joined = NULL;

    for (guint c = 0; c < unit->board->components->len; c++)
        if (any[c])
            g_ptr_array_add (names, (gpointer) board_component (unit->board, c)->name);
    if (names->len == 0)
        return g_strdup ("");
    joined = text_join (names, "and");
    return g_strdup_printf ("; with each, any %s that it may have", joined);
}

/* Components of which only some releases are meant; or those of which any is. */
static void
add_components (const Unit *unit, const ReleaseProduct *product, gboolean any, GPtrArray *texts)
{
    for (guint c = 0; c < product->count; c++) {
        const gboolean *may_be = product->may_be[c];
        guint count = 0;

        if (may_be == NULL)
            continue;
        count = count_flags (may_be, board_component (unit->board, c)->releases->len);
        if ((count == unit->releases[c].count) == any)
            g_ptr_array_add (texts, component_in_words (unit, c, may_be, count));
    }
}

/* "system 2.1.0 or 3.0.0 with any controller that it may have". Transfer full. */
static char *
product_in_words (const Unit *unit, const ReleaseProduct *product)
{
    g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
    g_autoptr (GPtrArray) others = g_ptr_array_new ();
    g_autofree char *joined = NULL;

    add_components (unit, product, FALSE, texts);
    add_components (unit, product, TRUE, texts);
    for (guint i = 1; i < texts->len; i++)
        g_ptr_array_add (others, texts->pdata[i]);
    joined = text_join (others, "and");
    return others->len == 0 ? g_strdup (texts->pdata[0])
                            : g_strdup_printf ("%s with %s", (char *) texts->pdata[0], joined);
}

static char *
as_products (const Unit *unit, const GPtrArray *cases, const gboolean *any)
{
    g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
    g_autoptr (GPtrArray) products = releases_split (unit, cases, any);
    g_autofree char *others = any_in_words (unit, any);
    g_autofree char *joined = NULL;

    for (guint i = 0; i < products->len; i++)
        g_ptr_array_add (texts, product_in_words (unit, products->pdata[i]));
    g_ptr_array_add (texts, NULL);
    joined = g_strjoinv ("; or ", (char **) texts->pdata);
    return g_strconcat (joined, others, NULL);
}

char *
releases_in_words (const Unit *unit, const GPtrArray *cases)
{
    g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
    g_autofree gboolean *any = g_new0 (gboolean, unit->board->components->len + 1);
    g_autoptr (GPtrArray) left = leave_out_any (unit, cases, any);
    guint64 product = 1;

    for (guint c = 0; c < unit->board->components->len; c++) {
        g_autofree gboolean *occur = NULL;
        guint count = 0;

        if (unit->releases[c].count == 1)
            continue;
        occur = releases_that_occur (unit, cases, c);
        count = count_flags (occur, board_component (unit->board, c)->releases->len);
        product *= any[c] ? 1 : count;
        g_ptr_array_add (texts, component_in_words (unit, c, occur, count));
    }
    /* The cases are distinct and lie within the product, so equal numbers mean equal sets. */
    if (product != left->len)
        return as_products (unit, left, any);
    if (texts->len == 0)
        return g_strdup ("the releases as told");
    return text_join (texts, "and");
}
