/* SPDX-License-Identifier: MIT */
/* Skips over well-formed JSON (RFC 8259) until the path is used up. */
#include "reports/json_place.h"

#include <stdlib.h>
#include <string.h>

static const char *
skip_blanks (const char *at)
{
    return at + strspn (at, " \t\r\n");
}

/* Behind a string that begins here. */
static const char *
skip_string (const char *at)
{
    for (at++; *at != '\0' && *at != '"'; at++)
        if (*at == '\\' && at[1] != '\0')
            at++;
    return *at == '"' ? at + 1 : at;
}

/* Behind a value that begins here: brackets are counted, whatever they hold. */
static const char *
skip_value (const char *at)
{
    guint depth = 0;

    if (*at != '{' && *at != '[')
        return *at == '"' ? skip_string (at) : at + strcspn (at, ",]} \t\r\n");
    while (*at != '\0') {
        if (*at == '"') {
            at = skip_string (at);
            continue;
        }
        if (*at == '{' || *at == '[')
            depth++;
        else if ((*at == '}' || *at == ']') && --depth == 0)
            return at + 1;
        at++;
    }
    return at;
}

/* The member `key` of the object that begins here; NULL: it has none. Keys are compared as they are written. */
static const char *
member_of (const char *at, const char *key)
{
    gsize length = strlen (key);

    for (at = skip_blanks (at + 1); *at == '"'; at = skip_blanks (at + (*at == ',' ? 1 : 0))) {
        const char *name = at + 1;
        const char *value = skip_string (at);
        gboolean found = (gsize) (value - 1 - name) == length && strncmp (name, key, length) == 0;

        value = skip_blanks (skip_blanks (value) + 1);
        if (found)
            return value;
        at = skip_blanks (skip_value (value));
    }
    return NULL;
}

/* The entry `index` of the list that begins here; NULL: it has not so many. */
static const char *
entry_of (const char *at, guint64 index)
{
    at = skip_blanks (at + 1);
    while (*at != ']' && *at != '\0') {
        if (index-- == 0)
            return at;
        at = skip_blanks (skip_value (at));
        if (*at == ',')
            at = skip_blanks (at + 1);
    }
    return NULL;
}

static Mark
mark_of (const char *file, const char *text, const char *at)
{
    Mark mark = { g_intern_string (file), 1, 1 };

    for (const char *one = text; one < at; one = g_utf8_next_char (one)) {
        mark.column = *one == '\n' ? 1 : mark.column + 1;
        mark.line += *one == '\n' ? 1 : 0;
    }
    return mark;
}

Mark
json_place (const char *file, const char *text, const char *path)
{
    g_auto (GStrv) names = g_strsplit (path, "\n", -1);
    const char *at = skip_blanks (text);

    for (char **name = names; *name != NULL && **name != '\0'; name++) {
        const char *inside = *at == '{'   ? member_of (at, *name)
                             : *at == '[' ? entry_of (at, g_ascii_strtoull (*name, NULL, 10))
                                          : NULL;

        if (inside == NULL)
            break;
        at = inside;
    }
    return mark_of (file, text, at);
}
