/* SPDX-License-Identifier: MIT */
/* The sheet of a unit whose way depends on what is read: what it says at the top, and where it is read. */
#include "reports/batch_sheet.h"

#include <math.h>

#include "reports/branches_text.h"
#include "reports/markup.h"
#include "reports/route_text.h"

/* ---- The top ---- */

static void
say_no_way (Paper *paper, const BatchWay *way)
{
    g_autofree char *releases = batch_no_way_releases (way);
    g_autofree char *shows = releases == NULL ? NULL : batch_no_way_shows (way);

    if (releases != NULL)
        paper_say (paper, 0, 2,
                   MARK_CAUTION
                   "It may turn out to have no way" MARK_PLAIN
                   ": with %s no order of steps leads to what is wanted. That shows %s. Then stop there, as this "
                   "sheet or part says, and ask `rungwise explain` with what was read.",
                   releases, shows);
}

static void
say_which_steps (Paper *paper, const BatchWay *way, guint number)
{
    const GPtrArray *labels = way->words->labels;
    guint common = way->mode->branching->common, count = labels->len;
    g_autofree char *in_any_case =
        common == 0   ? g_strdup ("No step is made in any case")
        : common == 1 ? g_strdup_printf ("%s is made in any case", (const char *) labels->pdata[0])
                      : g_strdup_printf ("%s to %s are made in any case", (const char *) labels->pdata[0],
                                         (const char *) labels->pdata[common - 1]);
    g_autofree char *rest =
        common == count ? g_strdup ("what follows depends on what is read")
                        : g_strdup_printf ("%s and what follows only if what is read says so: they are the longest way",
                                           (const char *) labels->pdata[common]);

    paper_say (paper, 0, 2,
               MARK_CAUTION
               "Its releases are not all known" MARK_PLAIN
               ". %s; %s. The steps are called as on the sheet of situation %u. If something else is read, leave "
               "this sheet and go on by the part of that sheet which is named here where it is read; its times are in "
               "no timetable until the "
               "batch is planned anew with what was read.",
               in_any_case, rest, number);
}

static void
say_lots (Paper *paper, const BatchWay *way, const GArray *lots)
{
    for (guint i = 0; i < lots->len; i++) {
        const Lot *lot = &g_array_index (lots, Lot, i);
        g_autofree char *part = batch_short_part (lot->part, lot->stepping);
        g_autofree char *when = batch_lot_condition (way, lot);

        if (lot->owner == OWNER_LOAN)
            paper_say (paper, 0, 2,
                       MARK_STRONG "It may also need" MARK_PLAIN
                                   " %u %s from the loan shelf, %s; not in the timetable.",
                       lot->count, part, when);
        else
            paper_say (paper, 0, 2, MARK_STRONG "Kept for it in the stock" MARK_PLAIN ": %u %s, taken only %s.",
                       lot->count, part, when);
    }
}

void
batch_page_put_open_head (const BatchUnit *unit, const ModeSheet *sheet, guint number, GString *out)
{
    const BatchWay *way = sheet->way;
    Paper *paper = NULL;

    if (!unit->open)
        return;
    paper = paper_new_page ();
    say_no_way (paper, way);
    say_which_steps (paper, way, number);
    plan_text_may_have (paper, way->of->unit);
    say_lots (paper, way, way->mode->branching->lent);
    say_lots (paper, way, way->mode->branching->stock);
    if (way->mode->branching->longer > 0)
        paper_say (paper, 0, 2, "Another way may take up to %.0f min longer than the timetable has.",
                   ceil (way->mode->branching->longer));
    g_string_append (out, "<div class=\"mind\">");
    page_put_paper (paper, out);
    g_string_append (out, "</div>\n");
}

/* ---- Readings ---- */

static const PlanPart *
part_of (const ModeSheet *sheet, const Branch *branch)
{
    return plan_part_of (sheet->plan->parts, branch);
}

