/* SPDX-License-Identifier: MIT */
/* Writes: docs/method.md, "Steps", one function per condition, in its order. */
#include "check/steps.h"

#include "check/facts.h"
#include "check/offers.h"
#include "check/state.h"

/* One write, with what its conditions look at. */
typedef struct {
    const Walker *walker;
    const Board *board;
    const Component *component;
    const Release *release;
    const MethodEntry *entry;
    Method method;
    guint index;           /* of the component */
    const GArray *written; /* Written */
    Refusal *refusal;
} Write;

static const Component *
written_component (const Write *write, guint i)
{
    return board_component (write->board, g_array_index (write->written, Written, i).component);
}

static const Release *
written_release (const Write *write, guint i)
{
    return component_release (written_component (write, i), g_array_index (write->written, Written, i).release);
}

static gboolean
is_not_kept (const Write *write)
{
    const Want *want = write->walker->want;

    for (guint i = 0; want != NULL && i < write->written->len; i++)
        if (want->keep_component[g_array_index (write->written, Written, i).component])
            return refuse (write->refusal, "kept", "%s %s writes %s, which is to be kept as it is",
                           write->component->name, write->release->name, written_component (write, i)->name);
    return TRUE;
}

static gboolean
has_method (const Write *write)
{
    const char *method = method_name (write->method);

    if (!write->entry->there) {
        g_autofree char *place = mark_in_words (write->component->at);

        return refuse (write->refusal, "method-missing", "%s cannot be written by %s (%s)", write->component->name,
                       method, place);
    }
    if ((write->release->methods & METHOD_BIT (write->method)) == 0) {
        g_autofree char *place = mark_in_words (write->release->at);

        return refuse (write->refusal, "method-missing", "%s %s is not to be written by %s (%s)",
                       write->component->name, write->release->name, method, place);
    }
    if ((write->walker->shop->methods & METHOD_BIT (write->method)) == 0)
        return refuse (write->refusal, "method-not-here", "this shop does not write by %s", method);
    return TRUE;
}

/* "clip or spare"; "nothing". Transfer full. */
static char *
methods_in_words (guint methods)
{
    g_autoptr (GString) words = g_string_new (NULL);

    for (guint m = 0; m < METHOD_COUNT; m++)
        if ((methods & METHOD_BIT (m)) != 0)
            g_string_append_printf (words, "%s%s", words->len > 0 ? " or " : "", method_name ((Method) m));
    return words->len > 0 ? g_string_free (g_steal_pointer (&words), FALSE) : g_strdup ("nothing");
}

/* The spare image is there, sound, and of this very release. */
static gboolean
has_spare_image (const Write *write)
{
    const State *state = write->walker->state;
    const char *name = write->component->name;

    if (write->method != METHOD_SPARE)
        return TRUE;
    int spare = board_find_spare (write->board, write->index);
    if (spare < 0)
        return refuse (write->refusal, "spare-image", "%s has no spare image", name);
    if (state->failed[spare])
        return refuse (write->refusal, "spare-image", "the last write of %s, the spare image of %s, failed",
                       write->component->spare, name);
    int held = state_spare_release (state, write->index);
    if (held >= 0 && component_release (write->component, (guint) held) == write->release)
        return TRUE;
    return refuse (write->refusal, "spare-image", "%s, the spare image of %s, holds %s, not %s",
                   write->component->spare, name, state_release (state, (guint) spare)->name, write->release->name);
}

static gboolean
is_not_withdrawn (const Write *write)
{
    for (guint i = 0; i < write->written->len; i++) {
        const Release *release = written_release (write, i);

        if (release->withdrawn != NULL) {
            g_autofree char *place = mark_in_words (release->at);

            return refuse (write->refusal, "withdrawn", "%s %s is withdrawn (%s): %s",
                           written_component (write, i)->name, release->name, place, release->withdrawn);
        }
    }
    return TRUE;
}

static gboolean
is_not_below_floor (const Write *write)
{
    if (!write->entry->obeys_floor)
        return TRUE;
    for (guint i = 0; i < write->written->len; i++) {
        const Written *one = &g_array_index (write->written, Written, i);
        const Component *component = written_component (write, i);
        int floor = write->walker->state->floors[one->component];

        if ((int) one->release < floor)
            return refuse (write->refusal, "below-floor", "%s %s is below %s, the lowest that can still be written",
                           component->name, component_release (component, one->release)->name,
                           component_release (component, (guint) floor)->name);
    }
    return TRUE;
}

static gboolean
replaces_what_it_may (const Write *write)
{
    const Expr *from = write->release->from;
    guint present = write->walker->state->releases[write->index];

    if (!write->entry->obeys_from || from == NULL)
        return TRUE;
    g_autoptr (GArray) offers = offers_of_release (write->board, write->index, present);
    if (offers_satisfy (write->board, offers, from))
        return TRUE;
    g_autofree char *text = expression_to_string (from);
    g_autofree char *place = mark_in_words (from->at);
    return refuse (write->refusal, "from", "%s %s may be written only over %s (%s), and %s is at %s",
                   write->component->name, write->release->name, text, place, write->component->name,
                   component_release (write->component, present)->name);
}

