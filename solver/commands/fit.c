/* SPDX-License-Identifier: MIT */
/* Reading --fit. A part's name may hold colons itself, so the whole text is looked up before it is split. */
#include "commands/fit.h"

#include <string.h>

typedef struct {
    const char *command;
    const char *item;
    const Book *book;
    const Slot *slot; /* known by the time its part is read */
} FitItem;

static Outcome
unknown_part (const FitItem *fit, const char *name)
{
    g_autoptr (GPtrArray) known = g_ptr_array_new ();
    const char *nearest = NULL;
    g_autofree char *expected = NULL;

    for (guint i = 0; i < fit->book->parts->len; i++)
        g_ptr_array_add (known, (gpointer) ((const Part *) g_ptr_array_index (fit->book->parts, i))->name);
    g_ptr_array_add (known, NULL);
    nearest = text_nearest (name, (const char *const *) known->pdata);
    expected = nearest == NULL ? g_strdup ("a part of the book, or empty")
                               : g_strdup_printf ("a part of the book, or empty; the nearest is %s", nearest);
    return usage_error (fit->command, expected, "--fit %s: no part is called %s", fit->item, name);
}

/* "a0, b1". Transfer full. */
static char *
steppings_of (const Part *part)
{
    GString *all = g_string_new (NULL);

    for (guint i = 0; i < part->steppings->len; i++)
        g_string_append_printf (all, "%s%s", i > 0 ? ", " : "", (const char *) part->steppings->pdata[i]);
    return g_string_free (all, FALSE);
}

static Outcome
choose_stepping (const FitItem *fit, const Part *part, const char *stepping, Fitted *fitted)
{
    if (stepping == NULL && part->steppings->len <= 1) {
        fitted->stepping = part->steppings->len == 1 ? g_ptr_array_index (part->steppings, 0) : NULL;
        return OUTCOME_ANSWERED;
    }
    for (guint i = 0; stepping != NULL && i < part->steppings->len; i++) {
        if (g_str_equal (g_ptr_array_index (part->steppings, i), stepping)) {
            fitted->stepping = g_ptr_array_index (part->steppings, i);
            return OUTCOME_ANSWERED;
        }
    }
    g_autofree char *all = steppings_of (part);
    g_autofree char *expected = part->steppings->len == 0
                                    ? g_strdup_printf ("%s alone: the book gives it no stepping", part->name)
                                    : g_strdup_printf ("%s:STEPPING, with one of %s", part->name, all);

    if (stepping == NULL)
        return usage_error (fit->command, expected, "--fit %s: %s comes in the steppings %s, so say which", fit->item,
                            part->name, all);
    return usage_error (fit->command, expected, "--fit %s: %s has no stepping %s", fit->item, part->name, stepping);
}

static Outcome
read_part (const FitItem *fit, const char *text, Fitted *fitted)
{
    const Part *part = book_find_part (fit->book, text);
    const char *colon = strrchr (text, ':');
    const char *stepping = NULL;

    if (part == NULL && colon != NULL) {
        g_autofree char *name = g_strndup (text, (gsize) (colon - text));

        part = book_find_part (fit->book, name);
        stepping = colon + 1;
        if (part == NULL)
            return unknown_part (fit, name);
    }
    if (part == NULL)
        return unknown_part (fit, text);
    fitted->part = part;
    if (part->kind != fit->slot->takes)
        return usage_error (fit->command, "a part of the kind that the slot takes",
                            "--fit %s: %s takes a %s, %s is a %s", fit->item, fit->slot->name,
                            part_kind_name (fit->slot->takes), part->name, part_kind_name (part->kind));
    return choose_stepping (fit, part, stepping, fitted);
}

static Outcome
apply_item (FitItem *fit, Unit *unit)
{
    const char *equals = strchr (fit->item, '=');
    g_autofree char *slot_name = equals == NULL ? NULL : g_strndup (fit->item, (gsize) (equals - fit->item));
    int slot = slot_name == NULL ? -1 : board_find_slot (unit->board, slot_name);
    Fitted fitted = { .at = MARK_NONE };
    Outcome outcome = OUTCOME_ANSWERED;

    if (equals == NULL)
        return usage_error (fit->command, "SLOT=PART[:STEPPING] or SLOT=empty", "--fit %s has no =", fit->item);
    if (slot < 0)
        return usage_error (fit->command, "a slot of the unit's board", "--fit %s: board %s has no slot %s", fit->item,
                            unit->board->name, slot_name);
    fit->slot = board_slot (unit->board, (guint) slot);
    if (!g_str_equal (equals + 1, "empty"))
        outcome = read_part (fit, equals + 1, &fitted);
    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    unit->fitted[slot] = fitted;
    return OUTCOME_ANSWERED;
}

Outcome
fit_apply (const char *command, const Book *book, char *const *items, Unit *unit)
{
    for (char *const *item = items; item != NULL && *item != NULL; item++) {
        FitItem fit = { command, *item, book, NULL };
        Outcome outcome = apply_item (&fit, unit);

        if (outcome != OUTCOME_ANSWERED)
            return outcome;
    }
    return OUTCOME_ANSWERED;
}
