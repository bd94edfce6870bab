/* SPDX-License-Identifier: MIT */
/* What the last state has to hold beside starting (docs/method.md, "The end"); and what a page asks. */
#include "route/ground.h"

/* The release that a component had when the work began; -1: it is not known. */
static int
began_with (const Unit *unit, guint component)
{
    const UnitRelease *began =
        unit->began_releases != NULL ? &unit->began_releases[component] : &unit->releases[component];
    for (guint r = 0; began->count == 1 && r < board_component (unit->board, component)->releases->len; r++)
        if (began->may_be[r])
            return (int) r;
    return -1;
}

static gboolean
is_left_alone (const Want *want, guint spare)
{
    return want->just_starts || want->spares_apart || want->firmware[spare] != NULL || want->keep_component[spare] ||
           (want->exact_release != NULL && want->exact_release[spare] >= 0);
}

/* The list of what does not hold in the cases that begin with this release. */
static GPtrArray *
unless_it_began (Problem *problem, guint var, guint release)
{
    EndUnless *unless = g_new0 (EndUnless, 1);
    *unless = (EndUnless){ var, release, g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free) };
    g_ptr_array_add (problem->end_unless, unless);
    return unless->clauses;
}

/* Where the active image does not end at what it began with, the spare ends at the same. */
static void
spare_follows (Ground *ground, guint active, guint spare)
{
    Problem *problem = ground->problem;
    const Component *component = board_component (problem->unit->board, active);
    guint active_var = problem->n_slots + active, spare_var = problem->n_slots + spare;
    int began = began_with (problem->unit, active);
    gboolean differs = began < 0 && problem->vars[active_var].began != NULL;
    for (guint r = 0; r < component->releases->len; r++) {
        g_autofree guint8 *other = g_new (guint8, ground->sizes[active_var] + 1);
        g_autofree guint8 *same = g_new0 (guint8, ground->sizes[spare_var] + 1);
        if ((int) r == began)
            continue;
        for (guint value = 0; value < ground->sizes[active_var]; value++)
            other[value] = value != r;
        same[r] = 1;
        ground_emit (ground,
                     formula_or (ground->arena, formula_literal (ground->arena, active_var, other),
                                 formula_literal (ground->arena, spare_var, same)),
                     differs && problem->unit->releases[active].may_be[r] ? unless_it_began (problem, active_var, r)
                                                                          : problem->end,
                     component->spare);
    }
}

void
ground_ends (Ground *ground)
{
    const Problem *problem = ground->problem;
    const Board *board = problem->unit->board;
    for (guint c = 0; c < board->components->len; c++) {
        const char *name = board_component (board, c)->spare;
        int spare = name != NULL ? board_find_component (board, name) : -1;
        if (spare >= 0 && !is_left_alone (problem->want, (guint) spare))
            spare_follows (ground, c, (guint) spare);
    }
}

static void
ground_page (Ground *ground, guint index)
{
    Problem *problem = ground->problem;
    guint var = problem->n_slots + index;
    const Component *component = board_component (problem->unit->board, index);
    GPtrArray *clauses = problem->pages[var] = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    if (component->page.requires != NULL)
        ground_emit (ground, ground_expression (ground, component->page.requires), clauses, component->name);
}

/* Of components with one possible release a page says nothing; what has failed shows none before it is written, and then it
 * is known. */
void
ground_pages (Ground *ground)
{
    const Problem *problem = ground->problem;
    const Board *board = problem->unit->board;
    for (guint c = 0; problem->by_case && c < board->components->len; c++)
        if (board_component (board, c)->page.there && problem->vars[problem->n_slots + c].began != NULL)
            ground_page (ground, c);
}
