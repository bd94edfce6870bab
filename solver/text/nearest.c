/* SPDX-License-Identifier: MIT */
/* Names: which texts can be one, and which known name a misspelt one was meant to be. */
#include "text/text.h"

#include <string.h>

#define LONGEST_COMPARED 64 /* longer names are not worth a guess */

Mark
mark_right_of (Mark mark, guint characters)
{
    mark.column += characters;
    return mark;
}

gboolean
text_is_name_character (char character)
{
    return g_ascii_isalnum (character) || (character && strchr ("._-+~:", character));
}

const char *
text_name_problem (const char *text)
{
    static const char *const reserved[] = { "unknown", "empty", "and", "or", "if", "board", NULL };
    if (g_strv_contains (reserved, text))
        return "a name other than unknown, empty, and, or, if, board";
    if (!g_ascii_isalnum (*text))
        return "a name that starts with a letter or a digit";
    for (const char *at = text; *at; at++)
        if (!text_is_name_character (*at))
            return "a name of letters, digits and . _ - + ~ : only";
    return NULL;
}

/* Edits (a letter more, less, other, or two neighbours swapped) from one to the other, without regard to case. */
static guint
edit_distance (const char *left, const char *right)
{
    guint rows[3][LONGEST_COMPARED + 1];
    gsize width = strlen (right);
    for (gsize j = 0; j <= width; j++)
        rows[0][j] = (guint) j;
    for (gsize i = 1; left[i - 1]; i++) {
        guint *row = rows[i % 3], *above = rows[(i + 2) % 3], *two_above = rows[(i + 1) % 3];
        char letter = g_ascii_tolower (left[i - 1]);
        row[0] = (guint) i;
        for (gsize j = 1; j <= width; j++) {
            char other = g_ascii_tolower (right[j - 1]);
            row[j] = MIN (MIN (row[j - 1], above[j]) + 1, above[j - 1] + (letter != other));
            if (i > 1 && j > 1 && letter == g_ascii_tolower (right[j - 2]) && other == g_ascii_tolower (left[i - 2]))
                row[j] = MIN (row[j], two_above[j - 2] + 1);
        }
    }
    return rows[strlen (left) % 3][width];
}

const char *
text_nearest (const char *found, const char *const *known)
{
    gsize length = strlen (found);
    if (length == 0 || length > LONGEST_COMPARED)
        return NULL;
    const char *nearest = NULL;
    guint most = length < 3 ? 0 : (guint) (length + 2) / 3; /* two letters are another name, not a misspelt one */
    for (guint i = 0; known[i]; i++) {
        gsize other = strlen (known[i]);
        if (other > LONGEST_COMPARED || strcmp (found, known[i]) == 0)
            continue;
        guint distance = edit_distance (found, known[i]);
        /* As many edits as letters says nothing: any two short names are that near. */
        if (distance <= most && distance < MAX (length, other)) {
            nearest = known[i];
            if (distance == 0)
                break;
            most = distance - 1;
        }
    }
    return nearest;
}
