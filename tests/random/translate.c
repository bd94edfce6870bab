/* SPDX-License-Identifier: MIT */
#include "translate.h"

#include <string.h>

static const Keeper keepers[] = { [OWNER_UNIT] = OWN, [OWNER_LOAN] = LOAN, [OWNER_STOCK] = STOCK };
static const Way ways[METHOD_COUNT] = { [METHOD_HOST] = WAY_HOST,
                                        [METHOD_CONTROLLER] = WAY_CONTROLLER,
                                        [METHOD_CLIP] = WAY_CLIP,
                                        [METHOD_JUMPER] = WAY_JUMPER,
                                        [METHOD_SPARE] = WAY_SPARE };

/* Whether a step's part is this one. What it is bound to, removals do not say. */
static gboolean
is_part_of (const Play *play, const Step *step, int t)
{
    const Triple *triple = &play->triples[t];
    const Piece *piece = &play->job->pieces[triple->piece];
    return !strcmp (piece->name, step->part->name) && triple->keeper == keepers[step->owner] &&
           (!piece->steppings || !g_strcmp0 (stepping_name (triple->stepping), step->stepping)) &&
           (step->kind == STEP_REMOVE || !g_strcmp0 (bound_name (triple->bound), step->bound));
}

static int
find_triple (const Play *play, const World *world, int slot, const Step *step)
{
    if (step->kind == STEP_REMOVE) {
        int held = world->held[slot] - 1;
        return held >= 0 && (!step->part || is_part_of (play, step, held)) ? held : -1;
    }
    for (int t = 0; t < play->triple_count; t++)
        if (step->part && is_part_of (play, step, t))
            return t;
    return -1;
}

gboolean
find_release (const Job *job, const char *component, const char *release, Move *move)
{
    for (int c = 0; c < job->firmware_count; c++)
        for (int r = 0; !job->firmware[c].gone && r < job->firmware[c].count; r++)
            if (!strcmp (firmware_name (job, c), component) && !strcmp (edition_name (&job->firmware[c], r), release)) {
                move->component = c;
                move->release = r;
                return TRUE;
            }
    return FALSE;
}

gboolean
step_to_move (const Play *play, const World *world, const Board *board, const Step *step, Move *move)
{
    if (step->kind == STEP_WRITE) {
        const Component *component = board_component (board, step->component);
        move->kind = MOVE_WRITE;
        move->way = (int) ways[step->method];
        return find_release (play->job, component->name, component_release (component, step->release)->name, move);
    }
    move->kind = step->kind == STEP_FIT ? MOVE_FIT : MOVE_REMOVE;
    move->slot = -1;
    for (int i = 0; i < play->job->place_count; i++)
        if (!strcmp (play->job->places[i].name, board_slot (board, step->slot)->name))
            move->slot = i;
    move->triple = move->slot >= 0 ? find_triple (play, world, move->slot, step) : -1;
    return move->triple >= 0;
}

Objective
goal_objective (Goal goal)
{
    static const Objective objectives[GOALS] = {
        [GOAL_STEPS] = OBJECTIVE_STEPS, [GOAL_HANDLING] = OBJECTIVE_HANDLING, [GOAL_TIME] = OBJECTIVE_TIME
    };
    return objectives[goal];
}

static Owner
owner_of (Keeper keeper)
{
    return keeper == OWN ? OWNER_UNIT : keeper == LOAN ? OWNER_LOAN : OWNER_STOCK;
}

Step
move_to_step (const Play *play, const Library *library, const Board *board, const Move *move)
{
    const Job *job = play->job;
    Step step = { .at = MARK_NONE };
    if (move->kind == MOVE_WRITE) {
        const Firmware *firmware = &job->firmware[move->component];
        int component = board_find_component (board, g_intern_string (firmware_name (job, move->component)));
        g_assert (component >= 0);
        int release = component_find_release (board_component (board, (guint) component),
                                              g_intern_string (edition_name (firmware, move->release)));
        g_assert (release >= 0);
        step.kind = STEP_WRITE;
        step.component = (guint) component;
        step.release = (guint) release;
        while (ways[step.method] != (Way) move->way)
            step.method++;
        return step;
    }
    const Triple *triple = &play->triples[move->triple];
    const Piece *piece = &job->pieces[triple->piece];
    int slot = board_find_slot (board, g_intern_string (job->places[move->slot].name));
    g_assert (slot >= 0);
    step.kind = move->kind == MOVE_FIT ? STEP_FIT : STEP_REMOVE;
    step.slot = (guint) slot;
    step.part = book_find_part (&library->book, g_intern_string (piece->name));
    step.stepping = piece->steppings ? g_intern_string (stepping_name (triple->stepping)) : NULL;
    step.owner = owner_of (triple->keeper);
    step.bound = triple->bound ? g_intern_string (bound_name (triple->bound)) : NULL;
    g_assert (step.part);
    return step;
}

int
find_case (const Play *play, const Board *board, const guint *releases)
{
    for (int k = 0; k < play->case_count; k++) {
        gboolean same = TRUE;
        for (guint b = 0; b < board->components->len; b++) {
            const Component *component = board_component (board, b);
            Move at = { 0 };
            same = same &&
                   find_release (play->job, component->name, component_release (component, releases[b])->name, &at) &&
                   play->start.release[k][at.component] == at.release;
        }
        if (same)
            return k;
    }
    return -1;
}
