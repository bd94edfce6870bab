/* SPDX-License-Identifier: MIT */
/* What stands below the steps of a sheet: how the unit ends, its sockets, looks, alternatives. */
#include "reports/route_sheet.h"

/* ---- The end ---- */

static void
say_slot_end (Paper *paper, const RouteReport *report, const State *last, guint slot)
{
    const Fitted *began = unit_began (report->unit, slot);
    const Held *held = &last->held[slot];
    g_autofree char *part = words_part (held->part, held->stepping);

    if (began->part == held->part && began->stepping == held->stepping && held->owner == began->owner)
        return;
    if (held->part == NULL)
        paper_say (paper, 2, 4, "%s: empty", board_slot (last->board, slot)->name);
    else
        paper_say (paper, 2, 4, "%s: %s, %s", board_slot (last->board, slot)->name, part, words_owner (held->owner));
}

static void
say_component_end (Paper *paper, const RouteReport *report, const State *last, guint index)
{
    const Component *component = board_component (last->board, index);
    const UnitRelease *began = &report->unit->releases[index];
    gboolean failed = report->unit->failed != NULL && report->unit->failed[index];

    if (began->count == 1 && began->may_be[last->releases[index]] && !failed)
        return;
    if (steps_write_component (last->board, report->answer->steps, report->answer->steps->len, index))
        paper_say (paper, 2, 4, "%s: %s", component->name, component_release (component, last->releases[index])->name);
}

static void
say_images (Paper *paper, const RouteReport *report, const State *last)
{
    g_autoptr (GArray) equal = components_with_equal_images (report, last);

    for (guint i = 0; i < equal->len; i++) {
        guint index = g_array_index (equal, guint, i);
        const Component *component = board_component (last->board, index);

        paper_say (paper, 2, 4, "%s: both images hold %s in the end", component->name,
                   component_release (component, last->releases[index])->name);
    }
}

static void
say_sockets (Paper *paper, const RouteReport *report, const State *last)
{
    g_autoptr (GArray) counts = socket_counts (report->unit, last);
    gboolean headed = FALSE;

    for (guint i = 0; i < counts->len; i++) {
        const SocketCount *count = &g_array_index (counts, SocketCount, i);

        /* A socket that is left alone, and far from its rating, is nobody's concern here. */
        if (count->after == count->had && !count->worn)
            continue;
        if (!headed) {
            paper_blank (paper);
            paper_say (paper, 0, 2, MARK_STRONG "Insertions of the sockets" MARK_PLAIN);
            headed = TRUE;
        }
        paper_say (paper, 2, 4, "%s: %u so far%s, %u after this route, %u rated%s",
                   board_slot (last->board, count->slot)->name, count->had,
                   count->counted ? "" : " (not stated, taken as 0)", count->after, count->rated,
                   count->after >= count->rated ? "; " MARK_BAD "used up" MARK_PLAIN ": nothing more goes in"
                   : count->worn                ? "; " MARK_BAD "nearly used up" MARK_PLAIN ": 90 % or more"
                                                : "");
    }
}

void
route_text_end (Paper *paper, const RouteReport *report, const RouteAccount *account)
{
    const State *last = account->last;

    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_STRONG "At the end the unit starts" MARK_PLAIN " and has changed in:");
    for (guint s = 0; s < last->board->slots->len; s++)
        if (unit_began (report->unit, s)->part != NULL || last->held[s].part != NULL)
            say_slot_end (paper, report, last, s);
    for (guint c = 0; c < last->board->components->len; c++)
        say_component_end (paper, report, last, c);
    say_images (paper, report, last);
    say_sockets (paper, report, last);
}

/* ---- Before a part is blamed ---- */

void
route_text_looks (Paper *paper, const RouteReport *report)
{
    g_autoptr (GPtrArray) looks = looks_of_steps (report->library, report->answer->steps);

    if (looks->len == 0)
        return;
    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_STRONG "Before you blame a part" MARK_PLAIN);
    for (guint i = 0; i < looks->len; i++) {
        const LookFirst *look = looks->pdata[i];
        g_autofree char *minutes = words_minutes (look->minutes);

        paper_say (paper, 2, 4, MARK_STRONG "%s" MARK_PLAIN " (%s): %s", look->id, minutes, look->says);
    }
}

/* ---- Alternatives ---- */

char *
needed_loaners_in_words (const Needed *needed)
{
    g_autoptr (GPtrArray) loaners = g_ptr_array_new_with_free_func (g_free);

    for (guint i = 0; i < needed->lots->len; i++) {
        const Lot *lot = &g_array_index (needed->lots, Lot, i);
        g_autofree char *part = words_part (lot->part, lot->stepping);

        if (lot->owner == OWNER_LOAN)
            g_ptr_array_add (loaners, g_strdup_printf ("%u %s", lot->count, part));
    }
    return loaners->len == 0 ? g_strdup ("none") : text_join (loaners, "and");
}

static char *
alternative_without_in_words (const Alternative *alternative)
{
    g_autofree char *joined = text_join (alternative->without, "and");

    return alternative->without->len == 0 ? g_strdup ("; the route above") : g_strdup_printf ("; without %s", joined);
}

static void
say_row (Paper *paper, guint number, const Alternative *alternative)
{
    const Walk *walk = alternative->answer->walk;
    g_autofree char *minutes = words_number (walk->minutes);
    g_autofree char *loaners = needed_loaners_in_words (&alternative->needed);
    g_autofree char *without = alternative_without_in_words (alternative);
    g_autofree char *label =
        g_strdup_printf ("%2u. %7u %10u %8u %7s ", number, walk->steps, walk->insertions, walk->openings, minutes);

    paper_label (paper, 2, 2 + paper_columns (label) + 1, label, "%s%s%s", loaners, without,
                 alternative->answer->claim == CLAIM_PROVED_SHORTEST ? "" : " (best found, not proved)");
}

static void
say_short_steps (Paper *paper, const RouteReport *report, guint number, const Alternative *alternative)
{
    const GArray *steps = alternative->answer->steps;

    paper_blank (paper);
    paper_say (paper, 2, 4, "Steps of %u:", number);
    for (guint i = 0; i < steps->len; i++) {
        g_autofree char *label = g_strdup_printf ("%u.", i + 1);
        g_autofree char *sentence = words_step (report->unit->board, &g_array_index (steps, Step, i));

        paper_label (paper, 4, 9, label, "%s", sentence);
    }
}

void
route_text_alternatives (Paper *paper, const RouteReport *report)
{
    const GPtrArray *all = report->alternatives;

    if (all == NULL)
        return;
    paper_blank (paper);
    paper_say (paper, 0, 2,
               MARK_STRONG "Alternatives" MARK_PLAIN ", each without something that those above it need; %s",
               report->alternatives_complete ? "there are no others" : "there may be others");
    paper_label (paper, 2, 2, "     steps insertions openings minutes", " loaners needed");
    for (guint i = 0; i < all->len; i++)
        say_row (paper, i + 1, all->pdata[i]);
    for (guint i = 1; i < all->len; i++)
        say_short_steps (paper, report, i + 1, all->pdata[i]);
}
