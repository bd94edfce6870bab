/* SPDX-License-Identifier: MIT */
/* The form `knows`: the firmware states support for the generation and stepping that is fitted. */
#include "check/facts.h"
#include "check/rules.h"
#include "check/state.h"

static void
append_support (GString *words, const Support *support)
{
    g_string_append_printf (words, "%s%s", words->len > 0 ? ", " : "", support->generation);
    if (support->steppings == NULL)
        return;
    for (guint i = 0; i < support->steppings->len; i++)
        g_string_append_printf (words, "%s%s", i > 0 ? "/" : " ", (const char *) support->steppings->pdata[i]);
}

/* "dorvan, elvane b0/b1"; "nothing" for an empty list. Transfer full. */
static char *
support_in_words (const GPtrArray *list)
{
    g_autoptr (GString) words = g_string_new (NULL);

    for (guint i = 0; i < list->len; i++)
        append_support (words, list->pdata[i]);
    return words->len > 0 ? g_string_free (g_steal_pointer (&words), FALSE) : g_strdup ("nothing");
}

static void
add_support (Broken *broken, const Component *component, const Release *release)
{
    if (release->starts == NULL) {
        broken_add_fact (broken, release->at, "%s %s states support for nothing", component->name, release->name);
        return;
    }
    g_autofree char *starts = support_in_words (release->starts);
    broken_add_fact (broken, release->at, "%s %s states support for %s only", component->name, release->name, starts);
}

static SupportAnswer
support_of (const Release *release, const Held *held, Mark *where)
{
    if (held->part->generation == NULL)
        return SUPPORT_NOT_STATED;
    return release_support (release, held->part->generation, held->stepping, where);
}

/* A failed component has no release that could state anything. */
static void
add_failed (const Look *look, const Rule *rule, guint slot, const Component *component)
{
    Broken *broken = broken_add_rule (look->found, rule);

    broken->sureness = SURE_NOT_STATED;
    broken_add_slot (broken, look->state, slot, NULL);
    broken_add_fact (broken, component->at, "the last write of %s failed, so it states support for nothing",
                     component->name);
}

static void
look_at_pair (const Look *look, const Rule *rule, guint slot, guint component)
{
    const State *state = look->state;
    const Component *entry = board_component (state->board, component);
    const Release *release = state_release (state, component);
    const Held *held = &state->held[slot];
    Mark where = release->at;
    SupportAnswer answer = support_of (release, held, &where);

    if (state->failed[component]) {
        add_failed (look, rule, slot, entry);
        return;
    }
    if (answer == SUPPORT_YES)
        return;
    Broken *broken = broken_add_rule (look->found, rule);
    broken_add_slot (broken, state, slot, NULL);
    if (answer == SUPPORT_NO) {
        broken_add_fact (broken, where, "%s %s states that it never starts %s%s%s", entry->name, release->name,
                         held->part->generation, held->stepping != NULL ? " " : "",
                         held->stepping != NULL ? held->stepping : "");
        return;
    }
    broken->sureness = SURE_NOT_STATED;
    add_support (broken, entry, release);
}

void
look_at_knows (const Look *look, const Rule *rule)
{
    const State *state = look->state;

    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        const Held *held = state_live_part (state, slot);

        if (held == NULL || held->part->kind != rule->kind)
            continue;
        for (guint i = 0; i < state->board->components->len; i++)
            if (board_component (state->board, i)->states_starts)
                look_at_pair (look, rule, slot, i);
    }
}
