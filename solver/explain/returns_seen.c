/* SPDX-License-Identifier: MIT */
/* For a return: the starts that were tried, and what they say of a part. */
#include "explain/diagnosis_parts.h"

#include "check/facts.h"
#include "check/state.h"

/* ---- A like part ---- */

static gboolean
is_like (const Fitted *fitted, const Fitted *suspect)
{
    return fitted->part == suspect->part && fitted->stepping == suspect->stepping;
}

static gboolean
changes_only (const Unit *unit, const Observation *observation, guint slot)
{
    for (guint s = 0; s < unit->board->slots->len; s++)
        if (observation->changed[s] != (s == slot))
            return FALSE;
    return TRUE;
}

const Observation *
seen_with_like (const DiagnosisQuestion *question, const Evidence *evidence, guint slot, gboolean started)
{
    const Seen *seen = question->seen;

    for (guint i = 0; seen != NULL && i < seen->observations->len; i++) {
        const Observation *observation = seen->observations->pdata[i];

        if (observation->kind == SEEN_WITH && observation->started == started &&
            (evidence == NULL || observation_counts (evidence, observation)) &&
            changes_only (question->unit, observation, slot) &&
            is_like (&observation->fitted[slot], &question->unit->fitted[slot]))
            return observation;
    }
    return NULL;
}

static gboolean
nothing_is_stated (const DarkCase *one)
{
    for (guint b = 0; b < one->broken->len; b++) {
        const Broken *broken = one->broken->pdata[b];

        if (broken_keeps_dark (broken) && (broken->breaking != BREAKING_STOPS || broken->sureness != SURE_NOT_STATED))
            return FALSE;
    }
    return TRUE;
}

gboolean
like_start_refutes_rules (const DiagnosisQuestion *question, const Diagnosis *diagnosis, guint slot)
{
    const DarkAnswer *dark = diagnosis->dark;

    if (seen_with_like (question, diagnosis->evidence, slot, TRUE) == NULL)
        return FALSE;
    for (guint i = 0; i < dark->cases->len; i++)
        if (case_is_left (diagnosis->evidence, i) && !nothing_is_stated (dark_case (dark, i)))
            return FALSE;
    return dark->cases->len > 0;
}

/* ---- The part itself ---- */

gboolean
started_with_it_in (const DiagnosisQuestion *question, guint slot, const Observation *observation)
{
    if (observation->kind == SEEN_OTHER_IMAGE)
        return g_strcmp0 (observation->word, "started") == 0;
    if (observation->kind != SEEN_WITH || !observation->started || observation->changed[slot])
        return FALSE;
    g_autoptr (State) state = state_seen_with (question->unit, NULL, observation);
    return state_slot_is_live (state, slot);
}

/* Rules that stop it by a stated no; that supplies are redundant is a wish of the shop's. */
static guint
count_stops (const DiagnosisQuestion *question, const State *state)
{
    g_autoptr (Shop) shop = shop_copy (question->shop);
    g_autoptr (GPtrArray) broken = NULL;
    guint count = 0;

    shop->redundant_supplies = FALSE;
    broken = check_state (question->library, shop, state);
    for (guint i = 0; i < broken->len; i++) {
        const Broken *one = broken->pdata[i];

        count += one->breaking == BREAKING_STOPS && one->sureness == SURE_STATED;
    }
    return count;
}

/* Without the part in the slot it could not have started so: more rules would have stopped it. */
static gboolean
start_needs_it (const DiagnosisQuestion *question, guint slot, const Observation *observation)
{
    g_autoptr (State) state = observation->kind == SEEN_WITH ? state_seen_with (question->unit, NULL, observation)
                                                             : state_from_unit (question->unit, NULL);
    guint with = 0;

    for (guint c = 0; c < state->board->components->len; c++)
        state->failed[c] = FALSE;
    with = count_stops (question, state);
    state->held[slot] = (Held){ NULL };
    return count_stops (question, state) > with;
}

gboolean
was_seen_to_start (const DiagnosisQuestion *question, const Diagnosis *diagnosis, guint slot)
{
    const Seen *seen = question->seen;

    for (guint i = 0; seen != NULL && i < seen->observations->len; i++) {
        const Observation *observation = seen->observations->pdata[i];

        if (observation_counts (diagnosis->evidence, observation) && started_with_it_in (question, slot, observation) &&
            start_needs_it (question, slot, observation))
            return TRUE;
    }
    return FALSE;
}

guint
count_in_question (const DiagnosisQuestion *question, const Diagnosis *diagnosis, PartKind kind)
{
    guint count = 0;

    for (guint s = 0; s < question->unit->board->slots->len; s++) {
        const Part *part = question->unit->fitted[s].part;

        count += part != NULL && part->kind == kind && !was_seen_to_start (question, diagnosis, s);
    }
    return count;
}
