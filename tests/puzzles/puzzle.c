/* SPDX-License-Identifier: MIT */
/* puzzle sliding POSITION GOAL | wolf | missionaries: prints a puzzle as files of one job in one, to try it by hand. */
#include "puzzles.h"

#include <stdio.h>
#include <string.h>

static gboolean
is_position (const char *text)
{
    if (strlen (text) != 9 || strchr (text, '.') == NULL)
        return FALSE;
    for (char tile = '1'; tile <= '8'; tile++)
        if (strchr (text, tile) == NULL)
            return FALSE;
    return TRUE;
}

int
main (int argc, char **argv)
{
    g_autofree char *text = NULL;
    if (argc == 2 && strcmp (argv[1], "wolf") == 0)
        text = puzzle_wolf ();
    else if (argc == 2 && strcmp (argv[1], "missionaries") == 0)
        text = puzzle_missionaries ();
    else if (argc == 4 && strcmp (argv[1], "sliding") == 0 && is_position (argv[2]) && is_position (argv[3]))
        text = puzzle_sliding (argv[2], argv[3]);
    if (text == NULL) {
        fprintf (stderr, "usage: puzzle wolf | missionaries | sliding POSITION GOAL   (as in 8672543.1 12345678.)\n");
        return 2;
    }
    fputs (text, stdout);
    return 0;
}
