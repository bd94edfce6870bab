/* SPDX-License-Identifier: MIT */
/* The physical causes: which to look for first, how, and what the numbers are. */
#include "reports/explain_sheet.h"
#include "reports/cautions.h"
#include "reports/route_text.h"

gboolean
explain_only_board_is_left (const ExplainReport *report)
{
    return report->diagnosis->physical != NULL && report->diagnosis->physical->only_left_over;
}

static const char *
checks_heading (const ExplainReport *report)
{
    const Diagnosis *diagnosis = report->diagnosis;

    if (explain_only_board_is_left (report))
        return diagnosis->starts == ALL_START ? "What is left" : "If no rule turns out to be broken: what is left";
    if (diagnosis->physical == NULL || diagnosis->physical->checks->len == 0)
        return NULL;
    if (explain_power_is_out (report))
        return "First the power, whatever the firmware is: what to check, in this order";
    return diagnosis->starts == ALL_START ? "What to check, in this order"
                                          : "If no rule turns out to be broken: what to check, in this order";
}

/* ---- Cautions ---- */

static GArray *
opening_cautions (const ExplainReport *report, GHashTable *said)
{
    GArray *due = g_array_new (FALSE, FALSE, sizeof (DueCaution));

    cautions_choose (report->library->cautions, caution_words_of_opening (FALSE), said, NULL, due);
    return due;
}

/* For work on what the look works on, as far as the unit has such parts. */
static CautionWords
words_of_look (const ExplainReport *report, const LookFirst *look)
{
    CautionWords words = 0;

    for (guint s = 0; s < report->unit->board->slots->len; s++) {
        PartKind kind = board_slot (report->unit->board, s)->takes;

        if (report->unit->fitted[s].part != NULL && (look->works_on & (1u << kind)) != 0)
            words |= caution_word (part_kind_name (kind));
    }
    return words;
}

GArray *
explain_check_cautions (const ExplainReport *report, guint index)
{
    const GArray *checks = report->diagnosis->physical->checks;
    g_autoptr (GHashTable) said = g_hash_table_new (NULL, NULL);
    g_autoptr (GArray) before = opening_cautions (report, said);
    GArray *due = g_array_new (FALSE, FALSE, sizeof (DueCaution));

    for (guint i = 0; i <= index; i++) {
        CautionWords words = words_of_look (report, g_array_index (checks, CheckDue, i).look);

        g_array_set_size (due, 0);
        cautions_choose (report->library->cautions, words, said, before, due);
    }
    return due;
}

/* Before the unit gets power again. */
static GArray *
power_up_cautions (const ExplainReport *report)
{
    g_autoptr (GHashTable) said = g_hash_table_new (NULL, NULL);
    GArray *due = g_array_new (FALSE, FALSE, sizeof (DueCaution));

    cautions_choose (report->library->cautions, caution_words_of_power_up (), said, NULL, due);
    return due;
}

/* ---- Above ---- */

void
explain_say_before_checks (Paper *paper, const ExplainReport *report)
{
    g_autoptr (GHashTable) said = g_hash_table_new (NULL, NULL);
    g_autoptr (GArray) due = opening_cautions (report, said);

    paper_say (
        paper, 2, 4,
        "%s something in the unit is loose, dirty, damaged or dead. Each check is taken to say for certain whether "
        "what it looks for is there; where that takes a start, the start is not counted in the minutes. The maker's "
        "manual goes first; work inside a supply and on mains wiring is for those "
        "licensed for it.%s",
        explain_power_is_out (report)            ? "No power reaches the board, so"
        : report->diagnosis->starts == ALL_START ? "No rule is broken, so"
                                                 : "Then",
        due->len > 0 ? " Read these before opening the unit, and those at each check:" : "");
    route_text_cautions (paper, 2, due);
}

/* ---- One check ---- */

char *
explain_check_finds (const PhysicalCauses *physical, const CheckDue *check)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

    for (guint i = 0; i < physical->causes->len; i++) {
        const CauseWeight *weight = g_ptr_array_index (physical->causes, i);
        g_autofree char *chance = words_chance (weight->probability);

        if (weight->cause->look != check->look || weight->probability == 0)
            continue;
        g_ptr_array_add (words, weight->probability == check->probability
                                    ? g_strdup (weight->cause->says)
                                    : g_strdup_printf ("%s (%s)", weight->cause->says, chance));
    }
    return text_join (words, "or");
}

gboolean
explain_check_is_needless (const PhysicalCauses *physical, guint index)
{
    return physical->skip_last && index + 1 == physical->checks->len;
}

