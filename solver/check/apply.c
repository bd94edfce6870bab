/* SPDX-License-Identifier: MIT */
/* What a step does to a state, whether it comes through or, for a write, fails. */
#include "check/steps.h"

#include "check/state.h"

GArray *
step_writes (const Board *board, const Step *step)
{
    GArray *written = g_array_new (FALSE, FALSE, sizeof (Written));
    Written own = { step->component, step->release };
    const Release *release = component_release (board_component (board, step->component), step->release);

    g_array_append_val (written, own);
    for (guint i = 0; step->method != METHOD_SPARE && i < release->also_writes->len; i++) {
        const AlsoWrites *also = release->also_writes->pdata[i];
        int component = board_find_component (board, also->component);

        if (component < 0)
            continue;
        int index = component_find_release (board_component (board, (guint) component), also->release);
        g_assert (index >= 0); /* step_is_known() has seen to it */
        Written one = { (guint) component, (guint) index };
        g_array_append_val (written, one);
    }
    return written;
}

static void
apply_write (State *state, const Step *step)
{
    g_autoptr (GArray) written = step_writes (state->board, step);

    for (guint i = 0; i < written->len; i++) {
        const Written *one = &g_array_index (written, Written, i);

        state->failed[one->component] = FALSE;
        state->releases[one->component] = one->release;
        state->floors[one->component] =
            MAX (state->floors[one->component], state_release (state, one->component)->lowest);
    }
}

void
state_apply (State *state, const Step *step)
{
    switch (step->kind) {
    case STEP_REMOVE:
        state->held[step->slot] = (Held){ NULL, NULL, OWNER_UNIT, NULL };
        break;
    case STEP_FIT:
        state->held[step->slot] = held_from_step (step);
        state->fittings[step->slot]++;
        break;
    case STEP_WRITE:
        apply_write (state, step);
        break;
    }
}

void
state_fail (State *state, const Step *step)
{
    g_return_if_fail (step->kind == STEP_WRITE);
    g_autoptr (GArray) written = step_writes (state->board, step);

    for (guint i = 0; i < written->len; i++)
        state->failed[g_array_index (written, Written, i).component] = TRUE;
}
