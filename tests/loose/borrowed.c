/* SPDX-License-Identifier: MIT */
/* borrowed STAGES SOCKETS COMPONENTS BY: prints one job of the family "borrowed parts in turn", as files in one.
 *
 * Every socket holds the part that was sold, of generation STAGES + 1. The shelf lends one processor of each older
 * generation. Release r of each component is written over r - 1 only, by the host. All are at release 0.
 *
 * BY 1, "starts": release r starts generations r and r + 1 only. The host writes r over r - 1 on what both start:
 * generation r. The sold part starts on release STAGES, and on no earlier one.
 * BY 2, "writer": every release starts every generation, but r is written only where generation r is fitted. Release
 * STAGES is wanted.
 *
 * Shortest length, by hand. A loaner goes in the first socket (the others have to be empty then, or hold the same
 * model), so every sold part comes out and goes back: 2 SOCKETS. For each of the STAGES releases another loaner goes in
 * and out, and meanwhile each component is written once:
 *     2 SOCKETS + STAGES (COMPONENTS + 2)
 *     2 1 1 1: 8    2 2 1 1: 10    8 2 1 1: 28    4 1 2 2: 18    8 2 2 2: 36 */
#include "loose_text.h"

#include <stdio.h>

typedef struct {
    int stages, sockets, components, by_writer;
} Family;

static void
print_board (const Family *family)
{
    printf ("book: borrowed parts in turn\nboards:\n  - board: turn-board\n    revisions: [r1]\n    slots:\n");
    for (int s = 1; s <= family->sockets; s++)
        printf ("      - {slot: cpu%d, takes: processor}\n", s);
    printf ("    components: [");
    for (int c = 1; c <= family->components; c++)
        printf ("%ssystem-%d", c > 1 ? ", " : "", c);
    printf ("]\n");
}

static void
print_release (const Family *family, int release)
{
    printf ("      - release: 1.%d\n", release);
    if (family->by_writer)
        loose_print_starts (0, family->stages + 1);
    else
        loose_print_starts (release, release + 1);
    if (release == 0) {
        printf ("        withdrawn: \"found in units as they come in; no file of it\"\n");
        return;
    }
    printf ("        from: \"= 1.%d\"\n", release - 1);
    if (family->by_writer)
        printf ("        to-write: {requires: \"generation age-%d\"}\n", release);
}

static void
print_firmware (const Family *family)
{
    printf ("firmware:\n");
    for (int c = 1; c <= family->components; c++) {
        printf ("  - component: system-%d\n    for: turn-board\n    versions: dotted\n    methods:\n"
                "      host: {minutes: 9}\n    releases:\n",
                c);
        for (int release = 0; release <= family->stages; release++)
            print_release (family, release);
    }
}

static void
print_parts (const Family *family)
{
    printf ("parts:\n");
    for (int generation = 0; generation <= family->stages + 1; generation++)
        printf ("  - {processor: part-%d, generation: age-%d, stepping: a0}\n", generation, generation);
}

static void
print_work (const Family *family)
{
    printf ("---\nshop: borrowed\nmethods: [host]\nloaners:\n");
    for (int generation = 1; generation <= family->stages; generation++)
        printf ("  - {part: part-%d, count: 1}\n", generation);
    printf ("---\nunit: LK-0002\nboard: turn-board\nrevision: r1\nfirmware:\n");
    for (int c = 1; c <= family->components; c++)
        printf ("  system-%d: 1.0\n", c);
    printf ("fitted:\n");
    for (int s = 1; s <= family->sockets; s++)
        printf ("  cpu%d: part-%d\n", s, family->stages + 1);
    printf ("---\nwant: the part that was sold runs\nslots:\n");
    for (int s = 1; s <= family->sockets; s++)
        printf ("  cpu%d: part-%d\n", s, family->stages + 1);
    if (family->by_writer)
        printf ("firmware:\n");
    for (int c = 1; family->by_writer && c <= family->components; c++)
        printf ("  system-%d: \"= 1.%d\"\n", c, family->stages);
}

int
main (int argc, char **argv)
{
    static const int least[4] = { 1, 1, 1, 1 };
    int numbers[4];
    if (!loose_read_numbers (argc, argv, 4, least, numbers) || numbers[3] > 2) {
        fprintf (stderr, "usage: borrowed STAGES SOCKETS COMPONENTS BY   (at least 1 each; BY 1 starts, 2 writer)\n");
        return 2;
    }
    Family family = { numbers[0], numbers[1], numbers[2], numbers[3] == 2 };
    print_board (&family);
    print_firmware (&family);
    print_parts (&family);
    loose_print_rules (0);
    print_work (&family);
    return 0;
}
