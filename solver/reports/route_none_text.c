/* SPDX-License-Identifier: MIT */
/* Why there is no route: what was proved or ran out, and the rules that the wanted parts would break. */
#include "reports/route_none_text.h"
#include "reports/broken_text.h"
#include "reports/route_text.h"

/* The stepping that a wanted part would come in: what the want says, else what lies on the shelf, else its first. */
static const char *
likely_stepping (const Shop *shop, const WantSlot *want)
{
    if (want->stepping != NULL)
        return want->stepping;
    for (guint i = 0; i < shop->lots->len; i++)
        if (g_array_index (shop->lots, Lot, i).part == want->part)
            return g_array_index (shop->lots, Lot, i).stepping;
    return want->part->steppings->len == 0 ? NULL : g_ptr_array_index (want->part->steppings, 0);
}

static guint
count_in_the_way (const RouteReport *report, const State *state)
{
    g_autoptr (GPtrArray) broken = check_state (report->library, report->shop, state);
    guint count = 0;

    for (guint i = 0; i < broken->len; i++) {
        const Broken *rule = g_ptr_array_index (broken, i);

        count += rule->breaking == BREAKING_STOPS || rule->breaking == BREAKING_HARMS ? 1 : 0;
    }
    return count;
}

/* Of the stock that is what the slot's want asks for, puts in the part that breaks the fewest rules, the first of equal
 * ones. FALSE: there is none. */
static gboolean
fit_from_stock (const RouteReport *report, State *state, guint slot)
{
    const GArray *lots = report->shop->lots;
    guint fewest = G_MAXUINT;
    Held best = { NULL, NULL, OWNER_STOCK };

    for (guint i = 0; i < lots->len; i++) {
        const Lot *lot = &g_array_index (lots, Lot, i);
        guint count = 0;

        if (lot->owner != OWNER_STOCK || lot->part->kind != board_slot (state->board, slot)->takes ||
            !want_slot_is_met (&report->want->slots[slot], lot->part, lot->stepping))
            continue;
        state->held[slot] = (Held){ lot->part, lot->stepping, OWNER_STOCK };
        count = count_in_the_way (report, state);
        if (count < fewest) {
            fewest = count;
            best = state->held[slot];
        }
    }
    state->held[slot] = best;
    return best.part != NULL;
}

static gboolean
all_releases_are_known (const Unit *unit)
{
    for (guint c = 0; c < unit->board->components->len; c++)
        if (unit->releases[c].count != 1)
            return FALSE;
    return TRUE;
}

/* Puts what is wanted into the slots. FALSE: for some slot there is nothing to put in. */
static gboolean
fit_wanted_parts (const RouteReport *report, State *state)
{
    for (guint s = 0; s < state->board->slots->len; s++) {
        const WantSlot *want = &report->want->slots[s];

        if (want_slot_is_met (want, state->held[s].part, state->held[s].stepping))
            continue;
        if (want->kind == WANT_EMPTY)
            state->held[s] = (Held){ NULL, NULL, OWNER_UNIT };
        else if (want->kind == WANT_PART)
            state->held[s] = (Held){ want->part, likely_stepping (report->shop, want), OWNER_STOCK };
        else if (!fit_from_stock (report, state, s))
            return FALSE;
    }
    return TRUE;
}

/* ", sink1 kept"; "" when no slot is. Transfer full. */
static char *
kept_slots (const RouteReport *report)
{
    const Board *board = report->unit->board;
    g_autoptr (GPtrArray) names = g_ptr_array_new ();
    g_autofree char *joined = NULL;

    for (guint s = 0; s < board->slots->len; s++)
        if (report->want->keep_slot[s])
            g_ptr_array_add (names, (gpointer) board_slot (board, s)->name);
    joined = text_join (names, "and");
    return names->len == 0 ? g_strdup ("") : g_strdup_printf (", %s kept", joined);
}

static const char *
outlook (const GPtrArray *broken)
{
    if (broken_verdict (broken) == STARTS_NOT_KNOWN)
        return "one that is not known to start";
    return broken_only_harms (broken) ? "one that must not be started" : "dark";
}

/* The nearest thing to a reason: the rules that the wanted parts would break in the unit as it is. */
static void
say_wanted_parts (Paper *paper, const RouteReport *report)
{
    g_autoptr (State) state = state_from_unit (report->unit, NULL);
    g_autoptr (GPtrArray) broken = NULL;
    g_autofree char *kept = kept_slots (report);

    if (!fit_wanted_parts (report, state))
        return;
    broken = check_state (report->library, report->shop, state);
    if (broken_verdict (broken) == STARTS_YES)
        return;
    paper_blank (paper);
    paper_say (paper, 0, 2, "With the wanted parts in%s, and everything else as it is now, the unit would be %s.", kept,
               outlook (broken));
    for (int topic = TOPIC_HARMS_PLUGGED; topic <= TOPIC_DARK; topic++)
        broken_text_topic (paper, broken, (BrokenTopic) topic);
}

/* More effort helps only where the effort was what ended the search. */
static gboolean
effort_ended_it (const RouteAnswer *answer)
{
    return answer->reason == NULL &&
           (answer->stopped || answer->proof == NULL || g_str_equal (answer->proof, "the effort ran out"));
}

static void
say_not_found (Paper *paper, const RouteAnswer *answer)
{
    if (effort_ended_it (answer))
        paper_say (paper, 0, 2,
                   MARK_BAD "No route was found within the effort" MARK_PLAIN
                            ". There may be one of %u or more steps; try again with a larger --states, or with "
                            "--effort and the seconds that it may take.",
                   answer->lower_bound);
    else
        paper_say (paper, 0, 2, MARK_BAD "No route was found" MARK_PLAIN ", and none is ruled out: %s.",
                   answer->reason != NULL ? answer->reason : answer->proof);
}

void
route_text_none (Paper *paper, const RouteReport *report)
{
    const RouteAnswer *answer = report->answer;

    if (answer->claim == CLAIM_NO_ROUTE)
        paper_say (paper, 0, 2,
                   MARK_BAD
                   "There is no route" MARK_PLAIN
                   " from this unit to what is wanted, with this shop's methods and parts; that is proved%s%s%s.",
                   answer->proof == NULL ? "" : " (", answer->proof == NULL ? "" : answer->proof,
                   answer->proof == NULL ? "" : ")");
    else if (answer->claim == CLAIM_NOT_FOUND)
        say_not_found (paper, answer);
    else
        paper_say (paper, 0, 2,
                   MARK_BAD
                   "Own fault" MARK_PLAIN
                   ": the checker refused what this program found, so it is not shown. Keep the files and report it.");
    if (answer->reason != NULL && answer->claim != CLAIM_NOT_FOUND)
        paper_say (paper, 0, 2, "%s", answer->reason);
    if (report->shop->name == NULL && answer->claim != CLAIM_FAULT)
        paper_say (paper, 0, 2, "No shop file was given: nothing is lent and nothing is in stock.");
    if (report->none != NULL)
        none_text_facts (paper, report);
    if (answer->claim != CLAIM_FAULT && all_releases_are_known (report->unit))
        say_wanted_parts (paper, report);
    if (report->none != NULL)
        none_text_additions (paper, report->none);
}
