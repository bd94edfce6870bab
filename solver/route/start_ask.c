/* SPDX-License-Identifier: MIT */
/* Whether some state starts: clauses and totals take values away until nothing changes, then the variable with the
 * fewest values left is tried, what the unit holds there first, so that what is found differs little from the unit. */
#include "route/start_parts.h"

#include <string.h>

void
start_search_init (StartSearch *search, const StartSpace *space, const StartQuestion *question)
{
    *search = (StartSearch){ .space = space, .question = question, .left = question != NULL ? question->most : 0 };
    search->queue = g_new (guint, space->n_vars + 1);
    search->queued = g_new0 (gboolean, space->n_vars + 1);
}

void
start_search_clear (StartSearch *search)
{
    g_free (search->queue);
    g_free (search->queued);
}

/* ---- Taking values away ---- */

gboolean
start_narrow (StartSearch *search, guint64 *domain, guint var, const guint64 *mask)
{
    guint first = search->space->word[var], words = search->space->word[var + 1] - first;
    guint64 changed = 0, left = 0;
    for (guint w = 0; w < words; w++) {
        changed |= domain[first + w] & ~mask[w];
        left |= domain[first + w] &= mask[w];
    }
    if (changed != 0 && !search->queued[var]) {
        search->queue[search->n_queued++] = var;
        search->queued[var] = TRUE;
    }
    return left != 0;
}

static gboolean
clause_counts (const StartSearch *search, const StartClause *clause)
{
    const StartQuestion *question = search->question;
    if (question != NULL && question->left_out != NULL && question->left_out[clause->maker])
        return FALSE;
    gboolean lenient = question != NULL && question->not_stated_is_yes;
    return clause->counts == COUNTS_ALWAYS || (clause->counts == COUNTS_UNLESS_DENIED) == lenient;
}

/* A clause with one literal that can still hold makes it hold. */
static gboolean
look_at_clause (StartSearch *search, guint64 *domain, const StartClause *clause)
{
    const StartSpace *space = search->space;
    const StartLiteral *only = NULL;
    for (guint l = clause->first; l < clause->first + clause->count; l++) {
        const StartLiteral *literal = &g_array_index (space->literals, StartLiteral, l);
        const guint64 *mask = start_mask (space, literal);
        guint first = space->word[literal->var], words = space->word[literal->var + 1] - first;
        guint64 inside = 0, outside = 0;
        for (guint w = 0; w < words; w++) {
            inside |= domain[first + w] & mask[w];
            outside |= domain[first + w] & ~mask[w];
        }
        if (inside == 0)
            continue;
        if (outside == 0 || only != NULL)
            return TRUE; /* it holds anyway, or two can */
        only = literal;
    }
    return only != NULL && start_narrow (search, domain, only->var, start_mask (space, only));
}

static gboolean
look_at_variable (StartSearch *search, guint64 *domain, guint var)
{
    const StartSpace *space = search->space;
    for (guint i = space->occurs[var]; i < space->occurs[var + 1]; i++) {
        const StartClause *clause = &g_array_index (space->clauses, StartClause, space->occurring[i]);
        if (clause_counts (search, clause) && !look_at_clause (search, domain, clause))
            return FALSE;
    }
    return TRUE;
}

static void
forget_queue (StartSearch *search)
{
    while (search->n_queued > 0)
        search->queued[search->queue[--search->n_queued]] = FALSE;
}

static gboolean
propagate (StartSearch *search, guint64 *domain)
{
    do {
        while (search->n_queued > 0) {
            guint var = search->queue[--search->n_queued];
            search->queued[var] = FALSE;
            if (!look_at_variable (search, domain, var)) {
                forget_queue (search);
                return FALSE;
            }
        }
        if (search->question != NULL && !start_bear_sums (search, domain)) {
            forget_queue (search);
            return FALSE;
        }
    } while (search->n_queued > 0);
    return TRUE;
}

