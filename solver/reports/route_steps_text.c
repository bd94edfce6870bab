/* SPDX-License-Identifier: MIT */
/* The steps of a bench sheet. */
#include "reports/route_sheet.h"

#define STEP_INDENT   SHEET_STEP_INDENT
#define DETAIL_INDENT SHEET_DETAIL_INDENT

/* What some cautions ask for is out of reach on a unit that is dark: their ids, those of rules/cautions.yaml. */
static gboolean
asks_a_running_unit (const Caution *caution)
{
    return g_str_equal (caution->id, "note-settings") || g_str_equal (caution->id, "suspend-encryption");
}

static void
say_cautions (Paper *paper, guint indent, const GArray *due, gboolean unit_is_dark)
{
    g_autoptr (GPtrArray) again = g_ptr_array_new ();

    for (guint i = 0; i < due->len; i++) {
        const DueCaution *entry = &g_array_index (due, DueCaution, i);
        const char *tail = unit_is_dark && asks_a_running_unit (entry->caution)
                               ? " (can't be read on a dark unit: ask the owner)"
                               : "";

        if (entry->in_full)
            paper_say (paper, indent, indent + 2, MARK_CAUTION "Caution" MARK_PLAIN " [%s]: %s%s", entry->caution->id,
                       entry->caution->says, tail);
        else
            g_ptr_array_add (again, (gpointer) entry->caution->id);
    }
    if (again->len > 0) {
        g_autofree char *ids = text_join (again, "and");

        paper_say (paper, indent, indent + 2, MARK_CAUTION "Cautions again" MARK_PLAIN ": %s", ids);
    }
}

void
route_text_cautions (Paper *paper, guint indent, const GArray *due)
{
    say_cautions (paper, indent, due, FALSE);
}

static void
say_heading (const Sheet *sheet, const StepAccount *step)
{
    static const char *const headings[] = { "Power off, mains out", "Host running",
                                            "Standby power: mains in, host off" };
    g_autofree char *minutes = words_minutes (sheet->report->shop->opening_minutes);

    paper_blank (sheet->paper);
    if (step->opening > 0)
        paper_say (sheet->paper, 0, 2, MARK_STRONG "%s" MARK_PLAIN " (opening %u of %u; %s to open and close)",
                   headings[step->power], step->opening, sheet->account->openings, minutes);
    else
        paper_say (sheet->paper, 0, 2, MARK_STRONG "%s" MARK_PLAIN, headings[step->power]);
}

static void
say_start (const Sheet *sheet, gboolean after_parts)
{
    g_autofree char *minutes = words_minutes (sheet->report->shop->start_minutes);
    g_autofree char *dark = words_minutes (sheet->account->dark_after_minutes);

    if (after_parts)
        paper_say (sheet->paper, STEP_INDENT, STEP_INDENT + 2,
                   "Start the unit (%s planned). A first start after work on parts may stay dark for up to %s; "
                   "only then count it as dark.",
                   minutes, dark);
    else
        paper_say (sheet->paper, STEP_INDENT, DETAIL_INDENT, "Start the unit (%s planned).", minutes);
}

/* The cautions of an exchange are those of both its steps, each once. */
static void
say_step_cautions (const Sheet *sheet, guint index)
{
    const StepAccount *step = sheet_step (sheet, index);
    const GArray *more = step->exchange ? sheet_step (sheet, index + 1)->cautions : NULL;
    g_autoptr (GArray) due = g_array_copy (step->cautions);

    for (guint i = 0; more != NULL && i < more->len; i++) {
        DueCaution entry = g_array_index (more, DueCaution, i);
        gboolean said = FALSE;

        for (guint j = 0; j < step->cautions->len; j++)
            said |= g_array_index (step->cautions, DueCaution, j).caution == entry.caution;
        if (!said)
            g_array_append_val (due, entry);
    }
    if (due->len == 0)
        return;
    paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2, "before you do:");
    say_cautions (sheet->paper, DETAIL_INDENT + 2, due, step->starts_before != ANSWER_YES);
}

