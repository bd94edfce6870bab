/* SPDX-License-Identifier: MIT */
/* For a return: what can be said of a part that may be sent back. The first verdict that applies, in the order of
 * docs/method.md, "For a return". */
#include "explain/diagnosis_parts.h"

#define LITTLE_LEFT_OVER 0.05 /* for the board: below it the part is what is left (docs/method.md, "For a return") */

typedef struct {
    const DiagnosisQuestion *question;
    const Diagnosis *diagnosis;
    guint slot;
    PartKind kind;
} Suspect;

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

/* Nothing else is left that it could be: no look, no other such part, and next to no chance that it is the board. */
static gboolean
is_what_is_left (const Suspect *suspect)
{
    const PhysicalCauses *physical = suspect->diagnosis->physical;

    return !other_look_is_left (physical, suspect->kind) &&
           count_in_question (suspect->question, suspect->diagnosis, suspect->kind) == 1 &&
           physical->left_over < LITTLE_LEFT_OVER;
}

static ReturnVerdict
verdict_by_causes (const Suspect *suspect)
{
    const PhysicalCauses *physical = suspect->diagnosis->physical;
    const Evidence *evidence = suspect->diagnosis->evidence;
    gboolean named = FALSE;

    if (found_in_kind (evidence, suspect->kind) != NULL)
        return RETURN_FOUND;
    if (seen_with_like (suspect->question, evidence, suspect->slot, FALSE) != NULL)
        return RETURN_ELSEWHERE;
    if (probability_of_kind (physical, suspect->kind, &named) <= 0 && named)
        return RETURN_OTHER_CAUSE;
    if (seen_with_like (suspect->question, evidence, suspect->slot, TRUE) != NULL)
        return RETURN_LIKE_STARTS;
    return is_what_is_left (suspect) ? RETURN_LEFT_OVER : RETURN_CHECKS_LEFT;
}

/* Of cases in which a rule is broken; CHECKS_LEFT: there is none. */
static ReturnVerdict
verdict_by_rules (const Suspect *suspect)
{
    const Diagnosis *diagnosis = suspect->diagnosis;

    if (like_start_refutes_rules (suspect->question, diagnosis, suspect->slot))
        return RETURN_CHECKS_LEFT;
    if (firmware_never_knew (suspect->question, diagnosis, suspect->slot))
        return RETURN_NO_FIRMWARE;
    if (diagnosis->starts == NONE_STARTS || diagnosis->starts == NONE_KNOWN)
        return RETURN_RULE;
    if (diagnosis->starts == SOME_START || diagnosis->starts == TOO_MANY_CASES)
        return RETURN_NOT_READ;
    return RETURN_CHECKS_LEFT;
}

static ReturnVerdict
verdict_of (const Suspect *suspect)
{
    const Diagnosis *diagnosis = suspect->diagnosis;
    ReturnVerdict by_rules = RETURN_CHECKS_LEFT;

    if (was_seen_to_start (suspect->question, diagnosis, suspect->slot))
        return RETURN_STARTS;
    if (diagnosis->evidence->conflicts->len > 0)
        return RETURN_CONFLICT;
    by_rules = verdict_by_rules (suspect);
    if (by_rules != RETURN_CHECKS_LEFT)
        return by_rules;
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
                             MAX (1, count_in_question (question, diagnosis, suspect.kind));
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
