/* SPDX-License-Identifier: MIT */
/* hanoi DISCS [PEGS]: prints the puzzle as files of one job in one, to try it by hand. */
#include "puzzles.h"

#include <stdio.h>
#include <stdlib.h>

int
main (int argc, char **argv)
{
    int discs = argc > 1 ? atoi (argv[1]) : 0, pegs = argc > 2 ? atoi (argv[2]) : 3;
    if (discs < 1 || discs > 20 || pegs < 3 || pegs > 9) {
        fprintf (stderr, "usage: hanoi DISCS [PEGS]   (1 to 20 discs, 3 to 9 pegs)\n");
        return 2;
    }
    g_autofree char *text = puzzle_hanoi (discs, pegs);
    fputs (text, stdout);
    return 0;
}
