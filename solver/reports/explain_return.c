/* SPDX-License-Identifier: MIT */
/* What goes into a return form: plain lines that stay whole in a mail or a form. */
#include "reports/explain_sheet.h"

static void
say_part (Paper *paper, const ExplainReport *report, guint slot)
{
    const Unit *unit = report->unit;
    const Fitted *fitted = &unit->fitted[slot];
    g_autofree char *firmware = explain_firmware (unit);

    paper_say (paper, 0, 2, "Part: %s%s%s%s%s, in %s", fitted->part == NULL ? "none" : fitted->part->name,
               fitted->stepping == NULL ? "" : ", stepping ", fitted->stepping == NULL ? "" : fitted->stepping,
               fitted->serial == NULL ? "" : ", serial ", fitted->serial == NULL ? "" : fitted->serial,
               board_slot (unit->board, slot)->name);
    paper_say (paper, 0, 2, "Unit: %s, board %s, revision %s", unit->id, unit->board->name,
               (const char *) g_ptr_array_index (unit->board->revisions, unit->revision));
    if (*firmware != '\0')
        paper_say (paper, 0, 2, "Firmware: %s", firmware);
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

char *
explain_return_text (const ExplainReport *report, const ReturnBlock *block)
{
    Paper *paper = paper_new_plain (EXPLAIN_RETURN_WIDTH);

    say_part (paper, report, block->slot);
    paper_say (paper, 0, 2, "Finding: %s", block->says);
    if (block->probability > 0 && block->verdict != RETURN_CHECKS_LEFT) { /* that one says it itself */
        g_autofree char *chance = words_chance (block->probability);

        paper_say (paper, 0, 2, "Chance that it is this part, by shop experience and what was seen: %s", chance);
    }
    say_list (paper, "Tried and seen:", block->tried);
    say_list (paper, "What that rules out:", block->rules_out);
    say_list (paper, "Not tried yet:", block->left);
    return paper_finish (paper);
}
