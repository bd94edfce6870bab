/* SPDX-License-Identifier: MIT */
/* A layer is what is done between two openings: first the slots, all at once, then each group of components once, in a
 * fixed sweep. A condition of a write therefore sees the new value of slots and of groups earlier in the sweep, and the
 * old value of its own group and of later ones. Every clause becomes one `requires` with an `or`. */
#include "route/layers_parts.h"

static guint
n_vars (const Unrolled *unrolled)
{
    return unrolled->layers->problem->n_vars;
}

static PackageName
value_at (const Unrolled *unrolled, guint time, guint var)
{
    return unrolled->value[time * n_vars (unrolled) + var];
}

static PackageId
value_id (const Unrolled *unrolled, guint time, guint var, guint value)
{
    return packages_id (unrolled->packages, value_at (unrolled, time, var), value);
}

static const GArray *
writes_at (const Unrolled *unrolled, guint place)
{
    return unrolled->layers->writes_at->pdata[place];
}

static PackageName
write_name (const Unrolled *unrolled, guint layer, guint place)
{
    return unrolled->write[layer * layers_places (unrolled->layers) + place];
}

/* ---- Names ---- */

/* A name such as "fit/cpu1/t2". No name in a file has a slash, so none of these can clash. */
static PackageName
add_name (Unrolled *unrolled, const char *what, const char *of, guint time, guint versions)
{
    g_autofree char *name = g_strdup_printf ("%s%s%s/t%u", what, *what != '\0' ? "/" : "", of, time);
    return packages_add_name (unrolled->packages, name, versions);
}

static void
name_time (Unrolled *unrolled, guint time)
{
    const Layers *layers = unrolled->layers;
    const Problem *problem = layers->problem;
    for (guint i = 0; i < layers->active->len; i++) {
        guint v = g_array_index (layers->active, guint, i), at = time * problem->n_vars + v;
        const char *name = problem_variable_name (problem, v);
        unrolled->value[at] = add_name (unrolled, "", name, time, problem->vars[v].size);
        if (problem->vars[v].floor >= 0)
            unrolled->floor[at] = add_name (unrolled, "floor", name, time, problem->vars[v].levels);
        if (!problem->vars[v].is_slot || time == 0)
            continue;
        unrolled->fit[at] = add_name (unrolled, "fit", name, time, problem->vars[v].size);
        unrolled->take[at] = add_name (unrolled, "take", name, time, 2);
    }
    for (guint place = 0; time > 0 && place < layers_places (layers); place++) {
        guint group = g_array_index (layers->order, guint, place);
        unrolled->write[time * layers_places (layers) + place] = add_name (
            unrolled, "write", problem_variable_name (problem, group), time, writes_at (unrolled, place)->len + 1);
    }
}

/* ---- Clauses at a moment ---- */

/* Which time a variable has in layer `layer`, just before place `place` of the sweep. */
static guint
time_of (const Unrolled *unrolled, guint var, guint layer, guint place)
{
    const Layers *layers = unrolled->layers;
    gboolean done = layers->problem->vars[var].is_slot || layers->position[var] < place;
    return done ? layer : layer - 1;
}

static void
or_clause (Unrolled *unrolled, const Clause *clause, guint layer, guint place)
{
    packages_begin (unrolled->packages);
    for (guint l = 0; l < clause->count; l++) {
        const Literal *literal = &clause->literals[l];
        guint time = time_of (unrolled, literal->var, layer, place);
        packages_or_set (unrolled->packages, value_at (unrolled, time, literal->var), literal->in);
    }
}

static void
require_clauses (Unrolled *unrolled, PackageId who, const GPtrArray *clauses, guint layer, guint place)
{
    for (guint i = 0; i < clauses->len; i++) {
        or_clause (unrolled, clauses->pdata[i], layer, place);
        packages_end_requires (unrolled->packages, who);
    }
}

/* The package that stands for "the state before this place starts" (or is quiet on standby), made when first asked. */
static PackageName
moment (Unrolled *unrolled, PackageName *names, gint8 *made, const char *what, const GPtrArray *clauses,
        const GPtrArray *learnt, guint layer, guint place)
{
    guint at = layer * (layers_places (unrolled->layers) + 1) + place;
    if (!made[at]) {
        made[at] = TRUE;
        g_autofree char *of = g_strdup_printf ("%u", place);
        names[at] = add_name (unrolled, what, of, layer, 1);
        PackageId who = packages_id (unrolled->packages, names[at], 0);
        require_clauses (unrolled, who, clauses, layer, place);
        require_clauses (unrolled, who, learnt, layer, place);
    }
    return names[at];
}

