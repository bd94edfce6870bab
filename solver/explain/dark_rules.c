/* SPDX-License-Identifier: MIT */
/* The rules behind a set: what each says, and how it is broken as things stand. */
#include "explain/dark_parts.h"

#include "check/facts.h"

#include <string.h>

/* The release whose `while-running` is meant: the one that the case has, or the first that states any. NULL: none. */
static const Release *
running_release (const DarkCase *one, const Component *component, guint index)
{
    const Release *present = component_release (component, one->releases[index]);

    for (guint r = 0; present->running_requires == NULL && present->running_conflicts == NULL; r++) {
        if (r == component->releases->len)
            return NULL;
        present = component_release (component, r);
    }
    return present;
}

/* What a maker stands for, said as of a broken rule; with no facts. Transfer full, as a list of one; empty: of nothing. */
static GPtrArray *
maker_as_broken (const DarkAsking *asking, const DarkCase *one, guint maker)
{
    const GPtrArray *rules = asking->library->rules;
    GPtrArray *list = broken_list_new ();

    if (maker < rules->len) {
        broken_add_rule (list, rules->pdata[maker]);
        return list;
    }
    guint index = maker - rules->len;
    const Release *release = running_release (one, board_component (asking->unit->board, index), index);
    if (release != NULL)
        broken_add_running (list, release);
    return list;
}

/* Whether a broken rule is this one: rules have their own place each, releases too. */
static gboolean
is_of (const Broken *broken, const Broken *maker)
{
    return broken->rule == maker->rule && broken->at.line == maker->at.line && broken->at.column == maker->at.column &&
           g_strcmp0 (broken->at.file, maker->at.file) == 0 && broken_keeps_dark (broken);
}

gboolean
dark_maker_is_broken (const DarkAsking *asking, const DarkCase *one, guint maker)
{
    g_autoptr (GPtrArray) list = maker_as_broken (asking, one, maker);

    for (guint i = 0; i < one->broken->len && list->len > 0; i++)
        if (is_of (one->broken->pdata[i], list->pdata[0]))
            return TRUE;
    return FALSE;
}

/* ---- Which of several ---- */

/* What the facts of a broken rule begin with where they speak of this fact of the unit. */
static const char *
name_of (const Board *board, const DarkFact *fact)
{
    switch (fact->kind) {
    case DARK_HELD:
    case DARK_EMPTY:
        return board_slot (board, fact->index)->name;
    case DARK_RELEASE:
    case DARK_FAILED:
        return board_component (board, fact->index)->name;
    case DARK_REVISION:
        return "the board is";
    case DARK_REDUNDANT:
        break;
    }
    return NULL;
}

static gboolean
speaks_of (const Broken *broken, const char *name)
{
    for (guint i = 0; name != NULL && i < broken->facts->len; i++) {
        const char *text = ((const Fact *) broken->facts->pdata[i])->text;

        if (g_str_has_prefix (text, name) && text[strlen (name)] == ' ')
            return TRUE;
    }
    return FALSE;
}

/* One rule may be broken in several places: the one that speaks of most of the set's facts is meant. NULL: it is not
 * broken. */
static const Broken *
broken_as_it_stands (const DarkAsking *asking, const DarkCase *one, const GArray *facts, const Broken *maker)
{
    const Broken *best = NULL;
    guint most = 0;

    for (guint i = 0; i < one->broken->len; i++) {
        const Broken *broken = one->broken->pdata[i];
        guint spoken_of = 0;

        if (!is_of (broken, maker))
            continue;
        for (guint f = 0; f < facts->len; f++)
            spoken_of +=
                speaks_of (broken, name_of (asking->unit->board, one->facts->pdata[g_array_index (facts, guint, f)]))
                    ? 1
                    : 0;
        if (best == NULL || spoken_of > most) {
            best = broken;
            most = spoken_of;
        }
    }
    return best;
}

DarkRule *
dark_rule_new (const DarkAsking *asking, const DarkCase *one, const GArray *facts, guint maker)
{
    g_autoptr (GPtrArray) list = maker_as_broken (asking, one, maker);
    DarkRule *rule = g_new0 (DarkRule, 1);

    g_assert (list->len == 1); /* only what made a clause is asked about */
    const Broken *said = list->pdata[0];
    *rule =
        (DarkRule){ said->rule, said->says, said->source, said->at, broken_as_it_stands (asking, one, facts, said) };
    return rule;
}
