/* SPDX-License-Identifier: MIT */
/* For a return: what the rules say of a part, of its firmware, of a failed write and of harm under power. */
#include "explain/diagnosis_parts.h"

#include "check/facts.h"
#include "check/state.h"
#include "explain/explain_words.h"

static void
forget_failures (State *state)
{
    for (guint c = 0; c < state->board->components->len; c++)
        state->failed[c] = FALSE;
}

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

/* ---- Firmware ---- */

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
firmware_does_not_know (const DiagnosisQuestion *question, guint slot, const DarkCase *one)
{
    g_autoptr (State) state = state_from_unit (question->unit, one->releases);
    guint with = 0;

    forget_failures (state);
    with = count_unknown (question, state);
    state->held[slot] = (Held){ NULL };
    return count_unknown (question, state) < with;
}

gboolean
firmware_never_knew (const DiagnosisQuestion *question, const Diagnosis *diagnosis, guint slot)
{
    const DarkAnswer *dark = diagnosis->dark;

    for (guint i = 0; i < dark->cases->len; i++)
        if (case_is_left (diagnosis->evidence, i) && !firmware_does_not_know (question, slot, dark_case (dark, i)))
            return FALSE;
    return dark->cases->len > 0;
}

gboolean
broken_only_by_failure (const DiagnosisQuestion *question, const DarkCase *one, const char *rule)
{
    if (question->unit->failed == NULL || !is_knows_rule (question->library, rule))
        return FALSE;
    g_autoptr (State) state = state_from_unit (question->unit, one->releases);
    forget_failures (state);
    g_autoptr (GPtrArray) broken = check_state (question->library, question->shop, state);
    for (guint i = 0; i < broken->len; i++)
        if (((const Broken *) broken->pdata[i])->rule == rule)
            return FALSE;
    return TRUE;
}

/* ---- Harm ---- */

/* Ids of rules that may do harm and are broken here, each once. Appends to `ids`. */
static void
add_harms (const GPtrArray *broken, GPtrArray *ids)
{
    for (guint i = 0; i < broken->len; i++) {
        const Broken *one = broken->pdata[i];

        if (one->breaking == BREAKING_HARMS && !g_ptr_array_find (ids, one->rule, NULL))
            g_ptr_array_add (ids, (gpointer) one->rule);
    }
}

char *
harm_rules (const DiagnosisQuestion *question, const Diagnosis *diagnosis)
{
    const DarkAnswer *dark = diagnosis->dark;
    g_autoptr (GPtrArray) ids = g_ptr_array_new ();

    for (guint i = 0; i < dark->cases->len; i++)
        if (case_is_left (diagnosis->evidence, i))
            add_harms (dark_case (dark, i)->broken, ids);
    if (dark->cases->len == 0) { /* too many: one of them */
        g_autoptr (State) state = state_from_unit (diagnosis->unit, NULL);
        g_autoptr (GPtrArray) broken = check_state (question->library, question->shop, state);

        add_harms (broken, ids);
    }
    return ids->len == 0 ? NULL : text_join (ids, "and");
}

gboolean
harm_may_be_done (const DiagnosisQuestion *question, const Diagnosis *diagnosis)
{
    g_autofree char *rules = harm_rules (question, diagnosis);

    return rules != NULL;
}

gboolean
harm_explains_all (const Diagnosis *diagnosis)
{
    const DarkAnswer *dark = diagnosis->dark;

    for (guint i = 0; i < dark->cases->len; i++)
        for (guint b = 0; case_is_left (diagnosis->evidence, i) && b < dark_case (dark, i)->broken->len; b++) {
            const Broken *broken = dark_case (dark, i)->broken->pdata[b];

            if (broken_keeps_dark (broken) && broken->breaking != BREAKING_HARMS)
                return FALSE;
        }
    return dark->cases->len > 0;
}
