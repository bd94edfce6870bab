/* SPDX-License-Identifier: MIT */
/* The short phrases that reports are made of. */
#include "reports/words.h"

#include <math.h>

const char *
words_answer (Answer answer)
{
    static const char *const words[] = { "no", "yes", "depends on the release" };

    return words[answer];
}

const char *
words_starts (Starts starts)
{
    switch (starts) {
    case STARTS_YES:
        return "starts";
    case STARTS_NO:
        return "does not start";
    case STARTS_NOT_KNOWN:
        return "not known to start";
    }
    g_assert_not_reached ();
}

const char *
words_owner (Owner owner)
{
    static const char *const words[OWNER_COUNT] = { "the unit's own", "from the loan shelf", "from stock" };

    return words[owner];
}

const char *
words_give_back (Owner owner)
{
    static const char *const words[OWNER_COUNT] = { "keep it with the unit", "back to the loan shelf",
                                                    "back to stock" };

    return words[owner];
}

const char *
words_effect (TakesEffect effect)
{
    switch (effect) {
    case EFFECT_AT_ONCE:
        return "at once";
    case EFFECT_CONTROLLER_RESTART:
        return "restart the controller and wait until it answers again";
    case EFFECT_HOST_RESTART:
        return "restart the host";
    case EFFECT_MAINS_OFF:
        return "mains off: unplug every supply, wait, plug in again";
    }
    g_assert_not_reached ();
}

const char *
words_effect_key (TakesEffect effect)
{
    static const char *const keys[] = { "at-once", "controller-restart", "host-restart", "mains-off" };

    return keys[effect];
}

const char *
words_breaking_key (Breaking breaking)
{
    static const char *const keys[] = { "stops", "harms", "warns", "bars" };

    return keys[breaking];
}

const char *
words_method (Method method)
{
    static const char *const words[METHOD_COUNT] = {
        "from the running host",
        "through the controller",
        "with a programmer clipped on the flash chip",
        "from a medium, with the recovery jumper set",
        "copied from the spare image",
    };

    return words[method];
}

const char *
words_method_here (const MethodEntry *entry, Method method)
{
    if (method != METHOD_CONTROLLER || entry->host == HOST_OFF)
        return words_method (method);
    return entry->host == HOST_ON ? "through the controller, with the host running"
                                  : "through the controller, with the host off or running";
}

char *
words_number (double number)
{
    double tenths = round (number * 10.0);

    if (fmod (tenths, 10.0) == 0.0)
        return g_strdup_printf ("%.0f", tenths / 10.0);
    return g_strdup_printf ("%.1f", tenths / 10.0);
}

char *
words_minutes (double minutes)
{
    g_autofree char *number = words_number (minutes);

    return g_strdup_printf ("%s %s", number, g_str_equal (number, "1") ? "minute" : "minutes");
}

char *
words_count (guint count, const char *one, const char *many)
{
    return g_strdup_printf ("%u %s", count, count == 1 ? one : many);
}

char *
words_place (Mark at)
{
    if (at.file == NULL)
        return g_strdup ("");
    return at.line == 0 ? g_strdup (at.file) : g_strdup_printf ("%s:%u", at.file, at.line);
}

char *
words_part (const Part *part, const char *stepping)
{
    if (part == NULL)
        return g_strdup ("empty");
    return stepping == NULL ? g_strdup (part->name) : g_strdup_printf ("%s (stepping %s)", part->name, stepping);
}

char *
words_methods (guint mask, const char *last)
{
    g_autoptr (GPtrArray) names = g_ptr_array_new ();

    for (int method = 0; method < METHOD_COUNT; method++)
        if (mask & METHOD_BIT (method))
            g_ptr_array_add (names, (gpointer) method_name (method));
    return text_join (names, last);
}

char *
words_count_of (Objective objective, guint amount)
{
    switch (objective) {
    case OBJECTIVE_HANDLING:
        return words_count (amount, "insertion of a processor", "insertions of processors");
    case OBJECTIVE_TIME:
        return words_minutes (amount / 10.0);
    default:
        return words_count (amount, "step", "steps");
    }
}

