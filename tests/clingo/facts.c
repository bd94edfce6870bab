/* SPDX-License-Identifier: MIT */
#include "facts.h"

#include <string.h>

Facts *
facts_new (void)
{
    return g_ptr_array_new_with_free_func (g_free);
}

void
facts_add (Facts *facts, const char *format, ...)
{
    va_list arguments;
    va_start (arguments, format);
    g_ptr_array_add (facts, g_strdup_vprintf (format, arguments));
    va_end (arguments);
}

static int
compare_texts (gconstpointer a, gconstpointer b)
{
    return strcmp (*(const char *const *) a, *(const char *const *) b);
}

char *
facts_to_text (Facts *facts)
{
    GString *out = g_string_new (NULL);
    const char *last = "";
    g_ptr_array_sort (facts, compare_texts);
    for (guint i = 0; i < facts->len; i++) {
        const char *fact = g_ptr_array_index (facts, i);
        if (strcmp (fact, last))
            g_string_append_printf (out, "%s.\n", fact);
        last = fact;
    }
    return g_string_free (out, FALSE);
}

char *
facts_name (const char *name)
{
    const char *space = strchr (name, ' ');
    return space ? g_strdup_printf ("(\"%.*s\",\"%s\")", (int) (space - name), name, space + 1)
                 : g_strdup_printf ("\"%s\"", name);
}

char *
facts_name_or_none (const char *name)
{
    return name ? facts_name (name) : g_strdup ("none");
}
