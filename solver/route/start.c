/* SPDX-License-Identifier: MIT */
/* From rules over whole domains to a space: clauses with their makers, in the form in which they are asked. */
#include "route/start_parts.h"

#include "route/ground.h"

#include <string.h>

/* ---- What was grounded, taken over ---- */

static void
start_sum_free (gpointer data)
{
    StartSum *sum = data;
    sum_free (sum->sum);
    g_free (sum->concerns);
    g_free (sum);
}

static void
take_literal (StartSpace *space, const Literal *literal)
{
    const StartLiteral taken = { literal->var, space->masks->len };
    guint words = space->word[literal->var + 1] - space->word[literal->var];
    g_array_set_size (space->masks, space->masks->len + words);
    guint64 *mask = &g_array_index (space->masks, guint64, taken.mask);
    memset (mask, 0, words * sizeof *mask);
    for (guint value = 0; value < space->sizes[literal->var]; value++)
        if (literal->in[value])
            mask[value / 64] |= (guint64) 1 << (value % 64);
    space->matters[literal->var] = TRUE;
    g_array_append_val (space->literals, taken);
}

/* Takes the clauses that came since, and leaves the problem without any. */
static void
take_clauses (StartSpace *space, Problem *problem, guint maker, StartCounts counts)
{
    for (guint i = 0; i < problem->start->len; i++) {
        const Clause *clause = problem->start->pdata[i];
        const StartClause taken = { space->literals->len, clause->count, maker, counts };
        g_array_append_val (space->clauses, taken);
        space->made[maker] = TRUE;
        for (guint l = 0; l < clause->count; l++)
            take_literal (space, &clause->literals[l]);
    }
    g_ptr_array_set_size (problem->start, 0);
}

/* A slot and those that keep it alive. */
static void
mark_with_servers (StartSpace *space, guint slot)
{
    space->matters[slot] = TRUE;
    for (int server = space->server[slot]; server >= 0; server = space->server[server])
        space->matters[server] = TRUE;
}

static void
take_sum (StartSpace *space, Problem *problem, const Rule *rule, guint maker)
{
    StartSum *taken = g_new0 (StartSum, 1);
    taken->sum = g_ptr_array_steal_index (problem->sums, 0);
    taken->maker = maker;
    space->made[maker] = TRUE;
    taken->by_shop = rule->largest == LARGEST_BY_SHOP;
    taken->concerns = g_new0 (gboolean, space->n_slots + 1);
    for (guint slot = 0; slot < space->n_slots; slot++) {
        for (guint value = 1; value < space->sizes[slot]; value++)
            if (taken->sum->load[slot][value] != 0 || taken->sum->supply[slot][value] != 0)
                taken->concerns[slot] = TRUE;
        if (taken->concerns[slot])
            mark_with_servers (space, slot);
    }
    g_ptr_array_add (space->sums, taken);
}

static gboolean
keeps_from_starting (const Rule *rule)
{
    return rule->breaking == BREAKING_STOPS || (rule->breaking == BREAKING_HARMS && (rule->powers & POWER_ON) != 0);
}

static void
ground_all (StartSpace *space, Ground *ground)
{
    Problem *problem = ground->problem;
    const GPtrArray *rules = problem->library->rules;
    for (guint i = 0; i < rules->len; i++) {
        const Rule *rule = rules->pdata[i];
        if (!keeps_from_starting (rule))
            continue;
        ground_rule (ground, rule);
        take_clauses (space, problem, i, rule->form == FORM_KNOWS ? COUNTS_STATED : COUNTS_ALWAYS);
        if (problem->sums->len > 0)
            take_sum (space, problem, rule, i);
        if (rule->form == FORM_KNOWS)
            ground_knows_unless_denied (ground, rule);
        take_clauses (space, problem, i, COUNTS_UNLESS_DENIED);
    }
    for (guint c = 0; c + space->n_slots < space->n_vars; c++) {
        ground_running (ground, c);
        take_clauses (space, problem, rules->len + c, COUNTS_ALWAYS);
    }
}

/* ---- The space ---- */

static StartSpace *
space_new (const Problem *problem)
{
    StartSpace *space = g_new0 (StartSpace, 1);
    space->n_vars = problem->n_vars;
    space->n_slots = problem->n_slots;
    space->n_makers = problem->library->rules->len + problem->n_vars - problem->n_slots;
    space->made = g_new0 (gboolean, space->n_makers + 1);
    space->sizes = g_new0 (guint, space->n_vars + 1);
    space->word = g_new0 (guint, space->n_vars + 1);
    space->held = g_new0 (guint, space->n_vars + 1);
    space->server = g_new0 (int, space->n_slots + 1);
    space->matters = g_new0 (gboolean, space->n_vars + 1);
    for (guint v = 0; v < space->n_vars; v++) {
        space->sizes[v] = problem->vars[v].size;
        space->held[v] = problem->vars[v].initial;
        space->word[v + 1] = space->word[v] + (space->sizes[v] + 63) / 64;
        if (v < space->n_slots)
            space->server[v] = problem->vars[v].server;
    }
    space->n_words = space->word[space->n_vars];
    space->failed = g_memdup2 (problem->unit->failed, (space->n_vars - space->n_slots + 1) * sizeof (gboolean));
    space->masks = g_array_new (FALSE, FALSE, sizeof (guint64));
    space->literals = g_array_new (FALSE, FALSE, sizeof (StartLiteral));
    space->clauses = g_array_new (FALSE, FALSE, sizeof (StartClause));
    space->sums = g_ptr_array_new_with_free_func (start_sum_free);
    return space;
}

