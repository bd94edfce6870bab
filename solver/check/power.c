/* SPDX-License-Identifier: MIT */
/* Power around a write: docs/method.md, "Power", and what the jumper's short run asks. */
#include "check/steps.h"

#include "check/facts.h"

gboolean
step_is_off_power (const Board *board, const Step *step)
{
    return step->kind != STEP_WRITE || step_powered (board, step) == POWERED_OFF;
}

gboolean
step_is_on_a_running_unit (const Board *board, const Step *step)
{
    return step->kind == STEP_WRITE && step_powered (board, step) == POWERED_ON;
}

Powered
step_powered (const Board *board, const Step *write)
{
    return method_powered (&board_component (board, write->component)->methods[write->method], write->method);
}

/* What a rule that `harms` under one of `powers` says against it. */
static gboolean
nothing_is_harmed (const GPtrArray *broken_list, guint powers, const char *rule, const char *what, Refusal *refusal)
{
    for (guint i = 0; i < broken_list->len; i++) {
        const Broken *broken = broken_list->pdata[i];

        if (broken->breaking != BREAKING_HARMS || (broken->powers & powers) == 0)
            continue;
        g_autofree char *words = broken_in_words (broken);
        return refuse (refusal, rule, "%s would break %s", what, words);
    }
    return TRUE;
}

/* `when`: before or after. */
static gboolean
stands_by (const GPtrArray *broken_list, const Step *step, const char *rule, const char *when, Refusal *refusal)
{
    g_autofree char *what = g_strdup_printf ("%s this %s write standby power", when, method_name (step->method));

    return nothing_is_harmed (broken_list, POWER_STANDBY, rule, what, refusal);
}

static gboolean
starts (const GPtrArray *broken_list, const Step *step, const char *rule, const char *when, Refusal *refusal)
{
    g_autofree char *words = g_strdup_printf ("%s this %s write", when, method_name (step->method));

    return refuse_unless_starts (broken_list, rule, words, refusal);
}

gboolean
write_power_is_safe_before (const Walker *walker, const Step *step, Refusal *refusal)
{
    switch (step_powered (walker->state->board, step)) {
    case POWERED_ON:
        return starts (walker->broken, step, "does-not-start-before", "before", refusal);
    case POWERED_STANDBY:
        return stands_by (walker->broken, step, "harms-standby-before", "before", refusal);
    default:
        if (step->method != METHOD_JUMPER)
            return TRUE;
        return nothing_is_harmed (walker->broken, POWER_ON | POWER_STANDBY, "harms-jumper",
                                  "the short run that a jumper write takes", refusal);
    }
}

gboolean
write_is_allowed_after (const Walker *walker, const Step *step, const GPtrArray *broken_after, Refusal *refusal)
{
    const Component *component = board_component (walker->state->board, step->component);

    switch (step_powered (walker->state->board, step)) {
    case POWERED_ON:
        if (walker->shop->unverified_writes || component->methods[step->method].verify_next_start)
            return TRUE;
        return starts (broken_after, step, "does-not-start-after", "after", refusal);
    case POWERED_STANDBY:
        return stands_by (broken_after, step, "harms-standby-after", "after", refusal);
    default:
        return TRUE;
    }
}
