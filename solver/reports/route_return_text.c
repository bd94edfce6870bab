/* SPDX-License-Identifier: MIT */
/* Times of a step, and whether there is a way back from after it. */
#include "reports/route_sheet.h"

#define INDENT SHEET_DETAIL_INDENT

/* "system below 1.4.0 can't be written any more"; NULL: no floor rises. Transfer full. */
static char *
risen_floors (const Sheet *sheet, const StepAccount *step)
{
    g_autoptr (GPtrArray) risen = g_ptr_array_new_with_free_func (g_free);
    g_autofree char *joined = NULL;

    for (guint i = 0; i < step->floor_rises->len; i++) {
        const FloorRise *rise = &g_array_index (step->floor_rises, FloorRise, i);
        const Component *component = board_component (sheet_board (sheet), rise->component);

        g_ptr_array_add (risen, g_strdup_printf ("%s below %s", component->name,
                                                 component_release (component, rise->release)->name));
    }
    if (risen->len == 0)
        return NULL;
    joined = text_join (risen, "and");
    return g_strdup_printf ("%s can't be written any more", joined);
}

/* "; way back: 2 steps"; "" where there is nothing to say. Transfer full. */
static char *
way_back_words (const WayBack *way)
{
    g_autofree char *steps = NULL;

    if (way == NULL)
        return g_strdup ("");
    switch (way->kind) {
    case BACK_WAY:
        if (way->steps == 0)
            return g_strdup ("; way back: nothing to undo");
        steps = words_count (way->steps, "step", "steps");
        return g_strdup_printf ("; way back: %s%s", way->at_most ? "at most " : "", steps);
    case BACK_OPEN:
        return g_strdup ("; way back: not settled within the effort");
    case BACK_NONE_BEFORE:
    case BACK_NO_RETURN:
        return g_strdup ("");
    }
    g_assert_not_reached ();
}

static void
say_return (const Sheet *sheet, guint index)
{
    const StepAccount *step = sheet_step (sheet, index);
    const WayBack *way = report_way_back (sheet->report, index);
    g_autofree char *floors = risen_floors (sheet, step);

    if (way != NULL && way->kind == BACK_NO_RETURN)
        paper_say (sheet->paper, INDENT, INDENT + 2, MARK_BAD "NO RETURN" MARK_PLAIN ": %s%s%s",
                   way->unknown ? "what was on it is not known, so nobody can say what to write back"
                                : "after this step the unit can't be brought back to how it last started",
                   floors == NULL ? "" : "; ", floors == NULL ? "" : floors);
    else if (floors != NULL)
        paper_say (sheet->paper, INDENT, INDENT + 2, MARK_STRONG "the floor rises" MARK_PLAIN ": afterwards %s",
                   floors);
    if (step->binds_part)
        paper_say (sheet->paper, INDENT, INDENT + 2,
                   MARK_BAD "bound for good" MARK_PLAIN " to %s once started here: no return for the part",
                   sheet_board (sheet)->binds == NULL ? "this unit" : sheet_board (sheet)->binds);
}

/* Whether a step is the first that writes the component. */
static gboolean
writes_first (const Sheet *sheet, guint index, guint component)
{
    for (guint i = 0; i < index; i++)
        if (step_writes_release (sheet_board (sheet), sheet_step (sheet, i)->step, component) >= 0)
            return FALSE;
    return step_writes_release (sheet_board (sheet), sheet_step (sheet, index)->step, component) >= 0;
}

/* Once, beside the first write of a component that the unit file gives no floor for. */
static void
say_assumed (const Sheet *sheet, guint index)
{
    const gboolean *assumed = sheet->report->answer->floor_assumed;
    g_autoptr (GPtrArray) names = g_ptr_array_new ();
    g_autofree char *joined = NULL;

    for (guint c = 0; assumed != NULL && c < sheet_board (sheet)->components->len; c++)
        if (assumed[c] && writes_first (sheet, index, c))
            g_ptr_array_add (names, (gpointer) board_component (sheet_board (sheet), c)->name);
    if (names->len == 0)
        return;
    joined = text_join (names, "or");
    paper_say (sheet->paper, INDENT, INDENT + 2, "%s assumed: if a later %s was on it once, read %s floor first",
               names->len == 1 ? "floor" : "floors", joined, names->len == 1 ? "its" : "their");
}

void
sheet_return_in_brief (const Sheet *sheet, guint index)
{
    say_return (sheet, index);
    say_assumed (sheet, index);
}

void
sheet_times_and_return (const Sheet *sheet, guint first, guint last)
{
    double minutes = 0, attended = 0;
    g_autofree char *back = way_back_words (report_way_back (sheet->report, last));

    for (guint i = first; i <= last; i++) {
        minutes += sheet_step (sheet, i)->minutes;
        attended += sheet_step (sheet, i)->attended;
    }
    g_autofree char *elapsed = words_minutes (minutes);
    g_autofree char *by_hand = words_number (attended);
    paper_say (sheet->paper, INDENT, INDENT + 2, "unit starts: before %s, after %s; %s, %s attended%s",
               words_answer (sheet_step (sheet, first)->starts_before),
               words_answer (sheet_step (sheet, last)->starts_after), elapsed, by_hand, back);
    for (guint i = first; i <= last; i++)
        say_return (sheet, i);
}
