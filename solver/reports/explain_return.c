/* SPDX-License-Identifier: MIT */
/* What goes into a return form: plain lines that stay whole in a mail or a form. */
#include "reports/explain_sheet.h"

#define LEAST_CHANCE_SAID 0.005 /* what rounds to nothing is left unsaid */

static void
say_part (Paper *paper, const ExplainReport *report, guint slot)
{
    const Unit *unit = report->unit;
    const Fitted *fitted = &unit->fitted[slot];
    g_autofree char *firmware = explain_firmware (explain_unit_left (report));
    g_autofree char *out = explain_ruled_out (report);

    paper_say (paper, 0, 2, "Part: %s%s%s%s%s, in %s", fitted->part == NULL ? "none" : fitted->part->name,
               fitted->stepping == NULL ? "" : ", stepping ", fitted->stepping == NULL ? "" : fitted->stepping,
               fitted->serial == NULL ? "" : ", serial ", fitted->serial == NULL ? "" : fitted->serial,
               board_slot (unit->board, slot)->name);
    paper_say (paper, 0, 2, "Unit: %s, board %s, revision %s", unit->id, unit->board->name,
               (const char *) g_ptr_array_index (unit->board->revisions, unit->revision));
    if (*firmware != '\0')
        paper_say (paper, 0, 2, "Firmware: %s%s%s%s", firmware, out != NULL ? " (what was seen rules out " : "",
                   out != NULL ? out : "", out != NULL ? ")" : "");
}

static void
say_list (Paper *paper, const char *heading, const GPtrArray *lines)
{
    if (lines->len == 0)
        return;
    paper_say (paper, 0, 2, "%s", heading);
    for (guint i = 0; i < lines->len; i++)
        paper_label (paper, 0, 2, "-", "%s", (const char *) g_ptr_array_index (lines, i));
}

/* It holds of units that break no rule. Some findings say it themselves, or leave no room for it. */
static void
say_chance (Paper *paper, const ExplainReport *report, const ReturnBlock *block)
{
    g_autofree char *chance = words_chance (block->probability);

    if (block->probability < LEAST_CHANCE_SAID || block->verdict == RETURN_CHECKS_LEFT ||
        block->verdict == RETURN_FOUND)
        return;
    paper_say (paper, 0, 2, "Chance that it is this part%s, by shop experience and what was seen: %s",
               report->diagnosis->starts == ALL_START ? "" : ", should no rule be broken", chance);
}

char *
explain_return_text (const ExplainReport *report, const ReturnBlock *block)
{
    Paper *paper = paper_new_plain (EXPLAIN_RETURN_WIDTH);

    say_part (paper, report, block->slot);
    paper_say (paper, 0, 2, "Finding: %s", block->says);
    say_chance (paper, report, block);
    say_list (paper, "Tried and seen:", block->tried);
    say_list (paper, "What that rules out:", block->rules_out);
    say_list (paper, "Not tried yet:", block->left);
    return paper_finish (paper);
}
