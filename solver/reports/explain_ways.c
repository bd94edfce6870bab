/* SPDX-License-Identifier: MIT */
/* The ways out of the dark, cheapest first, each with its steps in brief. */
#include "reports/explain_sheet.h"
#include "reports/releases_text.h"
#include "reports/route_none_text.h"
#include "route/branched.h"

#include <string.h>

#define SHELL_COLUMNS 88 /* of a line to be copied, so that it fits with its indent and its backslash */

/* A part that goes in where it is only asked about so far. */
static gboolean
fits_what_is_asked (const ExplainReport *report, const Step *step)
{
    const Fitted *asked = NULL, *there = NULL;

    if (report->before == NULL || step->kind != STEP_FIT)
        return FALSE;
    asked = &report->unit->fitted[step->slot];
    there = &report->before->fitted[step->slot];
    return asked->part == step->part && asked->stepping == step->stepping && step->owner == OWNER_STOCK &&
           (asked->part != there->part || asked->stepping != there->stepping);
}

/* Transfer full. */
static char *
step_in_words (const ExplainReport *report, const Step *step)
{
    const Board *board = report->unit->board;
    g_autofree char *part = NULL;

    if (!fits_what_is_asked (report, step))
        return words_step (board, step);
    part = words_part (step->part, step->stepping);
    return g_strdup_printf ("fit %s, the part that is asked about, in %s", part, board_slot (board, step->slot)->name);
}

void
explain_say_steps (Paper *paper, guint indent, const ExplainReport *report, const GArray *steps)
{
    for (guint i = 0; i < steps->len; i++) {
        g_autofree char *label = g_strdup_printf ("%u.", i + 1);
        g_autofree char *sentence = step_in_words (report, &g_array_index (steps, Step, i));

        paper_label (paper, indent, indent + 4, label, "%s", sentence);
    }
}

static const char *
ways_heading (const ExplainReport *report)
{
    const Diagnosis *diagnosis = report->diagnosis;

    if (diagnosis->ways->len == 0 && diagnosis->none == NULL)
        return NULL;
    return diagnosis->ways->len > 1 ? "Ways out, the cheapest first" : "Ways out";
}

/* ---- One way ---- */

static char *
way_in_words (const ExplainReport *report, const WayOut *way)
{
    g_autofree char *wanted = NULL;
    g_autofree char *processors = NULL;

    switch (way->kind) {
    case WAY_WANTED:
        wanted = words_want (report->unit->board, report->want);
        return g_strdup_printf ("what is wanted (%s)", wanted);
    case WAY_SAME_PROCESSORS:
        return g_strdup (report->before == NULL ? "with the same processors" : "with the parts that are asked about");
    case WAY_OTHER_PARTS:
        if (way->answer->walk == NULL)
            return g_strdup ("to a start with whatever parts it takes");
        processors = explain_processors (report->unit->board, way->answer->walk->last->held);
        return g_strdup_printf ("to a start with whatever parts it takes (%s)", processors);
    }
    g_assert_not_reached ();
}

/* Of the cheapest way alone: what is proved of the others holds among their own kind, which says little here. */
static const char *
claim_in_words (Objective objective, gboolean is_first, gboolean proved)
{
    static const char *const least[OBJECTIVE_COUNT] = { "; no way has fewer steps, proved",
                                                        "; no way has fewer insertions, proved",
                                                        "; no way is faster, proved" };

    return !proved ? "; the best found, not proved" : is_first ? least[objective] : "";
}

static void
say_counts (Paper *paper, guint number, const char *what, const RouteAnswer *answer)
{
    g_autofree char *label = g_strdup_printf ("%u.", number);
    const Walk *walk = answer->walk;
    g_autofree char *steps = words_count (walk->steps, "step", "steps");
    g_autofree char *insertions = words_count (walk->insertions, "insertion", "insertions");
    g_autofree char *minutes = words_minutes (walk->minutes);

    paper_label (paper, 2, 5, label, MARK_STRONG "%s" MARK_PLAIN ": %s, %s of processors, %s%s", what, steps,
                 insertions, minutes,
                 claim_in_words (answer->objective, number == 1, answer->claim == CLAIM_PROVED_SHORTEST));
}

/* ---- With branches ---- */

static const char *
then_in_words (Then then)
{
    switch (then) {
    case THEN_END:
        return "done: the unit starts";
    case THEN_TRY:
        return "try a start";
    case THEN_READ:
        return "read the controller's page";
    case THEN_GIVE_UP:
        return "no way on is known from here";
    }
    g_assert_not_reached ();
}

/* What is known on this branch: how the start went, or the releases that are left. Transfer full. */
static char *
branch_in_words (const Unit *unit, const Branch *before, const Branch *branch)
{
    g_autofree char *releases = releases_in_words (unit, branch->cases);

    if (before->then == THEN_TRY && branch->dark)
        return g_strdup ("if it stays dark");
    return g_strdup_printf (before->then == THEN_TRY ? "if it starts (it came with %s)" : "if it came with %s",
                            releases);
}

