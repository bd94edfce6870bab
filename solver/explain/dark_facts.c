/* SPDX-License-Identifier: MIT */
/* What keeps a unit dark may be made of: its facts, and their words. */
#include "explain/dark_parts.h"

#include "check/facts.h"
#include "explain/explain_words.h"

/* So many neighbouring releases and more are said as a range. */
#define RANGE_FROM 4

void
dark_fact_free (gpointer data)
{
    DarkFact *fact = data;

    g_free (fact->says);
    g_free (fact);
}

/* ---- Words ---- */

/* The last of the flagged releases that follow one another from `first` on. */
static guint
end_of_run (const gboolean *may_be, guint first, guint n_releases)
{
    guint last = first;

    while (last + 1 < n_releases && may_be[last + 1])
        last++;
    return last;
}

/* "1.0.2", "1.0.2 or 1.2.0", "one of 1.0.2 .. 1.6.0 or 2.1.0". Transfer full. */
static char *
releases_in_words (const Component *component, const gboolean *may_be)
{
    g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
    guint n_releases = component->releases->len;
    gboolean has_range = FALSE;

    for (guint r = 0; r < n_releases; r++) {
        guint last = may_be[r] ? end_of_run (may_be, r, n_releases) : r;

        if (!may_be[r])
            continue;
        if (last - r + 1 >= RANGE_FROM) {
            has_range = TRUE;
            g_ptr_array_add (names, g_strdup_printf ("%s .. %s", component_release (component, r)->name,
                                                     component_release (component, last)->name));
            r = last;
        } else {
            g_ptr_array_add (names, g_strdup (component_release (component, r)->name));
        }
    }
    g_autofree char *joined = text_join (names, "or");
    return g_strdup_printf ("%s%s", has_range ? "one of " : "", joined);
}

static char *
release_says (const Unit *unit, const DarkCase *one, guint component)
{
    const Component *entry = board_component (unit->board, component);
    g_autofree char *words = releases_in_words (entry, one->may_be[component]);

    return g_strdup_printf ("%s is at %s", entry->name, words);
}

static char *
held_says (const Unit *unit, guint slot)
{
    const Fitted *fitted = &unit->fitted[slot];
    const Held held = { fitted->part, fitted->stepping, fitted->owner, fitted->bound };
    g_autofree char *words = held_in_words (&held);

    return g_strdup_printf ("%s holds %s%s", board_slot (unit->board, slot)->name, words,
                            fitted->owner == OWNER_LOAN ? ", lent" : "");
}

void
dark_facts_say_releases (const Unit *unit, DarkCase *one)
{
    for (guint i = 0; i < one->facts->len; i++) {
        DarkFact *fact = one->facts->pdata[i];

        if (fact->kind != DARK_RELEASE)
            continue;
        g_free (fact->says);
        fact->says = release_says (unit, one, fact->index);
    }
}

/* ---- Collecting ---- */

/* Takes `says` over. */
static void
add_fact (GPtrArray *facts, DarkFactKind kind, guint index, char *says, Mark at)
{
    DarkFact *fact = g_new0 (DarkFact, 1);

    *fact = (DarkFact){ kind, index, says, at };
    g_ptr_array_add (facts, fact);
}

static gboolean
slot_matters (const DarkAsking *asking, guint slot)
{
    for (guint i = 0; i < asking->spaces->len; i++)
        if (start_space_slot_matters (asking->spaces->pdata[i], slot))
            return TRUE;
    return FALSE;
}

static gboolean
component_matters (const DarkAsking *asking, guint component)
{
    for (guint i = 0; i < asking->spaces->len; i++)
        if (start_space_component_matters (asking->spaces->pdata[i], component))
            return TRUE;
    return FALSE;
}

static void
add_slots (const DarkAsking *asking, GPtrArray *facts)
{
    const Unit *unit = asking->unit;

    for (guint slot = 0; slot < unit->board->slots->len; slot++) {
        const Fitted *fitted = &unit->fitted[slot];

        if (!slot_matters (asking, slot))
            continue;
        if (fitted->part != NULL)
            add_fact (facts, DARK_HELD, slot, held_says (unit, slot), fitted->at);
        else
            add_fact (facts, DARK_EMPTY, slot, g_strdup_printf ("%s is empty", board_slot (unit->board, slot)->name),
                      fitted->at.line > 0 ? fitted->at : unit->at);
    }
}

static void
add_components (const DarkAsking *asking, const DarkCase *one, GPtrArray *facts)
{
    const Unit *unit = asking->unit;

    for (guint c = 0; c < unit->board->components->len; c++)
        if (component_matters (asking, c) && (unit->failed == NULL || !unit->failed[c]))
            add_fact (facts, DARK_RELEASE, c, release_says (unit, one, c),
                      unit->releases[c].at.line > 0 ? unit->releases[c].at : unit->at);
    for (guint c = 0; unit->failed != NULL && c < unit->board->components->len; c++)
        if (unit->failed[c] && (dark_failure_stops (unit, c) || component_matters (asking, c)))
            add_fact (facts, DARK_FAILED, c,
                      g_strdup_printf ("the last write of %s failed", board_component (unit->board, c)->name),
                      unit->at);
}

GPtrArray *
dark_facts_collect (const DarkAsking *asking, const DarkCase *one)
{
    const Unit *unit = asking->unit;
    GPtrArray *facts = g_ptr_array_new_with_free_func (dark_fact_free);

    add_slots (asking, facts);
    add_components (asking, one, facts);
    if (unit->board->revisions->len > 1)
        add_fact (
            facts, DARK_REVISION, 0,
            g_strdup_printf ("the board is revision %s", (const char *) unit->board->revisions->pdata[unit->revision]),
            unit->at);
    if (asking->shop->redundant_supplies)
        add_fact (facts, DARK_REDUNDANT, 0, g_strdup ("the shop asks for redundant supplies"), asking->shop->at);
    return facts;
}
