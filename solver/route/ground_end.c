/* SPDX-License-Identifier: MIT */
/* What the last state has to hold beside starting: docs/method.md, "The end". */
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

/* Where the active image does not end at what it began with, the spare ends at the same. */
static void
spare_follows (Ground *ground, guint active, guint spare)
{
    Problem *problem = ground->problem;
    const Component *component = board_component (problem->unit->board, active);
    guint active_var = problem->n_slots + active, spare_var = problem->n_slots + spare;
    int began = began_with (problem->unit, active);
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
                     problem->end, component->spare);
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
