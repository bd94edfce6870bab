/* SPDX-License-Identifier: MIT */
#include "puzzles.h"

static void
begin_component (GString *out, const char *stem, int number)
{
    g_string_append_printf (out,
                            "  - component: %s%d\n    for: puzzle\n    versions: listed\n    methods:\n"
                            "      controller: {minutes: 1}\n    releases:\n",
                            stem, number);
}

static void
begin_book (GString *out, const char *stem, int count)
{
    g_string_append (out,
                     "book: puzzle\nboards:\n  - board: puzzle\n    revisions: [r1]\n    slots: []\n    components: [");
    for (int i = 1; i <= count; i++)
        g_string_append_printf (out, "%s%s%d", i > 1 ? ", " : "", stem, i);
    g_string_append (out, "]\nfirmware:\n");
}

static void
end_with_unit (GString *out, const char *stem, int count, const char *has, const char *wanted)
{
    g_string_append (
        out, "---\nshop: puzzle\nmethods: [controller]\n---\nunit: puzzle-1\nboard: puzzle\nrevision: r1\nfirmware:\n");
    for (int i = 1; i <= count; i++)
        g_string_append_printf (out, "  %s%d: %s\n", stem, i, has);
    g_string_append (out, "---\nwant: solved\nfirmware:\n");
    for (int i = 1; i <= count; i++)
        g_string_append_printf (out, "  %s%d: %s\n", stem, i, wanted);
}

/* What forbids a move of `disc` to `peg`: a smaller disc on the peg that it enters or on the one that it leaves.
 * Which one it leaves is said by the component naming itself. */
static void
add_smaller (GString *out, int disc, int peg, int pegs)
{
    const char * or = "";
    for (int smaller = 1; smaller < disc; smaller++) {
        g_string_append_printf (out, "%sdisc%d = p%d", or, smaller, peg);
        or = " or ";
        for (int leaves = 1; leaves <= pegs; leaves++)
            if (leaves != peg)
                g_string_append_printf (out, " or (disc%d = p%d and disc%d = p%d)", disc, leaves, smaller, leaves);
    }
}

char *
puzzle_hanoi (int discs, int pegs)
{
    GString *out = g_string_new (NULL);
    begin_book (out, "disc", discs);
    for (int disc = 1; disc <= discs; disc++) {
        begin_component (out, "disc", disc);
        for (int peg = 1; peg <= pegs; peg++) {
            g_string_append_printf (out, "      - release: p%d\n", peg);
            if (disc == 1)
                continue;
            g_string_append (out, "        to-write: {conflicts: \"");
            add_smaller (out, disc, peg, pegs);
            g_string_append (out, "\"}\n");
        }
    }
    g_autofree char *last = g_strdup_printf ("p%d", pegs);
    end_with_unit (out, "disc", discs, "p1", last);
    return g_string_free (out, FALSE);
}

/* Ring k+1 may change exactly when ring k is on and rings 1 .. k-1 are off. */
char *
puzzle_rings (int rings)
{
    GString *out = g_string_new (NULL);
    begin_book (out, "ring", rings);
    for (int ring = 1; ring <= rings; ring++) {
        begin_component (out, "ring", ring);
        for (int on = 0; on < 2; on++) {
            g_string_append_printf (out, "      - release: %s\n", on ? "fast" : "loose");
            if (ring == 1)
                continue;
            g_string_append_printf (out, "        to-write: {requires: \"ring%d = fast", ring - 1);
            for (int before = 1; before < ring - 1; before++)
                g_string_append_printf (out, " and ring%d = loose", before);
            g_string_append (out, "\"}\n");
        }
    }
    end_with_unit (out, "ring", rings, "fast", "loose");
    return g_string_free (out, FALSE);
}
