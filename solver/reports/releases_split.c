/* SPDX-License-Identifier: MIT */
/* Splitting by one component at a time: releases of it that leave the same combinations of the others are one product's. */
#include "reports/releases_split.h"

#include <string.h>

#define MOST_TRIED 4 /* components; of more, the one that falls into the fewest kinds is split by first */

/* Cases that the releases `of` of one component have in common. */
typedef struct {
    GArray *of;       /* guint: releases, rising; owned */
    GPtrArray *cases; /* const guint*: of the first of them; owned */
    char *key;        /* owned: what the others have, the same for all of `of` */
} Kind;

static void
kind_free (gpointer data)
{
    Kind *kind = data;

    g_array_unref (kind->of);
    g_ptr_array_unref (kind->cases);
    g_free (kind->key);
    g_free (kind);
}

static void
product_free (gpointer data)
{
    ReleaseProduct *product = data;

    for (guint c = 0; c < product->count; c++)
        g_free (product->may_be[c]);
    g_free (product->may_be);
    g_free (product);
}

static int
compare_text (gconstpointer left, gconstpointer right)
{
    return strcmp (*(char *const *) left, *(char *const *) right);
}

/* What the components that are still to be split by have in the cases. Transfer full. */
static char *
key_of (const GPtrArray *cases, const GArray *rest)
{
    g_autoptr (GPtrArray) keys = g_ptr_array_new_with_free_func (g_free);

    for (guint i = 0; i < cases->len; i++) {
        const guint *releases = cases->pdata[i];
        GString *key = g_string_new (NULL);

        for (guint c = 0; c < rest->len; c++)
            g_string_append_printf (key, "%u,", releases[g_array_index (rest, guint, c)]);
        g_ptr_array_add (keys, g_string_free (key, FALSE));
    }
    g_ptr_array_sort (keys, compare_text);
    g_ptr_array_add (keys, NULL);
    return g_strjoinv (";", (char **) keys->pdata);
}

static void
add_to_kinds (GPtrArray *kinds, guint release, GPtrArray *cases, const GArray *rest)
{
    g_autofree char *key = key_of (cases, rest);
    Kind *kind = NULL;

    for (guint i = 0; i < kinds->len && kind == NULL; i++)
        if (g_str_equal (((Kind *) kinds->pdata[i])->key, key))
            kind = kinds->pdata[i];
    if (kind == NULL) {
        kind = g_new0 (Kind, 1);
        *kind = (Kind){ g_array_new (FALSE, FALSE, sizeof (guint)), g_ptr_array_ref (cases), g_steal_pointer (&key) };
        g_ptr_array_add (kinds, kind);
    }
    g_array_append_val (kind->of, release);
}

/* Transfer full (GPtrArray of Kind*), by the first release of each. */
static GPtrArray *
kinds_of (const Board *board, const GPtrArray *cases, guint component, const GArray *rest)
{
    GPtrArray *kinds = g_ptr_array_new_with_free_func (kind_free);

    for (guint r = 0; r < board_component (board, component)->releases->len; r++) {
        g_autoptr (GPtrArray) here = g_ptr_array_new ();

        for (guint i = 0; i < cases->len; i++)
            if (((const guint *) cases->pdata[i])[component] == r)
                g_ptr_array_add (here, cases->pdata[i]);
        if (here->len > 0)
            add_to_kinds (kinds, r, here, rest);
    }
    return kinds;
}

static GArray *
without (const GArray *components, guint index)
{
    GArray *rest = g_array_copy ((GArray *) components);

    return g_array_remove_index (rest, index);
}

static GPtrArray *split (const Board *board, const GPtrArray *cases, const GArray *components);

static gboolean *
flags_of (const Board *board, guint component, const GArray *releases)
{
    gboolean *flags = g_new0 (gboolean, board_component (board, component)->releases->len);

    for (guint i = 0; i < releases->len; i++)
        flags[g_array_index (releases, guint, i)] = TRUE;
    return flags;
}

/* The products of each kind, with the releases of the kind put in. */
static GPtrArray *
split_by (const Board *board, const GPtrArray *cases, const GArray *components, guint index)
{
    guint component = g_array_index (components, guint, index);
    g_autoptr (GArray) rest = without (components, index);
    g_autoptr (GPtrArray) kinds = kinds_of (board, cases, component, rest);
    GPtrArray *products = g_ptr_array_new_with_free_func (product_free);

    for (guint k = 0; k < kinds->len; k++) {
        const Kind *kind = kinds->pdata[k];
        g_autoptr (GPtrArray) parts = split (board, kind->cases, rest);

        for (guint i = 0; i < parts->len; i++)
            ((ReleaseProduct *) parts->pdata[i])->may_be[component] = flags_of (board, component, kind->of);
        g_ptr_array_set_free_func (parts, NULL);
        g_ptr_array_extend (products, parts, NULL, NULL);
    }
    return products;
}

/* Of many components: the one with the fewest kinds. */
static guint
best_first (const Board *board, const GPtrArray *cases, const GArray *components)
{
    guint best = 0, fewest = G_MAXUINT;

    for (guint i = 0; i < components->len; i++) {
        g_autoptr (GArray) rest = without (components, i);
        g_autoptr (GPtrArray) kinds = kinds_of (board, cases, g_array_index (components, guint, i), rest);

        if (kinds->len < fewest) {
            fewest = kinds->len;
            best = i;
        }
    }
    return best;
}

static GPtrArray *
one_product (const Board *board)
{
    GPtrArray *products = g_ptr_array_new_with_free_func (product_free);
    ReleaseProduct *product = g_new0 (ReleaseProduct, 1);

    *product = (ReleaseProduct){ board->components->len, g_new0 (gboolean *, board->components->len + 1) };
    g_ptr_array_add (products, product);
    return products;
}

static GPtrArray *
split (const Board *board, const GPtrArray *cases, const GArray *components)
{
    g_autoptr (GPtrArray) best = NULL;

    if (components->len == 0)
        return one_product (board);
    if (components->len > MOST_TRIED)
        return split_by (board, cases, components, best_first (board, cases, components));
    for (guint i = 0; i < components->len; i++) {
        g_autoptr (GPtrArray) products = split_by (board, cases, components, i);

        if (best != NULL && best->len <= products->len)
            continue;
        g_clear_pointer (&best, g_ptr_array_unref);
        best = g_steal_pointer (&products);
    }
    return g_steal_pointer (&best);
}

GPtrArray *
releases_split (const Unit *unit, const GPtrArray *cases, const gboolean *left_out)
{
    g_autoptr (GArray) components = g_array_new (FALSE, FALSE, sizeof (guint));

    for (guint c = 0; c < unit->board->components->len; c++)
        if (unit->releases[c].count > 1 && !left_out[c])
            g_array_append_val (components, c);
    return split (unit->board, cases, components);
}
