/* SPDX-License-Identifier: MIT */
/* Additions: what the shop, the book's maker or the order would have to give so that a way opens, one thing at a time,
 * each tried by planning with it in place. */
#include "explain/asking.h"
#include "explain/explain_words.h"

/* Most additions that are planned with. */
#define MOST_TRIED 400

static void
addition_free (gpointer data)
{
    Addition *addition = data;

    g_free (addition->says);
    g_clear_pointer (&addition->answer, route_answer_free);
    g_free (addition);
}

/* ---- Cheapest first ---- */

static int
by_cost (gconstpointer left, gconstpointer right)
{
    const RouteAnswer *l = (*(const Addition *const *) left)->answer, *r = (*(const Addition *const *) right)->answer;

    return walks_compare (l->objective, l->walk, r->walk);
}

typedef struct {
    Asking *asking;
    GPtrArray *found; /* Addition*; borrowed */
    guint tried;
    gboolean all_tried;
    FactKind opens;
    guint fact;
} Trying;

/* Plans with what was changed, and puts it back. FALSE: no way. Consumes `says`. */
static gboolean
try_as_changed (Trying *trying, Changes *changes, Addition proposed, char *says)
{
    if (trying->tried >= MOST_TRIED || trying->asking->stopped) {
        trying->all_tried = FALSE;
        changes_undo (changes);
        g_free (says);
        return FALSE;
    }
    trying->tried++;
    RouteAnswer *answer = asking_route (trying->asking);
    changes_undo (changes);
    if (!answer_has_route (answer)) {
        trying->all_tried = trying->all_tried && answer->claim != CLAIM_NOT_FOUND;
        route_answer_free (answer);
        g_free (says);
        return FALSE;
    }
    Addition *addition = g_new0 (Addition, 1);
    *addition = proposed;
    addition->opens = trying->opens;
    addition->fact = trying->fact;
    addition->says = says;
    addition->answer = answer;
    g_ptr_array_add (trying->found, addition);
    return TRUE;
}

/* ---- Parts ---- */

static gboolean
try_lot (Trying *trying, const Part *part, const char *stepping, const char *bound, guint count)
{
    g_autoptr (Changes) changes = changes_new ();
    g_autofree char *words = explain_part (part, stepping);
    gboolean lent = trying->opens == FACT_LOANERS;
    Addition proposed = { .part = part, .stepping = stepping, .bound = bound, .count = count };
    Lot lot = { .part = part, .stepping = stepping, .bound = bound, .count = count };
    g_autofree char *number = count == 1 ? g_strdup ("one") : g_strdup_printf ("%u", count);
    char *says = g_strdup_printf (lent ? "lend %s %s%s%s" : "have %s %s%s%s in stock", number, words,
                                  bound == NULL ? "" : " bound to ", bound == NULL ? "" : bound);

    lot.owner = lent ? OWNER_LOAN : OWNER_STOCK;
    asked_add_lot (&trying->asking->asked, lot, changes);
    return try_as_changed (trying, changes, proposed, says);
}

/* What was found last serves no better than the same part as a loaner: borrowing it is less. */
static void
leave_what_is_lent_as_well (Trying *trying)
{
    const Addition *last = g_ptr_array_index (trying->found, trying->found->len - 1);

    for (guint i = 0; i + 1 < trying->found->len; i++) {
        const Addition *other = g_ptr_array_index (trying->found, i);

        if (other->opens == FACT_LOANERS && other->part == last->part && other->stepping == last->stepping &&
            other->count <= last->count && by_cost (&other, &last) <= 0) {
            g_ptr_array_set_size (trying->found, (int) trying->found->len - 1);
            return;
        }
    }
}

/* One of it, or where that is not enough, as many as there are slots. */
static gboolean
try_some (Trying *trying, const Part *part, const char *stepping, const char *bound)
{
    guint slots = asked_slots_of (&trying->asking->asked, part->kind);

    return try_lot (trying, part, stepping, bound, 1) || (slots > 1 && try_lot (trying, part, stepping, bound, slots));
}

