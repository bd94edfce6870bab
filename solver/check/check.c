/* SPDX-License-Identifier: MIT */
/* Every rule against one state, and what that says about starting. */
#include "check/check.h"

#include "check/facts.h"
#include "check/offers.h"
#include "check/rules.h"

static void
look_at_rule (const Look *look, const Rule *rule)
{
    switch (rule->form) {
    case FORM_SAME:
        look_at_same (look, rule);
        break;
    case FORM_BEFORE:
        look_at_before (look, rule);
        break;
    case FORM_AT_LEAST:
        look_at_at_least (look, rule);
        break;
    case FORM_SUM:
        look_at_sum (look, rule);
        break;
    case FORM_SOME:
        look_at_some (look, rule);
        break;
    case FORM_WHEN:
        look_at_when (look, rule);
        break;
    case FORM_KNOWS:
        look_at_knows (look, rule);
        break;
    case FORM_OWN:
        look_at_own (look, rule);
        break;
    case FORM_ONE_OF:
        look_at_one_of (look, rule);
        break;
    case FORM_BINDS:
        look_at_binds (look, rule);
        break;
    }
}

GPtrArray *
check_state (const Library *library, const Shop *shop, const State *state)
{
    g_autoptr (GArray) offers = offers_of_state (state);
    GPtrArray *found = broken_list_new ();
    Look look = { shop, state, offers, found };

    /* First, since a failed component may break further rules by what it no longer offers. */
    look_at_failed (&look);
    for (guint i = 0; i < library->rules->len; i++)
        look_at_rule (&look, library->rules->pdata[i]);
    look_at_running (&look);
    return found;
}

Starts
broken_verdict (const GPtrArray *broken)
{
    Starts verdict = STARTS_YES;

    for (guint i = 0; i < broken->len; i++) {
        const Broken *one = broken->pdata[i];

        if (!broken_keeps_dark (one))
            continue;
        if (one->sureness == SURE_STATED)
            return STARTS_NO;
        verdict = STARTS_NOT_KNOWN;
    }
    return verdict;
}

gboolean
state_starts (const Library *library, const Shop *shop, const State *state)
{
    g_autoptr (GPtrArray) broken = check_state (library, shop, state);

    return broken_verdict (broken) == STARTS_YES;
}
