/* SPDX-License-Identifier: MIT */
#include "facts_of_files.h"

#include <math.h>

typedef struct {
    Facts *facts;
    const Library *library;
    const Shop *shop;
    const Unit *unit;
    const Want *want;
} Writer;

static int
tenths (double minutes)
{
    return (int) lround (minutes * 10);
}

/* "fact(about,EXPRESSION)"; nothing where nothing is asked. */
static void
expression (const Writer *to, const char *fact, const char *about, const Expr *expr)
{
    if (!expr)
        return;
    g_autofree char *term = facts_expression (to->facts, to->library, to->unit, expr);
    facts_add (to->facts, "%s(%s,%s)", fact, about, term);
}

/* Text attributes as says(about attribute, value), numbers as number(about attribute, thousandths). `about` ends with a
 * comma. Identification values, which no rule can add or compare, do not fit clingo's numbers. */
static void
attributes (const Writer *to, const char *says, const char *number, const char *about, const GPtrArray *list)
{
    for (guint i = 0; i < list->len; i++) {
        const Attribute *attribute = g_ptr_array_index (list, i);
        double thousandths = attribute->number * 1000;
        if (attribute->name == g_intern_static_string ("stepping"))
            continue; /* stepping/2 says it, and the triple which of them it is */
        if (!attribute->is_number)
            for (guint v = 0; v < attribute->values->len; v++)
                facts_add (to->facts, "%s(%s\"%s\",\"%s\")", says, about, attribute->name,
                           (const char *) g_ptr_array_index (attribute->values, v));
        else if (fabs (thousandths) < G_MAXINT32)
            facts_add (to->facts, "%s(%s\"%s\",%ld)", number, about, attribute->name, lround (thousandths));
    }
}

static void
provides (const Writer *to, const char *fact, const char *about, const GPtrArray *list)
{
    for (guint i = 0; i < list->len; i++) {
        const Provide *provide = g_ptr_array_index (list, i);
        g_autofree char *name = facts_name (provide->name);
        g_autofree char *version = facts_name_or_none (provide->version);
        facts_add (to->facts, "%s(%s%s,%s)", fact, about, name, version);
    }
}

/* ---- The board ---- */

static void
slots (const Writer *to)
{
    const Board *board = to->unit->board;
    for (guint s = 0; s < board->slots->len; s++) {
        const Slot *slot = board_slot (board, s);
        g_autofree char *about = g_strdup_printf ("\"%s\",", slot->name);
        facts_add (to->facts, "slot(\"%s\",\"%s\")", slot->name, part_kind_name (slot->takes));
        facts_add (to->facts, "position(\"%s\",%u)", slot->name, s);
        if (slot->over >= 0)
            facts_add (to->facts, "over(\"%s\",\"%s\")", slot->name, board_slot (board, (guint) slot->over)->name);
        if (slot->served_by >= 0)
            facts_add (to->facts, "served_by(\"%s\",\"%s\")", slot->name,
                       board_slot (board, (guint) slot->served_by)->name);
        attributes (to, "slot_says", "slot_number", about, slot->attributes);
    }
}

static void
board_facts (const Writer *to)
{
    const Board *board = to->unit->board;
    facts_add (to->facts, "board(\"%s\")", board->name);
    facts_add (to->facts, "revision(\"%s\")", (const char *) g_ptr_array_index (board->revisions, to->unit->revision));
    attributes (to, "board_says", "board_number", "", board->attributes);
    provides (to, "board_provides", "", board->provides);
    if (board->verified_boot)
        facts_add (to->facts, "verified_boot");
    if (board->binds)
        facts_add (to->facts, "board_binds(\"%s\")", board->binds);
    if (board->mixed_steppings)
        facts_add (to->facts, "states_mixed");
    for (guint i = 0; board->mixed_steppings && i < board->mixed_steppings->len; i++) {
        const SteppingSet *set = g_ptr_array_index (board->mixed_steppings, i);
        for (guint s = 0; s < set->steppings->len; s++)
            facts_add (to->facts, "mixed(%u,\"%s\",\"%s\")", i, set->generation,
                       (const char *) g_ptr_array_index (set->steppings, s));
    }
    slots (to);
}

