/* SPDX-License-Identifier: MIT */
/* An explanation as text: its head, and the sections in order. */
#include "reports/explain_sheet.h"
#include "reports/records_text.h"
#include "reports/releases_text.h"

Outcome
explain_outcome (const Diagnosis *diagnosis)
{
    static const Outcome outcomes[] = {
        [ALL_START] = OUTCOME_ANSWERED,    [NONE_STARTS] = OUTCOME_DOES_NOT_START, [NONE_KNOWN] = OUTCOME_NOT_KNOWN,
        [SOME_START] = OUTCOME_SOME_START, [TOO_MANY_CASES] = OUTCOME_READ_FIRST,
    };

    return diagnosis->evidence->conflicts->len > 0 ? OUTCOME_EVIDENCE_CONFLICTS : outcomes[diagnosis->starts];
}

/* ---- Pieces ---- */

char *
explain_case_in_words (const Unit *unit, const DarkCase *one)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

    for (guint c = 0; c < unit->board->components->len; c++)
        if (unit->releases[c].count > 1)
            g_ptr_array_add (words, releases_of_component (board_component (unit->board, c), one->may_be[c]));
    return text_join (words, "and");
}

char *
words_chance (double probability)
{
    double percent = probability * 100.0;

    if (percent > 0 && percent < 1)
        return g_strdup ("under 1 %");
    return percent < 100 && percent > 99 ? g_strdup ("over 99 %") : g_strdup_printf ("%.0f %%", percent);
}

char *
words_with_place (const char *says, Mark at, const Source *source)
{
    g_autofree char *place = words_place (at);
    g_autofree char *from = source == NULL ? NULL : words_source (source);

    if (*place == '\0' && from == NULL)
        return g_strdup (says);
    return g_strdup_printf ("%s (%s%s%s%s)", says, place, *place != '\0' && from != NULL ? "; " : "",
                            from != NULL ? "source: " : "", from != NULL ? from : "");
}

char *
explain_processors (const Board *board, const Held *held)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

    for (guint s = 0; s < board->slots->len; s++) {
        g_autofree char *part = words_part (held[s].part, held[s].stepping);

        if (board_slot (board, s)->takes == KIND_PROCESSOR)
            g_ptr_array_add (words, g_strdup_printf ("%s %s", board_slot (board, s)->name, part));
    }
    return words->len == 0 ? g_strdup ("no processor") : text_join (words, "and");
}

char *
explain_firmware (const Unit *unit)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

    for (guint c = 0; c < unit->board->components->len; c++) {
        const Component *component = board_component (unit->board, c);

        g_ptr_array_add (words, unit->failed != NULL && unit->failed[c]
                                    ? g_strdup_printf ("%s (its last write failed)", component->name)
                                    : releases_of_component (component, unit->releases[c].may_be));
    }
    return text_join (words, "and");
}

char *
explain_ruled_out (const ExplainReport *report)
{
    const Board *board = report->unit->board;
    gboolean **ruled_out = report->diagnosis->ruled_out;
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

    for (guint c = 0; ruled_out != NULL && c < board->components->len; c++) {
        const Component *component = board_component (board, c);
        gboolean some = FALSE;

        for (guint r = 0; r < component->releases->len; r++)
            some |= ruled_out[c][r];
        if (some)
            g_ptr_array_add (words, releases_of_component (component, ruled_out[c]));
    }
    return words->len == 0 ? NULL : text_join (words, "and");
}

const Unit *
explain_unit_left (const ExplainReport *report)
{
    return report->diagnosis->unit != NULL ? report->diagnosis->unit : report->unit;
}

const Unit *
explain_unit_of_ways (const ExplainReport *report)
{
    return report->diagnosis->before != NULL ? report->diagnosis->before : explain_unit_left (report);
}

double
explain_dark_after (const ExplainReport *report)
{
    return shop_dark_after_minutes (report->shop, report->unit->board);
}

/* ---- Head ---- */

