/* SPDX-License-Identifier: MIT */
/* Which facts concern a board and a question. */
#include "explain/blocking_facts.h"

void
blocking_fact_free (gpointer data)
{
    BlockingFact *fact = data;

    g_free (fact->says);
    g_free (fact);
}

gboolean
fact_can_be_lifted (const BlockingFact *fact)
{
    return fact->of_shop || fact->kind == FACT_WITHDRAWN;
}

typedef struct {
    const Asked *asked;
    GPtrArray *facts; /* BlockingFact*; borrowed */
} Collecting;

static BlockingFact *
add (const Collecting *to, FactKind kind, guint index, guint index2)
{
    BlockingFact *fact = g_new0 (BlockingFact, 1);

    fact->kind = kind;
    fact->index = index;
    fact->index2 = index2;
    g_ptr_array_add (to->facts, fact);
    return fact;
}

static const Component *
component_at (const Collecting *to, guint index)
{
    return board_component (to->asked->unit->board, index);
}

static const Rule *
rule_at (const Collecting *to, guint index)
{
    return g_ptr_array_index (to->asked->library->rules, index);
}

/* ---- What is asked ---- */

static void
add_wants (const Collecting *to)
{
    const Board *board = to->asked->unit->board;
    const Want *want = to->asked->want;

    for (guint s = 0; s < board->slots->len; s++)
        if (want->slots[s].kind != WANT_NOTHING && want->slots[s].kind != WANT_ANYTHING)
            add (to, FACT_WANT_SLOT, s, 0);
    for (guint c = 0; c < board->components->len; c++)
        if (want->firmware[c] != NULL)
            add (to, FACT_WANT_RELEASE, c, 0);
}

/* ---- What the rules and the book say ---- */

/* A rule that only says so is never in the way; one that asks what parts or releases state is told by those facts. */
static gboolean
rule_blocks (const Rule *rule)
{
    return rule->breaking != BREAKING_WARNS && rule->form != FORM_OWN && rule->form != FORM_KNOWS &&
           (rule->breaking != BREAKING_BARS || rule->methods != 0);
}

static void
add_rules (const Collecting *to)
{
    for (guint r = 0; r < to->asked->library->rules->len; r++) {
        const Rule *rule = rule_at (to, r);

        if (rule_blocks (rule))
            add (to, FACT_RULE, r, 0)->stated_no = rule->form == FORM_SAME || rule->form == FORM_BEFORE ||
                                                   rule->form == FORM_WHEN || rule->form == FORM_ONE_OF ||
                                                   rule->form == FORM_BINDS;
    }
}

static gboolean
has_rule_of_form (const Collecting *to, RuleForm form, PartKind kind)
{
    for (guint r = 0; r < to->asked->library->rules->len; r++)
        if (rule_at (to, r)->form == form && rule_at (to, r)->breaking != BREAKING_WARNS &&
            (form != FORM_KNOWS || rule_at (to, r)->kind == kind))
            return TRUE;
    return FALSE;
}

static gboolean
every_release_starts (const Component *component, const char *generation, const char *stepping)
{
    for (guint r = 0; r < component->releases->len; r++)
        if (release_support (component_release (component, r), generation, stepping, NULL) != SUPPORT_YES)
            return FALSE;
    return TRUE;
}

static gboolean
has_support_fact (const Collecting *to, guint component, const char *generation, const char *stepping)
{
    for (guint i = 0; i < to->facts->len; i++) {
        const BlockingFact *fact = g_ptr_array_index (to->facts, i);

        if (fact->kind == FACT_SUPPORT && fact->index == component && fact->generation == generation &&
            fact->stepping == stepping)
            return TRUE;
    }
    return FALSE;
}

static void
add_support (const Part *part, const char *stepping, gpointer data)
{
    const Collecting *to = data;
    const Board *board = to->asked->unit->board;

    for (guint c = 0; part->generation != NULL && c < board->components->len; c++) {
        const Component *component = component_at (to, c);

        if (!component->states_starts || has_support_fact (to, c, part->generation, stepping) ||
            every_release_starts (component, part->generation, stepping))
            continue;
        BlockingFact *fact = add (to, FACT_SUPPORT, c, 0);
        fact->generation = part->generation;
        fact->stepping = stepping;
        fact->stated_no = support_is_denied (component, part->generation, stepping);
    }
}