static void
say_branch (Paper *paper, const ExplainReport *report, const Branch *branch, guint indent)
{
    const Board *board = report->unit->board;

    explain_say_steps (paper, indent, report, branch->steps);
    if (branch->then == THEN_READ)
        paper_label (paper, indent, indent + 4, "-", "%s for %s", then_in_words (branch->then),
                     board_component (board, branch->component)->name);
    else
        paper_label (paper, indent, indent + 4, "-", "%s", then_in_words (branch->then));
    for (guint i = 0; i < branch->next->len; i++) {
        const Branch *next = g_ptr_array_index (branch->next, i);
        g_autofree char *words = branch_in_words (explain_unit_of_ways (report), branch, next);

        paper_say (paper, indent, indent + 2, MARK_STRONG "%s:" MARK_PLAIN, words);
        say_branch (paper, report, next, MIN (indent + 4, 21));
    }
}

/* Those that have no way even when they are known. Transfer full. */
static char *
cases_given_up (const ExplainReport *report, const BranchCheck *check)
{
    g_autoptr (GPtrArray) cases = g_ptr_array_new ();

    for (guint i = 0; i < check->costs->len; i++)
        if (g_array_index (check->costs, BranchCost, i).given_up)
            g_ptr_array_add (cases, (gpointer) g_array_index (check->costs, BranchCost, i).releases);
    return releases_in_words (explain_unit_of_ways (report), cases);
}

static void
say_branches (Paper *paper, const ExplainReport *report, guint number, const char *what, const RouteAnswer *answer)
{
    g_autofree char *label = g_strdup_printf ("%u.", number);
    const BranchAnswer *branches = answer->branches;
    g_autofree char *steps = words_count (branches->check->worst_steps, "step", "steps");
    g_autofree char *minutes = words_minutes (branches->check->worst_minutes);
    g_autofree char *expected = words_number (branches->check->expected_steps);

    paper_label (paper, 2, 5, label,
                 MARK_STRONG "%s" MARK_PLAIN ", by what is read on the way: %s and %s at most, %s steps on average%s",
                 what, steps, minutes, expected,
                 branches->claim != CLAIM_PROVED_SHORTEST ? "; the best found, not proved"
                 : number == 1                            ? "; no plan does better at the worst, proved"
                                                          : "");
    if (branches->check->given_up > 0) {
        g_autofree char *cases = cases_given_up (report, branches->check);

        paper_say (paper, 5, 7, "No way out where it came with %s.", cases);
    }
    say_branch (paper, report, branches->plan, 5);
}

/* ---- The line that prints the sheet ---- */

/* What the slot holds where the way ends; NULL: nothing. FALSE where that depends on the releases. */
static gboolean
part_at_end (const RouteAnswer *answer, guint slot, const Part **part)
{
    gboolean some = FALSE;

    if (answer->branches == NULL) {
        *part = answer->walk == NULL ? NULL : answer->walk->last->held[slot].part;
        return answer->walk != NULL;
    }
    for (guint i = 0; i < answer->branches->legs->len; i++) {
        const BranchLeg *leg = g_ptr_array_index (answer->branches->legs, i);
        const Part *held =
            leg->answer->walk != NULL ? leg->answer->walk->last->held[slot].part : leg->unit->fitted[slot].part;

        if (leg->branch->then != THEN_END)
            continue;
        if (some && held != *part)
            return FALSE;
        *part = held;
        some = TRUE;
    }
    return some;
}

/* The words that ask `plan` for this way; NULL where the files' own want would be in the way of it. Transfer full. */
static GPtrArray *
words_that_plan (const ExplainReport *report, const WayOut *way)
{
    const Board *board = report->unit->board;
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

    if (report->again == NULL || (way->kind != WAY_WANTED && report->want != NULL))
        return NULL;
    g_ptr_array_add (words, g_strdup ("rungwise plan"));
    for (const char *const *word = report->again; *word != NULL; word++)
        g_ptr_array_add (words, g_strdup (*word));
    if (way->kind == WAY_WANTED)
        return g_steal_pointer (&words);
    for (guint s = 0; s < board->slots->len; s++) {
        const Part *part = NULL;

        if (board_slot (board, s)->takes != KIND_PROCESSOR)
            continue;
        if (!part_at_end (way->answer, s, &part))
            return NULL;
        if (part != NULL)
            g_ptr_array_add (words, g_strdup_printf ("--want %s=%s", board_slot (board, s)->name, part->name));
    }
    return g_steal_pointer (&words);
}

