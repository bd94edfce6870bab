/* SPDX-License-Identifier: MIT */
/* What the state just before a write must look like, by propagation: its conditions, what must hold to start, and that
 * no more parts are fitted than there are. */
#include "route/bound_parts.h"
#include "route/reduce.h"

#include <string.h>

/* ---- Counts of parts ---- */

static gboolean
must_be_filled (guint8 *const *domains, guint slot)
{
    return !domains[slot][0];
}

/* Marks the triples that slots of this kind which cannot be empty may hold; gives their number of slots and of parts.
 */
static void
mark_demand (const Problem *problem, guint8 *const *domains, PartKind kind, guint8 *demanded, guint *slots,
             guint *parts)
{
    *slots = *parts = 0;
    memset (demanded, 0, problem->triples->len);
    for (guint s = 0; s < problem->n_slots; s++) {
        if (board_slot (problem->unit->board, s)->takes != kind || !must_be_filled (domains, s))
            continue;
        (*slots)++;
        for (guint value = 1; value < problem->vars[s].size; value++)
            if (domains[s][value])
                demanded[problem->vars[s].triple[value]] = 1;
    }
    for (guint t = 0; t < problem->triples->len; t++)
        *parts += demanded[t] ? g_array_index (problem->triples, Triple, t).count : 0;
}

/* Slots that have to be filled take every part there is for them: none is left for other slots. */
static gboolean
narrow_by_demand (const Problem *problem, guint8 **domains, PartKind kind, guint8 *demanded, gboolean *narrowed)
{
    guint slots, parts;
    mark_demand (problem, domains, kind, demanded, &slots, &parts);
    if (parts > slots || slots == 0)
        return TRUE;
    if (parts < slots)
        return FALSE;
    for (guint s = 0; s < problem->n_slots; s++) {
        if (board_slot (problem->unit->board, s)->takes != kind || must_be_filled (domains, s))
            continue;
        for (guint value = 1; value < problem->vars[s].size; value++)
            if (domains[s][value] && demanded[problem->vars[s].triple[value]]) {
                domains[s][value] = 0;
                *narrowed = TRUE;
            }
    }
    return TRUE;
}

static gboolean
narrow_by_counts (const Problem *problem, guint8 **domains, gboolean *narrowed)
{
    g_autofree guint8 *demanded = g_new0 (guint8, problem->triples->len + 1);
    for (PartKind kind = 0; kind < KIND_COUNT; kind++)
        if (!narrow_by_demand (problem, domains, kind, demanded, narrowed))
            return FALSE;
    return TRUE;
}

/* ---- Before a write ---- */

guint8 **
bound_before_write (const Problem *problem, const Write *write, guint var, const guint8 *in)
{
    guint8 **domains = reduce_domains (problem);
    const GPtrArray *lists[] = { write->before, problem->bars[write->method],
                                 write->start_before ? problem->start : NULL,
                                 write->standby_quiet ? problem->standby : NULL };
    gboolean possible = TRUE;
    for (guint value = 0; value < problem->vars[var].size; value++)
        domains[var][value] = domains[var][value] && !in[value];
    for (gboolean narrowed = TRUE; narrowed && possible;) {
        narrowed = FALSE;
        possible = reduce_propagate_lists (problem, domains, lists, G_N_ELEMENTS (lists)) &&
                   narrow_by_counts (problem, domains, &narrowed);
    }
    if (possible)
        return domains;
    g_strfreev ((char **) domains);
    return NULL;
}