/* A part that is about: in the unit or the shop, or worth adding. */
static gboolean
is_about (const Asked *asked, const Part *part)
{
    for (guint s = 0; s < asked->unit->board->slots->len; s++)
        if (asked->unit->fitted[s].part == part)
            return TRUE;
    for (guint i = 0; asked->unit->pulled != NULL && i < asked->unit->pulled->len; i++)
        if (g_array_index (asked->unit->pulled, Fitted, i).part == part)
            return TRUE;
    for (guint i = 0; i < asked->shop->lots->len; i++)
        if (g_array_index (asked->shop->lots, Lot, i).part == part)
            return TRUE;
    return asked_has_use (asked, part);
}

static void
add_supports (const Collecting *to)
{
    const GPtrArray *parts = to->asked->library->book.parts;

    for (guint p = 0; p < parts->len; p++) {
        Part *part = g_ptr_array_index (parts, p);

        if (!has_rule_of_form (to, FORM_KNOWS, part->kind) || asked_slots_of (to->asked, part->kind) == 0 ||
            !is_about (to->asked, part))
            continue;
        for (guint i = 0; i < part->steppings->len; i++)
            add_support (part, g_ptr_array_index (part->steppings, i), (gpointer) to);
        if (part->steppings->len == 0)
            add_support (part, NULL, (gpointer) to);
    }
}

static void
add_parts (const Collecting *to)
{
    const GPtrArray *parts = to->asked->library->book.parts;
    const Board *board = to->asked->unit->board;
    gboolean own = has_rule_of_form (to, FORM_OWN, KIND_COUNT);

    for (guint p = 0; p < parts->len; p++) {
        const Part *part = g_ptr_array_index (parts, p);

        if (asked_slots_of (to->asked, part->kind) == 0 || !is_about (to->asked, part))
            continue;
        if (own && (part->requires != NULL || part->conflicts != NULL)) {
            BlockingFact *fact = add (to, FACT_PART, p, 0);
            fact->part = part;
            fact->stated_no =
                expression_names_board (part->requires, board) || expression_names_board (part->conflicts, board);
        }
        if (part->binds && board->binds != NULL)
            add (to, FACT_BINDS, p, 0)->part = part;
    }
}

/* One kind of fact of every release. */
static void
add_releases (const Collecting *to, FactKind kind, gboolean (*has) (const Release *release))
{
    for (guint c = 0; c < to->asked->unit->board->components->len; c++)
        for (guint r = 0; r < component_at (to, c)->releases->len; r++)
            if (has (component_release (component_at (to, c), r)))
                add (to, kind, c, r);
}

static gboolean
states_running (const Release *release)
{
    return release->running_requires != NULL || release->running_conflicts != NULL;
}

static gboolean
is_withdrawn (const Release *release)
{
    return release->withdrawn != NULL;
}

/* Of a withdrawn release, that is what there is to say about writing it. */
static gboolean
states_from (const Release *release)
{
    return release->from != NULL && !is_withdrawn (release);
}

static gboolean
states_to_write (const Release *release)
{
    return (release->to_write_requires != NULL || release->to_write_conflicts != NULL) && !is_withdrawn (release);
}

static gboolean
states_lowest (const Release *release)
{
    return release->lowest > 0; /* nothing is below the first */
}

static void
add_methods (const Collecting *to)
{
    for (guint c = 0; c < to->asked->unit->board->components->len; c++)
        for (guint m = 0; m < METHOD_COUNT; m++)
            if (component_at (to, c)->methods[m].there && component_at (to, c)->methods[m].requires != NULL)
                add (to, FACT_METHOD, c, m);
}

/* ---- The unit; then the order and the shop, which could be otherwise another time ---- */

