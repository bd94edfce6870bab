/* SPDX-License-Identifier: MIT */
/* The unit after steps that were done, in every case that it may be: what nobody has read is not known after them either. */
#include "batch/standing.h"

enum { MOST_CASES = 1024 };

static State *
state_after (const Unit *unit, const guint *releases, const GArray *steps, guint done)
{
    State *state = state_from_unit (unit, releases);

    for (guint i = 0; i < done; i++)
        state_apply (state, &g_array_index (steps, Step, i));
    return state;
}

/* One case more. `written`: in some case it is not the release any more that the case began with. */
static void
add_case (Unit *after, const State *state, const guint *began, gboolean *written)
{
    for (guint c = 0; c < after->board->components->len; c++) {
        UnitRelease *known = &after->releases[c];
        gboolean *may_be = &known->may_be[state->releases[c]];

        known->count += *may_be ? 0 : 1;
        *may_be = TRUE;
        known->floor = MAX (known->floor, state->floors[c]);
        written[c] |= state->releases[c] != began[c];
    }
}

Unit *
standing_unit_after (const Unit *unit, const GArray *steps, guint done)
{
    g_autoptr (GPtrArray) cases = unit_cases (unit, MOST_CASES);
    g_autoptr (State) first = state_after (unit, NULL, steps, done);
    g_autofree gboolean *written = g_new0 (gboolean, unit->board->components->len + 1);
    Unit *after = unit_at_state (first);

    for (guint i = 0; cases != NULL && i < cases->len; i++) {
        g_autoptr (State) state = state_after (unit, cases->pdata[i], steps, done);

        add_case (after, state, cases->pdata[i], written);
    }
    /* What was written keeps to the highest floor of the cases, the rest to what the unit's file says. */
    for (guint c = 0; c < unit->board->components->len; c++)
        if (!written[c] && after->releases[c].count > 1)
            after->releases[c].floor = unit->releases[c].floor;
    return after;
}