static void
try_part (const Part *part, const char *stepping, gpointer data)
{
    Trying *trying = data;
    const char *bound = asked_binds_part (&trying->asking->asked, part);
    gboolean opens = try_some (trying, part, stepping, NULL);

    if (opens && trying->opens == FACT_STOCK)
        leave_what_is_lent_as_well (trying);
    if (!opens && trying->opens == FACT_LOANERS && bound != NULL)
        try_some (trying, part, stepping, bound);
}

/* ---- Permissions, methods, releases ---- */

/* What lifts the fact, as something to do; NULL: nothing that a shop can do does. Transfer full. */
static char *
lifting_in_words (const Asked *asked, const BlockingFact *fact)
{
    const Board *board = asked->unit->board;

    switch (fact->kind) {
    case FACT_NO_METHOD:
        return g_strdup_printf ("write by %s", method_name ((Method) fact->index));
    case FACT_WITHDRAWN: {
        const Component *component = board_component (board, fact->index);

        return g_strdup_printf ("use %s %s, although it is withdrawn (%s)", component->name,
                                component_release (component, fact->index2)->name,
                                component_release (component, fact->index2)->withdrawn);
    }
    case FACT_RECOVERY:
        return g_strdup ("allow writes that nothing recovers when they fail");
    case FACT_VERIFIED:
        return g_strdup ("allow writes that no start follows");
    case FACT_REDUNDANT:
        return g_strdup ("do without redundant supplies");
    case FACT_KEEP:
        return g_strdup_printf ("let %s be touched", fact->index2 == 0 ? board_slot (board, fact->index)->name
                                                                       : board_component (board, fact->index)->name);
    case FACT_STAYS:
        return g_strdup_printf ("let %s end with another part, or empty", board_slot (board, fact->index)->name);
    case FACT_SPARE:
        return g_strdup_printf ("let %s, the spare image, end at any release",
                                board_component (board, fact->index)->name);
    default:
        return NULL;
    }
}

static void
try_lifting (Trying *trying, const BlockingFact *fact)
{
    g_autoptr (Changes) changes = changes_new ();
    char *says = lifting_in_words (&trying->asking->asked, fact);

    if (says == NULL)
        return;
    blocking_fact_drop (&trying->asking->asked, fact, changes);
    try_as_changed (trying, changes, (Addition){ 0 }, says);
}

/* A few loaners are less than all that the book has: where not even those open a way, none of them does. */
static gboolean
all_of_it_opens (Trying *trying, guint fact)
{
    FactSet kept = fact_set_all (trying->asking->facts->len);

    fact_set_remove (&kept, fact);
    return asking_way (&kept, trying->asking) != WAY_NONE;
}

static void
try_fact (Trying *trying, guint index)
{
    const BlockingFact *fact = g_ptr_array_index (trying->asking->facts, index);

    trying->opens = fact->kind;
    trying->fact = index;
    if (fact->kind != FACT_LOANERS && fact->kind != FACT_STOCK)
        try_lifting (trying, fact);
    else if (all_of_it_opens (trying, index))
        asked_each_part (&trying->asking->asked, (PartKind) fact->index, try_part, trying);
}

GPtrArray *
additions_find (Asking *asking, guint *tried, gboolean *all_tried)
{
    Trying trying = { .asking = asking, .all_tried = TRUE };

    trying.found = g_ptr_array_new_with_free_func (addition_free);
    /* Loaners stand last among the facts, and are tried before stock. */
    for (guint i = asking->facts->len; i > 0; i--)
        if (fact_can_be_lifted (g_ptr_array_index (asking->facts, i - 1)))
            try_fact (&trying, i - 1);
    g_ptr_array_sort (trying.found, by_cost); /* merge sort: what costs the same stays in the order of trying */
    *tried = trying.tried;
    *all_tried = trying.all_tried;
    return trying.found;
}
