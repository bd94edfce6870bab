/* SPDX-License-Identifier: MIT */
/* The cases of a unit that the rules tell apart, and whether each starts. */
#include "explain/dark_parts.h"

static void
case_free (gpointer data)
{
    DarkCase *one = data;

    for (guint c = 0; one->may_be[c] != NULL; c++)
        g_free (one->may_be[c]);
    g_free (one->may_be);
    g_free (one->releases);
    g_clear_pointer (&one->sets, g_ptr_array_unref);
    g_clear_pointer (&one->facts, g_ptr_array_unref);
    g_clear_pointer (&one->corrections, g_ptr_array_unref);
    g_clear_pointer (&one->broken, g_ptr_array_unref);
    g_free (one);
}

void
dark_answer_free (DarkAnswer *answer)
{
    g_ptr_array_unref (answer->cases);
    g_free (answer);
}

gboolean
dark_failure_stops (const Unit *unit, guint component)
{
    return unit->failed != NULL && unit->failed[component] &&
           board_component (unit->board, component)->spare_of == NULL;
}

/* ---- Classes ---- */

static gboolean
one_class (const DarkAsking *asking, guint component, guint one, guint other)
{
    const Unit *unit = asking->unit;

    if (one == other || (unit->failed != NULL && unit->failed[component]))
        return TRUE;
    for (guint i = 0; asking->spaces != NULL && i < asking->spaces->len; i++)
        if (start_space_class (asking->spaces->pdata[i], component, one) !=
            start_space_class (asking->spaces->pdata[i], component, other))
            return FALSE;
    return asking->spaces != NULL;
}

/* The first release of each class of those that the component may have, ascending. Transfer full. */
static GArray *
first_of_classes (const DarkAsking *asking, guint component)
{
    GArray *firsts = g_array_new (FALSE, FALSE, sizeof (guint));

    for (guint r = 0; r < board_component (asking->unit->board, component)->releases->len; r++) {
        gboolean is_first = asking->unit->releases[component].may_be[r];

        for (guint i = 0; i < firsts->len && is_first; i++)
            is_first = !one_class (asking, component, g_array_index (firsts, guint, i), r);
        if (is_first)
            g_array_append_val (firsts, r);
    }
    return firsts;
}

/* ---- Cases ---- */

/* Counts multiply up to what the type holds. */
static guint64
times (guint64 product, guint64 count)
{
    return count != 0 && product > G_MAXUINT64 / count ? G_MAXUINT64 : product * count;
}

/* The class of each component that these releases are in; NULL-terminated, for case_free. */
static void
fill_may_be (const DarkAsking *asking, DarkCase *one)
{
    const Board *board = asking->unit->board;

    one->members = 1;
    one->may_be = g_new0 (gboolean *, board->components->len + 1);
    for (guint c = 0; c < board->components->len; c++) {
        guint n_releases = board_component (board, c)->releases->len, count = 0;

        one->may_be[c] = g_new0 (gboolean, n_releases + 1);
        for (guint r = 0; r < n_releases; r++) {
            one->may_be[c][r] = asking->unit->releases[c].may_be[r] && one_class (asking, c, one->releases[c], r);
            count += one->may_be[c][r] ? 1 : 0;
        }
        one->members = times (one->members, count);
    }
}

static DarkCase *
case_new (const DarkAsking *asking, const guint *releases)
{
    DarkCase *one = g_new0 (DarkCase, 1);
    g_autoptr (State) state = state_from_unit (asking->unit, releases);

    one->releases = g_memdup2 (releases, (asking->unit->board->components->len + 1) * sizeof (guint));
    fill_may_be (asking, one);
    one->broken = check_state (asking->library, asking->shop, state);
    one->starts = broken_verdict (one->broken);
    one->complete = TRUE;
    one->sets = g_ptr_array_new_with_free_func (dark_set_free);
    one->corrections = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
    one->facts = g_ptr_array_new_with_free_func (dark_fact_free);
    if (one->starts != STARTS_YES)
        dark_case_explain (asking, one);
    return one;
}

/* Every choice of one class for each component, the last component counting fastest. */
static void
add_cases (const DarkAsking *asking, const GPtrArray *firsts, GPtrArray *cases)
{
    g_autofree guint *at = g_new0 (guint, firsts->len + 1), *releases = g_new0 (guint, firsts->len + 1);
    guint advanced;

    do {
        for (guint c = 0; c < firsts->len; c++)
            releases[c] = g_array_index ((const GArray *) firsts->pdata[c], guint, at[c]);
        g_ptr_array_add (cases, case_new (asking, releases));
        for (advanced = firsts->len; advanced > 0; advanced--) {
            if (++at[advanced - 1] < ((const GArray *) firsts->pdata[advanced - 1])->len)
                break;
            at[advanced - 1] = 0;
        }
    } while (advanced > 0);
}

/* One space per revision; NULL: a rule is too large to ground. Transfer full. */
static GPtrArray *
all_spaces (const Library *library, const Unit *unit)
{
    g_autoptr (GPtrArray) spaces = g_ptr_array_new_with_free_func ((GDestroyNotify) start_space_free);

    for (guint revision = 0; revision < unit->board->revisions->len; revision++) {
        g_autofree char *reason = NULL;
        StartSpace *space = start_space_new (library, unit, revision, &reason);

        if (space == NULL)
            return NULL;
        g_ptr_array_add (spaces, space);
    }
    return g_steal_pointer (&spaces);
}

DarkAnswer *
dark_find (const Library *library, const Shop *shop, const Unit *unit, guint most_sets)
{
    g_autoptr (GPtrArray) spaces = all_spaces (library, unit);
    g_autoptr (GPtrArray) firsts = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
    DarkAsking asking = { library, shop, unit, spaces, most_sets != 0 ? most_sets : DARK_MOST_SETS };
    DarkAnswer *answer = g_new0 (DarkAnswer, 1);
    guint64 n_cases = 1;

    answer->cases = g_ptr_array_new_with_free_func (case_free);
    answer->combinations = 1;
    for (guint c = 0; c < unit->board->components->len; c++) {
        GArray *of_component = first_of_classes (&asking, c);

        g_ptr_array_add (firsts, of_component);
        n_cases = times (n_cases, of_component->len);
        answer->combinations = times (answer->combinations, unit->releases[c].count);
    }
    if (n_cases > DARK_MOST_CASES)
        return answer;
    add_cases (&asking, firsts, answer->cases);
    dark_cases_merge (unit, answer->cases);
    return answer;
}
