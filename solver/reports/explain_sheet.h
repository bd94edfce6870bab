/* SPDX-License-Identifier: MIT */
/* The sections of an explanation, said on a paper; text and page put them together. For explain_*.c only. */
#ifndef RUNGWISE_EXPLAIN_SHEET_H
#define RUNGWISE_EXPLAIN_SHEET_H

#include "reports/paper.h"
#include "reports/reports.h"
#include "reports/words.h"

#define EXPLAIN_RETURN_WIDTH 72 /* columns of what is pasted into a form */

/* One section. `heading`: NULL where there is nothing to say. */
typedef struct {
    const char *(*heading) (const ExplainReport *report);
    void (*say) (Paper *paper, const ExplainReport *report);
} ExplainSection;

/* Unit, what is fitted, and the verdict in a sentence or two. */
void explain_say_head (Paper *paper, const ExplainReport *report);

extern const ExplainSection explain_seen, explain_why, explain_telling, explain_ways, explain_checks;

#define EXPLAIN_SECTIONS 5
/* All of them, in the order in which they are due: what to check comes before the ways out where no rule is broken, and
 * before all else where no power reaches the board. */
void explain_sections (const ExplainReport *report, const ExplainSection *sections[EXPLAIN_SECTIONS]);
/* No power reaches the board, by what was seen: nothing is settled by a start before that is put right. */
gboolean explain_power_is_out (const ExplainReport *report);

/* ---- Pieces that several sections, or text and page, share ---- */

/* "system 1.0.2 or 1.4.0 and controller 2.0": the releases that tell this case from others; "" where none does. Transfer
 * full. */
char *explain_case_in_words (const Unit *unit, const DarkCase *one);
/* "31 %"; "under 1 %". Transfer full. */
char *words_chance (double probability);
/* "says (file:line; source: ...)". Transfer full. */
char *words_with_place (const char *says, Mark at, const Source *source);
/* "cpu1 elvane-8c (stepping b1)": what the processor slots hold; "no processor". Transfer full. */
char *explain_processors (const Board *board, const Held *held);
/* "system 1.4.0 or 2.1.0 and controller (its last write failed)"; "" for a board without firmware. Transfer full. */
char *explain_firmware (const Unit *unit);
/* "system 3.0.0 or 3.0.1": the releases that what was seen rules out; NULL: none. Transfer full. */
char *explain_ruled_out (const ExplainReport *report);
/* The unit with the releases that what was seen leaves. */
const Unit *explain_unit_left (const ExplainReport *report);
/* The unit that ways out begin with: without what is only asked about, and with the releases that are left. */
const Unit *explain_unit_of_ways (const ExplainReport *report);
/* Minutes that a first start may stay dark. */
double explain_dark_after (const ExplainReport *report);
/* PowerBit mask: powered how it may do damage, with some of the releases; 0: it may not, as far as was looked. */
guint explain_harms_while (const ExplainReport *report);
/* Steps in brief, numbered. */
void explain_say_steps (Paper *paper, guint indent, const ExplainReport *report, const GArray *steps);

/* No check is left that finds anything; the section of the checks then says what is left, without a list. */
gboolean explain_only_board_is_left (const ExplainReport *report);
/* What stands above the checks: what they are for, cautions. */
void explain_say_before_checks (Paper *paper, const ExplainReport *report);
/* What stands below: more cautions, how long, what is left, what is ruled out, where the numbers are from. */
void explain_say_after_checks (Paper *paper, const ExplainReport *report);
/* "a bent contact in the socket (9 %) or dirt on it (8 %)"; of one alone without its chance. Transfer full. */
char *explain_check_finds (const PhysicalCauses *physical, const CheckDue *check);
/* The cautions for the work of a check (GArray of DueCaution), in full where no check before it called for them. Transfer full. */
GArray *explain_check_cautions (const ExplainReport *report, guint index);
/* It is the last, and by then the only one left. */
gboolean explain_check_is_needless (const PhysicalCauses *physical, guint index);

/* One block of the return form, plain, for pasting. Transfer full. */
char *explain_return_text (const ExplainReport *report, const ReturnBlock *block);

#endif
