/* SPDX-License-Identifier: MIT */
/* Totals over domains: the least that the slots can draw beside the most that they can give. */
#include "route/start_parts.h"

/* What one slot can do to a total, at the least and at the most. */
typedef struct {
    double least_load, most_supply;
} Share;

typedef struct {
    double least_load, most_supply;
    double largest, second; /* of the supplies */
    guint largest_slot;
} Totals;

static gboolean
sum_counts (const StartSearch *search, const StartSum *sum)
{
    const gboolean *left_out = search->question->left_out;
    return left_out == NULL || !left_out[sum->maker];
}

static gboolean
loses_largest (const StartSearch *search, const StartSum *sum)
{
    return sum->sum->lose_largest || (sum->by_shop && search->question->redundant);
}

typedef enum { LIVE_NEVER, LIVE_MAYBE, LIVE_ALWAYS } Live;

static Live
slot_live (const StartSpace *space, const guint64 *domain, guint slot)
{
    Live live = LIVE_ALWAYS;
    for (int server = space->server[slot]; server >= 0; server = space->server[server]) {
        guint64 others = domain[space->word[server]] & ~(guint64) 1;
        for (guint w = space->word[server] + 1; w < space->word[server + 1]; w++)
            others |= domain[w];
        if (others == 0)
            return LIVE_NEVER;
        if (start_has (space, domain, (guint) server, 0))
            live = LIVE_MAYBE;
    }
    return live;
}

/* Of one value; a slot that may be dead may as well count for nothing. */
static Share
share_of_value (const StartSum *sum, guint slot, guint value, Live live)
{
    Share share = { sum->sum->load[slot][value], sum->sum->supply[slot][value] };
    if (live == LIVE_NEVER)
        return (Share){ 0, 0 };
    if (live == LIVE_MAYBE)
        return (Share){ MIN (share.least_load, 0), MAX (share.most_supply, 0) };
    return share;
}

static Share
share_of_slot (const StartSpace *space, const StartSum *sum, const guint64 *domain, guint slot)
{
    Live live = slot_live (space, domain, slot);
    Share share = { G_MAXDOUBLE, -G_MAXDOUBLE };
    for (guint value = 0; value < space->sizes[slot]; value++) {
        if (!start_has (space, domain, slot, value))
            continue;
        Share of_value = share_of_value (sum, slot, value, live);
        share.least_load = MIN (share.least_load, of_value.least_load);
        share.most_supply = MAX (share.most_supply, of_value.most_supply);
    }
    return share;
}

static Totals
add_up (const StartSpace *space, const StartSum *sum, const guint64 *domain, Share *shares)
{
    Totals totals = { .least_load = sum->sum->base };
    for (guint slot = 0; slot < space->n_slots; slot++) {
        if (!sum->concerns[slot])
            continue;
        Share share = shares[slot] = share_of_slot (space, sum, domain, slot);
        totals.least_load += share.least_load;
        totals.most_supply += share.most_supply;
        if (share.most_supply > totals.largest) {
            totals.second = totals.largest;
            totals.largest = share.most_supply;
            totals.largest_slot = slot;
        } else {
            totals.second = MAX (totals.second, share.most_supply);
        }
    }
    return totals;
}

/* Whether the total can be borne when `slot` counts for `share` and all others do their best. More of a supply is
 * never worse, even where it becomes the largest, which is lost. */
static gboolean
can_be_borne (const Totals *totals, gboolean lost, guint slot, Share best, Share share)
{
    double load = totals->least_load - best.least_load + share.least_load;
    double supply = totals->most_supply - best.most_supply + share.most_supply;
    double others = slot == totals->largest_slot ? totals->second : totals->largest;
    return load <= supply - (lost ? MAX (others, share.most_supply) : 0) + TOTAL_SLACK;
}

static gboolean
bear_slot (StartSearch *search, const StartSum *sum, guint64 *domain, guint slot, const Totals *totals, Share best)
{
    const StartSpace *space = search->space;
    gboolean lost = loses_largest (search, sum);
    Live live = slot_live (space, domain, slot);
    guint first = space->word[slot];
    g_autofree guint64 *mask = g_memdup2 (domain + first, (space->word[slot + 1] - first) * sizeof (guint64));
    for (guint value = 0; value < space->sizes[slot]; value++)
        if (start_has (space, domain, slot, value) &&
            !can_be_borne (totals, lost, slot, best, share_of_value (sum, slot, value, live)))
            mask[value / 64] &= ~((guint64) 1 << (value % 64));
    return start_narrow (search, domain, slot, mask);
}

static gboolean
bear_sum (StartSearch *search, const StartSum *sum, guint64 *domain)
{
    const StartSpace *space = search->space;
    g_autofree Share *shares = g_new0 (Share, space->n_slots + 1);
    Totals totals = add_up (space, sum, domain, shares);
    double lost = loses_largest (search, sum) ? totals.largest : 0;
    if (totals.least_load > totals.most_supply - lost + TOTAL_SLACK)
        return FALSE;
    for (guint slot = 0; slot < space->n_slots; slot++)
        if (sum->concerns[slot] && !bear_slot (search, sum, domain, slot, &totals, shares[slot]))
            return FALSE;
    return TRUE;
}

gboolean
start_bear_sums (StartSearch *search, guint64 *domain)
{
    for (guint i = 0; i < search->space->sums->len; i++) {
        const StartSum *sum = search->space->sums->pdata[i];
        if (sum_counts (search, sum) && !bear_sum (search, sum, domain))
            return FALSE;
    }
    return TRUE;
}