/* ---- Parts ---- */

static const char *
part_stepping (const Part *part, guint index)
{
    return part->steppings->len ? g_ptr_array_index (part->steppings, index) : NULL;
}

static void
part_facts (const Writer *to, const Part *part)
{
    g_autofree char *quoted = g_strdup_printf ("\"%s\"", part->name);
    g_autofree char *about = g_strdup_printf ("%s,", quoted);
    facts_add (to->facts, "part(%s,\"%s\")", quoted, part_kind_name (part->kind));
    for (guint s = 0; s < MAX (1, part->steppings->len); s++) {
        g_autofree char *stepping = facts_name_or_none (part_stepping (part, s));
        facts_add (to->facts, "stepping(%s,%s)", quoted, stepping);
    }
    attributes (to, "part_says", "part_number", about, part->attributes);
    provides (to, "part_provides", about, part->provides);
    if (part->binds)
        facts_add (to->facts, "binds_itself(%s)", quoted);
    expression (to, "part_requires", quoted, part->requires);
    expression (to, "part_conflicts", quoted, part->conflicts);
}

/* ---- Firmware ---- */

static void
supports (const Writer *to, const char *about, const GPtrArray *starts)
{
    for (guint i = 0; starts && i < starts->len; i++) {
        const Support *support = g_ptr_array_index (starts, i);
        if (!support->steppings)
            facts_add (to->facts, "starts(%s,\"%s\",any)", about, support->generation);
        for (guint s = 0; support->steppings && s < support->steppings->len; s++)
            facts_add (to->facts, "starts(%s,\"%s\",\"%s\")", about, support->generation,
                       (const char *) g_ptr_array_index (support->steppings, s));
    }
}

static void
release_facts (const Writer *to, const Component *component, const Release *release)
{
    g_autofree char *about = g_strdup_printf ("\"%s\",\"%s\"", component->name, release->name);
    g_autofree char *comma = g_strdup_printf ("%s,", about);
    facts_add (to->facts, "release(%s,%u)", about, release->index + 1);
    for (Method method = METHOD_HOST; method < METHOD_COUNT; method++)
        if (release->methods & METHOD_BIT (method) && component->methods[method].there)
            facts_add (to->facts, "may_write(%s,%s)", about, method_name (method));
    if (release->withdrawn)
        facts_add (to->facts, "withdrawn(%s)", about);
    if (release->lowest >= 0)
        facts_add (to->facts, "lowest(%s,\"%s\")", about, component_release (component, (guint) release->lowest)->name);
    for (guint i = 0; i < release->also_writes->len; i++) {
        const AlsoWrites *also = g_ptr_array_index (release->also_writes, i);
        facts_add (to->facts, "also_writes(%s,\"%s\",\"%s\")", about, also->component, also->release);
    }
    expression (to, "from", about, release->from);
    expression (to, "to_write_requires", about, release->to_write_requires);
    expression (to, "to_write_conflicts", about, release->to_write_conflicts);
    expression (to, "running_requires", about, release->running_requires);
    expression (to, "running_conflicts", about, release->running_conflicts);
    provides (to, "release_provides", comma, release->provides);
    supports (to, about, release->starts);
}

