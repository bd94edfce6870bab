/* SPDX-License-Identifier: MIT */
/* The unit that a command is about, out of those that the files hold, and what it is to become. */
#include "commands/load.h"

#include <stdio.h>

#define MOST_NAMES 5 /* of several units, how many an error names */
#define MOST_ROWS  3 /* of others that are left out, how many are told of one by one */

/* ---- Rows that are left out ---- */

/* The row that a mistake is in; NULL: it is in none. */
static const RowLeftOut *
row_of (const Library *library, Mark at)
{
    for (guint i = 0; i < library->left_out->len; i++) {
        const RowLeftOut *row = &g_array_index (library->left_out, RowLeftOut, i);

        if (row->at.file == at.file && row->at.line <= at.line && at.line <= row->last_line)
            return row;
    }
    return NULL;
}

static gboolean
has_unit (const Library *library, const char *id)
{
    for (guint i = 0; i < library->units->len; i++)
        if (g_strcmp0 (((const Unit *) g_ptr_array_index (library->units, i))->id, id) == 0)
            return TRUE;
    return FALSE;
}

/* All that is wrong in the rows of this unit. FALSE: nothing is, or a row before counts, as in a batch. */
static gboolean
complain_of_own_rows (const Loaded *loaded, const char *id)
{
    if (has_unit (loaded->library, id))
        return FALSE;
    g_autoptr (Complaints) own = complaints_new ();

    for (guint i = 0; i < complaints_count (loaded->in_rows); i++) {
        const RowLeftOut *row = row_of (loaded->library, complaints_get (loaded->in_rows, i)->at);

        if (row != NULL && g_strcmp0 (row->unit, id) == 0)
            complaints_copy (own, loaded->in_rows, i);
    }
    if (complaints_count (own) == 0)
        return FALSE;
    load_complain (own);
    return TRUE;
}

/* The first mistake of each of the first rows, a line each; of rows with this id, which another one counts for, of all. */
static void
say_other_rows (const Loaded *loaded, const char *id)
{
    const RowLeftOut *last = NULL;
    guint rows = 0;

    for (guint i = 0; i < complaints_count (loaded->in_rows); i++) {
        const Complaint *one = complaints_get (loaded->in_rows, i);
        const RowLeftOut *row = row_of (loaded->library, one->at);
        gboolean own = row != NULL && g_strcmp0 (row->unit, id) == 0;

        if (row == NULL || row == last)
            continue;
        last = row;
        rows += own ? 0 : 1;
        if (own || rows <= MOST_ROWS)
            fprintf (stderr, "%s:%u:%u: %s; %s of %s is left out\n", one->at.file, one->at.line, one->at.column,
                     one->what, own ? "this further row" : "the row",
                     row->unit != NULL ? row->unit : "a unit without an id");
    }
    if (rows > MOST_ROWS)
        fprintf (stderr, "and %u more rows are left out; `rungwise files` says why\n", rows - MOST_ROWS);
}

/* ---- The unit ---- */

static Outcome
complain_of_number (const char *command, const Library *library)
{
    const GPtrArray *units = library->units;
    g_autoptr (GString) names = g_string_new (NULL);

    if (units->len == 0)
        return usage_error (command, "name the file of one unit (docs/files.md, \"Unit\")", "the files hold no unit");
    for (guint i = 0; i < units->len && i < MOST_NAMES; i++)
        g_string_append_printf (names, "%s%s", i > 0 ? ", " : "", ((const Unit *) g_ptr_array_index (units, i))->id);
    return usage_error (command, "name the file of one unit, or --unit ID",
                        "the files hold %u units (%s%s); one is needed", units->len, names->str,
                        units->len > MOST_NAMES ? ", ..." : "");
}

static Outcome
find_unit (const char *command, const GPtrArray *units, const char *id, Unit **unit)
{
    g_autoptr (GPtrArray) ids = g_ptr_array_new ();

    for (guint i = 0; i < units->len; i++) {
        Unit *one = g_ptr_array_index (units, i);

        if (g_strcmp0 (one->id, id) == 0) {
            *unit = one;
            return OUTCOME_ANSWERED;
        }
        g_ptr_array_add (ids, (gpointer) one->id);
    }
    g_ptr_array_add (ids, NULL);
    const char *nearest = text_nearest (id, (const char *const *) ids->pdata);
    g_autofree char *expected = nearest != NULL
                                    ? g_strdup_printf ("the id of a unit in the files; did you mean %s?", nearest)
                                    : g_strdup ("the id of a unit in the files");
    return usage_error (command, expected, "--unit %s: the files hold no such unit", id);
}

Outcome
load_unit (const char *command, const Loaded *loaded, const char *id, Unit **unit)
{
    const GPtrArray *units = loaded->library->units;

    if (loaded->in_rows != NULL && complaints_count (loaded->in_rows) > 0) {
        /* Without an id nobody knows whether the unit that is meant is among those that are left. */
        if (id == NULL)
            return load_complain (loaded->in_rows);
        if (complain_of_own_rows (loaded, id))
            return OUTCOME_BAD_INPUT;
        say_other_rows (loaded, id);
    }
    if (id != NULL)
        return find_unit (command, units, id, unit);
    if (units->len != 1)
        return complain_of_number (command, loaded->library);
    *unit = g_ptr_array_index (units, 0);
    return OUTCOME_ANSWERED;
}

/* ---- What it becomes ---- */

static gboolean
has_want_for (const Library *library, const Board *board)
{
    for (guint i = 0; i < library->wants->len; i++)
        if (((const Want *) g_ptr_array_index (library->wants, i))->board == board)
            return TRUE;
    return FALSE;
}

/* Out of those of a batch. */
static Outcome
want_of_unit (const char *command, const Library *library, const Unit *unit, gboolean is_needed, Want **want)
{
    g_autofree char *why = NULL;

    if (!is_needed && unit->becomes == NULL && !has_want_for (library, unit->board))
        return OUTCOME_ANSWERED;
    *want = (Want *) library_want_for_unit (library, unit, &why);
    if (*want != NULL)
        return OUTCOME_ANSWERED;
    return usage_error (command, "a want for the unit (docs/batch.md, \"What each becomes\"), or --want ITEM", "%s: %s",
                        unit->id, why);
}

Outcome
load_want (const char *command, const Loaded *loaded, const Unit *unit, gboolean is_needed, Want **want)
{
    const GPtrArray *wants = loaded->library->wants;

    *want = NULL;
    /* Read as those of a batch, wants may be for boards that this unit has not got. */
    if (loaded->in_rows != NULL && (wants->len > 0 || unit->becomes != NULL))
        return want_of_unit (command, loaded->library, unit, is_needed, want);
    if (is_needed && wants->len != 1)
        return usage_error (command, "a want in the files, or --want SLOT=PART or --want 'COMPONENT>=RELEASE'",
                            "the files hold %u wants and one is needed", wants->len);
    if (wants->len > 1)
        return usage_error (command, "name one file with a want, or none",
                            "the files hold %u wants; at most one can be used", wants->len);
    *want = wants->len == 0 ? NULL : g_ptr_array_index (wants, 0);
    return OUTCOME_ANSWERED;
}
