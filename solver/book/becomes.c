/* SPDX-License-Identifier: MIT */
/* What a unit becomes in a batch: which of several wants is its own. docs/batch.md, "What each becomes". */
#include "book/read.h"

/* Whether a want may be the unit's: by its name, where the unit gives one, and by its board. */
static gboolean
is_candidate (const Want *want, const Unit *unit, gboolean any_board)
{
    return (any_board || want->board == unit->board) && (!unit->becomes || want->name == unit->becomes);
}

/* How many there are; `found` (nullable) is the first. */
static guint
count_candidates (const Library *library, const Unit *unit, gboolean any_board, const Want **found)
{
    guint count = 0;
    for (guint i = 0; i < library->wants->len; i++) {
        const Want *want = g_ptr_array_index (library->wants, i);
        if (!is_candidate (want, unit, any_board))
            continue;
        if (found && count == 0)
            *found = want;
        count++;
    }
    return count;
}

/* Transfer full. */
static char *
why_none (const Library *library, const Unit *unit)
{
    if (!unit->becomes)
        return g_strdup_printf ("there is no want for board %s", unit->board->name);
    if (count_candidates (library, unit, TRUE, NULL) > 0)
        return g_strdup_printf ("the want \"%s\" is not for board %s", unit->becomes, unit->board->name);
    return g_strdup_printf ("there is no want \"%s\"", unit->becomes);
}

static char *
why_several (const Unit *unit, guint count)
{
    if (unit->becomes)
        return g_strdup_printf ("there are %u wants \"%s\" for board %s", count, unit->becomes, unit->board->name);
    return g_strdup_printf ("there are %u wants for board %s, and nothing says which one it becomes", count,
                            unit->board->name);
}

const Want *
library_want_for_unit (const Library *library, const Unit *unit, char **why)
{
    const Want *found = NULL;
    guint count = count_candidates (library, unit, FALSE, &found);
    if (why)
        *why = count == 0 ? why_none (library, unit) : count > 1 ? why_several (unit, count) : NULL;
    return count == 1 ? found : NULL;
}

/* ---- Each unit of a batch ---- */

/* The nearest name, where one was given that no want has; else what would do. Transfer full. */
static char *
expected_want (const Library *library, const Unit *unit)
{
    gboolean is_called_so = !unit->becomes || count_candidates (library, unit, TRUE, NULL) > 0;
    g_autofree const char **names = names_of (library->wants);
    const char *nearest = is_called_so ? NULL : text_nearest (unit->becomes, names);
    return nearest ? g_strdup_printf ("did you mean %s?", nearest)
                   : g_strdup ("expected one want for its board, or becomes with the name of one");
}

/* FALSE after a complaint. */
static gboolean
has_want (Loader *loader, const Unit *unit, Complaints *complaints)
{
    g_autofree char *why = NULL;
    if (library_want_for_unit (loader->library, unit, &why))
        return TRUE;
    g_autofree char *expected = expected_want (loader->library, unit);
    complaints_add (complaints, unit->becomes_at, expected, "unit %s: %s", unit->id, why);
    return FALSE;
}

static gboolean
is_from_table (const Loader *loader, const Unit *unit)
{
    for (guint i = 0; i < loader->tables->len; i++)
        if (((const Table *) g_ptr_array_index (loader->tables, i))->file == unit->file)
            return TRUE;
    return FALSE;
}

/* Takes over the unit. */
static void
leave_out (Loader *loader, Unit *unit)
{
    const Mark *first = unit->at.line <= unit->becomes_at.line ? &unit->at : &unit->becomes_at;
    RowLeftOut left = { *first, MAX (unit->at.line, unit->becomes_at.line), unit->id };
    g_array_append_val (loader->library->left_out, left);
    unit_free (unit);
}

void
check_each_has_want (Loader *loader)
{
    GPtrArray *units = loader->library->units;
    if (loader->library->wants->len == 0 || complaints_count (loader->complaints) > 0)
        return; /* a want may be among what could not be read */
    g_autoptr (GPtrArray) kept = g_ptr_array_new ();
    for (guint i = 0; i < units->len; i++) {
        Unit *unit = g_ptr_array_index (units, i);
        gboolean apart = loader->row_complaints && is_from_table (loader, unit);
        if (has_want (loader, unit, apart ? loader->row_complaints : loader->complaints) || !apart)
            g_ptr_array_add (kept, unit);
        else
            leave_out (loader, unit);
    }
    for (guint i = 0; i < kept->len; i++)
        units->pdata[i] = kept->pdata[i];
    g_ptr_array_set_free_func (units, NULL); /* what is cut off here is freed, or stands further up */
    g_ptr_array_set_size (units, (int) kept->len);
    g_ptr_array_set_free_func (units, (GDestroyNotify) unit_free);
}