static void
method_facts (const Writer *to, const Component *component, Method method)
{
    static const char *const host_words[] = { [HOST_OFF] = "off", [HOST_ON] = "on", [HOST_EITHER] = "either" };
    const MethodEntry *entry = &component->methods[method];
    g_autofree char *about = g_strdup_printf ("\"%s\",%s", component->name, method_name (method));
    if (component->recovery & METHOD_BIT (method))
        facts_add (to->facts, "recovery(%s)", about);
    if (!entry->there)
        return;
    facts_add (to->facts, "method(%s,%d)", about, tenths (entry->minutes));
    if (method == METHOD_HOST && entry->verify_next_start)
        facts_add (to->facts, "next_start(\"%s\")", component->name);
    if (method == METHOD_CONTROLLER)
        facts_add (to->facts, "host_power(\"%s\",%s)", component->name, host_words[entry->host]);
    if (entry->recovery_only)
        facts_add (to->facts, "recovery_only(%s)", about);
    gboolean picks = method != METHOD_HOST && method != METHOD_CONTROLLER;
    if (picks && entry->obeys_from)
        facts_add (to->facts, "obeys(%s,from)", about);
    if (picks && entry->obeys_to_write)
        facts_add (to->facts, "obeys(%s,to_write)", about);
    if (picks && entry->obeys_floor)
        facts_add (to->facts, "obeys(%s,floor)", about);
    expression (to, "method_requires", about, entry->requires);
}

static void
component_facts (const Writer *to, guint index)
{
    const Component *component = board_component (to->unit->board, index);
    const UnitRelease *had = &to->unit->releases[index];
    facts_add (to->facts, "component(\"%s\",%u)", component->name, index + 1);
    if (component->spare)
        facts_add (to->facts, "spare(\"%s\",\"%s\")", component->name, component->spare);
    if (to->unit->failed && to->unit->failed[index])
        facts_add (to->facts, "failed(\"%s\")", component->name);
    if (component->states_starts)
        facts_add (to->facts, "states_support(\"%s\")", component->name);
    for (Method method = METHOD_HOST; method < METHOD_COUNT; method++)
        method_facts (to, component, method);
    for (guint r = 0; r < component->releases->len; r++) {
        const Release *release = component_release (component, r);
        release_facts (to, component, release);
        if (had->may_be[r])
            facts_add (to->facts, "may_be(\"%s\",\"%s\")", component->name, release->name);
    }
    if (had->floor >= 0)
        facts_add (to->facts, "floor_given(\"%s\",\"%s\")", component->name,
                   component_release (component, (guint) had->floor)->name);
}

/* ---- Unit, shop and want ---- */

/* What a slot holds, as the arguments of a fact. Transfer full. */
static char *
fitted_term (const Fitted *fitted)
{
    g_autofree char *stepping = facts_name_or_none (fitted->stepping);
    g_autofree char *bound = facts_name_or_none (fitted->bound);
    return g_strdup_printf ("\"%s\",%s,%s,%s", fitted->part->name, stepping, owner_name (fitted->owner), bound);
}

static void
pulled_facts (const Writer *to)
{
    const GArray *all = to->unit->pulled;
    for (guint p = 0; all && p < all->len; p++) {
        const Fitted *pulled = &g_array_index (all, Fitted, p);
        guint count = 0;
        for (guint other = 0; other < all->len; other++) {
            const Fitted *like = &g_array_index (all, Fitted, other);
            count += like->part == pulled->part && like->stepping == pulled->stepping && like->bound == pulled->bound;
        }
        g_autofree char *stepping = facts_name_or_none (pulled->stepping);
        g_autofree char *bound = facts_name_or_none (pulled->bound);
        facts_add (to->facts, "pulled(\"%s\",%s,%s,%u)", pulled->part->name, stepping, bound, count);
    }
}

static void
unit_facts (const Writer *to)
{
    for (guint s = 0; s < to->unit->board->slots->len; s++) {
        const char *slot = board_slot (to->unit->board, s)->name;
        const Fitted *fitted = &to->unit->fitted[s], *began = unit_began (to->unit, s);
        g_autofree char *held = fitted->part ? fitted_term (fitted) : NULL;
        g_autofree char *had = began->part ? fitted_term (began) : NULL;
        if (held)
            facts_add (to->facts, "fitted(\"%s\",%s)", slot, held);
        facts_add (to->facts, had ? "began(\"%s\",(%s))" : "began(\"%s\",%s)", slot, had ? had : "empty");
        if (to->unit->insertions && to->unit->insertions[s])
            facts_add (to->facts, "had(\"%s\",%u)", slot, to->unit->insertions[s]);
    }
    pulled_facts (to);
}

