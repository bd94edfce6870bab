/* SPDX-License-Identifier: MIT */
/* Lists in a sentence. */
#include "text/text.h"

char *
text_join (const GPtrArray *words, const char *last)
{
    GString *joined = g_string_new (NULL);

    for (guint i = 0; i < words->len; i++) {
        if (i > 0 && i + 1 == words->len)
            g_string_append_printf (joined, " %s ", last);
        else if (i > 0)
            g_string_append (joined, ", ");
        g_string_append (joined, g_ptr_array_index (words, i));
    }
    return g_string_free (joined, FALSE);
}
