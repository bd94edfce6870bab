/* SPDX-License-Identifier: MIT */
/* What each slot may hold and each component may have, over the whole book. */
#include "route/start_parts.h"

static void
add_triple (GArray *triples, const Part *part, const char *stepping)
{
    const Triple triple = { .part = part, .stepping = stepping, .owner = OWNER_UNIT };
    g_array_append_val (triples, triple);
}

/* Every part of the book in every stepping, as the unit's own and bound to nobody. */
static void
collect_parts (const Library *library, GArray *triples)
{
    for (guint p = 0; p < library->book.parts->len; p++) {
        const Part *part = library->book.parts->pdata[p];
        for (guint i = 0; i < part->steppings->len; i++)
            add_triple (triples, part, part->steppings->pdata[i]);
        if (part->steppings->len == 0)
            add_triple (triples, part, NULL);
    }
}

static gboolean
is_usual (const Triple *triple, const Fitted *fitted)
{
    return triple->part == fitted->part && triple->stepping == fitted->stepping && fitted->owner == OWNER_UNIT &&
           fitted->bound == NULL;
}

static void
slot_domain (Problem *problem, guint slot, guint n_usual)
{
    Variable *var = &problem->vars[slot];
    const Fitted *fitted = &problem->unit->fitted[slot];
    *var = (Variable){ .is_slot = TRUE, .index = slot, .size = 1, .floor = -1, .wear = -1 };
    var->server = board_slot (problem->unit->board, slot)->served_by;
    var->triple = g_new0 (guint, n_usual + 2);
    for (guint t = 0; t < n_usual; t++) {
        const Triple *triple = &g_array_index (problem->triples, Triple, t);
        if (triple->part->kind != board_slot (problem->unit->board, slot)->takes)
            continue;
        if (is_usual (triple, fitted))
            var->initial = var->size;
        var->triple[var->size++] = t;
    }
    if (fitted->part == NULL || var->initial != 0)
        return;
    const Triple odd = { fitted->part, fitted->stepping, fitted->owner, fitted->bound, 1 };
    var->initial = var->size;
    var->triple[var->size++] = problem->triples->len;
    g_array_append_val (problem->triples, odd);
}

static void
component_domain (Problem *problem, guint index)
{
    Variable *var = &problem->vars[problem->n_slots + index];
    guint releases = board_component (problem->unit->board, index)->releases->len;
    gboolean failed = problem->unit->failed[index];
    *var = (Variable){ .index = index, .server = -1, .floor = -1, .wear = -1, .size = releases + (failed ? 1 : 0) };
    while (!failed && var->initial + 1 < releases && !problem->unit->releases[index].may_be[var->initial])
        var->initial++;
    if (failed)
        var->initial = releases;
}

void
start_domains (Problem *problem)
{
    collect_parts (problem->library, problem->triples);
    guint n_usual = problem->triples->len;
    for (guint slot = 0; slot < problem->n_slots; slot++)
        slot_domain (problem, slot, n_usual);
    for (guint c = 0; c + problem->n_slots < problem->n_vars; c++)
        component_domain (problem, c);
}
