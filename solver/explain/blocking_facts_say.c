/* SPDX-License-Identifier: MIT */
/* Facts as sentences, with their places. */
#include "explain/blocking_facts.h"
#include "explain/explain_words.h"

#define MOST_NAMED 4 /* releases named one by one */

static const Component *
component_of (const Asked *asked, const BlockingFact *fact)
{
    return board_component (asked->unit->board, fact->index);
}

static const Release *
release_of (const Asked *asked, const BlockingFact *fact)
{
    return component_release (component_of (asked, fact), fact->index2);
}

static const char *
slot_name (const Asked *asked, const BlockingFact *fact)
{
    return board_slot (asked->unit->board, fact->index)->name;
}

/* "must hold: A; must not hold: B". Transfer full. */
static char *
conditions_in_words (const Expr *requires, const Expr *conflicts)
{
    g_autofree char *needs = requires == NULL ? NULL : expression_to_string (requires);
    g_autofree char *not = conflicts == NULL ? NULL : expression_to_string (conflicts);

    return g_strdup_printf ("%s%s%s%s%s", needs == NULL ? "" : "this must hold: ", needs == NULL ? "" : needs,
                            needs != NULL && not != NULL ? "; " : "",
                            not == NULL ? "" : "this must not hold: ", not == NULL ? "" : not );
}

static Mark
first_place (const Expr *left, const Expr *right)
{
    return left != NULL ? left->at : right->at;
}

/* ---- Rules, releases, parts ---- */

static void
say_rule (const Asked *asked, BlockingFact *fact)
{
    const Rule *rule = g_ptr_array_index (asked->library->rules, fact->index);

    fact->says = g_strdup (rule->says);
    fact->at = rule->at;
    fact->source = rule->source;
}

/* Releases that answer so, in words: "2.1.0, 2.2.0 and 3.0.0". NULL: none does. Transfer full. */
static char *
releases_that (const Component *component, const BlockingFact *fact, SupportAnswer answer, Mark *where, guint *count)
{
    g_autoptr (GPtrArray) names = g_ptr_array_new ();
    g_autoptr (GPtrArray) said = g_ptr_array_new_with_free_func (g_free);

    for (guint r = 0; r < component->releases->len; r++) {
        const Release *release = component_release (component, r);
        Mark at = MARK_NONE;

        if (release_support (release, fact->generation, fact->stepping, &at) != answer)
            continue;
        if (names->len == 0)
            *where = at;
        g_ptr_array_add (names, (gpointer) release->name);
    }
    *count = names->len;
    if (names->len == 0)
        return NULL;
    for (guint i = 0; i < names->len && (i < MOST_NAMED - 1 || names->len <= MOST_NAMED); i++)
        g_ptr_array_add (said, g_strdup (g_ptr_array_index (names, i)));
    if (said->len < names->len)
        g_ptr_array_add (said, g_strdup_printf ("%u more", names->len - said->len));
    return text_join (said, "and");
}

static void
say_support (const Asked *asked, BlockingFact *fact)
{
    const Component *component = component_of (asked, fact);
    const char *stepping = fact->stepping == NULL ? "" : fact->stepping;
    const char *word = fact->stepping == NULL ? "" : " stepping ";
    Mark yes_at = component->at, no_at = component->at;
    guint n_yes = 0, n_no = 0;
    g_autofree char *yes = releases_that (component, fact, SUPPORT_YES, &yes_at, &n_yes);
    g_autofree char *no = releases_that (component, fact, SUPPORT_NO, &no_at, &n_no);

    fact->at = yes != NULL ? yes_at : no_at;
    if (yes != NULL)
        fact->says = g_strdup_printf ("Of the releases of %s, only %s state%s that %s %s%s%s.", component->name, yes,
                                      n_yes == 1 ? "s" : "", n_yes == 1 ? "it starts" : "they start", fact->generation,
                                      word, stepping);
    else if (no != NULL)
        fact->says = g_strdup_printf ("No release of %s states that it starts %s%s%s, and %s state%s that %s never %s.",
                                      component->name, fact->generation, word, stepping, no, n_no == 1 ? "s" : "",
                                      n_no == 1 ? "it" : "they", n_no == 1 ? "does" : "do");
    else
        fact->says = g_strdup_printf ("No release of %s states that it starts %s%s%s.", component->name,
                                      fact->generation, word, stepping);
}

