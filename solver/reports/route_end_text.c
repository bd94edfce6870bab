/* SPDX-License-Identifier: MIT */
/* The end of a bench sheet: what is left to do before the unit goes, and how a failed write is recovered. */
#include "reports/route_sheet.h"

#define INDENT 2

/* ---- Before it leaves the bench ---- */

static gboolean
clears_settings (const Release *release)
{
    return release->clears_settings || release->asks_clear_settings;
}

static void
say_settings (const Sheet *sheet)
{
    g_autoptr (GPtrArray) numbers = g_ptr_array_new_with_free_func (g_free);
    g_autofree char *joined = NULL;

    for (guint i = 0; i < sheet->account->steps->len; i++) {
        const Step *step = sheet_step (sheet, i)->step;

        if (step->kind == STEP_WRITE &&
            clears_settings (component_release (board_component (sheet_board (sheet), step->component), step->release)))
            g_ptr_array_add (numbers, step_label (sheet->account->labels, i));
    }
    joined = text_join (numbers, "and");
    if (numbers->len > 0)
        paper_say (sheet->paper, INDENT, INDENT + 2, "settings set again (step%s %s cleared them)",
                   numbers->len == 1 ? "" : "s", joined);
}

/* `back`: see route_text_before_it_leaves(). */
static void
say_loaners (const Sheet *sheet, const GPtrArray *back)
{
    g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);
    g_autofree char *joined = NULL;

    for (guint i = 0; back != NULL && i < back->len; i++)
        paper_say (sheet->paper, INDENT, INDENT + 2, "%s", (const char *) back->pdata[i]);
    for (guint i = 0; back == NULL && i < sheet->account->steps->len; i++) {
        const StepAccount *step = sheet_step (sheet, i);

        if (step->step->kind == STEP_REMOVE && step->moved.owner == OWNER_LOAN)
            g_ptr_array_add (parts, words_part (step->moved.part, step->moved.stepping));
    }
    joined = text_join (parts, "and");
    if (parts->len > 0)
        paper_say (sheet->paper, INDENT, INDENT + 2, "back on the loan shelf: %s", joined);
}

/* "system = 2.1.0, logic = p3"; NULL when nothing is written. Transfer full. */
static char *
written_releases (const Sheet *sheet)
{
    const Board *board = sheet_board (sheet);
    const GArray *steps = sheet->report->answer->steps;
    g_autoptr (GPtrArray) releases = g_ptr_array_new_with_free_func (g_free);

    for (guint c = 0; c < board->components->len; c++) {
        const Component *component = board_component (board, c);

        if (steps_write_component (board, steps, steps->len, c))
            g_ptr_array_add (releases,
                             g_strdup_printf ("%s = %s", component->name,
                                              component_release (component, sheet->account->last->releases[c])->name));
    }
    return releases->len == 0 ? NULL : text_join (releases, "and");
}

void
route_text_before_it_leaves (Paper *paper, const RouteReport *report, const RouteAccount *account, const GPtrArray *back)
{
    Sheet sheet = { paper, report, account };
    g_autofree char *releases = written_releases (&sheet);
    gboolean lent = FALSE;

    for (guint i = 0; i < account->steps->len; i++)
        lent |= sheet_step (&sheet, i)->step->kind == STEP_REMOVE && sheet_step (&sheet, i)->moved.owner == OWNER_LOAN;
    if (releases == NULL && !lent)
        return;
    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_STRONG "Before it leaves the bench" MARK_PLAIN);
    say_settings (&sheet);
    if (releases != NULL)
        paper_say (paper, INDENT, INDENT + 2, "disk encryption on again, where it was suspended");
    say_loaners (&sheet, back);
    if (releases != NULL)
        paper_say (paper, INDENT, INDENT + 2, "read back and compare: %s", releases);
}

/* ---- Recovery ---- */

