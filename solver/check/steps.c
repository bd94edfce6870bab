/* SPDX-License-Identifier: MIT */
/* Steps on parts, and what every kind of step has in common. A step is not trusted: it may come from a file, or from a
 * search that is wrong. */
#include "check/steps.h"

#include "check/facts.h"
#include "check/state.h"

#include <stdarg.h>

gboolean
refuse (Refusal *refusal, const char *rule, const char *format, ...)
{
    va_list args;

    va_start (args, format);
    refusal->rule = g_intern_static_string (rule);
    refusal->why = g_strdup_vprintf (format, args);
    va_end (args);
    return FALSE;
}

/* What a stated fact breaks is said rather than what is only not known. NULL when the state starts. */
static const Broken *
what_keeps_dark (const GPtrArray *broken_list)
{
    const Broken *not_known = NULL;

    for (guint i = 0; i < broken_list->len; i++) {
        const Broken *broken = broken_list->pdata[i];

        if (!broken_keeps_dark (broken))
            continue;
        if (broken->sureness == SURE_STATED)
            return broken;
        if (not_known == NULL)
            not_known = broken;
    }
    return not_known;
}

gboolean
refuse_unless_starts (const GPtrArray *broken_list, const char *rule, const char *when, Refusal *refusal)
{
    const Broken *broken = what_keeps_dark (broken_list);

    if (broken == NULL)
        return TRUE;
    g_autofree char *words = broken_in_words (broken);
    return refuse (refusal, rule, "%s the unit %s: %s", when,
                   broken->sureness == SURE_STATED ? "does not start" : "is not known to start", words);
}

static gboolean
stepping_is_known (const Step *step, Refusal *refusal)
{
    const Part *part = step->part;

    if (step->stepping == NULL) {
        if (part->steppings->len == 0)
            return TRUE;
        return refuse (refusal, "no-such-stepping", "no stepping is given for %s", part->name);
    }
    if (g_ptr_array_find (part->steppings, step->stepping, NULL))
        return TRUE;
    return refuse (refusal, "no-such-stepping", "%s has no stepping %s", part->name, step->stepping);
}

static gboolean
part_step_is_known (const Walker *walker, const Step *step, Refusal *refusal)
{
    const Board *board = walker->state->board;

    if (step->slot >= board->slots->len)
        return refuse (refusal, "no-such-slot", "%s has no slot number %u", board->name, step->slot);
    if (step->kind == STEP_REMOVE && step->part == NULL)
        return TRUE;
    if (step->part == NULL || !g_ptr_array_find (walker->library->book.parts, step->part, NULL))
        return refuse (refusal, "no-such-part", "the part for %s is not in the book",
                       board_slot (board, step->slot)->name);
    if (step->kind == STEP_REMOVE)
        return TRUE;
    if (step->owner >= OWNER_COUNT)
        return refuse (refusal, "no-such-step", "it is not said whose part goes into %s",
                       board_slot (board, step->slot)->name);
    return stepping_is_known (step, refusal);
}

static gboolean
also_writes_are_known (const Board *board, const Release *release, Refusal *refusal)
{
    for (guint i = 0; i < release->also_writes->len; i++) {
        const AlsoWrites *also = release->also_writes->pdata[i];
        int component = board_find_component (board, also->component);

        if (component >= 0 && component_find_release (board_component (board, (guint) component), also->release) < 0)
            return refuse (refusal, "no-such-release", "%s has no release %s, which %s also writes", also->component,
                           also->release, release->name);
    }
    return TRUE;
}

static gboolean
write_is_known (const Walker *walker, const Step *step, Refusal *refusal)
{
    const Board *board = walker->state->board;

    if (step->component >= board->components->len)
        return refuse (refusal, "no-such-component", "%s has no component number %u", board->name, step->component);
    const Component *component = board_component (board, step->component);
    if (step->release >= component->releases->len)
        return refuse (refusal, "no-such-release", "%s has no release number %u", component->name, step->release);
    if (step->method >= METHOD_COUNT)
        return refuse (refusal, "no-such-step", "%s is to be written by no known method", component->name);
    return also_writes_are_known (board, component_release (component, step->release), refusal);
}

gboolean
step_is_known (const Walker *walker, const Step *step, Refusal *refusal)
{
    switch (step->kind) {
    case STEP_REMOVE:
    case STEP_FIT:
        return part_step_is_known (walker, step, refusal);
    case STEP_WRITE:
        return write_is_known (walker, step, refusal);
    default:
        return refuse (refusal, "no-such-step", "it is neither a removal, a fitting nor a write");
    }
}

static gboolean
slot_is_not_kept (const Walker *walker, const Step *step, Refusal *refusal)
{
    if (walker->want == NULL || !walker->want->keep_slot[step->slot])
        return TRUE;
    return refuse (refusal, "kept", "%s is to be kept as it is", board_slot (walker->state->board, step->slot)->name);
}

