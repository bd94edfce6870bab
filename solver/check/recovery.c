/* SPDX-License-Identifier: MIT */
/* Recovery: what can rewrite a component when a write of it has failed and the unit no longer starts. */
#include "check/check.h"

#include "check/offers.h"

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

/* On standby power, so it needs what its `requires` says; and that is gone when it is the failed component itself. */
static gboolean
controller_recovers (const State *state, const Component *component)
{
    const Expr *needs = component->methods[METHOD_CONTROLLER].requires;

    if (needs == NULL)
        return TRUE;
    if (expression_names (needs, component->name))
        return FALSE;
    g_autoptr (GArray) offers = offers_of_state (state);
    return offers_satisfy (state->board, offers, needs);
}

guint
recovery_methods (const Shop *shop, const State *state, guint component)
{
    const Component *entry = board_component (state->board, component);
    guint usable = entry->recovery & shop->methods & (METHOD_BIT (METHOD_CONTROLLER) | METHOD_BIT (METHOD_CLIP));

    if ((usable & METHOD_BIT (METHOD_CONTROLLER)) != 0 && !controller_recovers (state, entry))
        usable &= ~METHOD_BIT (METHOD_CONTROLLER);
    return usable;
}