/* "which must (not) hold: X (place)"; what the state has of each name in it. Transfer full. */
static char *
answers_in_words (const Write *write, const GArray *offers, const Expr *expr)
{
    g_autoptr (GPtrArray) scratch = broken_list_new ();
    g_autofree char *place = mark_in_words (expr->at);
    g_autofree char *text = expression_to_string (expr);
    g_autoptr (GString) words = g_string_new (NULL);
    Broken *broken = broken_add_running (scratch, write->release);

    broken_add_answers (broken, write->walker->state, offers, expr);
    g_string_append_printf (words, "%s (%s); here", text, place);
    for (guint i = 0; i < broken->facts->len; i++)
        g_string_append_printf (words, "%s %s", i > 0 ? "," : "", ((const Fact *) broken->facts->pdata[i])->text);
    return g_string_free (g_steal_pointer (&words), FALSE);
}

static gboolean
meets_to_write (const Write *write)
{
    const Expr *needs = write->release->to_write_requires, *conflicts = write->release->to_write_conflicts;

    if (!write->entry->obeys_to_write || (needs == NULL && conflicts == NULL))
        return TRUE;
    g_autoptr (GArray) offers = offers_of_state (write->walker->state);
    if (offers_allow (write->board, offers, needs, conflicts))
        return TRUE;
    gboolean lacks = needs != NULL && !offers_satisfy (write->board, offers, needs);
    g_autofree char *words = answers_in_words (write, offers, lacks ? needs : conflicts);
    return refuse (write->refusal, "to-write", "to write %s %s, this must %shold: %s", write->component->name,
                   write->release->name, lacks ? "" : "not ", words);
}

static gboolean
meets_method (const Write *write)
{
    if (write->entry->requires == NULL)
        return TRUE;
    g_autoptr (GArray) offers = offers_of_state (write->walker->state);
    if (offers_satisfy (write->board, offers, write->entry->requires))
        return TRUE;
    g_autofree char *words = answers_in_words (write, offers, write->entry->requires);
    return refuse (write->refusal, "method-requires", "to write %s by %s, this must hold: %s", write->component->name,
                   method_name (write->method), words);
}

/* A failed component takes nothing but what recovers it. */
static gboolean
recovers_what_failed (const Write *write)
{
    const State *state = write->walker->state;

    if (write->entry->recovery_only && !state->failed[write->index])
        return refuse (write->refusal, "recovery-only", "%s writes %s only after a write of it has failed",
                       method_name (write->method), write->component->name);
    for (guint i = 0; i < write->written->len; i++) {
        guint component = g_array_index (write->written, Written, i).component;
        guint usable = recovery_methods (write->walker->shop, state, component);

        if (!state->failed[component] || (usable & METHOD_BIT (write->method)) != 0)
            continue;
        /* What the method itself asks for is said as that. */
        if (usable == 0 && component == write->index && !meets_method (write))
            return FALSE;
        g_autofree char *by = methods_in_words (usable);
        return refuse (write->refusal, "failed-component",
                       "the last write of %s failed, and %s does not recover it here; %s does",
                       written_component (write, i)->name, method_name (write->method), by);
    }
    return TRUE;
}

static gboolean
is_not_barred (const Write *write)
{
    for (guint i = 0; i < write->walker->broken->len; i++) {
        const Broken *broken = write->walker->broken->pdata[i];

        if (broken->breaking != BREAKING_BARS || (broken->methods & METHOD_BIT (write->method)) == 0)
            continue;
        g_autofree char *words = broken_in_words (broken);
        return refuse (write->refusal, "barred", "writing by %s is barred by %s", method_name (write->method), words);
    }
    return TRUE;
}

static gboolean
can_be_recovered (const Write *write)
{
    const Walker *walker = write->walker;
    int lost =
        walker->shop->require_recovery ? write_without_recovery (walker->shop, walker->state, write->written) : -1;

    if (lost < 0)
        return TRUE;
    return refuse (write->refusal, "no-recovery",
                   "the shop asks for a recovery for every write, and a failed write of %s has none here",
                   board_component (write->board, (guint) lost)->name);
}

gboolean
write_is_allowed (const Walker *walker, const Step *step, Refusal *refusal)
{
    const Board *board = walker->state->board;
    const Component *component = board_component (board, step->component);
    g_autoptr (GArray) written = step_writes (board, step);
    Write write = { .walker = walker,
                    .board = board,
                    .component = component,
                    .release = component_release (component, step->release),
                    .entry = &component->methods[step->method],
                    .method = step->method,
                    .index = step->component,
                    .written = written,
                    .refusal = refusal };

    return is_not_kept (&write) && has_method (&write) && recovers_what_failed (&write) && has_spare_image (&write) &&
           is_not_withdrawn (&write) && is_not_below_floor (&write) && replaces_what_it_may (&write) &&
           meets_to_write (&write) && meets_method (&write) && is_not_barred (&write) &&
           write_power_is_safe_before (walker, step, refusal) && can_be_recovered (&write);
}