static void
say_sink_is_off (const Sheet *sheet, const char *sink, guint index)
{
    g_autofree char *label = step_label (sheet->account->labels, index);

    paper_say (
        sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2,
        "do this while %s is off in step %s; what goes on there goes on after the processor, with fresh compound", sink,
        label);
}

/* What becomes of the heat sink on top. */
static void
say_sink (const Sheet *sheet, guint index)
{
    const StepAccount *step = sheet_step (sheet, index);
    const char *sink = step->sink < 0 ? NULL : board_slot (sheet_board (sheet), (guint) step->sink)->name;

    if (sink == NULL)
        return;
    if (step->sink_exchanged < 0)
        paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2, "%s comes off and goes back with fresh compound",
                   sink);
    else if ((guint) step->sink_exchanged > index)
        paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2,
                   "take %s off first; it goes back, or its replacement, with fresh compound after the processor",
                   sink);
    else
        say_sink_is_off (sheet, sink, (guint) step->sink_exchanged);
}

/* A write that is verified at once is done only when the unit was seen to run what was written. */
static void
say_verification (const Sheet *sheet, const StepAccount *step)
{
    static const char *const does[] = {
        "see that the host reports",
        "restart the controller, wait until it answers again, and see that the host reports",
        "restart the host and see that it reports",
        "take the mains off as said above, start the unit, and see that it reports",
    };
    const Component *component = board_component (sheet_board (sheet), step->step->component);
    const Release *release = component_release (component, step->step->release);

    if (step->power != STEP_POWER_HOST || component->methods[step->step->method].verify_next_start ||
        step->starts_after != ANSWER_YES)
        return;
    if (component->spare_of != NULL)
        paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2, "then read back that the spare image holds %s",
                   release->name);
    else
        paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2, "then %s %s %s", does[release->takes_effect],
                   component->name, release->name);
}

/* Ids only: the texts stand once at the end. */
static void
say_looks (const Sheet *sheet, guint index)
{
    g_autoptr (GPtrArray) looks = looks_after (sheet->report->library, sheet_step (sheet, index)->step);
    g_autoptr (GPtrArray) ids = g_ptr_array_new ();
    g_autofree char *joined = NULL;

    for (guint i = 0; i < looks->len; i++)
        g_ptr_array_add (ids, (gpointer) ((const LookFirst *) looks->pdata[i])->id);
    joined = text_join (ids, "and");
    if (ids->len > 0)
        paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2,
                   "if it stays dark, before you blame the part, look at: %s", joined);
}

/* Says one step, or a removal and the fitting after it as one. Returns how many. */
static guint
say_step (const Sheet *sheet, guint index)
{
    const StepAccount *step = sheet_step (sheet, index);
    const StepAccount *next = step->exchange ? sheet_step (sheet, index + 1) : NULL;
    guint last = next == NULL ? index : index + 1;
    g_autofree char *number = step_labels (sheet->account->labels, index, last);
    g_autofree char *sentence = sheet_sentence (sheet, step, next);
    g_autofree char *label = g_strdup_printf (MARK_STRONG "%s." MARK_PLAIN, number);

    paper_label (sheet->paper, STEP_INDENT, DETAIL_INDENT, label, "%s", sentence);
    say_step_cautions (sheet, index);
    say_sink (sheet, index);
    sheet_times_and_return (sheet, index, last);
    if (step->step->kind == STEP_WRITE)
        sheet_write_details (sheet, index);
    for (guint i = index; i <= last; i++) {
        paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2, "why: %s", sheet_step (sheet, i)->why);
        say_looks (sheet, i);
    }
    if (step->step->kind == STEP_WRITE)
        say_verification (sheet, step);
    return last + 1 - index;
}

