/* SPDX-License-Identifier: MIT */
#include "puzzles.h"
#include "puzzle_parts.h"

static void
begin_component (GString *out, const char *stem, int number)
{
    g_autofree char *name = g_strdup_printf ("%s%d", stem, number);
    puzzle_begin_component (out, name, "controller");
}

static void
begin_book (GString *out, const char *stem, int count)
{
    g_autofree char *components = puzzle_numbered (stem, count, "");
    puzzle_begin_book (out, components);
}

static void
end_with_unit (GString *out, const char *stem, int count, const char *has, const char *wanted)
{
    g_autofree char *each_has = g_strconcat (": ", has, NULL);
    g_autofree char *each_wanted = g_strconcat (": ", wanted, NULL);
    g_autofree char *has_map = puzzle_numbered (stem, count, each_has);
    g_autofree char *wanted_map = puzzle_numbered (stem, count, each_wanted);
    puzzle_add_work (out, "controller", has_map, wanted_map);
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