/* "1.4.0", or "[1.2.0, 1.4.0]", as a unit's file takes it. Transfer full. */
static char *
releases_as_yaml (const Component *component, const UnitRelease *known)
{
    GString *yaml = g_string_new (known->count > 1 ? "[" : "");

    for (guint r = 0, said = 0; r < component->releases->len; r++)
        if (known->may_be[r])
            g_string_append_printf (yaml, "%s\"%s\"", said++ > 0 ? ", " : "", component_release (component, r)->name);
    g_string_append (yaml, known->count > 1 ? "]" : "");
    return g_string_free (yaml, FALSE);
}

/* Planning goes by the unit's file alone: what was seen has to be in there. And a part has to be at hand. */
static void
say_what_to_write_down (Paper *paper, const ExplainReport *report)
{
    const Unit *left = explain_unit_left (report);
    g_autofree char *out = explain_ruled_out (report);

    if (out != NULL)
        paper_say (paper, 5, 7,
                   "`plan` does not read what was seen. So first write what it leaves into the unit's file, under "
                   "`firmware`:");
    for (guint c = 0; out != NULL && c < left->board->components->len; c++) {
        const Component *component = board_component (left->board, c);
        g_autofree char *yaml = releases_as_yaml (component, &left->releases[c]);

        if (left->releases[c].count < report->unit->releases[c].count)
            paper_say (paper, 7, 9, "%s: %s", component->name, yaml);
    }
    if (report->before != NULL)
        paper_say (paper, 5, 7, "Once the part is at hand, write it into the shop's file, under `stock`.");
}

static void
say_sheet (Paper *paper, const ExplainReport *report, const WayOut *way)
{
    g_autoptr (GPtrArray) words = words_that_plan (report, way);
    g_autoptr (GString) line = g_string_new (NULL);

    if (words == NULL)
        return;
    say_what_to_write_down (paper, report);
    paper_say (paper, 5, 7, "The whole sheet, with what to mind at each step%s:",
               report->asked == NULL ? "" : ", from the unit as it is now");
    for (guint i = 0; i < words->len; i++) {
        const char *word = g_ptr_array_index (words, i);

        if (line->len > 0 && line->len + strlen (word) > SHELL_COLUMNS) {
            paper_say (paper, 7, 7, "%s \\", line->str);
            g_string_truncate (line, 0);
        }
        g_string_append_printf (line, "%s%s", line->len > 0 ? " " : "", word);
    }
    paper_say (paper, 7, 7, "%s", line->str);
}

/* The number of the first way of its kind that is said before this one; 0: there is none. */
static guint
first_of_its_kind (const ExplainReport *report, guint number)
{
    const GPtrArray *ways = report->diagnosis->ways;

    for (guint i = 0; i + 1 < number; i++)
        if (((const WayOut *) ways->pdata[i])->kind == ((const WayOut *) ways->pdata[number - 1])->kind)
            return i + 1;
    return 0;
}

static void
say_way (Paper *paper, const ExplainReport *report, guint number)
{
    guint first = first_of_its_kind (report, number);
    const WayOut *way = g_ptr_array_index (report->diagnosis->ways, number - 1);
    g_autofree char *label = g_strdup_printf ("%u.", number);
    g_autofree char *what = way_in_words (report, way);

    if (way->answer->branches != NULL) {
        say_branches (paper, report, number, what, way->answer);
    } else if (way->answer->steps->len == 0) {
        paper_label (paper, 2, 5, label, MARK_STRONG "%s" MARK_PLAIN ": no step is needed", what);
    } else {
        say_counts (paper, number, what, way->answer);
        explain_say_steps (paper, 5, report, way->answer->steps);
    }
    g_autoptr (GPtrArray) words = words_that_plan (report, way);
    if (first == 0)
        say_sheet (paper, report, way);
    else if (words != NULL)
        paper_say (paper, 5, 7, "The sheet that way %u asks for has it too, with --alternatives %u.", first,
                   report->diagnosis->ways->len + 1);
}

static void
say_none (Paper *paper, const ExplainReport *report)
{
    const RouteReport route = {
        .library = report->library,
        .shop = report->diagnosis->before_shop != NULL ? report->diagnosis->before_shop : report->shop,
        .unit = explain_unit_of_ways (report),
        .want = report->diagnosis->none_want,
        .none = report->diagnosis->none,
    };

    if (report->diagnosis->ways->len > 0)
        paper_blank (paper);
    paper_say (paper, 0, 2, "With the %s there is no way, and that is proved.",
               report->before == NULL ? "same processors" : "parts that are asked about");
    none_text_facts (paper, &route);
    none_text_additions (paper, route.none);
}

static void
say_ways (Paper *paper, const ExplainReport *report)
{
    for (guint i = 1; i <= report->diagnosis->ways->len; i++)
        say_way (paper, report, i);
    if (report->diagnosis->none != NULL)
        say_none (paper, report);
}

const ExplainSection explain_ways = { ways_heading, say_ways };