static void
require_start (Unrolled *unrolled, PackageId who, guint layer, guint place)
{
    const Layers *layers = unrolled->layers;
    PackageName name = moment (unrolled, unrolled->starts, unrolled->starts_made, "starts", layers->problem->start,
                               layers->start, layer, place);
    packages_begin (unrolled->packages);
    packages_or_any (unrolled->packages, name);
    packages_end_requires (unrolled->packages, who);
}

static void
require_quiet (Unrolled *unrolled, PackageId who, guint layer, guint place)
{
    const Layers *layers = unrolled->layers;
    PackageName name = moment (unrolled, unrolled->quiet, unrolled->quiet_made, "quiet", layers->problem->standby,
                               layers->standby, layer, place);
    packages_begin (unrolled->packages);
    packages_or_any (unrolled->packages, name);
    packages_end_requires (unrolled->packages, who);
}

/* ---- Frames ---- */

static void
requires_version (Unrolled *unrolled, PackageId who, PackageName name, guint version)
{
    packages_begin (unrolled->packages);
    packages_or_version (unrolled->packages, name, version);
    packages_end_requires (unrolled->packages, who);
}

/* A value is there because it was there before, or something put it there; and what is there goes only when it is
 * taken. */
static void
slot_frame (Unrolled *unrolled, guint layer, guint var)
{
    Packages *packages = unrolled->packages;
    guint at = layer * n_vars (unrolled) + var;
    PackageName before = value_at (unrolled, layer - 1, var), after = value_at (unrolled, layer, var);
    for (guint value = 0; value < unrolled->layers->problem->vars[var].size; value++) {
        packages_begin (packages);
        packages_or_version (packages, before, value);
        packages_or_version (packages, value == 0 ? unrolled->take[at] : unrolled->fit[at], value == 0 ? 0 : value - 1);
        packages_end_requires (packages, packages_id (packages, after, value));
        if (value == 0)
            continue;
        packages_begin (packages);
        packages_or_version (packages, after, value);
        packages_or_version (packages, unrolled->take[at], 0);
        packages_end_requires (packages, packages_id (packages, before, value));
        requires_version (unrolled, packages_id (packages, unrolled->fit[at], value - 1), after, value);
        if (unrolled->layers->problem->vars[var].stays[value])
            requires_version (unrolled, packages_id (packages, before, value), after, value);
    }
}

static void
component_frame (Unrolled *unrolled, guint layer, guint var)
{
    Packages *packages = unrolled->packages;
    const Problem *problem = unrolled->layers->problem;
    guint place = unrolled->layers->position[var];
    const GArray *writes = writes_at (unrolled, place);
    for (guint value = 0; value < problem->vars[var].size; value++) {
        packages_begin (packages);
        packages_or_version (packages, value_at (unrolled, layer - 1, var), value);
        for (guint i = 0; i < writes->len; i++) {
            const Write *write = problem->writes->pdata[g_array_index (writes, guint, i)];
            for (guint e = 0; e < write->effects->len; e++) {
                const Effect *effect = &g_array_index (write->effects, Effect, e);
                if (effect->var == var && effect->value == value)
                    packages_or_version (packages, write_name (unrolled, layer, place), i);
            }
        }
        packages_end_requires (packages, value_id (unrolled, layer, var, value));
    }
}

/* A floor never sinks. */
static void
floor_frame (Unrolled *unrolled, guint layer, guint var)
{
    Packages *packages = unrolled->packages;
    guint levels = unrolled->layers->problem->vars[var].levels;
    PackageName before = unrolled->floor[(layer - 1) * n_vars (unrolled) + var];
    PackageName after = unrolled->floor[layer * n_vars (unrolled) + var];
    g_autofree guint8 *in = g_new0 (guint8, levels);
    for (guint version = 0; version < levels; version++) {
        in[version] = 1; /* this level and higher ones */
        packages_begin (packages);
        packages_or_set (packages, after, in);
        packages_end_requires (packages, packages_id (packages, before, version));
    }
}