static void
add_of_unit (const Collecting *to)
{
    const Unit *unit = to->asked->unit;

    for (guint c = 0; c < unit->board->components->len; c++) {
        if (unit->failed != NULL && unit->failed[c])
            add (to, FACT_FAILED, c, 0);
        if (unit->releases[c].floor > 0)
            add (to, FACT_FLOOR, c, 0);
    }
    for (guint s = 0; s < unit->board->slots->len; s++)
        if (unit_insertions_left (unit, s) != G_MAXUINT)
            add (to, FACT_INSERTIONS, s, 0);
}

static void
add_of_order (const Collecting *to)
{
    const Board *board = to->asked->unit->board;
    const Want *want = to->asked->want;

    for (guint s = 0; s < board->slots->len; s++) {
        if (want->keep_slot[s])
            add (to, FACT_KEEP, s, 0);
        if (want->slots[s].kind == WANT_NOTHING)
            add (to, FACT_STAYS, s, 0);
    }
    for (guint c = 0; c < board->components->len; c++) {
        if (want->keep_component[c])
            add (to, FACT_KEEP, c, 1);
        if (component_at (to, c)->spare_of != NULL && want->firmware[c] == NULL && !want->keep_component[c])
            add (to, FACT_SPARE, c, 0);
    }
}

static gboolean
some_sum_is_by_shop (const Collecting *to)
{
    for (guint r = 0; r < to->asked->library->rules->len; r++)
        if (rule_at (to, r)->form == FORM_SUM && rule_at (to, r)->largest == LARGEST_BY_SHOP)
            return TRUE;
    return FALSE;
}

static gboolean
some_component_has (const Board *board, Method method)
{
    for (guint c = 0; c < board->components->len; c++)
        if (board_component (board, c)->methods[method].there)
            return TRUE;
    return FALSE;
}

static void
count_part (const Part *part, const char *stepping, gpointer data)
{
    (void) part;
    (void) stepping;
    ++*(guint *) data;
}

static void
add_of_shop (const Collecting *to)
{
    const Asked *asked = to->asked;

    if (asked->shop->require_recovery)
        add (to, FACT_RECOVERY, 0, 0);
    if (!asked->shop->unverified_writes && some_component_has (asked->unit->board, METHOD_HOST))
        add (to, FACT_VERIFIED, 0, 0);
    if (asked->shop->redundant_supplies && some_sum_is_by_shop (to))
        add (to, FACT_REDUNDANT, 0, 0);
    for (guint m = 0; m < METHOD_COUNT; m++)
        if ((asked->shop->methods & METHOD_BIT (m)) == 0 && some_component_has (asked->unit->board, (Method) m))
            add (to, FACT_NO_METHOD, m, 0);
    for (int owner = OWNER_STOCK; owner >= OWNER_LOAN; owner--)
        for (guint k = 0; k < KIND_COUNT; k++) {
            guint parts = 0;

            if (asked_kind_matters (asked, (PartKind) k))
                asked_each_part (asked, (PartKind) k, count_part, &parts);
            if (parts > 0)
                add (to, owner == OWNER_STOCK ? FACT_STOCK : FACT_LOANERS, k, 0);
        }
}

GPtrArray *
blocking_facts_collect (const Asked *asked)
{
    Collecting to = { asked, g_ptr_array_new_with_free_func (blocking_fact_free) };

    add_wants (&to);
    add_rules (&to);
    add_supports (&to);
    add_releases (&to, FACT_RUNNING, states_running);
    add_parts (&to);
    add_releases (&to, FACT_WITHDRAWN, is_withdrawn);
    add_releases (&to, FACT_FROM, states_from);
    add_releases (&to, FACT_TO_WRITE, states_to_write);
    add_releases (&to, FACT_LOWEST, states_lowest);
    add_methods (&to);
    add_of_unit (&to);
    guint given = to.facts->len;
    add_of_order (&to);
    add_of_shop (&to);
    for (guint i = 0; i < to.facts->len; i++) {
        BlockingFact *fact = g_ptr_array_index (to.facts, i);

        fact->of_shop = i >= given;
        blocking_fact_say (asked, fact);
    }
    return to.facts;
}
