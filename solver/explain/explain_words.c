/* SPDX-License-Identifier: MIT */
#include "explain/explain_words.h"

char *
explain_part (const Part *part, const char *stepping)
{
    return stepping == NULL ? g_strdup (part->name) : g_strdup_printf ("%s %s", part->name, stepping);
}

char *
explain_want_slot (const WantSlot *want)
{
    g_autoptr (GPtrArray) tests = g_ptr_array_new_with_free_func (g_free);
    g_autofree char *words = NULL;

    if (want->kind == WANT_EMPTY || (want->kind == WANT_HELD && want->part == NULL))
        return g_strdup ("be empty");
    if (want->part != NULL) {
        words = explain_part (want->part, want->stepping);
        return g_strdup_printf ("hold %s", words);
    }
    for (guint i = 0; want->tests != NULL && i < want->tests->len; i++) {
        const WantTest *test = &g_array_index (want->tests, WantTest, i);

        g_ptr_array_add (tests, g_strdup_printf ("%s %s %s", test->attribute, version_op_text (test->op), test->text));
    }
    words = text_join (tests, "and");
    return g_strdup_printf ("hold a part with %s", words);
}

const char *
explain_kinds (PartKind kind)
{
    static const char *const names[KIND_COUNT] = { "processors", "heat sinks", "memory modules", "supplies",   "risers",
                                                   "fans",       "baffles",    "blanks",         "start media" };

    return names[kind];
}
