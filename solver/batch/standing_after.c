/* SPDX-License-Identifier: MIT */
/* The unit after steps that were done, in every case that it may be: what nobody has read is not known after them either. */
#include "batch/standing.h"

static State *
state_after (const Unit *unit, const guint *releases, const GArray *steps, guint done)
{
    State *state = state_from_unit (unit, releases);

    for (guint i = 0; i < done; i++)
        state_apply (state, &g_array_index (steps, Step, i));
    return state;
}

/* What a component may have after the steps. They do the same to it whatever the others have, so its own releases are all the cases
 * that there are; `releases`: of every component, the one that is looked at last. */
static void
add_component (Unit *after, const Unit *unit, guint component, guint *releases, const GArray *steps, guint done)
{
    UnitRelease *known = &after->releases[component];
    const UnitRelease *was = &unit->releases[component];
    guint first = releases[component];
    gboolean written = FALSE;

    for (guint r = 0; r < board_component (unit->board, component)->releases->len; r++) {
        if (!was->may_be[r])
            continue;
        releases[component] = r;
        g_autoptr (State) state = state_after (unit, releases, steps, done);
        gboolean *may_be = &known->may_be[state->releases[component]];

        known->count += *may_be ? 0 : 1;
        *may_be = TRUE;
        known->floor = MAX (known->floor, state->floors[component]);
        written |= state->releases[component] != r;
    }
    releases[component] = first;
    /* What was written keeps to the highest floor of the cases, the rest to what the unit's file says. */
    if (!written && known->count > 1)
        known->floor = was->floor;
}

Unit *
standing_unit_after (const Unit *unit, const GArray *steps, guint done)
{
    guint n_components = unit->board->components->len;
    g_autoptr (State) before = state_from_unit (unit, NULL);
    g_autoptr (State) first = state_after (unit, NULL, steps, done);
    g_autofree guint *releases = g_new0 (guint, n_components + 1);
    Unit *after = unit_at_state (first);

    for (guint c = 0; c < n_components; c++)
        releases[c] = before->releases[c];
    for (guint c = 0; c < n_components; c++)
        add_component (after, unit, c, releases, steps, done);
    return after;
}

/* ---- Whether they can have been done ---- */

gboolean
standing_can_have_done (const Planning *planning, const Unit *unit, GArray *steps, guint done, Complaints *complaints)
{
    g_autoptr (GArray) lent = replan_lent (planning);
    g_autoptr (Shop) shelf = replan_shelf (planning->question->shop, lent);
    g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func (g_free);
    WrittenRoute route = { .name = "published", .file = unit->file, .board = unit->board, .steps = steps, .at = unit->at };
    Record record = { .unit = unit->id, .file = unit->file, .entries = entries, .at = unit->at };

    for (guint i = 0; i < done; i++) {
        RecordEntry *entry = g_new0 (RecordEntry, 1);

        entry->number = i + 1;
        entry->outcome = ENTRY_DONE;
        entry->at = unit->at;
        g_ptr_array_add (entries, entry);
    }
    g_autoptr (Resumed) resumed = resume_from_record (shelf, unit, &route, &record, complaints);
    return resumed != NULL;
}