/* Nobody leaves a unit without trying it, and then such a part is spoilt for stock. */
static gboolean
part_may_leave (const Walker *walker, const Step *step, Refusal *refusal)
{
    const Board *board = walker->state->board;
    const Held *held = &walker->state->held[step->slot];

    if (held->owner != OWNER_STOCK || !held_would_be_bound (board, held))
        return TRUE;
    g_autofree char *part = held_in_words (held);
    g_autofree char *place = mark_in_words (held->part->at);
    return refuse (refusal, "bound-stays",
                   "%s in %s is from stock and binds itself (%s) to %s once it is started here, so it stays", part,
                   board_slot (board, step->slot)->name, place, board->binds);
}

static gboolean
removal_is_allowed (const Walker *walker, const Step *step, Refusal *refusal)
{
    const char *slot = board_slot (walker->state->board, step->slot)->name;
    const Held *held = &walker->state->held[step->slot];

    if (held->part == NULL)
        return refuse (refusal, "slot-is-empty", "%s is empty, so nothing can be removed from it", slot);
    if (step->part == NULL ||
        (step->part == held->part && (step->stepping == NULL || step->stepping == held->stepping)))
        return part_may_leave (walker, step, refusal);
    g_autofree char *named = part_in_words (step->part, step->stepping);
    g_autofree char *there = part_in_words (held->part, held->stepping);
    return refuse (refusal, "slot-holds", "%s is to be removed from %s, which holds %s", named, slot, there);
}

/* How many of this triple there are in all: what the unit has, or what the shop has. */
static guint
count_there_are (const Walker *walker, const Held *triple)
{
    guint count = 0;

    if (triple->owner == OWNER_UNIT)
        return unit_count_triple (walker->state->unit, triple);
    for (guint i = 0; i < walker->shop->lots->len; i++) {
        const Lot *lot = &g_array_index (walker->shop->lots, Lot, i);

        Held held = { lot->part, lot->stepping, lot->owner, lot->bound };

        if (held_equal (&held, triple))
            count += lot->count;
    }
    return count;
}

static gboolean
part_is_at_hand (const Walker *walker, const Step *step, Refusal *refusal)
{
    static const char *const whose[OWNER_COUNT] = { "of the unit's own", "on the loan shelf", "in stock" };
    Held triple = held_from_step (step);
    guint there_are = count_there_are (walker, &triple);
    guint fitted = state_count_triple (walker->state, &triple);

    if (fitted < there_are)
        return TRUE;
    g_autofree char *part = held_in_words (&triple);
    if (there_are == 0)
        return refuse (refusal, "not-at-hand", "there is no %s %s", part, whose[step->owner]);
    return refuse (refusal, "not-at-hand", "of %s there are %u %s, and %u are fitted already", part, there_are,
                   whose[step->owner], fitted);
}

static gboolean
socket_bears_it (const Walker *walker, const Step *step, Refusal *refusal)
{
    const State *state = walker->state;
    guint left = unit_insertions_left (state->unit, step->slot), fittings = state->fittings[step->slot];

    if (fittings < left)
        return TRUE;
    const Slot *slot = board_slot (state->board, step->slot);
    const Attribute *rated = attribute_find (slot->attributes, "rated-insertions");
    g_autofree char *value = attribute_in_words (rated);
    g_autofree char *place = mark_in_words (rated->at);
    guint had = state->unit->insertions != NULL ? state->unit->insertions[step->slot] : 0;
    return refuse (refusal, "socket-worn", "%s is rated for %s insertions (%s), and it has had %u", slot->name, value,
                   place, had + fittings);
}

static gboolean
fitting_is_allowed (const Walker *walker, const Step *step, Refusal *refusal)
{
    const Slot *slot = board_slot (walker->state->board, step->slot);
    const Held *held = &walker->state->held[step->slot];

    if (held->part != NULL)
        return refuse (refusal, "slot-is-full", "%s still holds %s", slot->name, held->part->name);
    if (slot->takes != step->part->kind) {
        g_autofree char *place = mark_in_words (slot->at);

        return refuse (refusal, "slot-takes", "%s takes a %s (%s), and %s is a %s", slot->name,
                       part_kind_name (slot->takes), place, step->part->name, part_kind_name (step->part->kind));
    }
    return part_is_at_hand (walker, step, refusal) && socket_bears_it (walker, step, refusal);
}

gboolean
step_is_allowed (const Walker *walker, const Step *step, Refusal *refusal)
{
    switch (step->kind) {
    case STEP_REMOVE:
        return slot_is_not_kept (walker, step, refusal) && removal_is_allowed (walker, step, refusal);
    case STEP_FIT:
        return slot_is_not_kept (walker, step, refusal) && fitting_is_allowed (walker, step, refusal);
    default:
        return write_is_allowed (walker, step, refusal);
    }
}
