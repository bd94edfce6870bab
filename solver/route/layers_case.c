/* SPDX-License-Identifier: MIT */
/* The package problem of a question made visible: remarks that say what its names and versions are, then the case. */
#include "route/bound.h"
#include "route/layers_parts.h"
#include "route/route.h"

static void
remark_variable (GString *remarks, const Problem *problem, guint var)
{
    const Variable *variable = &problem->vars[var];
    g_string_append_printf (remarks, "%s/tN, the %s %s after layer N:", problem_variable_name (problem, var),
                            variable->is_slot ? "slot" : "component", problem_variable_name (problem, var));
    for (guint value = 0; value < variable->size; value++)
        g_string_append_printf (remarks, "%s %u is %s", value > 0 ? ";" : "", value, variable->label[value]);
    g_string_append (remarks, "\n");
}

static void
remark_writes (GString *remarks, const Layers *layers, guint place)
{
    const Problem *problem = layers->problem;
    const GArray *writes = layers->writes_at->pdata[place];
    g_string_append_printf (remarks, "write/%s/tN, the write in layer N:",
                            problem_variable_name (problem, g_array_index (layers->order, guint, place)));
    for (guint i = 0; i < writes->len; i++) {
        const Write *write = problem->writes->pdata[g_array_index (writes, guint, i)];
        const Component *component = board_component (problem->unit->board, write->component);
        g_string_append_printf (remarks, " %u is %s %s by %s;", i, component->name,
                                component_release (component, write->release)->name, method_name (write->method));
    }
    g_string_append_printf (remarks, " %u is none\n", writes->len);
}

static char *
remarks_of (const Layers *layers, guint n_layers, guint most_steps)
{
    GString *remarks = g_string_new (NULL);
    g_string_append_printf (remarks, "unit %s, %u layers", layers->problem->unit->id, n_layers);
    if (most_steps != G_MAXUINT)
        g_string_append_printf (remarks, ", at most %u steps", most_steps);
    g_string_append (remarks, "; docs/method.md, \"Planning as packages\"\n");
    for (guint i = 0; i < layers->active->len; i++)
        remark_variable (remarks, layers->problem, g_array_index (layers->active, guint, i));
    for (guint place = 0; place < layers_places (layers); place++)
        remark_writes (remarks, layers, place);
    g_string_append (remarks,
                     "take/SLOT/tN: 0 is taken out in layer N, 1 is left. fit/SLOT/tN: the value fitted less 1; the "
                     "last is none.\n"
                     "starts/P/tN, quiet/P/tN: the state before place P of layer N's sweep starts, harms nothing on "
                     "standby.\n");
    if (most_steps != G_MAXUINT)
        g_string_append (remarks, "count/K: the limit less the steps among the first K things that may be done.\n");
    return g_string_free (remarks, FALSE);
}

char *
layers_to_case (Layers *layers, guint n_layers, guint most_steps)
{
    g_autoptr (Unrolled) unrolled = unrolled_new (layers, n_layers);
    if (most_steps != G_MAXUINT)
        unrolled_count (unrolled, most_steps);
    g_autofree char *remarks = remarks_of (layers, n_layers, most_steps);
    return packages_to_case (unrolled->packages, remarks);
}

char *
route_packages (const Library *library, const Shop *shop, const Unit *unit, const Want *want, guint n_layers,
                guint most_steps, char **reason)
{
    g_autoptr (Problem) problem = problem_new (library, shop, unit, want, &(RouteOptions){ 0 }, reason);
    if (problem == NULL)
        return NULL;
    g_autofree guint16 *values = problem_initial_values (problem);
    g_autoptr (Bound) bound = bound_new (problem);
    if (bound_by_needs (bound, values) == COST_NEVER) {
        *reason = g_strdup ("no state that can be reached meets the want and starts, so libsolv is not asked");
        return NULL;
    }
    g_autoptr (Layers) layers = layers_new (problem);
    guint fewest = MAX (1, bound_layers (bound, values));
    return layers_to_case (layers, n_layers > 0 ? n_layers : fewest, most_steps > 0 ? most_steps : G_MAXUINT);
}
