/* SPDX-License-Identifier: MIT */
/* Releases on the bench, in every case of the unit at once. The possible releases of a component stay a plain set: a
 * write makes it one release, a reading leaves those that it allows. */
#include "check/resume_bench.h"

#include "check/steps.h"

static void
make_known (UnitRelease *known, const Component *component, guint release, Mark at)
{
    for (guint i = 0; i < component->releases->len; i++)
        known->may_be[i] = i == release;
    known->count = 1;
    known->at = at;
}

/* The floor that the write leaves: the highest of any case in which it could come through. */
static int
floor_after (const UnitRelease *before, const Component *component, guint release, gboolean obeys_floor)
{
    int floor = component_release (component, release)->lowest;

    for (guint i = 0; i < component->releases->len; i++) {
        int there = MAX (before->floor, component_release (component, i)->lowest);

        if (before->may_be[i] && (!obeys_floor || there <= (int) release))
            floor = MAX (floor, there);
    }
    return floor;
}

void
bench_write (Bench *bench, const Step *step)
{
    const Board *board = bench->unit->board;
    gboolean obeys_floor = board_component (board, step->component)->methods[step->method].obeys_floor;
    g_autoptr (GArray) written = step_writes (board, step);

    for (guint i = 0; i < written->len; i++) {
        const Written *one = &g_array_index (written, Written, i);
        const Component *component = board_component (board, one->component);
        UnitRelease *known = &bench->unit->releases[one->component];
        int floor = floor_after (known, component, one->release, obeys_floor);

        bench->raised[one->component] = MAX (bench->raised[one->component], floor);
        bench->unit->failed[one->component] = FALSE;
        bench->written[one->component] = TRUE;
        make_known (known, component, one->release, step->at);
    }
}

void
bench_fail_write (Bench *bench, const Step *step)
{
    g_autoptr (GArray) written = step_writes (bench->unit->board, step);

    for (guint i = 0; i < written->len; i++) {
        bench->unit->failed[g_array_index (written, Written, i).component] = TRUE;
        bench->written[g_array_index (written, Written, i).component] = TRUE;
    }
}

/* A reading that none of the releases thought possible answers goes before them. */
static void
narrow (UnitRelease *known, const UnitRelease *found, guint n_releases)
{
    guint both = 0;

    for (guint i = 0; i < n_releases; i++)
        both += known->may_be[i] && found->may_be[i] ? 1 : 0;
    for (guint i = 0; i < n_releases; i++)
        known->may_be[i] = found->may_be[i] && (both == 0 || known->may_be[i]);
    known->count = both > 0 ? both : found->count;
    known->at = found->at;
}

void
bench_find_release (Bench *bench, guint component, const UnitRelease *found)
{
    Unit *unit = bench->unit;
    guint n_releases = board_component (unit->board, component)->releases->len;

    narrow (&unit->releases[component], found, n_releases);
    if (!bench->written[component])
        narrow (&unit->began_releases[component], found, n_releases);
    unit->failed[component] = FALSE;
}

/* The floor that the present release sets anyway is left unsaid, so that what the unit file did not say stays an
 * assumption. */
void
bench_state_floors (Bench *bench)
{
    for (guint c = 0; c < bench->unit->board->components->len; c++) {
        const Component *component = board_component (bench->unit->board, c);
        UnitRelease *known = &bench->unit->releases[c];
        gboolean set_anyway = known->floor < 0;

        for (guint i = 0; i < component->releases->len; i++)
            if (known->may_be[i] && component_release (component, i)->lowest < bench->raised[c])
                set_anyway = FALSE;
        if (!set_anyway)
            known->floor = MAX (known->floor, bench->raised[c]);
    }
}
