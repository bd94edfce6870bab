/* SPDX-License-Identifier: MIT */
/* Cleaning and escaping. */
#include "reports/markup.h"

static gboolean
turns_direction (gunichar character)
{
    return (character >= 0x202A && character <= 0x202E) || (character >= 0x2066 && character <= 0x2069);
}

gunichar
markup_clean (gunichar character)
{
    if (character == '\n' || character == '\t' || character == '\r')
        return ' ';
    if (g_unichar_iscntrl (character) || turns_direction (character) || (character & 0xFFFE) == 0xFFFE)
        return '?';
    return character;
}

void
markup_put_character (GString *out, gunichar character)
{
    switch (markup_clean (character)) {
    case '&':
        g_string_append (out, "&amp;");
        break;
    case '<':
        g_string_append (out, "&lt;");
        break;
    case '>':
        g_string_append (out, "&gt;");
        break;
    case '"':
        g_string_append (out, "&quot;");
        break;
    case '\'':
        g_string_append (out, "&#39;");
        break;
    default:
        g_string_append_unichar (out, markup_clean (character));
        break;
    }
}

void
markup_put (GString *out, const char *text)
{
    g_autofree char *valid = g_utf8_make_valid (text, -1);

    for (const char *at = valid; *at != '\0'; at = g_utf8_next_char (at))
        markup_put_character (out, g_utf8_get_char (at));
}