static void
say_unit (Paper *paper, const ExplainReport *report)
{
    const Unit *unit = report->unit;
    g_autoptr (State) state = state_from_unit (unit, NULL);
    g_autofree char *firmware = explain_firmware (unit);
    g_autofree char *processors = explain_processors (unit->board, state->held);

    paper_say (paper, 0, 2, MARK_STRONG "Unit %s" MARK_PLAIN ", board %s, revision %s: %s", unit->id, unit->board->name,
               (const char *) g_ptr_array_index (unit->board->revisions, unit->revision), processors);
    if (*firmware != '\0')
        paper_say (paper, 0, 2, "firmware: %s", firmware);
    if (unit->note != NULL)
        paper_say (paper, 0, 2, "note in its file: %s", unit->note);
    if (records_are_there (report->records)) {
        g_autofree char *records = records_in_words (report->records);

        paper_say (paper, 0, 2, "as %s leave%s it", records, report->records->len == 1 ? "s" : "");
    }
    if (report->asked != NULL) {
        g_autofree char *parts = g_strjoinv (", ", (char **) report->asked);

        paper_say (paper, 0, 2, "asked before it is fitted: %s", parts);
    }
}

/* The components whose release is not known and matters. Transfer full. */
static char *
components_that_decide (const ExplainReport *report)
{
    const GPtrArray *cases = report->diagnosis->dark->cases;
    g_autoptr (GPtrArray) names = g_ptr_array_new ();

    for (guint c = 0; c < report->unit->board->components->len; c++) {
        const Component *component = board_component (report->unit->board, c);
        gboolean decides = FALSE;

        for (guint i = 1; i < cases->len; i++)
            for (guint r = 0; r < component->releases->len; r++)
                decides |= ((const DarkCase *) cases->pdata[0])->may_be[c][r] !=
                           ((const DarkCase *) cases->pdata[i])->may_be[c][r];
        if (decides)
            g_ptr_array_add (names, (gpointer) component->name);
    }
    return text_join (names, "and");
}

static guint
powers_that_harm (const GPtrArray *broken)
{
    guint powers = 0;

    for (guint b = 0; b < broken->len; b++) {
        const Broken *one = g_ptr_array_index (broken, b);

        powers |= one->breaking == BREAKING_HARMS ? one->powers : 0;
    }
    return powers;
}

guint
explain_harms_while (const ExplainReport *report)
{
    const GPtrArray *cases = report->diagnosis->dark->cases;
    guint powers = 0;

    for (guint i = 0; i < cases->len; i++)
        powers |= powers_that_harm (((const DarkCase *) cases->pdata[i])->broken);
    if (cases->len == 0) { /* too many to look at each: the first stands for what no release changes */
        g_autoptr (State) state = state_from_unit (report->unit, NULL);
        g_autoptr (GPtrArray) broken = check_state (report->library, report->shop, state);

        powers = powers_that_harm (broken);
    }
    return powers;
}

/* What a yes before the part is fitted does not say. */
static void
say_no_promise (Paper *paper, const ExplainReport *report)
{
    g_autofree char *minutes = words_minutes (explain_dark_after (report));

    paper_say (paper, 0, 2,
               "That is said of such a part by the book, and is no promise for this very one: it may be faulty, or sit "
               "badly. A first start with it may stay dark for %s while memory is trained; only then count it as dark.",
               minutes);
}

static void
say_verdict (Paper *paper, const ExplainReport *report)
{
    gboolean asked = report->asked != NULL;
    g_autofree char *deciding = components_that_decide (report);

    switch (report->diagnosis->starts) {
    case ALL_START:
        /* Without a word on what was seen nobody has said yet that it is dark. */
        paper_say (paper, 0, 2, MARK_GOOD "No rule is broken" MARK_PLAIN ": by the book it starts.%s",
                   asked                  ? ""
                   : report->seen == NULL ? " If it stays dark all the same, the cause is physical, or a fact in the files is "
                                            "wrong."
                                          : " So the cause is physical, or a fact in the files is wrong.");
        if (asked)
            say_no_promise (paper, report);
        break;
    case NONE_STARTS:
        paper_say (paper, 0, 2,
                   MARK_BAD "It can't start like this" MARK_PLAIN
                            ", whatever state its parts are in: a fact in the files says so.");
        break;
    case NONE_KNOWN:
        paper_say (paper, 0, 2,
                   MARK_CAUTION
                   "It is not known to start like this" MARK_PLAIN
                   ": nothing in the files says that it does. So that it stays dark shows no part faulty.");
        break;
    case SOME_START:
        paper_say (paper, 0, 2,
                   MARK_CAUTION
                   "It depends on the release of %s" MARK_PLAIN
                   ", which is not known for certain: with some no rule is broken; with others one keeps it "
                   "dark, or nothing says that it starts.",
                   deciding);
        break;
    case TOO_MANY_CASES:
        paper_say (paper, 0, 2,
                   MARK_CAUTION "Not answered" MARK_PLAIN
                                ": it may have too many combinations of releases to go through. Read one of them first "
                                "and put it into the unit's file.");
        break;
    }
}