static void
say_of_release (const Asked *asked, BlockingFact *fact)
{
    const Component *component = component_of (asked, fact);
    const Release *release = release_of (asked, fact);
    g_autofree char *words = NULL;

    fact->source = release->source;
    fact->at = release->at;
    switch (fact->kind) {
    case FACT_FROM:
        words = expression_to_string (release->from);
        fact->at = release->from->at;
        fact->says = g_strdup_printf ("%s %s may be written only over: %s.", component->name, release->name, words);
        return;
    case FACT_TO_WRITE:
        words = conditions_in_words (release->to_write_requires, release->to_write_conflicts);
        fact->at = first_place (release->to_write_requires, release->to_write_conflicts);
        fact->says = g_strdup_printf ("Before %s %s is written, %s.", component->name, release->name, words);
        return;
    case FACT_RUNNING:
        words = conditions_in_words (release->running_requires, release->running_conflicts);
        fact->at = first_place (release->running_requires, release->running_conflicts);
        fact->says = g_strdup_printf ("While %s %s runs, %s.", component->name, release->name, words);
        return;
    case FACT_LOWEST:
        fact->says = g_strdup_printf ("Once %s has been at %s, nothing below %s can be written to it.", component->name,
                                      release->name, component_release (component, (guint) release->lowest)->name);
        return;
    default:
        fact->says = g_strdup_printf ("%s %s is withdrawn (%s).", component->name, release->name, release->withdrawn);
    }
}

static void
say_method (const Asked *asked, BlockingFact *fact)
{
    const Component *component = component_of (asked, fact);
    const Expr *requires = component->methods[fact->index2].requires;
    g_autofree char *words = expression_to_string (requires);

    fact->at = requires->at;
    fact->says = g_strdup_printf ("%s is written by %s only with: %s.", component->name,
                                  method_name ((Method) fact->index2), words);
}

static void
say_part (const Asked *asked, BlockingFact *fact)
{
    const Board *board = asked->unit->board;
    g_autofree char *words = conditions_in_words (fact->part->requires, fact->part->conflicts);
    g_autofree char *board_words =
        fact->stated_no ? g_strdup_printf (" This board is %s %s.", board->name,
                                           (const char *) g_ptr_array_index (board->revisions, asked->unit->revision))
                        : g_strdup ("");

    fact->at = first_place (fact->part->requires, fact->part->conflicts);
    fact->source = fact->part->source;
    fact->says = g_strdup_printf ("Where %s runs, %s.%s", fact->part->name, words, board_words);
}

/* ---- The want and the order ---- */

static void
say_want_slot (const Asked *asked, BlockingFact *fact)
{
    g_autofree char *words = explain_want_slot (&asked->want->slots[fact->index]);

    fact->at = asked->want->slots[fact->index].at;
    fact->says = g_strdup_printf ("%s is to %s.", slot_name (asked, fact), words);
}

static void
say_want_release (const Asked *asked, BlockingFact *fact)
{
    const Expr *want = asked->want->firmware[fact->index];
    g_autofree char *words = expression_to_string (want);

    fact->at = want->at;
    fact->says = g_strdup_printf ("The firmware is to be %s.", words);
}

static void
say_stays (const Asked *asked, BlockingFact *fact)
{
    const Fitted *began = unit_began (asked->unit, fact->index);
    g_autofree char *part = began->part == NULL ? g_strdup ("empty") : explain_part (began->part, began->stepping);

    fact->at = began->part == NULL ? asked->want->at : began->at;
    if (asked_slot_is_tied (asked, fact->index) && began->part != NULL)
        fact->says =
            g_strdup_printf ("%s, which the want does not mention, is not to end empty.", slot_name (asked, fact));
    else
        fact->says = g_strdup_printf ("%s, which the want does not mention, is to end as it began: %s.",
                                      slot_name (asked, fact), part);
}

static void
say_keep (const Asked *asked, BlockingFact *fact)
{
    const char *name = fact->index2 == 0 ? slot_name (asked, fact) : component_of (asked, fact)->name;

    fact->at = asked->want->at;
    fact->says = g_strdup_printf ("%s is to be kept as it is.", name);
}

static void
say_spare (const Asked *asked, BlockingFact *fact)
{
    const Component *spare = component_of (asked, fact);

    fact->at = spare->at;
    fact->says = g_strdup_printf ("%s, the spare image of %s, is to end at the release that %s ends at.", spare->name,
                                  spare->spare_of, spare->spare_of);
}

/* ---- The unit ---- */

