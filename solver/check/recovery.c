/* SPDX-License-Identifier: MIT */
/* Recovery: what can rewrite a component when a write of it has failed and the unit no longer starts. */
#include "check/steps.h"

#include "check/offers.h"
#include "check/state.h"

typedef struct {
    const char *name;
    gboolean found;
} NameSearch;

static void
find_name (const Expr *atom, gpointer data)
{
    NameSearch *search = data;

    if (atom->name == search->name)
        search->found = TRUE;
}

static gboolean
expression_names (const Expr *expr, const char *name)
{
    NameSearch search = { name, FALSE };

    expression_each_atom (expr, find_name, &search);
    return search.found;
}

/* What the method's `requires` says has to hold; and that is gone when it is the failed component itself. */
static gboolean
requires_without_itself (const State *state, const Component *component, Method method)
{
    const Expr *needs = component->methods[method].requires;

    if (needs == NULL)
        return TRUE;
    if (expression_names (needs, component->name))
        return FALSE;
    g_autoptr (GArray) offers = offers_of_state (state);
    return offers_satisfy (state->board, offers, needs);
}

static gboolean
is_written (const GArray *written, guint component)
{
    for (guint i = 0; written != NULL && i < written->len; i++)
        if (g_array_index (written, Written, i).component == component)
            return TRUE;
    return FALSE;
}

static gboolean
has_sound_spare (const State *state, guint component, const GArray *written)
{
    int spare = board_find_spare (state->board, component);

    return spare >= 0 && !state->failed[spare] && !is_written (written, (guint) spare);
}

/* On a unit that does not start; a spare image that failed is no reason for that. */
static gboolean
can_be_used (const State *state, guint component, Method method, const GArray *written)
{
    const Component *entry = board_component (state->board, component);
    gboolean may_run = entry->spare_of != NULL; /* the active image starts the unit as before */

    switch (method) {
    case METHOD_HOST:
        return may_run;
    case METHOD_CONTROLLER:
        return (may_run || entry->methods[method].host != HOST_ON) && requires_without_itself (state, entry, method);
    case METHOD_CLIP:
        return !state->board->verified_boot;
    case METHOD_JUMPER:
        return requires_without_itself (state, entry, method);
    case METHOD_SPARE:
        return has_sound_spare (state, component, written);
    default:
        return FALSE;
    }
}

/* `written`: what the failed file wrote; NULL: the component alone. */
static guint
recovery_in_file (const Shop *shop, const State *state, guint component, const GArray *written)
{
    const Component *entry = board_component (state->board, component);
    guint methods = entry->recovery;

    for (guint m = 0; entry->spare_of != NULL && m < METHOD_COUNT; m++)
        methods |= entry->methods[m].there ? METHOD_BIT (m) : 0;
    methods &= shop->methods;
    for (guint m = 0; m < METHOD_COUNT; m++)
        if ((methods & METHOD_BIT (m)) != 0 && !can_be_used (state, component, (Method) m, written))
            methods &= ~METHOD_BIT (m);
    return methods;
}

guint
recovery_methods (const Shop *shop, const State *state, guint component)
{
    return recovery_in_file (shop, state, component, NULL);
}

int
write_without_recovery (const Shop *shop, const State *state, const GArray *written)
{
    for (guint i = 0; i < written->len; i++) {
        guint component = g_array_index (written, Written, i).component;

        if (recovery_in_file (shop, state, component, written) == 0)
            return (int) component;
    }
    return -1;
}

guint
step_recovery (const Walker *walker, const Step *step)
{
    g_autoptr (GArray) written = step_writes (walker->state->board, step);
    guint by_all = ~0u, by_some = 0;

    for (guint i = 0; i < written->len; i++) {
        guint component = g_array_index (written, Written, i).component;
        guint methods = recovery_in_file (walker->shop, walker->state, component, written);

        if (methods == 0)
            return 0;
        by_all &= methods;
        by_some |= methods;
    }
    return by_all != 0 ? by_all : by_some;
}