void
start_space_free (StartSpace *space)
{
    for (guint c = 0; space->classes != NULL && c + space->n_slots < space->n_vars; c++)
        g_free (space->classes[c]);
    g_free (space->classes);
    g_free (space->sizes);
    g_free (space->word);
    g_free (space->held);
    g_free (space->server);
    g_free (space->failed);
    g_free (space->matters);
    g_free (space->made);
    g_array_unref (space->masks);
    g_array_unref (space->literals);
    g_array_unref (space->clauses);
    g_free (space->occurs);
    g_free (space->occurring);
    g_ptr_array_unref (space->sums);
    g_free (space->all);
    g_free (space->settled);
    g_free (space);
}

/* Which clauses each variable stands in. */
static void
index_clauses (StartSpace *space)
{
    space->occurs = g_new0 (guint, space->n_vars + 2);
    space->occurring = g_new (guint, space->literals->len + 1);
    for (guint l = 0; l < space->literals->len; l++)
        space->occurs[g_array_index (space->literals, StartLiteral, l).var + 2]++;
    for (guint v = 0; v < space->n_vars; v++)
        space->occurs[v + 2] += space->occurs[v + 1];
    /* Entry v + 1 counts up to where the next variable begins, and is then its beginning. */
    for (guint i = 0; i < space->clauses->len; i++) {
        const StartClause *clause = &g_array_index (space->clauses, StartClause, i);
        for (guint l = clause->first; l < clause->first + clause->count; l++)
            space->occurring[space->occurs[g_array_index (space->literals, StartLiteral, l).var + 1]++] = i;
    }
}

static gboolean
told_apart (const StartSpace *space, guint var, guint one, guint other)
{
    for (guint i = space->occurs[var]; i < space->occurs[var + 1]; i++) {
        const StartClause *clause = &g_array_index (space->clauses, StartClause, space->occurring[i]);
        for (guint l = clause->first; l < clause->first + clause->count; l++) {
            const StartLiteral *literal = &g_array_index (space->literals, StartLiteral, l);
            const guint64 *mask = start_mask (space, literal);
            if (literal->var == var && (mask[one / 64] >> (one % 64) & 1) != (mask[other / 64] >> (other % 64) & 1))
                return TRUE;
        }
    }
    return FALSE;
}

static void
classify (StartSpace *space)
{
    space->classes = g_new0 (guint *, space->n_vars - space->n_slots + 1);
    for (guint var = space->n_slots; var < space->n_vars; var++) {
        guint *classes = space->classes[var - space->n_slots] = g_new0 (guint, space->sizes[var]);
        for (guint r = 0; r < space->sizes[var]; r++)
            while (classes[r] < r && told_apart (space, var, classes[r], r))
                classes[r]++;
    }
}

static void
settle (StartSpace *space)
{
    space->all = g_new0 (guint64, space->n_words + 1);
    for (guint v = 0; v < space->n_vars; v++)
        for (guint value = 0; value < space->sizes[v]; value++)
            space->all[space->word[v] + value / 64] |= (guint64) 1 << (value % 64);
    space->settled = g_memdup2 (space->all, (space->n_words + 1) * sizeof (guint64));
    StartSearch search;
    start_search_init (&search, space, NULL);
    if (!start_settle (&search, space->settled))
        g_clear_pointer (&space->settled, g_free);
    start_search_clear (&search);
}

/* Failures other than of spare images say nothing of what could be. Transfer full. */
static gboolean *
failed_spares (const Unit *unit)
{
    gboolean *failed = g_new0 (gboolean, unit->board->components->len + 1);
    for (guint c = 0; unit->failed != NULL && c < unit->board->components->len; c++)
        failed[c] = unit->failed[c] && board_component (unit->board, c)->spare_of != NULL;
    return failed;
}

StartSpace *
start_space_new (const Library *library, const Unit *unit, guint revision, char **reason)
{
    static const Shop no_shop; /* nothing is priced, and redundancy is asked for with each question */
    g_autofree gboolean *failed = failed_spares (unit);
    Unit asked = *unit;
    Ground ground;
    asked.revision = revision;
    asked.failed = failed;
    g_autoptr (Problem) problem = problem_empty (library, &no_shop, &asked, NULL, OBJECTIVE_STEPS);
    start_domains (problem);
    g_autoptr (StartSpace) space = space_new (problem);
    ground_open (&ground, problem);
    ground_all (space, &ground);
    ground_close (&ground);
    if (ground.too_large != NULL) {
        *reason = ground.too_large;
        return NULL;
    }
    index_clauses (space);
    classify (space);
    settle (space);
    return g_steal_pointer (&space);
}

guint
start_space_makers (const StartSpace *space)
{
    return space->n_makers;
}

gboolean
start_space_maker_matters (const StartSpace *space, guint maker)
{
    return space->made[maker];
}

guint
start_space_class (const StartSpace *space, guint component, guint release)
{
    return space->classes[component][release];
}

gboolean
start_space_slot_matters (const StartSpace *space, guint slot)
{
    return space->matters[slot];
}

gboolean
start_space_component_matters (const StartSpace *space, guint component)
{
    return space->matters[space->n_slots + component];
}
