/* SPDX-License-Identifier: MIT */
/* For a return: what can be said of a part that may be sent back. The first verdict that applies, in the order of
 * docs/method.md, "For a return". */
#include "explain/diagnosis_parts.h"

#include "check/facts.h"
#include "check/state.h"

typedef struct {
    const DiagnosisQuestion *question;
    const Diagnosis *diagnosis;
    guint slot;
    PartKind kind;
} Suspect;

/* ---- What was tried with it ---- */

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
seen_with_like (const DiagnosisQuestion *question, guint slot, gboolean started)
{
    const Seen *seen = question->seen;

    for (guint i = 0; seen != NULL && i < seen->observations->len; i++) {
        const Observation *observation = seen->observations->pdata[i];

        if (observation->kind == SEEN_WITH && observation->started == started &&
            changes_only (question->unit, observation, slot) &&
            is_like (&observation->fitted[slot], &question->unit->fitted[slot]))
            return observation;
    }
    return NULL;
}

/* The part was in, where it takes part, and the unit started. */
static gboolean
started_with_it (const DiagnosisQuestion *question, guint slot, const Observation *observation)
{
    if (observation->kind == SEEN_OTHER_IMAGE)
        return g_strcmp0 (observation->word, "started") == 0;
    if (observation->kind != SEEN_WITH || !observation->started || observation->changed[slot])
        return FALSE;
    g_autoptr (State) state = state_seen_with (question->unit, NULL, observation);
    return state_slot_is_live (state, slot);
}

static gboolean
was_seen_to_start (const DiagnosisQuestion *question, guint slot)
{
    const Seen *seen = question->seen;

    for (guint i = 0; seen != NULL && i < seen->observations->len; i++)
        if (started_with_it (question, slot, seen->observations->pdata[i]))
            return TRUE;
    return FALSE;
}

/* ---- What the rules say of it ---- */

static gboolean
is_knows_rule (const Library *library, const char *id)
{
    for (guint i = 0; i < library->rules->len; i++) {
        const Rule *rule = library->rules->pdata[i];

        if (rule->form == FORM_KNOWS && rule->id == id)
            return TRUE;
    }
    return FALSE;
}

static guint
count_unknown (const DiagnosisQuestion *question, const State *state)
{
    g_autoptr (GPtrArray) broken = check_state (question->library, question->shop, state);
    guint count = 0;

    for (guint i = 0; i < broken->len; i++) {
        const Broken *one = broken->pdata[i];

        count += broken_keeps_dark (one) && is_knows_rule (question->library, one->rule);
    }
    return count;
}

/* Whether it is this part that the firmware does not know: without it less is unknown. A failed write is no release,
 * and no reason here. */
static gboolean
firmware_does_not_know (const Suspect *suspect, const DarkCase *dark_case)
{
    g_autoptr (State) state = state_from_unit (suspect->question->unit, dark_case->releases);
    guint with = 0;

    for (guint c = 0; c < state->board->components->len; c++)
        state->failed[c] = FALSE;
    with = count_unknown (suspect->question, state);
    state->held[suspect->slot] = (Held){ NULL };
    return count_unknown (suspect->question, state) < with;
}

static gboolean
never_known (const Suspect *suspect)
{
    const Diagnosis *diagnosis = suspect->diagnosis;

    for (guint i = 0; i < diagnosis->dark->cases->len; i++)
        if (case_is_left (diagnosis->evidence, i) && !firmware_does_not_know (suspect, dark_case (diagnosis->dark, i)))
            return FALSE;
    return diagnosis->dark->cases->len > 0;
}

/* ---- What the physical causes say of it ---- */

static gboolean
blames_kind (const Cause *cause, PartKind kind)
{
    return (cause->blames & 1u << kind) != 0;
}

const Cause *
found_in_kind (const Evidence *evidence, PartKind kind)
{
    for (guint g = 0; g < evidence->given->len; g++) {
        const Cause *cause = evidence_given (evidence, g)->observation->cause;

        if (cause != NULL && evidence_counts (evidence, g) && blames_kind (cause, kind))
            return cause;
    }
    return NULL;
}

