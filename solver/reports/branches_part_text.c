/* SPDX-License-Identifier: MIT */
/* One part of a plan with branches: what leads to it, what is read at its end, how it ends. */
#include "reports/branches_text.h"

#include "reports/releases_text.h"
#include "reports/route_text.h"

static void
say_amounts (Paper *paper, const PlanPart *part)
{
    g_autofree char *steps = words_count (part->branch->steps->len, "step", "steps");
    g_autofree char *minutes = words_minutes (plan_part_minutes (part));
    double attended = 0;

    if (part->account == NULL)
        return;
    for (guint i = 0; i < part->account->steps->len; i++)
        attended += ((const StepAccount *) part->account->steps->pdata[i])->attended;
    g_autofree char *by_hand = words_number (attended);
    if (part->after == NULL || part->after->way->len == 0)
        paper_say (paper, 0, 2, "%s; %s without starts, %s of them attended.", steps, minutes, by_hand);
    else
        paper_say (paper, 0, 2, "%s, %u from the beginning of part A on; %s without starts, %s of them attended.",
                   steps, part->way->len, minutes, by_hand);
}

static void
say_came_in (Paper *paper, const PlanPart *part)
{
    g_autoptr (GPtrArray) cases = g_ptr_array_new ();
    g_autofree char *came_in = NULL;

    for (guint i = 0; i < part->came_in->len; i++)
        g_ptr_array_add (cases, ((const State *) part->came_in->pdata[i])->releases);
    came_in = releases_in_words (part->way_report.unit, cases);
    paper_say (paper, 0, 2, "It came in with %s%s.", came_in, plan_part_is_running (part) ? ", and runs now" : "");
}

void
plan_text_part_facts (Paper *paper, const PlanPart *part)
{
    if (part->after != NULL)
        say_came_in (paper, part);
    if (part->branch->dark)
        paper_say (paper, 0, 2,
                   MARK_CAUTION
                   "Dark for another reason?" MARK_PLAIN
                   " This part takes it that nothing but the release keeps the unit dark. A part, a lead or "
                   "a supply may do so too: `rungwise explain` says what to look at.");
    say_amounts (paper, part);
    if (part->branch->steps->len == 0 && part->branch->then == THEN_END)
        paper_say (paper, 0, 2,
                   MARK_GOOD "No step is needed" MARK_PLAIN
                             ": the unit starts as it stands, and it is what is wanted.");
}

/* ---- The reading ---- */

static void
say_end_cautions (Paper *paper, const PlanPart *part)
{
    if (part->account != NULL)
        route_text_cautions (paper, 2, part->account->end_cautions);
}

static double
dark_after (const PlanSheet *sheet)
{
    return shop_dark_after_minutes (sheet->report->shop, sheet->report->unit->board);
}

static void
say_try (Paper *paper, const PlanSheet *sheet, const PlanPart *part)
{
    g_autofree char *wait = words_minutes (dark_after (sheet));

    paper_say (paper, 0, 2, MARK_STRONG "Then try a start" MARK_PLAIN);
    say_end_cautions (paper, part);
    paper_say (paper, 2, 4,
               "Start it now and wait up to %s; only then count it as dark. Where it starts, read the releases that it "
               "shows, and note them:",
               wait);
}

static void
say_read (Paper *paper, const PlanSheet *sheet, const PlanPart *part)
{
    const Component *component = board_component (sheet->report->unit->board, part->branch->component);
    g_autofree char *minutes = words_minutes (component->page.minutes);

    paper_say (paper, 0, 2, MARK_STRONG "Then read the release of %s" MARK_PLAIN, component->name);
    say_end_cautions (paper, part);
    paper_say (paper, 2, 4,
               "Mains in, host off: read the release of %s on the controller's page (%s), and note it. Nothing is "
               "started for this:",
               component->name, minutes);
}

void
plan_text_reading (Paper *paper, const PlanSheet *sheet, const PlanPart *part)
{
    if (part->branch->next->len == 0)
        return;
    paper_blank (paper);
    if (part->branch->then == THEN_TRY)
        say_try (paper, sheet, part);
    else
        say_read (paper, sheet, part);
}

static gboolean
may_stay_dark (const PlanPart *part)
{
    for (guint i = 0; i < part->branch->next->len; i++)
        if (((const Branch *) part->branch->next->pdata[i])->dark)
            return TRUE;
    return FALSE;
}

void
plan_text_reading_else (Paper *paper, const PlanPart *part)
{
    if (part->branch->next->len == 0)
        return;
    if (part->branch->then == THEN_TRY && !may_stay_dark (part))
        paper_say (
            paper, 2, 4,
            "It should start with every release that it may have. Where it stays dark all the same, something else "
            "is wrong: stop, and see `rungwise explain`.");
    paper_say (paper, 2, 4, "Where it shows anything else, stop: %s.",
               part->report.in_batch ? "record what was read, and plan the batch anew"
                                     : "put what was read into the unit's file, and plan again");
}

/* ---- The end ---- */

/* "dorvan-4c (stepping a1) out of cpu1", one for each that is lent and in it. Transfer full (GPtrArray of char*). */
static GPtrArray *
loaners_inside (const PlanPart *part)
{
    const State *last = part->ends->pdata[0];
    GPtrArray *words = g_ptr_array_new_with_free_func (g_free);

    for (guint s = 0; s < last->board->slots->len; s++) {
        const Held *held = &last->held[s];
        g_autofree char *name = words_part (held->part, held->stepping);

        if (held->part != NULL && held->owner == OWNER_LOAN)
            g_ptr_array_add (words, g_strdup_printf ("%s out of %s", name, board_slot (last->board, s)->name));
    }
    return words;
}

/* Whatever was tried before, the unit has power by now: taking a loaner out is an opening. */
void
plan_text_set_aside (Paper *paper, const PlanPart *part, guint indent)
{
    g_autoptr (GPtrArray) lent = loaners_inside (part);
    g_autoptr (GArray) cautions = NULL;
    g_autofree char *parts = text_join (lent, "and");

    if (lent->len == 0) {
        paper_say (paper, indent, indent + 2, "Switch it off, and set the unit aside as it is; nothing lent is in it.");
        return;
    }
    cautions = cautions_of_opening_again (part->report.library->cautions);
    paper_say (paper, indent, indent + 2,
               MARK_STRONG "Then what is lent goes back" MARK_PLAIN ": switch the unit off and isolate it. Take %s, and give %s back to where %s "
                           "fetched. Cover the socket, close the unit, and set it aside as it is.",
               parts, lent->len == 1 ? "it" : "them", lent->len == 1 ? "it was" : "they were");
    route_text_cautions (paper, indent, cautions);
}

void
plan_text_give_up (Paper *paper, const PlanPart *part)
{
    paper_blank (paper);
    paper_say (paper, 0, 2,
               MARK_BAD "No way on" MARK_PLAIN ": no order of steps leads from here to what is wanted. Stop here.");
    paper_say (
        paper, 2, 4,
        "Put what was read into the unit's file and plan again: the answer says what stands in the way, and what "
        "would open a way.");
    plan_text_set_aside (paper, part, 2);
}

void
plan_text_below (Paper *paper, const PlanPart *part)
{
    if (part->branch->then == THEN_END && part->way_account != NULL) {
        route_text_end (paper, &part->way_report, part->way_account);
        route_text_before_it_leaves (paper, &part->way_report, part->way_account, NULL);
    }
    if (part->account != NULL)
        route_text_recovery (paper, &part->report, part->account);
}
