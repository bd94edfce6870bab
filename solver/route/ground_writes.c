/* SPDX-License-Identifier: MIT */
/* From releases and methods to writes with their conditions. */
#include "route/ground.h"

/* Effects of writing a release: its component and what it also writes (a copy of the spare image is of that alone). FALSE when one of them is withdrawn, or may not
 * be touched. */
static gboolean
effects_of (const Problem *problem, guint component, guint release, Method method, GArray *effects)
{
    const Board *board = problem->unit->board;
    const Release *written = component_release (board_component (board, component), release);
    if (written->withdrawn != NULL || problem->want->keep_component[component])
        return FALSE;
    Effect own = { .var = problem->n_slots + component, .value = release };
    g_array_append_val (effects, own);
    for (guint i = 0; method != METHOD_SPARE && i < written->also_writes->len; i++) {
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

/* What a method asks of the state, but cannot answer itself once the component has failed. */
static const Formula *
requires_without_itself (Ground *ground, const Component *component, Method method)
{
    const Expr *requires = component->methods[method].requires;
    if (requires == NULL)
        return formula_constant (ground->arena, TRUE);
    const char *name = component->name;
    expression_each_atom (requires, names_component, &name);
    return name == NULL ? formula_constant (ground->arena, FALSE) : ground_expression (ground, requires);
}

/* There is a spare image that can be relied on once a write of these effects has failed. */
static gboolean
has_sound_spare (const Problem *problem, const Component *component, const GArray *effects)
{
    int spare = component->spare != NULL ? board_find_component (problem->unit->board, component->spare) : -1;
    if (spare < 0 || (problem->unit->failed != NULL && problem->unit->failed[spare]))
        return FALSE;
    for (guint e = 0; e < effects->len; e++)
        if (g_array_index (effects, Effect, e).var == problem->n_slots + (guint) spare)
            return FALSE;
    return TRUE;
}

/* The method recovers a failed write of this component. `effects`: what that write would have set. */
static const Formula *
recovers (Ground *ground, guint component, Method method, const GArray *effects)
{
    const Problem *problem = ground->problem;
    const Component *there = board_component (problem->unit->board, component);
    gboolean may_run = there->spare_of != NULL; /* the active image starts the unit as before */
    gboolean can = (problem->shop->methods & METHOD_BIT (method)) != 0 &&
                   ((there->recovery & METHOD_BIT (method)) != 0 || (may_run && there->methods[method].there));
    switch (method) {
    case METHOD_HOST:
        return formula_constant (ground->arena, can && may_run);
    case METHOD_CONTROLLER:
        can = can && (may_run || there->methods[method].host != HOST_ON);
        return can ? requires_without_itself (ground, there, method) : formula_constant (ground->arena, FALSE);
    case METHOD_JUMPER:
        return can ? requires_without_itself (ground, there, method) : formula_constant (ground->arena, FALSE);
    case METHOD_CLIP:
        return formula_constant (ground->arena, can && !problem->unit->board->verified_boot);
    case METHOD_SPARE:
        return formula_constant (ground->arena, can && has_sound_spare (problem, there, effects));
    default:
        return formula_constant (ground->arena, FALSE);
    }
}

/* The state before a write leaves a way to recover this component. */
static const Formula *
recoverable (Ground *ground, guint component, const GArray *effects)
{
    const Formula *any = formula_constant (ground->arena, FALSE);
    for (guint m = 0; m < METHOD_COUNT; m++)
        any = formula_or (ground->arena, any, recovers (ground, component, (Method) m, effects));
    return any;
}

static const Formula *
not_failed (Ground *ground, guint var)
{
    g_autofree guint8 *in = g_new (guint8, ground->sizes[var]);
    for (guint value = 0; value < ground->sizes[var]; value++)
        in[value] = value + 1 < ground->sizes[var];
    return formula_literal (ground->arena, var, in);
}

static void
require (Ground *ground, const Expr *requires, const Expr *conflicts, Write *write, const char *what)
{
    if (requires != NULL)
        ground_emit (ground, ground_expression (ground, requires), write->before, what);
    if (conflicts != NULL)
        ground_emit (ground, formula_not (ground->arena, ground_expression (ground, conflicts)), write->before, what);
}

static gboolean
has_failed (const Problem *problem, guint component)
{
    return problem->unit->failed != NULL && problem->unit->failed[component];
}

/* `from`, asked of the present release; of a failed one, of what it had. */
static void
require_from (Ground *ground, Write *write, const Release *written)
{
    const Problem *problem = ground->problem;
    const Component *component = board_component (problem->unit->board, write->component);
    guint var = problem->n_slots + write->component, releases = component->releases->len;
    g_autofree guint8 *in = g_new0 (guint8, ground->sizes[var] + 1);
    gboolean all = TRUE;
    if (written->from == NULL)
        return;
    for (guint r = 0; r < releases; r++) {
        in[r] = release_meets (problem->unit->board, component, r, written->from);
        all = all && (in[r] || !problem->unit->releases[write->component].may_be[r]);
    }
    if (has_failed (problem, write->component))
        in[releases] = all;
    ground_emit (ground, formula_literal (ground->arena, var, in), write->before, written->name);
}

/* What has failed is written only by what recovers it; and the shop may ask that everything written could be. */
static void
require_recovery (Ground *ground, Write *write, const char *what)
{
    const Problem *problem = ground->problem;
    for (guint e = 0; e < write->effects->len; e++) {
        guint var = g_array_index (write->effects, Effect, e).var, component = var - problem->n_slots;
        if (has_failed (problem, component))
            ground_emit (ground,
                         formula_or (ground->arena, not_failed (ground, var),
                                     recovers (ground, component, write->method, write->effects)),
                         write->before, what);
        if (problem->shop->require_recovery)
            ground_emit (ground, recoverable (ground, component, write->effects), write->before, what);
    }
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

/* The spare image holds what is to be copied over. FALSE: there is none. */
static gboolean
require_spare (Ground *ground, Write *write)
{
    const Board *board = ground->problem->unit->board;
    const Component *component = board_component (board, write->component);
    int spare = component->spare != NULL ? board_find_component (board, component->spare) : -1;
    if (spare < 0)
        return FALSE;
    guint var = ground->problem->n_slots + (guint) spare;
    g_autofree guint8 *in = g_new0 (guint8, ground->sizes[var] + 1);
    in[write->release] = 1;
    ground_emit (ground, formula_literal (ground->arena, var, in), write->before, component->spare);
    return TRUE;
}

static void
require_power (const Problem *problem, Write *write, const MethodEntry *entry)
{
    Powered powered = method_powered (entry, write->method);
    write->mode = powered == POWERED_ON ? MODE_ON : powered == POWERED_STANDBY ? MODE_STANDBY : MODE_OFF;
    write->start_before = powered == POWERED_ON;
    write->start_after = powered == POWERED_ON && !entry->verify_next_start && !problem->shop->unverified_writes;
    write->standby_quiet = powered == POWERED_STANDBY;
}

static gboolean
is_familiar (const Write *write, const GArray *familiar)
{
    for (guint i = 0; familiar != NULL && i < familiar->len; i++) {
        const Step *step = &g_array_index (familiar, Step, i);
        /* The same file by another method is still the file that is at hand. */
        if (step->kind == STEP_WRITE && step->component == write->component && step->release == write->release)
            return TRUE;
    }
    return familiar == NULL;
}

static void
require_all (Ground *ground, Write *write, const Release *written, const MethodEntry *entry)
{
    if (entry->obeys_from)
        require_from (ground, write, written);
    if (entry->obeys_to_write)
        require (ground, written->to_write_requires, written->to_write_conflicts, write, written->name);
    require (ground, entry->requires, NULL, write, written->name);
    require_recovery (ground, write, written->name);
}

static void
ground_write (Ground *ground, guint component, guint release, Method method, const GArray *familiar)
{
    Problem *problem = ground->problem;
    const Component *there = board_component (problem->unit->board, component);
    const Release *written = component_release (there, release);
    const MethodEntry *entry = &there->methods[method];
    g_autoptr (GArray) effects = g_array_new (FALSE, TRUE, sizeof (Effect));
    if (!entry->there || (written->methods & METHOD_BIT (method)) == 0 ||
        (problem->shop->methods & METHOD_BIT (method)) == 0 ||
        (entry->recovery_only && !has_failed (problem, component)) ||
        !effects_of (problem, component, release, method, effects))
        return;
    Write *write = g_new0 (Write, 1);
    write->component = component;
    write->release = release;
    write->method = method;
    write->effects = g_steal_pointer (&effects);
    write->before = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    write->odd = !is_familiar (write, familiar);
    write->cost =
        problem->weights->step + ground_cost (problem, entry->minutes) + (write->odd ? problem->weights->odd : 0);
    if (entry->recovery_only)
        ground_emit (ground, formula_not (ground->arena, not_failed (ground, problem->n_slots + component)),
                     write->before, written->name);
    if (method == METHOD_SPARE && !require_spare (ground, write)) {
        write_free (write);
        return;
    }
    limit_floors (problem, write, entry->obeys_floor);
    require_all (ground, write, written, entry);
    g_array_sort (write->effects, by_var);
    require_power (problem, write, entry);
    g_ptr_array_add (problem->writes, write);
}

void
ground_writes (Ground *ground, const GArray *familiar)
{
    const Board *board = ground->problem->unit->board;
    for (guint c = 0; c < board->components->len; c++)
        for (guint r = 0; r < board_component (board, c)->releases->len; r++)
            for (guint m = 0; m < METHOD_COUNT; m++)
                ground_write (ground, c, r, (Method) m, familiar);
}
