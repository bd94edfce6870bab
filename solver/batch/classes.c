/* SPDX-License-Identifier: MIT */
/* Classes: units that a planning run can't tell apart. */
#include "batch/plan.h"

/* Fittings beyond so many that a socket may still have change no plan: no route fits a slot as often. That each unit's
 * sockets bear its own route is checked unit by unit all the same. */
enum { MOST_FITTINGS = 16 };

/* A situation as a row of numbers and interned pointers: equal rows, equal plans. */
static void
add_word (GArray *row, guint64 word)
{
    g_array_append_val (row, word);
}

static void
add_name (GArray *row, gconstpointer interned)
{
    add_word (row, (guint64) (gsize) interned);
}

static void
add_fitted (GArray *row, const Fitted *fitted)
{
    add_name (row, fitted->part);
    if (fitted->part == NULL)
        return;
    add_name (row, fitted->stepping);
    add_name (row, fitted->bound);
    add_word (row, fitted->owner);
}

static void
add_releases (GArray *row, const UnitRelease *releases, const Board *board)
{
    for (guint i = 0; releases != NULL && i < board->components->len; i++) {
        add_word (row, releases[i].count);
        add_word (row, (guint64) (gint64) releases[i].floor);
        for (guint r = 0; r < board_component (board, i)->releases->len; r++)
            if (releases[i].may_be[r])
                add_word (row, r);
    }
}

static void
add_slots (GArray *row, const Unit *unit)
{
    for (guint i = 0; i < unit->board->slots->len; i++) {
        add_fitted (row, &unit->fitted[i]);
        add_word (row, MIN (unit_insertions_left (unit, i), MOST_FITTINGS));
        if (unit->began != NULL)
            add_fitted (row, unit_began (unit, i));
    }
    add_word (row, unit->pulled != NULL ? unit->pulled->len : 0);
    for (guint i = 0; unit->pulled != NULL && i < unit->pulled->len; i++)
        add_fitted (row, &g_array_index (unit->pulled, Fitted, i));
}

/* Transfer full. */
static GBytes *
situation (const Unit *unit, const Want *want)
{
    g_autoptr (GArray) row = g_array_new (FALSE, FALSE, sizeof (guint64));

    add_name (row, unit->board);
    add_name (row, want);
    add_word (row, unit->revision);
    add_word (row,
              (unit->own_parts_stay ? 1 : 0) | (unit->began != NULL ? 2 : 0) | (unit->began_releases != NULL ? 4 : 0));
    for (guint i = 0; i < unit->board->components->len; i++)
        add_word (row, unit->failed != NULL && unit->failed[i] ? 1 : 0);
    add_releases (row, unit->releases, unit->board);
    add_releases (row, unit->began_releases, unit->board);
    add_slots (row, unit);
    return g_bytes_new (row->data, row->len * sizeof (guint64));
}

static BatchClass *
class_new (const Unit *unit, const Want *want)
{
    BatchClass *class = g_new0 (BatchClass, 1);

    class->unit = unit;
    class->want = want;
    class->modes = g_ptr_array_new_with_free_func (batch_mode_free);
    class->answers = g_ptr_array_new_with_free_func ((GDestroyNotify) route_answer_free);
    return class;
}

void
batch_class_free (gpointer data)
{
    BatchClass *class = data;

    g_ptr_array_unref (class->modes);
    g_ptr_array_unref (class->answers);
    g_clear_pointer (&class->none, no_route_free);
    g_clear_pointer (&class->failed, route_answer_free);
    g_free (class);
}

void
classes_part (Planning *planning, guint unit)
{
    UnitPlan *plan = &planning->plans[unit];
    GPtrArray *classes = planning->batch->classes;

    planning_class (planning, plan->class)->units--;
    plan->class = planning_unit (planning, unit)->class = classes->len;
    g_ptr_array_add (classes, class_new (plan->unit, planning_unit (planning, unit)->want));
    planning_class (planning, plan->class)->units = 1;
}

void
classes_make (Planning *planning)
{
    Batch *batch = planning->batch;
    g_autoptr (GHashTable) known =
        g_hash_table_new_full (g_bytes_hash, g_bytes_equal, (GDestroyNotify) g_bytes_unref, NULL);

    for (guint i = 0; i < planning_units (planning); i++) {
        UnitPlan *plan = &planning->plans[i];
        const Want *want = planning_unit (planning, i)->want;
        GBytes *key = situation (plan->unit, want);
        gpointer found = NULL;

        if (g_hash_table_lookup_extended (known, key, NULL, &found)) {
            g_bytes_unref (key);
        } else {
            found = GUINT_TO_POINTER (batch->classes->len);
            g_ptr_array_add (batch->classes, class_new (plan->unit, want));
            g_hash_table_insert (known, key, found);
        }
        plan->class = planning_unit (planning, i)->class = GPOINTER_TO_UINT (found);
        planning_class (planning, plan->class)->units++;
    }
}
