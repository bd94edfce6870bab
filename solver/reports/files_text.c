/* SPDX-License-Identifier: MIT */
/* One line about files that are in order. */
#include "reports/reports.h"
#include "reports/words.h"

char *
report_files_text (const Library *library)
{
    guint releases = 0;
    g_autoptr (GPtrArray) counts = g_ptr_array_new_with_free_func (g_free);
    g_autofree char *joined = NULL;

    for (guint i = 0; i < library->book.firmware->len; i++)
        releases += ((const Component *) g_ptr_array_index (library->book.firmware, i))->releases->len;
    g_ptr_array_add (counts, words_count (library->book.boards->len, "board", "boards"));
    g_ptr_array_add (counts, words_count (library->book.firmware->len, "component", "components"));
    g_ptr_array_add (counts, words_count (releases, "release", "releases"));
    g_ptr_array_add (counts, words_count (library->book.parts->len, "part", "parts"));
    g_ptr_array_add (counts, words_count (library->rules->len, "rule", "rules"));
    g_ptr_array_add (counts, words_count (library->cautions->len, "caution", "cautions"));
    g_ptr_array_add (counts, words_count (library->units->len, "unit", "units"));
    g_ptr_array_add (counts, words_count (library->wants->len, "want", "wants"));
    g_ptr_array_add (counts, words_count (library->shops->len, "shop", "shops"));
    g_ptr_array_add (counts, words_count (library->routes->len, "route", "routes"));
    joined = text_join (counts, "and");
    return g_strdup_printf ("Nothing wrong: %s.\n", joined);
}