guint
amount_of_walk (Objective objective, const Walk *walk)
{
    switch (objective) {
    case OBJECTIVE_HANDLING:
        return walk->insertions;
    case OBJECTIVE_TIME:
        return (guint) lround (walk->minutes * 10.0);
    default:
        return walk->steps;
    }
}

char *
words_source (const Source *source)
{
    if (source->text == NULL)
        return NULL;
    return source->checked == NULL ? g_strdup (source->text)
                                   : g_strdup_printf ("%s (checked %s)", source->text, source->checked);
}

char *
words_step (const Board *board, const Step *step)
{
    g_autofree char *part = words_part (step->part, step->stepping);
    const Component *component = NULL;

    switch (step->kind) {
    case STEP_REMOVE:
        return g_strdup_printf ("take the part out of %s", board_slot (board, step->slot)->name);
    case STEP_FIT:
        return g_strdup_printf ("fit %s, %s, in %s", part, words_owner (step->owner),
                                board_slot (board, step->slot)->name);
    case STEP_WRITE:
        component = board_component (board, step->component);
        return g_strdup_printf ("write %s %s %s", component->name, component_release (component, step->release)->name,
                                words_method_here (&component->methods[step->method], step->method));
    }
    g_assert_not_reached ();
}

/* "cpu2 with generation = elvane and cores >= 12" */
static char *
want_slot (const Slot *slot, const WantSlot *want)
{
    g_autoptr (GPtrArray) tests = NULL;
    g_autofree char *joined = NULL;

    if (want->kind == WANT_EMPTY)
        return g_strdup_printf ("%s empty", slot->name);
    if (want->kind == WANT_PART) {
        g_autofree char *part = words_part (want->part, want->stepping);

        return g_strdup_printf ("%s = %s", slot->name, part);
    }
    tests = g_ptr_array_new_with_free_func (g_free);
    for (guint i = 0; i < want->tests->len; i++) {
        const WantTest *test = &g_array_index (want->tests, WantTest, i);

        g_ptr_array_add (tests, g_strdup_printf ("%s %s %s", test->attribute, version_op_text (test->op), test->text));
    }
    joined = text_join (tests, "and");
    return g_strdup_printf ("%s with %s", slot->name, joined);
}

static void
add_kept (const Board *board, const Want *want, GPtrArray *asked)
{
    g_autoptr (GPtrArray) kept = g_ptr_array_new ();

    for (guint s = 0; s < board->slots->len; s++)
        if (want->keep_slot[s])
            g_ptr_array_add (kept, (gpointer) board_slot (board, s)->name);
    for (guint c = 0; c < board->components->len; c++)
        if (want->keep_component[c])
            g_ptr_array_add (kept, (gpointer) board_component (board, c)->name);
    if (kept->len > 0) {
        g_autofree char *names = text_join (kept, "and");

        g_ptr_array_add (asked, g_strdup_printf (kept->len == 1 ? "%s kept as it is" : "%s kept as they are", names));
    }
}

char *
words_want (const Board *board, const Want *want)
{
    g_autoptr (GPtrArray) asked = g_ptr_array_new_with_free_func (g_free);

    for (guint s = 0; s < board->slots->len; s++)
        if (want->slots[s].kind != WANT_NOTHING)
            g_ptr_array_add (asked, want_slot (board_slot (board, s), &want->slots[s]));
    for (guint c = 0; c < board->components->len; c++)
        if (want->firmware[c] != NULL)
            g_ptr_array_add (asked, expression_to_string (want->firmware[c]));
    add_kept (board, want, asked);
    g_ptr_array_add (asked, NULL);
    return g_strjoinv ("; ", (char **) asked->pdata);
}

char *
words_case (const Unit *unit, const guint *releases, const gboolean *left_out)
{
    g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

    for (guint c = 0; c < unit->board->components->len; c++) {
        const Component *component = board_component (unit->board, c);

        if (unit->releases[c].count > 1 && (left_out == NULL || !left_out[c]))
            g_ptr_array_add (
                parts, g_strdup_printf ("%s %s", component->name, component_release (component, releases[c])->name));
    }
    return parts->len == 0 ? g_strdup ("as told") : text_join (parts, "and");
}