static void
say_of_unit (const Asked *asked, BlockingFact *fact)
{
    const Unit *unit = asked->unit;

    fact->at = unit->at;
    if (fact->kind == FACT_INSERTIONS) {
        const Attribute *rated = attribute_find (board_slot (unit->board, fact->index)->attributes, "rated-insertions");

        fact->at = rated->at;
        fact->says = g_strdup_printf ("%s is rated for %g fittings, and has had %u.", slot_name (asked, fact),
                                      rated->number, unit->insertions == NULL ? 0 : unit->insertions[fact->index]);
        return;
    }
    const Component *component = component_of (asked, fact);
    if (fact->kind == FACT_FAILED) {
        fact->says = g_strdup_printf ("The last write of %s failed.", component->name);
        return;
    }
    fact->at = unit->releases[fact->index].at;
    fact->says = g_strdup_printf ("Nothing below %s can be written to %s of this unit (its floor).",
                                  component_release (component, (guint) unit->releases[fact->index].floor)->name,
                                  component->name);
}

/* ---- The shop ---- */

static void
say_lots (const Asked *asked, BlockingFact *fact, Owner owner)
{
    g_autoptr (GPtrArray) there = g_ptr_array_new_with_free_func (g_free);
    const char *kind = explain_kinds ((PartKind) fact->index);

    fact->at = asked->shop->at;
    for (guint i = 0; i < asked->shop->lots->len; i++) {
        const Lot *lot = &g_array_index (asked->shop->lots, Lot, i);
        g_autofree char *part = NULL;

        if (lot->owner != owner || lot->part->kind != (PartKind) fact->index || lot->count == 0 ||
            !asked_has_use (asked, lot->part))
            continue;
        if (there->len == 0)
            fact->at = lot->at;
        part = explain_part (lot->part, lot->stepping);
        g_ptr_array_add (there, g_strdup_printf ("%u of %s", lot->count, part));
    }
    g_autofree char *words = text_join (there, "and");
    const char *where = owner == OWNER_LOAN ? "on the loan shelf" : "in stock";
    if (there->len == 0)
        fact->says = g_strdup_printf ("There are no %s for this board %s.", kind, where);
    else
        fact->says = g_strdup_printf ("Of %s for this board, there are only these %s: %s.", kind, where, words);
}

static void
say_of_shop (const Asked *asked, BlockingFact *fact)
{
    fact->at = asked->shop->at;
    switch (fact->kind) {
    case FACT_NO_METHOD:
        fact->says = g_strdup_printf ("The shop does not write by %s.", method_name ((Method) fact->index));
        return;
    case FACT_RECOVERY:
        fact->says = g_strdup ("The shop asks for a recovery for every write.");
        return;
    case FACT_VERIFIED:
        fact->says = g_strdup ("The shop asks for a start after each write from the running host.");
        return;
    case FACT_REDUNDANT:
        fact->says = g_strdup ("The shop asks that the supplies are enough with the largest of them lost.");
        return;
    default:
        say_lots (asked, fact, fact->kind == FACT_LOANERS ? OWNER_LOAN : OWNER_STOCK);
    }
}

void
blocking_fact_say (const Asked *asked, BlockingFact *fact)
{
    switch (fact->kind) {
    case FACT_RULE:
        say_rule (asked, fact);
        return;
    case FACT_SUPPORT:
        say_support (asked, fact);
        return;
    case FACT_FROM:
    case FACT_TO_WRITE:
    case FACT_RUNNING:
    case FACT_LOWEST:
    case FACT_WITHDRAWN:
        say_of_release (asked, fact);
        return;
    case FACT_METHOD:
        say_method (asked, fact);
        return;
    case FACT_PART:
        say_part (asked, fact);
        return;
    case FACT_BINDS:
        fact->at = fact->part->at;
        fact->source = fact->part->source;
        fact->says =
            g_strdup_printf ("%s binds itself for good: one from stock stays where it was fitted.", fact->part->name);
        return;
    case FACT_WANT_SLOT:
        say_want_slot (asked, fact);
        return;
    case FACT_WANT_RELEASE:
        say_want_release (asked, fact);
        return;
    case FACT_KEEP:
        say_keep (asked, fact);
        return;
    case FACT_STAYS:
        say_stays (asked, fact);
        return;
    case FACT_SPARE:
        say_spare (asked, fact);
        return;
    case FACT_FLOOR:
    case FACT_FAILED:
    case FACT_INSERTIONS:
        say_of_unit (asked, fact);
        return;
    case FACT_NO_METHOD:
    case FACT_LOANERS:
    case FACT_STOCK:
    case FACT_RECOVERY:
    case FACT_VERIFIED:
    case FACT_REDUNDANT:
        say_of_shop (asked, fact);
        return;
    }
    g_assert_not_reached ();
}