/* Each value needs some value at the next time: no variable ends early. */
static void
go_on (Unrolled *unrolled, PackageName before, PackageName after, guint versions)
{
    for (guint version = 0; version < versions; version++) {
        packages_begin (unrolled->packages);
        packages_or_any (unrolled->packages, after);
        packages_end_requires (unrolled->packages, packages_id (unrolled->packages, before, version));
    }
}

static void
frame_layer (Unrolled *unrolled, guint layer)
{
    const Layers *layers = unrolled->layers;
    for (guint i = 0; i < layers->active->len; i++) {
        guint v = g_array_index (layers->active, guint, i);
        const Variable *var = &layers->problem->vars[v];
        if (var->is_slot)
            slot_frame (unrolled, layer, v);
        else
            component_frame (unrolled, layer, v);
        if (var->floor >= 0)
            floor_frame (unrolled, layer, v);
        go_on (unrolled, value_at (unrolled, layer - 1, v), value_at (unrolled, layer, v), var->size);
    }
    for (guint i = 0; i < layers->always->len; i++) {
        or_clause (unrolled, layers->always->pdata[i], layer, layers_places (layers));
        packages_end_wanted (unrolled->packages);
    }
}

/* ---- Writes ---- */

static void
effect_of_write (Unrolled *unrolled, PackageId who, const Effect *effect, guint layer)
{
    Packages *packages = unrolled->packages;
    const Variable *var = &unrolled->layers->problem->vars[effect->var];
    guint at = layer * n_vars (unrolled) + effect->var;
    if (var->size > 1)
        requires_version (unrolled, who, unrolled->value[at], effect->value);
    if (var->floor < 0)
        return;
    g_autofree guint8 *allowed = g_new0 (guint8, var->levels);
    g_autofree guint8 *raised = g_new0 (guint8, var->levels);
    for (guint level = 0; level < var->levels; level++) {
        allowed[var->levels - 1 - level] = level <= effect->max_level;
        raised[var->levels - 1 - level] = level >= effect->raise_to;
    }
    packages_begin (packages);
    packages_or_set (packages, unrolled->floor[at - n_vars (unrolled)], allowed);
    packages_end_requires (packages, who);
    packages_begin (packages);
    packages_or_set (packages, unrolled->floor[at], raised);
    packages_end_requires (packages, who);
}

static void
write_at (Unrolled *unrolled, guint layer, guint place, guint number)
{
    const Problem *problem = unrolled->layers->problem;
    const Write *write = problem->writes->pdata[g_array_index (writes_at (unrolled, place), guint, number)];
    PackageId who = packages_id (unrolled->packages, write_name (unrolled, layer, place), number);
    for (guint e = 0; e < write->effects->len; e++)
        effect_of_write (unrolled, who, &g_array_index (write->effects, Effect, e), layer);
    require_clauses (unrolled, who, write->before, layer, place);
    require_clauses (unrolled, who, problem->bars[write->method], layer, place);
    require_clauses (unrolled, who, unrolled->layers->bars[write->method], layer, place);
    if (write->start_before)
        require_start (unrolled, who, layer, place);
    if (write->start_after)
        require_start (unrolled, who, layer, place + 1);
    if (write->standby_quiet) {
        require_quiet (unrolled, who, layer, place);
        require_quiet (unrolled, who, layer, place + 1);
    }
}

/* ---- The whole ---- */

static void
begin_and_end (Unrolled *unrolled)
{
    const Layers *layers = unrolled->layers;
    const Problem *problem = layers->problem;
    Packages *packages = unrolled->packages;
    for (guint i = 0; i < layers->active->len; i++) {
        guint v = g_array_index (layers->active, guint, i);
        const Variable *var = &problem->vars[v];
        packages_begin (packages);
        packages_or_version (packages, value_at (unrolled, 0, v), var->initial);
        packages_end_wanted (packages);
        packages_begin (packages);
        packages_or_set (packages, value_at (unrolled, unrolled->n_layers, v), var->goal);
        packages_end_wanted (packages);
        if (var->floor < 0)
            continue;
        packages_begin (packages);
        packages_or_version (packages, unrolled->floor[v], var->levels - 1 - var->start_floor);
        packages_end_wanted (packages);
    }
    for (guint i = 0; i < problem->end->len; i++) {
        or_clause (unrolled, problem->end->pdata[i], unrolled->n_layers, layers_places (layers));
        packages_end_wanted (packages);
    }
    for (guint i = 0; i < problem->start->len + layers->start->len; i++) {
        const Clause *clause =
            i < problem->start->len ? problem->start->pdata[i] : layers->start->pdata[i - problem->start->len];
        or_clause (unrolled, clause, unrolled->n_layers, layers_places (layers));
        packages_end_wanted (packages);
    }
}

