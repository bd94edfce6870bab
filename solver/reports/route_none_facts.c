/* SPDX-License-Identifier: MIT */
/* The facts that leave no way, numbered, with their places; and what would open one. */
#include "reports/route_none_text.h"
#include "reports/releases_text.h"
#include "reports/words.h"

#define MOST_SETS_SAID  4
#define MOST_LIFTS_SAID 3

static const BlockingFact *
fact_of_set (const NoRoute *none, const GArray *set, guint index)
{
    return g_ptr_array_index (none->facts, g_array_index (set, guint, index));
}

/* Said in one breath with the one before: the same kind of fact of another release of the component. */
static gboolean
goes_on (const BlockingFact *before, const BlockingFact *fact)
{
    gboolean of_releases = fact->kind == FACT_FROM || fact->kind == FACT_TO_WRITE || fact->kind == FACT_RUNNING ||
                           fact->kind == FACT_LOWEST || fact->kind == FACT_SUPPORT;

    return of_releases && before->kind == fact->kind && before->index == fact->index;
}

/* "cpu1 is to hold elvane-14. (units/05.yaml:31)". Transfer full. */
static char *
fact_in_words (const BlockingFact *fact, gboolean with_source)
{
    g_autofree char *place = words_place (fact->at);
    g_autofree char *source = with_source ? words_source (&fact->source) : NULL;

    if (*place == '\0' && source == NULL)
        return g_strdup (fact->says);
    return g_strdup_printf ("%s (%s%s%s%s)", fact->says, place, *place != '\0' && source != NULL ? "; " : "",
                            source != NULL ? "source: " : "", source != NULL ? source : "");
}

/* The first fact after those that are said with fact `first`. */
static guint
end_of_breath (const NoRoute *none, const GArray *set, guint first)
{
    guint end = first + 1;

    while (end < set->len && goes_on (fact_of_set (none, set, end - 1), fact_of_set (none, set, end)))
        end++;
    return end;
}

static void
say_set (Paper *paper, const NoRoute *none, const GArray *set)
{
    guint number = 0;

    for (guint first = 0, end = 0; first < set->len; first = end) {
        g_autofree char *label = g_strdup_printf ("%u.", ++number);
        g_autoptr (GString) words = g_string_new (NULL);

        end = end_of_breath (none, set, first);
        for (guint i = first; i < end; i++) {
            g_autofree char *fact = fact_in_words (fact_of_set (none, set, i), end == first + 1);

            g_string_append_printf (words, "%s%s", i > first ? " " : "", fact);
        }
        paper_label (paper, 2, 5, label, "%s", words->str);
    }
}

static const char *
kind_in_words (NoneKind kind)
{
    switch (kind) {
    case NONE_NEVER:
        return "Never on this board: whatever the shop had, a stated fact says no.";
    case NONE_NOT_KNOWN:
        return "Not known to start, as far as the book states: no fact says yes, whatever the shop had.";
    case NONE_NOT_FROM_HERE:
        return "Not from what this unit has: the book leaves no way, whatever the shop had.";
    case NONE_NOT_WITH_THIS:
        return "Not with what the shop has and allows, and what the order leaves alone.";
    case NONE_NOT_SETTLED:
        return "Why was not found out within the effort.";
    }
    g_assert_not_reached ();
}

/* What the unit has is no fact that could be otherwise, and is what the others are about. */
static void
say_unit (Paper *paper, const Unit *unit)
{
    g_autoptr (GPtrArray) firmware = g_ptr_array_new_with_free_func (g_free);

    for (guint c = 0; c < unit->board->components->len; c++) {
        const Component *component = board_component (unit->board, c);

        g_ptr_array_add (firmware, releases_of_component (component, unit->releases[c].may_be));
    }
    g_autofree char *joined = text_join (firmware, "and");
    if (firmware->len > 0)
        paper_say (paper, 0, 2, "The unit has %s.", joined);
}

