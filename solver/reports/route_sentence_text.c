/* SPDX-License-Identifier: MIT */
/* What a step of the bench sheet does, in one sentence. */
#include "reports/route_sheet.h"

static char *
moved_part (const StepAccount *step)
{
    g_autofree char *part = words_part (step->moved.part, step->moved.stepping);
    g_autofree char *bound =
        step->moved.bound == NULL ? g_strdup ("") : g_strdup_printf (", bound to %s", step->moved.bound);

    return step->serial == NULL ? g_strdup_printf ("%s%s", part, bound)
                                : g_strdup_printf ("%s%s, serial %s", part, bound, step->serial);
}

static char *
write_sentence (const Sheet *sheet, const StepAccount *step)
{
    const Component *component = board_component (sheet_board (sheet), step->step->component);
    const Release *release = component_release (component, step->step->release);
    Method method = step->step->method;
    GString *text = g_string_new (NULL);

    g_string_append_printf (text, "Write %s %s", component->name, release->name);
    if (step->replaces_failed)
        g_string_append (text, " over the write that failed");
    else if (step->replaces >= 0)
        g_string_append_printf (text, " over %s", component_release (component, (guint) step->replaces)->name);
    else
        g_string_append (text, " over what is there");
    g_string_append_printf (text, ", %s", words_method_here (&component->methods[method], method));
    for (guint c = 0; c < sheet_board (sheet)->components->len; c++) {
        int also = c == step->step->component ? -1 : step_writes_release (sheet_board (sheet), step->step, c);
        const Component *other = board_component (sheet_board (sheet), c);

        if (also >= 0)
            g_string_append_printf (text, "; it also writes %s %s", other->name,
                                    component_release (other, (guint) also)->name);
    }
    if (release->asks_clear_settings)
        g_string_append (text, "; then clear the settings by hand (the step's minutes include that)");
    return g_string_free (text, FALSE);
}

char *
sheet_sentence_of_move (const Sheet *sheet, const StepAccount *step, const char *part, const char *whose)
{
    const char *slot = board_slot (sheet_board (sheet), step->step->slot)->name;
    g_autofree char *moved = part == NULL ? moved_part (step) : g_strdup (part);

    if (step->step->kind == STEP_FIT)
        return g_strdup_printf ("Fit in %s: %s, %s", slot, moved,
                                whose != NULL ? whose : words_owner (step->moved.owner));
    return g_strdup_printf ("Take out of %s: %s; %s", slot, moved,
                            whose != NULL ? whose : words_give_back (step->moved.owner));
}

char *
sheet_sentence (const Sheet *sheet, const StepAccount *step, const StepAccount *next)
{
    if (step->step->kind == STEP_WRITE)
        return write_sentence (sheet, step);
    if (step->step->kind == STEP_REMOVE && next != NULL) {
        g_autofree char *part = moved_part (step), *other = moved_part (next);

        return g_strdup_printf ("Exchange in %s: take out %s (%s); fit %s, %s",
                                board_slot (sheet_board (sheet), step->step->slot)->name, part,
                                words_give_back (step->moved.owner), other, words_owner (next->moved.owner));
    }
    return sheet_sentence_of_move (sheet, step, NULL, NULL);
}
