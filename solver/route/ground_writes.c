/* SPDX-License-Identifier: MIT */
/* From releases and methods to writes with their conditions. */
#include "route/ground.h"

/* Effects of writing a release: its component and what it also writes. FALSE when one of them is withdrawn, or may not
 * be touched. */
static gboolean
effects_of (const Problem *problem, guint component, guint release, GArray *effects)
{
    const Board *board = problem->unit->board;
    const Release *written = component_release (board_component (board, component), release);
    if (written->withdrawn != NULL || problem->want->keep_component[component])
        return FALSE;
    Effect own = { .var = problem->n_slots + component, .value = release };
    g_array_append_val (effects, own);
    for (guint i = 0; i < written->also_writes->len; i++) {
        const AlsoWrites *also = written->also_writes->pdata[i];
        int other = board_find_component (board, also->component);
        int value = other < 0 ? -1 : component_find_release (board_component (board, (guint) other), also->release);
        g_return_val_if_fail (value >= 0, FALSE);
        if (component_release (board_component (board, (guint) other), (guint) value)->withdrawn != NULL ||
            problem->want->keep_component[other])
            return FALSE;
        Effect effect = { .var = problem->n_slots + (guint) other, .value = (guint) value };
        g_array_append_val (effects, effect);
    }
    return TRUE;
}

static void
names_component (const Expr *atom, gpointer data)
{
    const char **name = data;
    if (*name == atom->name)
        *name = NULL;
}

/* The state before a write leaves a way to recover this component. */
static const Formula *
recoverable (Ground *ground, guint component)
{
    const Problem *problem = ground->problem;
    const Component *there = board_component (problem->unit->board, component);
    guint usable = there->recovery & problem->shop->methods;
    if ((usable & METHOD_BIT (METHOD_CLIP)) != 0)
        return formula_constant (ground->arena, TRUE);
    if ((usable & METHOD_BIT (METHOD_CONTROLLER)) == 0)
        return formula_constant (ground->arena, FALSE);
    const Expr *requires = there->methods[METHOD_CONTROLLER].requires;
    if (requires == NULL)
        return formula_constant (ground->arena, TRUE);
    const char *name = there->name;
    expression_each_atom (requires, names_component, &name);
    return name == NULL ? formula_constant (ground->arena, FALSE) : ground_expression (ground, requires);
}

static void
require (Ground *ground, const Expr *requires, const Expr *conflicts, Write *write, const char *what)
{
    if (requires != NULL)
        ground_emit (ground, ground_expression (ground, requires), write->before, what);
    if (conflicts != NULL)
        ground_emit (ground, formula_not (ground->arena, ground_expression (ground, conflicts)), write->before, what);
}

static void
limit_floors (const Problem *problem, Write *write, gboolean obeys)
{
    for (guint i = 0; i < write->effects->len; i++) {
        Effect *effect = &g_array_index (write->effects, Effect, i);
        const Component *component = board_component (problem->unit->board, effect->var - problem->n_slots);
        int lowest = component_release (component, effect->value)->lowest;
        /* Floors are release index + 1 here; reduce_floors turns them into levels. */
        effect->max_level = obeys ? effect->value + 1 : G_MAXUINT;
        effect->raise_to = (guint) (lowest + 1);
    }
}

static int
by_var (gconstpointer left, gconstpointer right)
{
    return (int) ((const Effect *) left)->var - (int) ((const Effect *) right)->var;
}

static void
ground_write (Ground *ground, guint component, guint release, Method method)
{
    Problem *problem = ground->problem;
    const Component *there = board_component (problem->unit->board, component);
    const Release *written = component_release (there, release);
    const MethodEntry *entry = &there->methods[method];
    g_autoptr (GArray) effects = g_array_new (FALSE, TRUE, sizeof (Effect));
    if (!entry->there || (written->methods & METHOD_BIT (method)) == 0 ||
        (problem->shop->methods & METHOD_BIT (method)) == 0 || !effects_of (problem, component, release, effects))
        return;
    Write *write = g_new0 (Write, 1);
    write->component = component;
    write->release = release;
    write->method = method;
    write->effects = g_steal_pointer (&effects);
    write->before = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    write->tenths = (guint32) (entry->minutes * 10 + 0.5);
    gboolean clip = method == METHOD_CLIP;
    limit_floors (problem, write, !clip || entry->obeys_floor);
    if (!clip || entry->obeys_from)
        require (ground, written->from, NULL, write, written->name);
    if (!clip || entry->obeys_to_write)
        require (ground, written->to_write_requires, written->to_write_conflicts, write, written->name);
    require (ground, entry->requires, NULL, write, written->name);
    if (problem->shop->require_recovery)
        for (guint i = 0; i < write->effects->len; i++)
            ground_emit (ground, recoverable (ground, g_array_index (write->effects, Effect, i).var - problem->n_slots),
                         write->before, written->name);
    g_array_sort (write->effects, by_var);
    write->start_before = method == METHOD_HOST;
    write->start_after = method == METHOD_HOST && !entry->verify_next_start && !problem->shop->unverified_writes;
    write->standby_quiet = method == METHOD_CONTROLLER;
    g_ptr_array_add (problem->writes, write);
}

void
ground_writes (Ground *ground)
{
    const Board *board = ground->problem->unit->board;
    for (guint c = 0; c < board->components->len; c++)
        for (guint r = 0; r < board_component (board, c)->releases->len; r++)
            for (guint m = 0; m < METHOD_COUNT; m++)
                ground_write (ground, c, r, (Method) m);
}