void
none_text_facts (Paper *paper, const RouteReport *report)
{
    const NoRoute *none = report->none;

    paper_say (paper, 0, 2, MARK_STRONG "%s" MARK_PLAIN, kind_in_words (none->kind));
    say_unit (paper, report->unit);
    for (guint i = 0; i < none->sets->len && i < MOST_SETS_SAID; i++) {
        const GArray *set = g_ptr_array_index (none->sets, i);

        paper_blank (paper);
        if (set->len == 0)
            paper_say (paper, 0, 2, "Nothing that could be otherwise is in the way: the board itself has no such way.");
        else
            paper_say (paper, 0, 2,
                       i > 0           ? "These leave no way either:"
                       : set->len == 1 ? "This fact leaves no way:"
                                       : "These facts together leave no way:");
        say_set (paper, none, set);
    }
    if (none->sets->len > MOST_SETS_SAID)
        paper_say (paper, 0, 2, "And %u sets of facts more; --json has them.", none->sets->len - MOST_SETS_SAID);
    if (!none->minimal && none->sets->len > 0)
        paper_say (paper, 0, 2, "Whether each of these facts is needed was not settled within the effort.");
    if (!none->complete && none->kind != NONE_NOT_SETTLED)
        paper_say (paper, 0, 2, "There may be further such sets; not all were looked for.");
}

/* ---- Additions ---- */

/* The same thing of another part, with a route that costs as much. */
static gboolean
is_alike (const Addition *first, const Addition *other)
{
    const Walk *l = first->answer->walk, *r = other->answer->walk;

    return first->part != NULL && other->part != NULL && first->opens == other->opens && first->count == other->count &&
           first->bound == other->bound && l->steps == r->steps && l->insertions == r->insertions &&
           l->openings == r->openings && l->minutes == r->minutes;
}

/* "lend one dorvan-6 a0, dorvan-6 a1 or dorvan-8 a1", for the additions from `first` up to `end`. Transfer full. */
static char *
additions_in_words (const NoRoute *none, guint first, guint end)
{
    const Addition *of = g_ptr_array_index (none->additions, first);
    g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

    if (end == first + 1)
        return g_strdup (of->says);
    for (guint i = first; i < end; i++) {
        const Addition *one = g_ptr_array_index (none->additions, i);

        g_ptr_array_add (parts, g_strdup_printf ("%s%s%s", one->part->name, one->stepping == NULL ? "" : " ",
                                                 one->stepping == NULL ? "" : one->stepping));
    }
    g_autofree char *joined = text_join (parts, "or");
    g_autofree char *number = of->count == 1 ? g_strdup ("one") : g_strdup_printf ("%u", of->count);
    g_autofree char *bound = of->bound == NULL ? g_strdup ("") : g_strdup_printf (", bound to %s,", of->bound);
    return g_strdup_printf (of->opens == FACT_LOANERS ? "lend %s of %s%s" : "have %s of %s%s in stock", number, joined,
                            bound);
}

static void
say_addition (Paper *paper, const NoRoute *none, guint first, guint end)
{
    const Walk *walk = ((const Addition *) g_ptr_array_index (none->additions, first))->answer->walk;
    g_autofree char *what = additions_in_words (none, first, end);
    g_autofree char *steps = words_count (walk->steps, "step", "steps");
    g_autofree char *insertions = words_count (walk->insertions, "insertion", "insertions");
    g_autofree char *minutes = words_minutes (walk->minutes);

    paper_label (paper, 2, 4, "-", "%s (%s, %s, %s)", what, steps, insertions, minutes);
}

static void
say_lifts (Paper *paper, const NoRoute *none)
{
    for (guint i = 0; i < none->lifts->len && i < MOST_LIFTS_SAID; i++) {
        const GArray *lift = g_ptr_array_index (none->lifts, i);

        paper_say (paper, 0, 2,
                   lift->len > 1 ? "These would have to be otherwise, all of them:"
                                 : "This would have to be otherwise:");
        say_set (paper, none, lift);
    }
}

void
none_text_additions (Paper *paper, const NoRoute *none)
{
    paper_blank (paper);
    if (none->additions->len == 0) {
        paper_say (paper, 0, 2,
                   none->all_tried ? "No single thing that the shop could add, allow or borrow opens a way."
                                   : "Within the effort, nothing was found that opens a way when the shop adds it.");
        say_lifts (paper, none);
        return;
    }
    paper_say (paper, 0, 2,
               MARK_STRONG "Any one of these would open a way" MARK_PLAIN
                           ", each tried and walked by the checker, cheapest first:");
    for (guint i = 0; i < none->additions->len;) {
        guint end = i + 1;

        while (end < none->additions->len &&
               is_alike (g_ptr_array_index (none->additions, i), g_ptr_array_index (none->additions, end)))
            end++;
        say_addition (paper, none, i, end);
        i = end;
    }
    if (!none->all_tried)
        paper_say (paper, 0, 2, "There may be others; not all were tried within the effort.");
}