static void
say_check (Paper *paper, const ExplainReport *report, guint index)
{
    const PhysicalCauses *physical = report->diagnosis->physical;
    g_autoptr (GArray) cautions = explain_check_cautions (report, index);
    const CheckDue *check = &g_array_index (physical->checks, CheckDue, index);
    g_autofree char *label = g_strdup_printf ("%2u.", index + 1);
    g_autofree char *minutes = words_minutes (check->minutes);
    g_autofree char *chance = words_chance (check->probability);
    g_autofree char *finds = explain_check_finds (physical, check);

    paper_label (paper, 2, 6, label, MARK_STRONG "%s" MARK_PLAIN " (%s, finds it in %s of such cases): %s",
                 check->look->id, minutes, chance, check->look->says);
    paper_say (paper, 6, 8, "It would be %s.%s", finds,
               explain_check_is_needless (physical, index)
                   ? " When all others found nothing it is this, and the check itself need not be made."
                   : "");
    route_text_cautions (paper, 6, cautions);
}

/* ---- Below ---- */

/* "a damaged board": what is left when all looks found nothing; "" where nothing is. Transfer full. */
static char *
causes_by_elimination (const PhysicalCauses *physical)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new ();

    for (guint i = 0; i < physical->causes->len; i++) {
        const CauseWeight *weight = g_ptr_array_index (physical->causes, i);

        if (weight->cause->look->by_elimination && weight->probability > 0)
            g_ptr_array_add (words, (gpointer) weight->cause->says);
    }
    return text_join (words, "or");
}

static void
say_minutes (Paper *paper, const PhysicalCauses *physical)
{
    g_autofree char *expected = words_minutes (physical->expected_minutes);
    g_autofree char *likeliest = words_minutes (physical->likeliest_first_minutes);

    paper_say (paper, 2, 4, "In this order the fault is found after %s on average; with the likeliest first, after %s.",
               expected, likeliest);
    if (physical->left_over > 0) {
        g_autofree char *chance = words_chance (physical->left_over);
        g_autofree char *left = causes_by_elimination (physical);

        paper_say (paper, 2, 4, "In %s of such cases none of these checks finds it%s%s.", chance,
                   *left == '\0' ? "" : ": it would be ", left);
    }
}

static void
say_ruled_out (Paper *paper, const ExplainReport *report)
{
    const Diagnosis *diagnosis = report->diagnosis;

    for (guint i = 0; i < diagnosis->physical->causes->len; i++) {
        const CauseWeight *weight = g_ptr_array_index (diagnosis->physical->causes, i);
        g_autofree char *seen = NULL;

        if (weight->excluded_by < 0)
            continue;
        const SignGiven *given = diagnosis->evidence->given->pdata[weight->excluded_by];
        seen = observation_words (report->unit->board, given->observation);
        paper_say (paper, 2, 4, "Ruled out: %s, by what was seen (%s).", weight->cause->says, seen);
    }
}

void
explain_say_after_checks (Paper *paper, const ExplainReport *report)
{
    const PhysicalCauses *physical = report->diagnosis->physical;
    g_autofree char *counted = words_count (physical->counted, "unit", "units");
    g_autoptr (GArray) due = power_up_cautions (report);

    if (due->len > 0) {
        paper_blank (paper);
        paper_say (paper, 2, 4, "Before it gets power again:");
    }
    route_text_cautions (paper, 2, due);
    paper_blank (paper);
    say_minutes (paper, physical);
    say_ruled_out (paper, report);
    if (physical->counted == 0)
        paper_say (paper, 2, 4,
                   "The percentages are shop experience as the files have it, weighed by what was seen; this shop has "
                   "counted no units of its own yet (docs/files.md, \"Shop\", `found`).");
    else
        paper_say (paper, 2, 4,
                   "The percentages are shop experience as the files have it, with %s of this shop's own counted in, "
                   "weighed by what was seen.",
                   counted);
    paper_say (paper, 2, 4,
               "They say where to look first, not what it is. Opening the unit, and a start after a check, are not "
               "counted in the minutes.");
}

/* Every look that can find something was made. */
static void
say_what_is_left (Paper *paper, const ExplainReport *report)
{
    g_autofree char *left = causes_by_elimination (report->diagnosis->physical);

    paper_say (paper, 2, 4,
               "All that can be looked for was looked for, or is ruled out by what was seen. What is left: " MARK_STRONG
               "%s" MARK_PLAIN ". Nothing shows that but what is left over, so make sure of each look "
               "before the board is given up.",
               left);
    say_ruled_out (paper, report);
}

static void
say_checks (Paper *paper, const ExplainReport *report)
{
    const PhysicalCauses *physical = report->diagnosis->physical;

    if (explain_only_board_is_left (report)) {
        say_what_is_left (paper, report);
        return;
    }
    explain_say_before_checks (paper, report);
    for (guint i = 0; i < physical->checks->len; i++)
        say_check (paper, report, i);
    explain_say_after_checks (paper, report);
}

const ExplainSection explain_checks = { checks_heading, say_checks };