/* Which of the component's ways of recovery serve where it is written. */
static guint
recovery_of (const Sheet *sheet, guint component)
{
    guint methods = 0;

    for (guint i = 0; i < sheet->account->steps->len; i++)
        if (step_writes_release (sheet_board (sheet), sheet_step (sheet, i)->step, component) >= 0)
            methods |= sheet_step (sheet, i)->recovery;
    const Component *of = board_component (sheet_board (sheet), component);
    /* A spare image is put right by whatever writes it: the unit starts all the same. */
    return of->spare_of != NULL ? methods : methods & of->recovery;
}

static void
say_file (const Sheet *sheet, const char *when, const Release *release)
{
    g_autofree char *size =
        release->bytes < 0 ? g_strdup ("") : g_strdup_printf (", %" G_GINT64_FORMAT " bytes", release->bytes);

    paper_say (sheet->paper, INDENT + 2, INDENT + 4, "%s, %s: %s%s", release->name, when,
               release->file_name == NULL ? "the book names no file" : release->file_name, size);
    paper_say (sheet->paper, INDENT + 4, INDENT + 6, "SHA-256: %s",
               release->sha256 == NULL ? "not in the book; get it from the maker before writing" : release->sha256);
}

/* The release that was on it before, where the unit's file or the book says which, and those that are written. */
static void
say_files (const Sheet *sheet, guint component)
{
    const UnitRelease *began = &sheet->report->unit->releases[component];
    const Component *of = board_component (sheet_board (sheet), component);
    g_autofree gboolean *said = g_new0 (gboolean, of->releases->len);

    for (guint r = 0; r < of->releases->len; r++)
        if (began->count == 1 && began->may_be[r]) {
            said[r] = TRUE;
            say_file (sheet, "on it before", component_release (of, r));
        }
    if (began->count != 1)
        paper_say (sheet->paper, INDENT + 2, INDENT + 4, "what is on it before is not known: keep a copy of it");
    for (guint i = 0; i < sheet->account->steps->len; i++) {
        int release = step_writes_release (sheet_board (sheet), sheet_step (sheet, i)->step, component);
        g_autofree char *label = step_label (sheet->account->labels, i);
        g_autofree char *when = g_strdup_printf ("written in step %s", label);

        if (release >= 0 && !said[release])
            say_file (sheet, when, component_release (of, (guint) release));
        if (release >= 0)
            said[release] = TRUE;
    }
}

static void
say_clip_cautions (const Sheet *sheet)
{
    g_autoptr (GHashTable) said = g_hash_table_new (NULL, NULL);
    g_autoptr (GArray) due = g_array_new (FALSE, FALSE, sizeof (DueCaution));

    cautions_choose (sheet->report->library->cautions, caution_words_of_clip (), said, NULL, due);
    if (due->len == 0)
        return;
    paper_say (sheet->paper, INDENT, INDENT + 2, "before you clip on:");
    route_text_cautions (sheet->paper, INDENT + 2, due);
}

void
route_text_recovery (Paper *paper, const RouteReport *report, const RouteAccount *account)
{
    Sheet sheet = { paper, report, account };
    guint all = 0;

    for (guint c = 0; c < sheet_board (&sheet)->components->len; c++) {
        guint methods = recovery_of (&sheet, c);
        g_autofree char *names = words_methods (methods, "or");

        if (methods == 0)
            continue;
        if (all == 0) {
            paper_blank (paper);
            paper_say (paper, 0, 2, MARK_STRONG "Recovery" MARK_PLAIN " of a write that failed; have at hand");
        }
        all |= methods;
        paper_say (paper, INDENT, INDENT + 2, "%s, by %s:", board_component (sheet_board (&sheet), c)->name, names);
        if (methods == METHOD_BIT (METHOD_SPARE))
            paper_say (paper, INDENT + 2, INDENT + 4, "no file: the spare image is copied over");
        else
            say_files (&sheet, c);
    }
    if (all & METHOD_BIT (METHOD_CLIP))
        say_clip_cautions (&sheet);
}