/* That it is a part of this kind; `*named`: the files name such a fault. */
static double
probability_of_kind (const PhysicalCauses *physical, PartKind kind, gboolean *named)
{
    double probability = 0;

    *named = FALSE;
    for (guint i = 0; i < physical->causes->len; i++) {
        const CauseWeight *weight = physical->causes->pdata[i];

        if (!blames_kind (weight->cause, kind))
            continue;
        *named = TRUE;
        probability += weight->probability;
    }
    return probability;
}

guint
count_in_question (const DiagnosisQuestion *question, PartKind kind)
{
    guint count = 0;

    for (guint s = 0; s < question->unit->board->slots->len; s++) {
        const Part *part = question->unit->fitted[s].part;

        count += part != NULL && part->kind == kind && !was_seen_to_start (question, s);
    }
    return count;
}

gboolean
other_look_is_left (const PhysicalCauses *physical, PartKind kind)
{
    for (guint i = 0; i < physical->causes->len; i++) {
        const CauseWeight *weight = physical->causes->pdata[i];

        if (weight->probability <= 0 || blames_kind (weight->cause, kind))
            continue;
        for (guint c = 0; c < physical->checks->len; c++)
            if (g_array_index (physical->checks, CheckDue, c).look == weight->cause->look)
                return TRUE;
    }
    return FALSE;
}

/* ---- The verdict ---- */

static ReturnVerdict
verdict_by_causes (const Suspect *suspect)
{
    const PhysicalCauses *physical = suspect->diagnosis->physical;
    gboolean named = FALSE;

    if (found_in_kind (suspect->diagnosis->evidence, suspect->kind) != NULL)
        return RETURN_FOUND;
    if (seen_with_like (suspect->question, suspect->slot, FALSE) != NULL)
        return RETURN_ELSEWHERE;
    if (probability_of_kind (physical, suspect->kind, &named) <= 0 && named)
        return RETURN_OTHER_CAUSE;
    if (seen_with_like (suspect->question, suspect->slot, TRUE) != NULL)
        return RETURN_LIKE_STARTS;
    return other_look_is_left (physical, suspect->kind) ? RETURN_CHECKS_LEFT : RETURN_LEFT_OVER;
}

static ReturnVerdict
verdict_of (const Suspect *suspect)
{
    const Diagnosis *diagnosis = suspect->diagnosis;

    if (was_seen_to_start (suspect->question, suspect->slot))
        return RETURN_STARTS;
    if (diagnosis->evidence->conflicts->len > 0)
        return RETURN_CONFLICT;
    if (never_known (suspect))
        return RETURN_NO_FIRMWARE;
    if (diagnosis->starts == NONE_STARTS || diagnosis->starts == NONE_KNOWN)
        return RETURN_RULE;
    if (diagnosis->starts == SOME_START || diagnosis->starts == TOO_MANY_CASES)
        return RETURN_NOT_READ;
    if (diagnosis->evidence->too_early)
        return RETURN_TOO_EARLY;
    return verdict_by_causes (suspect);
}

static void
add_block (const DiagnosisQuestion *question, Diagnosis *diagnosis, guint slot)
{
    Suspect suspect = { question, diagnosis, slot, question->unit->fitted[slot].part->kind };
    ReturnBlock *block = g_new0 (ReturnBlock, 1);
    gboolean named = FALSE;

    block->slot = slot;
    block->verdict = verdict_of (&suspect);
    if (diagnosis->physical != NULL && block->verdict != RETURN_STARTS)
        block->probability = probability_of_kind (diagnosis->physical, suspect.kind, &named) /
                             MAX (1, count_in_question (question, suspect.kind));
    block->tried = g_ptr_array_new_with_free_func (g_free);
    block->rules_out = g_ptr_array_new_with_free_func (g_free);
    block->left = g_ptr_array_new_with_free_func (g_free);
    return_block_say (question, diagnosis, block);
    g_ptr_array_add (diagnosis->returns, block);
}

void
diagnosis_find_returns (const DiagnosisQuestion *question, Diagnosis *diagnosis)
{
    const Unit *unit = question->unit;

    for (guint s = 0; s < unit->board->slots->len; s++) {
        gboolean asked = question->suspect < 0 ? board_slot (unit->board, s)->takes == KIND_PROCESSOR
                                               : s == (guint) question->suspect;

        if (asked && unit->fitted[s].part != NULL)
            add_block (question, diagnosis, s);
    }
}
