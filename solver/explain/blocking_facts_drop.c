/* SPDX-License-Identifier: MIT */
/* Dropping facts: the question as it would be without one. */
#include "explain/blocking_facts.h"

/* Book and board are handed on as const; the library that owns them is not, so what is written to here may be. */
#define WRITABLE(type, pointer) ((type *) (pointer))

/* ---- Rules ---- */

/* It still ties slots, which a rule that warns would not: a dropped rule must not take freedom away. */
static void
drop_rule (Rule *rule, Changes *changes)
{
    changes_save (changes, &rule->breaking, sizeof rule->breaking);
    changes_save (changes, &rule->methods, sizeof rule->methods);
    rule->breaking = BREAKING_BARS;
    rule->methods = 0;
}

/* ---- Support ---- */

/* Adds the steppings that processors of this generation come in. */
static GPtrArray *
steppings_of_generation (const Asked *asked, const char *generation)
{
    GPtrArray *all = g_ptr_array_new ();
    const GPtrArray *parts = asked->library->book.parts;

    for (guint p = 0; p < parts->len; p++) {
        const Part *part = g_ptr_array_index (parts, p);

        for (guint i = 0; part->generation == generation && i < part->steppings->len; i++)
            if (!g_ptr_array_find (all, g_ptr_array_index (part->steppings, i), NULL))
                g_ptr_array_add (all, g_ptr_array_index (part->steppings, i));
    }
    return all;
}

static void
support_free_one (gpointer data)
{
    Support *support = data;

    g_clear_pointer (&support->steppings, g_ptr_array_unref);
    g_free (support);
}

static Support *
support_of_one (const char *generation, const char *stepping, Mark at)
{
    Support *support = g_new0 (Support, 1);

    support->generation = generation;
    support->at = at;
    if (stepping != NULL) {
        support->steppings = g_ptr_array_new ();
        g_ptr_array_add (support->steppings, (gpointer) stepping);
    }
    return support;
}

/* The entries of `list` (nullable), one per stepping, without this generation and stepping. Transfer full. */
static GPtrArray *
without_support (const Asked *asked, const GPtrArray *list, const char *generation, const char *stepping)
{
    GPtrArray *rest = g_ptr_array_new_with_free_func (support_free_one);

    for (guint i = 0; list != NULL && i < list->len; i++) {
        const Support *entry = g_ptr_array_index (list, i);
        g_autoptr (GPtrArray) of_generation = NULL;
        const GPtrArray *steppings = entry->steppings;

        if (entry->generation != generation && steppings == NULL) {
            g_ptr_array_add (rest, support_of_one (entry->generation, NULL, entry->at));
            continue;
        }
        if (steppings == NULL)
            steppings = of_generation = steppings_of_generation (asked, generation);
        for (guint s = 0; s < steppings->len; s++)
            if (entry->generation != generation || g_ptr_array_index (steppings, s) != stepping)
                g_ptr_array_add (rest, support_of_one (entry->generation, g_ptr_array_index (steppings, s), entry->at));
    }
    return rest;
}

static void
state_support (const Asked *asked, Release *release, const BlockingFact *fact, Changes *changes)
{
    GPtrArray *never = without_support (asked, release->never_starts, fact->generation, fact->stepping);
    GPtrArray *starts = without_support (asked, release->starts, fact->generation, fact->stepping);

    g_ptr_array_add (starts, support_of_one (fact->generation, fact->stepping, release->at));
    changes_own (changes, never, (GDestroyNotify) g_ptr_array_unref);
    changes_own (changes, starts, (GDestroyNotify) g_ptr_array_unref);
    changes_save (changes, &release->never_starts, sizeof release->never_starts);
    changes_save (changes, &release->starts, sizeof release->starts);
    release->never_starts = never;
    release->starts = starts;
}

static void
drop_support (const Asked *asked, const BlockingFact *fact, Changes *changes)
{
    const Component *component = board_component (asked->unit->board, fact->index);

    for (guint r = 0; r < component->releases->len; r++)
        state_support (asked, WRITABLE (Release, component_release (component, r)), fact, changes);
}

/* ---- Releases, methods, parts ---- */

static void
drop_expr (Expr **expr, Changes *changes)
{
    changes_save (changes, expr, sizeof *expr);
    *expr = NULL;
}

static void
drop_of_release (Release *release, FactKind kind, Changes *changes)
{
    switch (kind) {
    case FACT_FROM:
        drop_expr (&release->from, changes);
        return;
    case FACT_TO_WRITE:
        drop_expr (&release->to_write_requires, changes);
        drop_expr (&release->to_write_conflicts, changes);
        return;
    case FACT_RUNNING:
        drop_expr (&release->running_requires, changes);
        drop_expr (&release->running_conflicts, changes);
        return;
    case FACT_LOWEST:
        changes_save (changes, &release->lowest, sizeof release->lowest);
        release->lowest = -1;
        return;
    case FACT_WITHDRAWN:
        changes_save (changes, &release->withdrawn, sizeof release->withdrawn);
        release->withdrawn = NULL;
        return;
    default:
        g_assert_not_reached ();
    }
}

static void
drop_flag (gboolean *flag, gboolean value, Changes *changes)
{
    changes_save (changes, flag, sizeof *flag);
    *flag = value;
}

/* ---- The order ---- */

/* An expression that every release meets. It says something of the component, where nothing asked might not: what the
 * want says nothing of has a duty of its own when it is a spare image. */