static void
shop_facts (const Writer *to)
{
    const Shop *shop = to->shop;
    for (Method method = METHOD_HOST; method < METHOD_COUNT; method++)
        if (shop->methods & METHOD_BIT (method))
            facts_add (to->facts, "shop_method(%s)", method_name (method));
    for (guint i = 0; i < shop->lots->len; i++) {
        const Lot *lot = &g_array_index (shop->lots, Lot, i);
        g_autofree char *stepping = facts_name_or_none (lot->stepping);
        g_autofree char *bound = facts_name_or_none (lot->bound);
        facts_add (to->facts, "lot(%s,\"%s\",%s,%s,%u)", owner_name (lot->owner), lot->part->name, stepping, bound,
                   lot->count);
    }
    if (shop->unverified_writes)
        facts_add (to->facts, "unverified");
    if (shop->require_recovery)
        facts_add (to->facts, "need_recovery");
    if (shop->redundant_supplies)
        facts_add (to->facts, "redundant");
    facts_add (to->facts, "opening_tenths(%d)", tenths (shop->opening_minutes));
    facts_add (to->facts, "start_tenths(%d)", tenths (shop->start_minutes));
    for (guint s = 0; s < to->unit->board->slots->len; s++) {
        PartKind kind = board_slot (to->unit->board, s)->takes;
        facts_add (to->facts, "remove_tenths(\"%s\",%d)", part_kind_name (kind), tenths (shop->remove_minutes[kind]));
        facts_add (to->facts, "fit_tenths(\"%s\",%d)", part_kind_name (kind), tenths (shop->fit_minutes[kind]));
    }
}

static void
want_slot (const Writer *to, const Slot *slot)
{
    const WantSlot *asked = &to->want->slots[slot->index];
    if (asked->kind == WANT_NOTHING)
        return;
    facts_add (to->facts, "asks(\"%s\")", slot->name);
    if (want_slot_is_met (asked, NULL, NULL))
        facts_add (to->facts, "suits(\"%s\",empty)", slot->name);
    for (guint p = 0; p < to->library->book.parts->len; p++) {
        const Part *part = g_ptr_array_index (to->library->book.parts, p);
        for (guint s = 0; part->kind == slot->takes && s < MAX (1, part->steppings->len); s++) {
            g_autofree char *stepping = facts_name_or_none (part_stepping (part, s));
            if (want_slot_is_met (asked, part, part_stepping (part, s)))
                facts_add (to->facts, "suits(\"%s\",\"%s\",%s)", slot->name, part->name, stepping);
        }
    }
}

static void
want_facts (const Writer *to)
{
    const Board *board = to->unit->board;
    for (guint s = 0; s < board->slots->len; s++) {
        want_slot (to, board_slot (board, s));
        if (to->want->keep_slot[s])
            facts_add (to->facts, "keep_slot(\"%s\")", board_slot (board, s)->name);
    }
    for (guint c = 0; c < board->components->len; c++) {
        g_autofree char *quoted = g_strdup_printf ("\"%s\"", board_component (board, c)->name);
        expression (to, "want_firmware", quoted, to->want->firmware[c]);
        if (to->want->keep_component[c])
            facts_add (to->facts, "keep_component(%s)", quoted);
    }
}

char *
facts_of_files (const Library *library, const Shop *shop, const Unit *unit, const Want *want)
{
    g_autoptr (GPtrArray) facts = facts_new ();
    const Writer to = { facts, library, shop, unit, want };
    board_facts (&to);
    for (guint p = 0; p < library->book.parts->len; p++)
        part_facts (&to, g_ptr_array_index (library->book.parts, p));
    for (guint c = 0; c < unit->board->components->len; c++)
        component_facts (&to, c);
    facts_of_rules (facts, library, unit);
    unit_facts (&to);
    shop_facts (&to);
    want_facts (&to);
    return facts_to_text (facts);
}
