/* SPDX-License-Identifier: MIT */
#include "puzzle_parts.h"

void
puzzle_begin_book (GString *out, const char *components)
{
    g_string_append_printf (out,
                            "book: puzzle\nboards:\n  - board: puzzle\n    revisions: [r1]\n    slots: []\n"
                            "    components: [%s]\nfirmware:\n",
                            components);
}

void
puzzle_begin_component (GString *out, const char *name, const char *method)
{
    g_string_append_printf (out,
                            "  - component: %s\n    for: puzzle\n    versions: listed\n    methods:\n"
                            "      %s: {minutes: 1}\n    releases:\n",
                            name, method);
}

void
puzzle_add_work (GString *out, const char *method, const char *has, const char *wanted)
{
    g_string_append_printf (out,
                            "---\nshop: puzzle\nmethods: [%s]\n---\nunit: puzzle-1\nboard: puzzle\nrevision: r1\n"
                            "firmware: {%s}\n---\nwant: solved\nfirmware: {%s}\n",
                            method, has, wanted);
}

char *
puzzle_numbered (const char *stem, int count, const char *suffix)
{
    GString *out = g_string_new (NULL);
    for (int i = 1; i <= count; i++)
        g_string_append_printf (out, "%s%s%d%s", i > 1 ? ", " : "", stem, i, suffix);
    return g_string_free (out, FALSE);
}