gboolean
start_settle (StartSearch *search, guint64 *domain)
{
    const GArray *clauses = search->space->clauses;
    for (guint i = 0; i < clauses->len; i++) {
        const StartClause *clause = &g_array_index (clauses, StartClause, i);
        if (clause_counts (search, clause) && !look_at_clause (search, domain, clause)) {
            forget_queue (search);
            return FALSE;
        }
    }
    return propagate (search, domain);
}

/* ---- Trying values ---- */

static gboolean
assign (StartSearch *search, guint64 *domain, guint var, guint value)
{
    g_autofree guint64 *mask = g_new0 (guint64, search->space->word[var + 1] - search->space->word[var]);
    mask[value / 64] |= (guint64) 1 << (value % 64);
    return start_narrow (search, domain, var, mask);
}

static guint
values_left (const StartSpace *space, const guint64 *domain, guint var)
{
    guint count = 0;
    for (guint w = space->word[var]; w < space->word[var + 1]; w++)
        for (guint64 word = domain[w]; word != 0; word &= word - 1)
            count++;
    return count;
}

/* The variable with the fewest values of those with a choice; -1: none has. */
static int
pick (const StartSpace *space, const guint64 *domain)
{
    guint fewest = G_MAXUINT;
    int best = -1;
    for (guint v = 0; v < space->n_vars && fewest > 2; v++) {
        guint count = space->matters[v] ? values_left (space, domain, v) : 1;
        if (count > 1 && count < fewest) {
            fewest = count;
            best = (int) v;
        }
    }
    return best;
}

static StartAnswer try_values (StartSearch *search, const guint64 *domain);

static StartAnswer
try_value (StartSearch *search, const guint64 *domain, guint var, guint value)
{
    if (search->left == 0)
        return START_UNDECIDED;
    search->left--;
    g_autofree guint64 *next = g_memdup2 (domain, (search->space->n_words + 1) * sizeof (guint64));
    if (!assign (search, next, var, value) || !propagate (search, next))
        return START_IMPOSSIBLE;
    return try_values (search, next);
}

static StartAnswer
try_values (StartSearch *search, const guint64 *domain)
{
    const StartSpace *space = search->space;
    int var = pick (space, domain);
    if (var < 0)
        return START_POSSIBLE;
    guint held = space->held[var];
    StartAnswer answer = START_IMPOSSIBLE;
    if (start_has (space, domain, (guint) var, held))
        answer = try_value (search, domain, (guint) var, held);
    for (guint value = 0; value < space->sizes[var] && answer == START_IMPOSSIBLE; value++)
        if (value != held && start_has (space, domain, (guint) var, value))
            answer = try_value (search, domain, (guint) var, value);
    return answer;
}

/* ---- A question ---- */

static gboolean
keep (StartSearch *search, guint64 *domain)
{
    const StartSpace *space = search->space;
    const StartQuestion *question = search->question;
    gboolean left = TRUE;
    for (guint slot = 0; slot < space->n_slots && left; slot++)
        if (question->keep_slot[slot])
            left = assign (search, domain, slot, space->held[slot]);
    for (guint c = 0; c + space->n_slots < space->n_vars && left; c++)
        if (question->keep_component[c])
            left = assign (search, domain, space->n_slots + c,
                           space->failed[c] ? space->held[space->n_slots + c] : question->releases[c]);
    return left;
}

static gboolean
leaves_out (const StartSpace *space, const StartQuestion *question)
{
    for (guint m = 0; question->left_out != NULL && m < space->n_makers; m++)
        if (question->left_out[m])
            return TRUE;
    return question->not_stated_is_yes;
}

StartAnswer
start_space_ask (const StartSpace *space, const StartQuestion *question)
{
    gboolean usual = !leaves_out (space, question);
    StartSearch search;
    if (usual && space->settled == NULL)
        return START_IMPOSSIBLE;
    start_search_init (&search, space, question);
    g_autofree guint64 *domain =
        g_memdup2 (usual ? space->settled : space->all, (space->n_words + 1) * sizeof (guint64));
    gboolean left = keep (&search, domain) && (usual ? propagate (&search, domain) : start_settle (&search, domain));
    StartAnswer answer = left ? try_values (&search, domain) : START_IMPOSSIBLE;
    start_search_clear (&search);
    return answer;
}