void
explain_say_head (Paper *paper, const ExplainReport *report)
{
    const Evidence *evidence = report->diagnosis->evidence;
    guint harms = explain_harms_while (report);

    say_unit (paper, report);
    paper_blank (paper);
    if (evidence->conflicts->len > 0)
        paper_say (paper, 0, 2, MARK_BAD "%s" MARK_PLAIN " What follows leaves that open.",
                   evidence->against_book
                       ? "What was seen does not fit the files: the unit's file, the book, or what was seen is wrong."
                       : "What was seen cannot all be right.");
    say_verdict (paper, report);
    if (harms & POWER_STANDBY)
        paper_say (paper, 0, 2,
                   MARK_BAD "Do not power it like this, leave the mains out: it may do damage on standby power "
                            "already." MARK_PLAIN " Below is why.");
    else if (harms != 0)
        paper_say (paper, 0, 2, MARK_BAD "Do not power it like this: it may do damage." MARK_PLAIN " Below is why.");
}

/* ---- The whole ---- */

/* A supply, or what is done at one, is all that each cause that is left asks for. */
static gboolean
only_supplies_are_left (const PhysicalCauses *physical)
{
    gboolean some = FALSE;

    for (guint i = 0; i < physical->causes->len; i++) {
        const CauseWeight *weight = g_ptr_array_index (physical->causes, i);

        if (weight->probability > 0 && weight->cause->look->after != 1u << KIND_SUPPLY)
            return FALSE;
        some |= weight->probability > 0;
    }
    return some;
}

gboolean
explain_power_is_out (const ExplainReport *report)
{
    const PhysicalCauses *physical = report->diagnosis->physical;

    if (physical == NULL)
        return FALSE;
    for (guint i = 0; report->seen != NULL && i < report->seen->observations->len; i++) {
        const Observation *one = g_ptr_array_index (report->seen->observations, i);

        if (one->kind == SEEN_POWER_LIGHT && g_strcmp0 (one->word, "off") == 0)
            return TRUE;
    }
    return only_supplies_are_left (physical);
}

void
explain_sections (const ExplainReport *report, const ExplainSection *sections[EXPLAIN_SECTIONS])
{
    gboolean power_first = explain_power_is_out (report);
    gboolean checks_first = power_first || report->diagnosis->starts == ALL_START;
    guint count = 0;

    sections[count++] = &explain_seen;
    if (power_first)
        sections[count++] = &explain_checks;
    sections[count++] = &explain_why;
    sections[count++] = &explain_telling;
    if (checks_first && !power_first)
        sections[count++] = &explain_checks;
    sections[count++] = &explain_ways;
    if (!checks_first)
        sections[count++] = &explain_checks;
}

static void
say_section (Paper *paper, const ExplainReport *report, const ExplainSection *section)
{
    const char *heading = section->heading (report);

    if (heading == NULL)
        return;
    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_STRONG "%s" MARK_PLAIN, heading);
    section->say (paper, report);
}

static void
append_returns (const ExplainReport *report, gboolean colour, GString *text)
{
    Paper *paper = paper_new (colour);

    if (report->diagnosis->returns->len == 0) {
        g_free (paper_finish (paper));
        return;
    }
    paper_say (paper, 0, 2, MARK_STRONG "For the return form" MARK_PLAIN ", to be copied as it stands");
    g_autofree char *heading = paper_finish (paper);
    g_string_append_printf (text, "\n%s", heading);
    for (guint i = 0; i < report->diagnosis->returns->len; i++) {
        g_autofree char *block = explain_return_text (report, g_ptr_array_index (report->diagnosis->returns, i));

        g_string_append_printf (text, "\n%s", block);
    }
}

char *
report_explain_text (const ExplainReport *report, gboolean colour)
{
    const ExplainSection *sections[EXPLAIN_SECTIONS];
    Paper *paper = paper_new (colour);

    explain_sections (report, sections);
    explain_say_head (paper, report);
    for (guint i = 0; i < G_N_ELEMENTS (sections); i++)
        say_section (paper, report, sections[i]);
    g_autofree char *main_part = paper_finish (paper);
    GString *text = g_string_new (main_part);
    append_returns (report, colour, text);
    return g_string_free (text, FALSE);
}