/* Where it goes on, of all that may be read. */
static void
say_row (Paper *paper, const ModeSheet *sheet, const BatchReading *reading, const Branch *next, guint number)
{
    const PlanPart *part = part_of (sheet, next);
    g_autofree char *condition = plan_part_condition (part);

    if (next->then == THEN_GIVE_UP && next->steps->len == 0) {
        paper_say (paper, 4, 6,
                   "%s: " MARK_BAD "no way on" MARK_PLAIN
                   ". Stop here, and ask `rungwise explain` with what was read.",
                   condition);
        plan_text_set_aside (paper, part, 6);
    } else if (next != reading->next) {
        paper_say (paper, 4, 6,
                   "%s: leave this sheet, go on by " MARK_STRONG "part %s" MARK_PLAIN " on the sheet of situation %u",
                   condition, part->letter, number);
    } else if (next->then == THEN_END && next->steps->len == 0) {
        paper_say (paper, 4, 6, "%s: it is what is wanted, no further step is needed", condition);
    } else {
        paper_say (paper, 4, 6, "%s: go on below, with " MARK_STRONG "part %s" MARK_PLAIN, condition, part->letter);
    }
}

static void
put_reading (const BatchUnit *unit, const ModeSheet *sheet, guint index, guint number, GString *out)
{
    const BatchReading *reading = &g_array_index (sheet->way->mode->branching->readings, BatchReading, index);
    const PlanPart *after = part_of (sheet, reading->after);
    guint count = sheet->way->mode->steps->len;
    g_autofree char *minutes = words_minutes (reading->minutes);
    g_autofree char *when =
        count == 0 ? g_strdup_printf ("%s, not in the timetable", minutes)
                   : g_strdup_printf ("%s, in the time of step %u", minutes, MIN (reading->before + 1, count));
    Paper *paper = paper_new_page (), *record = paper_new_page ();

    plan_text_reading (paper, sheet->plan, after);
    for (guint i = 0; i < reading->after->next->len; i++)
        say_row (paper, sheet, reading, reading->after->next->pdata[i], number);
    plan_text_reading_else (paper, after);
    batch_page_put_across (paper, "mind", out);
    g_string_append_printf (out,
                            "<tr class=\"step\"><td class=\"tick\"><span class=\"box\"></span></td>"
                            "<td class=\"when\">%s</td><td>\n",
                            when);
    batch_say_record_reading (record, unit, sheet, index);
    page_put_paper (record, out);
    g_string_append (out, "</td><td class=\"note\">read:</td></tr>\n");
}

void
batch_page_put_readings (const BatchUnit *unit, const ModeSheet *sheet, guint step, guint number, GString *out)
{
    const BatchBranching *branching = sheet->way->mode->branching;

    for (guint i = 0; unit->open && i < branching->readings->len; i++) {
        const BatchReading *reading = &g_array_index (branching->readings, BatchReading, i);

        if (reading->before == step)
            put_reading (unit, sheet, i, number, out);
    }
}

gboolean
batch_say_above_branch (Paper *paper, const ModeSheet *sheet, guint step)
{
    const BatchBranching *branching = sheet->way->mode->branching;
    guint leg = 0;

    if (branching == NULL || step < branching->common || step >= branching->legs->len)
        return FALSE;
    leg = g_array_index (branching->legs, guint, step);
    if (step > 0 && g_array_index (branching->legs, guint, step - 1) == leg)
        return FALSE;
    const PlanPart *part = plan_part (sheet->plan, leg);
    route_text_above_step (paper, &part->report, part->account, 0);
    return TRUE;
}

gboolean
batch_ends_read (const ModeSheet *sheet)
{
    const BatchBranching *branching = sheet->way->mode->branching;
    const BatchReading *last = branching == NULL || branching->readings->len == 0
                                   ? NULL
                                   : &g_array_index (branching->readings, BatchReading, branching->readings->len - 1);

    return last != NULL && last->before == sheet->way->mode->steps->len && last->after->then == THEN_TRY;
}

void
batch_page_put_number (const ModeSheet *sheet, guint step, GString *out)
{
    if (sheet->way->words != NULL)
        g_string_append_printf (out, "<br/>step %u", step + 1);
}

void
batch_page_put_condition (const BatchUnit *unit, const ModeSheet *sheet, guint step, GString *out)
{
    const BatchWords *words = sheet->way->words;

    if (words == NULL || !unit->open || words->conditions->pdata[step] == NULL)
        return;
    g_string_append (out, "<p>Only if ");
    markup_put (out, words->conditions->pdata[step]);
    g_string_append (out, ":</p>\n");
}