static void
want_any_release (const Asked *asked, guint component, Changes *changes)
{
    Expr *any = g_new0 (Expr, 1);

    any->kind = EXPR_ATOM;
    any->name = board_component (asked->unit->board, component)->name;
    any->op = OP_ANY;
    changes_own (changes, any, (GDestroyNotify) expression_free);
    changes_save (changes, &asked->want->firmware[component], sizeof (Expr *));
    asked->want->firmware[component] = any;
}

static void
want_any_part (const Asked *asked, guint slot, Changes *changes)
{
    WantKind *kind = &asked->want->slots[slot].kind;

    changes_save (changes, kind, sizeof *kind);
    *kind = WANT_ANYTHING;
}

static void
drop_keep (const Asked *asked, const BlockingFact *fact, Changes *changes)
{
    if (fact->index2 == 0) {
        drop_flag (&asked->want->keep_slot[fact->index], FALSE, changes);
        return;
    }
    drop_flag (&asked->want->keep_component[fact->index], FALSE, changes);
    if (asked->want->firmware[fact->index] == NULL)
        want_any_release (asked, fact->index, changes);
}

/* ---- The unit and the shop ---- */

static void
drop_insertions (const Asked *asked, guint slot, Changes *changes)
{
    const Slot *of = board_slot (asked->unit->board, slot);
    Attribute *rated = WRITABLE (Attribute, attribute_find (of->attributes, "rated-insertions"));

    changes_save (changes, &rated->number, sizeof rated->number);
    rated->number = G_MAXINT;
}

/* It is as it was before the write, and what writes it only while it is failed still does: else dropping the failure
 * would take a way. */
static void
drop_failure (const Asked *asked, guint index, Changes *changes)
{
    Component *component = WRITABLE (Component, board_component (asked->unit->board, index));

    drop_flag (&asked->unit->failed[index], FALSE, changes);
    for (guint m = 0; m < METHOD_COUNT; m++)
        drop_flag (&component->methods[m].recovery_only, FALSE, changes);
}

typedef struct {
    const Asked *asked;
    Owner owner;
    Changes *changes;
} Filling;

static void
fill_one (const Part *part, const char *stepping, gpointer data)
{
    const Filling *filling = data;

    Lot lot = { .owner = filling->owner, .part = part, .stepping = stepping };

    lot.count = asked_slots_of (filling->asked, part->kind);
    asked_add_lot (filling->asked, lot, filling->changes);
    lot.bound = asked_binds_part (filling->asked, part);
    if (filling->owner == OWNER_LOAN && lot.bound != NULL)
        asked_add_lot (filling->asked, lot, filling->changes);
}

static void
drop_want_of_shop (const Asked *asked, const BlockingFact *fact, Owner owner, Changes *changes)
{
    Filling filling = { asked, owner, changes };

    asked_each_part (asked, (PartKind) fact->index, fill_one, &filling);
}

static void
drop_no_method (const Asked *asked, const BlockingFact *fact, Changes *changes)
{
    changes_save (changes, &asked->shop->methods, sizeof asked->shop->methods);
    asked->shop->methods |= METHOD_BIT (fact->index);
}

void
blocking_fact_drop (const Asked *asked, const BlockingFact *fact, Changes *changes)
{
    const Board *board = asked->unit->board;

    switch (fact->kind) {
    case FACT_RULE:
        drop_rule (g_ptr_array_index (asked->library->rules, fact->index), changes);
        return;
    case FACT_SUPPORT:
        drop_support (asked, fact, changes);
        return;
    case FACT_FROM:
    case FACT_TO_WRITE:
    case FACT_RUNNING:
    case FACT_LOWEST:
    case FACT_WITHDRAWN:
        drop_of_release (WRITABLE (Release, component_release (board_component (board, fact->index), fact->index2)),
                         fact->kind, changes);
        return;
    case FACT_METHOD:
        drop_expr (&WRITABLE (Component, board_component (board, fact->index))->methods[fact->index2].requires,
                   changes);
        return;
    case FACT_PART:
        drop_expr (&WRITABLE (Part, fact->part)->requires, changes);
        drop_expr (&WRITABLE (Part, fact->part)->conflicts, changes);
        return;
    case FACT_BINDS:
        drop_flag (&WRITABLE (Part, fact->part)->binds, FALSE, changes);
        return;
    case FACT_NO_METHOD:
        drop_no_method (asked, fact, changes);
        return;
    case FACT_LOANERS:
        drop_want_of_shop (asked, fact, OWNER_LOAN, changes);
        return;
    case FACT_STOCK:
        drop_want_of_shop (asked, fact, OWNER_STOCK, changes);
        return;
    case FACT_RECOVERY:
        drop_flag (&asked->shop->require_recovery, FALSE, changes);
        return;
    case FACT_VERIFIED:
        drop_flag (&asked->shop->unverified_writes, TRUE, changes);
        return;
    case FACT_REDUNDANT:
        drop_flag (&asked->shop->redundant_supplies, FALSE, changes);
        return;
    case FACT_WANT_SLOT:
    case FACT_STAYS:
        want_any_part (asked, fact->index, changes);
        return;
    case FACT_WANT_RELEASE:
    case FACT_SPARE:
        want_any_release (asked, fact->index, changes);
        return;
    case FACT_KEEP:
        drop_keep (asked, fact, changes);
        return;
    case FACT_FLOOR:
        changes_save (changes, &asked->unit->releases[fact->index].floor, sizeof (int));
        asked->unit->releases[fact->index].floor = -1;
        return;
    case FACT_FAILED:
        drop_failure (asked, fact->index, changes);
        return;
    case FACT_INSERTIONS:
        drop_insertions (asked, fact->index, changes);
        return;
    }
    g_assert_not_reached ();
}
