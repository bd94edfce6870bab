/* SPDX-License-Identifier: MIT */
/* The steps of a bench sheet. */
#include "reports/route_sheet.h"

#define STEP_INDENT   2
#define DETAIL_INDENT 9

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
        g_autofree char *ids = words_join (again, "and");

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

static char *
moved_part (const StepAccount *step)
{
    g_autofree char *part = words_part (step->moved.part, step->moved.stepping);

    return step->serial == NULL ? g_strdup (part) : g_strdup_printf ("%s, serial %s", part, step->serial);
}

static char *
write_sentence (const Sheet *sheet, const StepAccount *step)
{
    const Component *component = board_component (sheet_board (sheet), step->step->component);
    const Release *release = component_release (component, step->step->release);
    GString *text = g_string_new (NULL);

    g_string_append_printf (text, "Write %s %s", component->name, release->name);
    if (step->replaces >= 0)
        g_string_append_printf (text, " over %s", component_release (component, (guint) step->replaces)->name);
    else
        g_string_append (text, " over what is there");
    g_string_append_printf (text, ", %s", words_method (step->step->method));
    for (guint i = 0; i < release->also_writes->len; i++) {
        const AlsoWrites *also = g_ptr_array_index (release->also_writes, i);

        g_string_append_printf (text, "; it also writes %s %s", also->component, also->release);
    }
    return g_string_free (text, FALSE);
}

static char *
step_sentence (const Sheet *sheet, const StepAccount *step, const StepAccount *next)
{
    const char *slot = NULL;
    g_autofree char *part = NULL;

    if (step->step->kind == STEP_WRITE)
        return write_sentence (sheet, step);
    slot = board_slot (sheet_board (sheet), step->step->slot)->name;
    part = moved_part (step);
    if (step->step->kind == STEP_FIT)
        return g_strdup_printf ("Fit in %s: %s, %s", slot, part, words_owner (step->moved.owner));
    if (next != NULL) {
        g_autofree char *other = moved_part (next);

        return g_strdup_printf ("Exchange in %s: take out %s (%s); fit %s, %s", slot, part,
                                words_give_back (step->moved.owner), other, words_owner (next->moved.owner));
    }
    return g_strdup_printf ("Take out of %s: %s; %s", slot, part, words_give_back (step->moved.owner));
}

static void
say_file (const Sheet *sheet, const Release *release)
{
    if (release->file_name == NULL && release->sha256 == NULL && release->bytes < 0)
        return;
    if (release->bytes >= 0)
        paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2, "file: %s, %" G_GINT64_FORMAT " bytes",
                   release->file_name == NULL ? "(name not stated)" : release->file_name, release->bytes);
    else if (release->file_name != NULL)
        paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2, "file: %s", release->file_name);
    if (release->sha256 != NULL)
        paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2, "SHA-256: %s", release->sha256);
}

static void
say_write_details (const Sheet *sheet, const StepAccount *step)
{
    const Component *component = board_component (sheet_board (sheet), step->step->component);
    const Release *release = component_release (component, step->step->release);
    guint detail = DETAIL_INDENT;
    g_autofree char *recovery = words_methods (step->recovery, step->recovery_takes_all ? "and" : "or");

    say_file (sheet, release);
    paper_say (sheet->paper, detail, detail + 2, "takes effect: %s", words_effect (release->takes_effect));
    if (step->recovery != 0)
        paper_say (sheet->paper, detail, detail + 2,
                   "if it fails: recover by %s: stop; do not cut power; see Recovery at the end", recovery);
    else
        paper_say (sheet->paper, detail, detail + 2,
                   MARK_BAD "if it fails: no recovery here" MARK_PLAIN ": stop; do not cut power; ask before going on");
    for (guint i = 0; i < step->floor_rises->len; i++) {
        const FloorRise *rise = &g_array_index (step->floor_rises, FloorRise, i);
        const Component *risen = board_component (sheet_board (sheet), rise->component);

        paper_say (sheet->paper, detail, detail + 2,
                   MARK_BAD "no way back" MARK_PLAIN ": afterwards %s below %s can't be written any more", risen->name,
                   component_release (risen, rise->release)->name);
    }
    if (release->clears_settings)
        paper_say (sheet->paper, detail, detail + 2, "clears the settings: note them before, set them again after");
}

static void
say_times (const Sheet *sheet, const StepAccount *step, const StepAccount *next)
{
    const StepAccount *last = next == NULL ? step : next;
    double minutes = step->minutes + (next == NULL ? 0.0 : next->minutes);
    g_autofree char *elapsed = words_minutes (minutes);
    g_autofree char *attended = words_number (step->attended + (next == NULL ? 0.0 : next->attended));

    paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2, "unit starts: before %s, after %s; %s, %s attended",
               words_answer (step->starts_before), words_answer (last->starts_after), elapsed, attended);
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
        paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2,
                   "do this while %s is off in step %d; what goes on there goes on after the processor, with fresh "
                   "compound",
                   sink, step->sink_exchanged + 1);
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

    if (step->step->method != METHOD_HOST || component->methods[METHOD_HOST].verify_next_start ||
        step->starts_after != ANSWER_YES)
        return;
    paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2, "then %s %s %s", does[release->takes_effect],
               component->name, release->name);
}

/* Says one step, or a removal and the fitting after it as one. Returns how many. */
static guint
say_step (const Sheet *sheet, guint index)
{
    const StepAccount *step = sheet_step (sheet, index);
    const StepAccount *next = step->exchange ? sheet_step (sheet, index + 1) : NULL;
    g_autofree char *number =
        next == NULL ? g_strdup_printf ("%u.", index + 1) : g_strdup_printf ("%u-%u.", index + 1, index + 2);
    g_autofree char *sentence = step_sentence (sheet, step, next);
    g_autofree char *label = g_strdup_printf (MARK_STRONG "%s" MARK_PLAIN, number);

    paper_label (sheet->paper, STEP_INDENT, DETAIL_INDENT, label, "%s", sentence);
    say_step_cautions (sheet, index);
    say_sink (sheet, index);
    say_times (sheet, step, next);
    if (step->step->kind == STEP_WRITE)
        say_write_details (sheet, step);
    if (step->why != NULL)
        paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2, "why: %s", step->why);
    if (next != NULL && next->why != NULL)
        paper_say (sheet->paper, DETAIL_INDENT, DETAIL_INDENT + 2, "why: %s", next->why);
    if (step->step->kind == STEP_WRITE)
        say_verification (sheet, step);
    return next == NULL ? 1 : 2;
}

void
route_text_steps (Paper *paper, const RouteReport *report, const RouteAccount *account)
{
    Sheet sheet = { paper, report, account };
    guint index = 0;

    while (index < account->steps->len) {
        const StepAccount *step = sheet_step (&sheet, index);

        if (index == 0 || step->power != sheet_step (&sheet, index - 1)->power)
            say_heading (&sheet, step);
        route_text_cautions (paper, STEP_INDENT, step->power_cautions);
        if (step->starts_unit)
            say_start (&sheet, step->start_after_parts);
        paper_blank (paper);
        index += say_step (&sheet, index);
    }
    if (account->start_at_end) {
        paper_blank (paper);
        paper_say (paper, 0, 2, MARK_STRONG "Last start" MARK_PLAIN);
        route_text_cautions (paper, STEP_INDENT, account->end_cautions);
        say_start (&sheet, account->end_after_parts);
    }
}
