/* SPDX-License-Identifier: MIT */
#include "puzzle_parts.h"
#include "puzzles.h"

#include <string.h>

enum { SIDE = 3, CELLS = SIDE * SIDE, TILES = CELLS - 1 };

static gboolean
are_beside (int left, int right)
{
    int rows = ABS (left / SIDE - right / SIDE), columns = ABS (left % SIDE - right % SIDE);
    return rows + columns == 1;
}

/* The tile comes from a cell beside `cell`, and no other tile is there: so it is the blank's. */
static void
add_release (GString *out, int tile, int cell)
{
    g_string_append_printf (out, "      - release: cell%d\n        from: \"", cell + 1);
    const char *joint = "";
    for (int from = 0; from < CELLS; from++) {
        if (!are_beside (from, cell))
            continue;
        g_string_append_printf (out, "%s= cell%d", joint, from + 1);
        joint = " or ";
    }
    g_string_append (out, "\"\n        to-write: {conflicts: \"");
    joint = "";
    for (int other = 1; other <= TILES; other++) {
        if (other == tile)
            continue;
        g_string_append_printf (out, "%stile%d = cell%d", joint, other, cell + 1);
        joint = " or ";
    }
    g_string_append (out, "\"}\n");
}

/* "tile1: cell4, tile2: ...". Transfer full. */
static char *
tiles_at (const char *position)
{
    GString *out = g_string_new (NULL);
    for (int tile = 1; tile <= TILES; tile++) {
        const char *at = strchr (position, '0' + tile);
        g_assert (at != NULL);
        g_string_append_printf (out, "%stile%d: cell%d", tile > 1 ? ", " : "", tile, (int) (at - position) + 1);
    }
    return g_string_free (out, FALSE);
}

char *
puzzle_sliding (const char *position, const char *goal)
{
    GString *out = g_string_new (NULL);
    g_autofree char *tiles = puzzle_numbered ("tile", TILES, "");
    puzzle_begin_book (out, tiles);
    for (int tile = 1; tile <= TILES; tile++) {
        g_autofree char *name = g_strdup_printf ("tile%d", tile);
        puzzle_begin_component (out, name, "controller");
        for (int cell = 0; cell < CELLS; cell++)
            add_release (out, tile, cell);
    }
    g_autofree char *has = tiles_at (position);
    g_autofree char *wanted = tiles_at (goal);
    puzzle_add_work (out, "controller", has, wanted);
    return g_string_free (out, FALSE);
}
