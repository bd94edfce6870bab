/* SPDX-License-Identifier: MIT */
/* The route of a mode as bench sheets say it: walked once for all units that go by it. */
#include "reports/batch_sheet.h"

#include "route/branched.h"

static guint
lots_hold (const Shop *shop, const Lot *wanted, Owner owner)
{
    guint count = 0;

    for (guint i = 0; i < shop->lots->len; i++) {
        const Lot *lot = &g_array_index (shop->lots, Lot, i);

        if (lot->owner == owner && lot->part == wanted->part && lot->stepping == wanted->stepping &&
            lot->bound == wanted->bound)
            count += lot->count;
    }
    return count;
}

/* Pulled parts that are lent do not stand in the shop's file. */
static void
add_lots (Shop *shop, const GArray *lots, Owner owner)
{
    for (guint i = 0; i < lots->len; i++) {
        Lot lot = g_array_index (lots, Lot, i);
        guint there = lots_hold (shop, &lot, owner);

        if (there >= lot.count)
            continue;
        lot.owner = owner;
        lot.count -= there;
        g_array_append_val (shop->lots, lot);
    }
}

/* Of a plan with branches, the case whose way the steps are: they are sound in it, and not in every other one. Its steps are called
 * what they are called on the sheet of the whole plan. */
static void
find_case (ModeSheet *sheet)
{
    const BatchWay *way = sheet->way;

    sheet->starts = g_ptr_array_new_with_free_func ((GDestroyNotify) state_free);
    g_ptr_array_add (sheet->starts, state_from_unit (way->of->unit, way->mode->branching->releases));
    sheet->part = (AccountPart){ .starts = sheet->starts, .labels = way->words->labels, .then = THEN_END };
}

static void
fill_report (const BatchQuestion *question, ModeSheet *sheet)
{
    const BatchMode *mode = sheet->way->mode;

    sheet->answer = *mode->answer;
    sheet->answer.claim = mode->claim;
    sheet->answer.steps = mode->steps;
    sheet->answer.walk = mode->walk;
    sheet->answer.ways_back = mode->ways_back;
    sheet->report = (RouteReport){ .library = question->library,
                                   .shop = sheet->shop,
                                   .unit = sheet->way->of->unit,
                                   .want = sheet->way->of->want,
                                   .answer = &sheet->answer,
                                   .fallbacks = sheet->fallbacks,
                                   .in_batch = TRUE };
    sheet->whole = sheet->report;
    sheet->whole.answer = mode->answer;
}

ModeSheet *
mode_sheet_new (const BatchView *view, const BatchWay *way)
{
    const BatchQuestion *question = view->report->question;
    ModeSheet *sheet = g_new0 (ModeSheet, 1);
    const RouteOptions options = { .objective = question->route->objective };
    gboolean branched = way->mode->answer->claim == CLAIM_BRANCHES;

    sheet->way = way;
    sheet->shop = shop_copy (question->shop);
    add_lots (sheet->shop, way->mode->lent, OWNER_LOAN);
    add_lots (sheet->shop, way->mode->stock, OWNER_STOCK);
    const Question one = { question->library, sheet->shop, way->of->unit, way->of->want, &options };
    if (branched)
        find_case (sheet);
    else
        sheet->fallbacks = fallbacks_find (&one, way->mode->steps);
    fill_report (question, sheet);
    if (branched)
        sheet->plan = plan_sheet_new (&sheet->whole);
    if (way->mode->steps->len > 0)
        sheet->account = route_account_new_for (question->library, sheet->shop, way->of->unit, way->of->want,
                                                way->mode->steps, branched ? &sheet->part : NULL);
    return sheet;
}

void
mode_sheet_free (gpointer data)
{
    ModeSheet *sheet = data;

    route_account_free (sheet->account);
    plan_sheet_free (sheet->plan);
    g_clear_pointer (&sheet->fallbacks, g_array_unref);
    g_clear_pointer (&sheet->starts, g_ptr_array_unref);
    shop_free (sheet->shop);
    g_free (sheet);
}