Unrolled *
unrolled_new (Layers *layers, guint n_layers)
{
    Unrolled *unrolled = g_new0 (Unrolled, 1);
    guint vars = layers->problem->n_vars, places = layers_places (layers);
    unrolled->layers = layers;
    unrolled->packages = packages_new ();
    unrolled->n_layers = n_layers;
    unrolled->value = g_new0 (PackageName, (n_layers + 1) * vars + 1);
    unrolled->floor = g_new0 (PackageName, (n_layers + 1) * vars + 1);
    unrolled->fit = g_new0 (PackageName, (n_layers + 1) * vars + 1);
    unrolled->take = g_new0 (PackageName, (n_layers + 1) * vars + 1);
    unrolled->write = g_new0 (PackageName, (n_layers + 1) * places + 1);
    unrolled->starts = g_new0 (PackageName, (n_layers + 1) * (places + 1));
    unrolled->quiet = g_new0 (PackageName, (n_layers + 1) * (places + 1));
    unrolled->starts_made = g_new0 (gint8, (n_layers + 1) * (places + 1));
    unrolled->quiet_made = g_new0 (gint8, (n_layers + 1) * (places + 1));
    for (guint time = 0; time <= n_layers; time++)
        name_time (unrolled, time);
    begin_and_end (unrolled);
    for (guint layer = n_layers; layer > 0; layer--) {
        frame_layer (unrolled, layer);
        for (guint place = 0; place < places; place++)
            for (guint number = 0; number < writes_at (unrolled, place)->len; number++)
                write_at (unrolled, layer, place, number);
    }
    return unrolled;
}

void
unrolled_free (Unrolled *unrolled)
{
    packages_free (unrolled->packages);
    g_free (unrolled->value);
    g_free (unrolled->floor);
    g_free (unrolled->fit);
    g_free (unrolled->take);
    g_free (unrolled->write);
    g_free (unrolled->starts);
    g_free (unrolled->quiet);
    g_free (unrolled->starts_made);
    g_free (unrolled->quiet_made);
    g_free (unrolled);
}

/* ---- Counting ---- */

/* One more thing that may be done: the count after it is at least the count before, and one more unless it is "none".
 * The count is a name of its own after each thing; version = most - count, so that low counts are tried first. */
static PackageName
count_one (Unrolled *unrolled, PackageName before, PackageName thing, guint none, guint number, guint most)
{
    Packages *packages = unrolled->packages;
    g_autofree char *name = g_strdup_printf ("count/%u", number);
    PackageName after = packages_add_name (packages, name, most + 1);
    packages_begin (packages);
    packages_or_any (packages, thing);
    packages_end_wanted (packages);
    g_autofree guint8 *in = g_new0 (guint8, most + 1);
    for (guint version = 0; version <= most; version++) {
        PackageId who = packages_id (packages, before, version);
        packages_begin (packages);
        packages_or_set (packages, after, in);
        packages_or_version (packages, thing, none);
        packages_end_requires (packages, who);
        in[version] = 1;
        packages_begin (packages);
        packages_or_set (packages, after, in);
        packages_end_requires (packages, who);
    }
    return after;
}

void
unrolled_count (Unrolled *unrolled, guint most)
{
    const Layers *layers = unrolled->layers;
    const Problem *problem = layers->problem;
    guint number = 0;
    PackageName count = packages_add_name (unrolled->packages, "count/0", most + 1);
    number++;
    packages_begin (unrolled->packages);
    packages_or_version (unrolled->packages, count, most);
    packages_end_wanted (unrolled->packages);
    for (guint layer = 1; layer <= unrolled->n_layers; layer++) {
        for (guint i = 0; i < layers->active->len; i++) {
            guint v = g_array_index (layers->active, guint, i), at = layer * problem->n_vars + v;
            if (!problem->vars[v].is_slot)
                continue;
            count = count_one (unrolled, count, unrolled->take[at], 1, number++, most);
            count = count_one (unrolled, count, unrolled->fit[at], problem->vars[v].size - 1, number++, most);
        }
        for (guint place = 0; place < layers_places (layers); place++)
            count = count_one (unrolled, count, write_name (unrolled, layer, place), writes_at (unrolled, place)->len,
                               number++, most);
    }
}