void
sheet_step_in_brief (const Sheet *sheet, guint index, const char *part, const char *whose)
{
    const StepAccount *step = sheet_step (sheet, index);
    g_autofree char *number = step_label (sheet->account->labels, index);
    g_autofree char *sentence =
        whose != NULL ? sheet_sentence_of_move (sheet, step, part, whose) : sheet_sentence (sheet, step, NULL);
    const char *which = whose == NULL ? part : NULL;

    paper_say (sheet->paper, 0, 0, MARK_STRONG "%s. %s" MARK_PLAIN "%s%s", number, sentence, which == NULL ? "" : ": ",
               which == NULL ? "" : which);
    if (step->step->kind != STEP_WRITE) {
        say_sink (sheet, index);
        sheet_return_in_brief (sheet, index);
        return;
    }
    sheet_return_in_brief (sheet, index);
    sheet_write_details (sheet, index);
    say_verification (sheet, step);
}

/* ---- Cautions in brief ---- */

static gboolean
is_due (const GArray *due, const Caution *caution)
{
    for (guint i = 0; i < due->len; i++)
        if (g_array_index (due, DueCaution, i).caution == caution)
            return TRUE;
    return FALSE;
}

/* What is to be said in full every time is said so once for as long as nothing changes between: the unit is not opened, and keeps its
 * power. At a new opening it is said in full again. */
static gboolean
was_said_since (const Sheet *sheet, guint index, const Caution *caution)
{
    for (guint i = index; i > 0 && sheet_step (sheet, i)->opening == 0 &&
                          sheet_step (sheet, i)->power == sheet_step (sheet, i - 1)->power;
         i--)
        if (is_due (sheet_step (sheet, i - 1)->cautions, caution) ||
            is_due (sheet_step (sheet, i - 1)->power_cautions, caution))
            return TRUE;
    return FALSE;
}

static gboolean
same_cautions (const GArray *left, const GArray *right)
{
    for (guint i = 0; i < left->len; i++)
        if (!is_due (right, g_array_index (left, DueCaution, i).caution))
            return FALSE;
    return left->len == right->len;
}

void
sheet_step_cautions (const Sheet *sheet, guint index)
{
    const StepAccount *step = sheet_step (sheet, index);
    g_autoptr (GArray) due = g_array_copy (step->cautions);
    gboolean full = FALSE;

    for (guint i = 0; i < due->len; i++) {
        DueCaution *entry = &g_array_index (due, DueCaution, i);

        if (entry->in_full && was_said_since (sheet, index, entry->caution))
            entry->in_full = FALSE;
        full |= entry->in_full;
    }
    if (index > 0 && due->len > 0 && !full && same_cautions (due, sheet_step (sheet, index - 1)->cautions)) {
        g_autofree char *label = step_label (sheet->account->labels, index - 1);

        paper_say (sheet->paper, STEP_INDENT, STEP_INDENT + 2, MARK_CAUTION "Cautions" MARK_PLAIN " as for step %s", label);
        return;
    }
    say_cautions (sheet->paper, STEP_INDENT, due, step->starts_before != ANSWER_YES);
}

/* ---- The sheet ---- */

void
route_text_above_step (Paper *paper, const RouteReport *report, const RouteAccount *account, guint index)
{
    Sheet sheet = { paper, report, account };
    const StepAccount *step = sheet_step (&sheet, index);

    if (index == 0 || step->power != sheet_step (&sheet, index - 1)->power)
        say_heading (&sheet, step);
    route_text_cautions (paper, STEP_INDENT, step->power_cautions);
    if (step->starts_unit)
        say_start (&sheet, step->start_after_parts);
}

guint
route_text_step (Paper *paper, const RouteReport *report, const RouteAccount *account, guint index)
{
    Sheet sheet = { paper, report, account };

    return say_step (&sheet, index);
}

void
route_text_last_start (Paper *paper, const RouteReport *report, const RouteAccount *account)
{
    Sheet sheet = { paper, report, account };

    if (!account->start_at_end)
        return;
    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_STRONG "Last start" MARK_PLAIN);
    route_text_cautions (paper, STEP_INDENT, account->end_cautions);
    say_start (&sheet, account->end_after_parts);
}

void
route_text_steps (Paper *paper, const RouteReport *report, const RouteAccount *account)
{
    guint index = 0;

    while (index < account->steps->len) {
        route_text_above_step (paper, report, account, index);
        paper_blank (paper);
        index += route_text_step (paper, report, account, index);
    }
    route_text_last_start (paper, report, account);
}
