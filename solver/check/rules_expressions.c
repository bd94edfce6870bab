/* SPDX-License-Identifier: MIT */
/* What is written as expressions: the forms `when` and `own`, and each release's `while-running`; and what is not
 * written at all: that nothing starts on a failed component. */
#include "check/facts.h"
#include "check/offers.h"
#include "check/rules.h"
#include "check/state.h"

static const char REQUIRED[] = "required here";
static const char NOT_HERE[] = "must not be here";

static gboolean
holds (const Look *look, const Expr *expr)
{
    return offers_satisfy (look->state->board, look->offers, expr);
}

/* Facts for those of the two that are not as they should be. */
static void
add_unmet (const Look *look, Broken *broken, const Expr *needs, const Expr *conflicts)
{
    if (needs != NULL && !holds (look, needs))
        broken_add_expression (broken, look->state, look->offers, REQUIRED, needs);
    if (conflicts != NULL && holds (look, conflicts))
        broken_add_expression (broken, look->state, look->offers, NOT_HERE, conflicts);
}

void
look_at_when (const Look *look, const Rule *rule)
{
    if (rule->when != NULL && !holds (look, rule->when))
        return;
    if (offers_allow (look->state->board, look->offers, rule->requires, rule->conflicts))
        return;
    Broken *broken = broken_add_rule (look->found, rule);
    if (rule->when != NULL)
        broken_add_answers (broken, look->state, look->offers, rule->when);
    add_unmet (look, broken, rule->requires, rule->conflicts);
}

void
look_at_own (const Look *look, const Rule *rule)
{
    const State *state = look->state;

    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        const Held *held = state_live_part (state, slot);

        if (held == NULL || offers_allow (state->board, look->offers, held->part->requires, held->part->conflicts))
            continue;
        Broken *broken = broken_add_rule (look->found, rule);
        broken_add_slot (broken, state, slot, NULL);
        add_unmet (look, broken, held->part->requires, held->part->conflicts);
    }
}

void
look_at_failed (const Look *look)
{
    const State *state = look->state;

    for (guint i = 0; i < state->board->components->len; i++) {
        const Component *component = board_component (state->board, i);

        if (!state->failed[i] || board_component (state->board, i)->spare_of != NULL)
            continue;
        Broken *broken = broken_add_failed (look->found, component);
        gboolean came_so = state->unit->failed != NULL && state->unit->failed[i];
        broken_add_fact (broken, came_so ? state->unit->at : component->at, "the last write of %s failed",
                         component->name);
    }
}

/* A failed component runs no release. */
void
look_at_running (const Look *look)
{
    const State *state = look->state;

    for (guint i = 0; i < state->board->components->len; i++) {
        const Release *release = state_release (state, i);

        if (state->failed[i] ||
            offers_allow (state->board, look->offers, release->running_requires, release->running_conflicts))
            continue;
        Broken *broken = broken_add_running (look->found, release);
        broken_add_fact (broken, release->at, "%s is at %s", board_component (state->board, i)->name, release->name);
        add_unmet (look, broken, release->running_requires, release->running_conflicts);
    }
}
