/* SPDX-License-Identifier: MIT */
/* stepwise RELEASES BRIDGE STRIDE PAIRS: prints one job of the family "controller and logic that unlock each other
 * stepwise", as files in one.
 *
 * PAIRS pairs of a controller and its logic, all at release 0; standby power is enough to write them. Any release is
 * written over the BRIDGE releases below it. Release r of a controller needs its logic at r - STRIDE or above; release
 * r of a logic needs its controller at r. Release r of `system`, which the host writes over the BRIDGE releases below
 * it, needs every controller and every logic at r. The socket holds the part that was sold, which starts on `system`
 * RELEASES only; the shelf lends an older one.
 *
 * Shortest length, by hand. A controller gets no further than STRIDE beyond its logic, and the logic no further than
 * the controller, so that each goes at most STRIDE at a time, whatever the bridge: both take RELEASES / min (BRIDGE,
 * STRIDE) writes, rounded up. `system` takes RELEASES / BRIDGE, rounded up. The sold part out, the loaner in and out,
 * the sold part in are 4.
 *
 *     4 + 2 PAIRS up (RELEASES / min (BRIDGE, STRIDE)) + up (RELEASES / BRIDGE)
 *     4 4 1 1: 13    6 3 1 1: 18    4 4 1 2: 21    6 3 2 2: 18    3 1 1 2: 19 */
#include "loose_text.h"

#include <stdio.h>

typedef struct {
    int releases, bridge, stride, pairs;
} Family;

static int
at_least_0 (int number)
{
    return number > 0 ? number : 0;
}

static void
print_board (const Family *family)
{
    printf ("book: controller and logic in turn\nboards:\n  - board: stair-board\n    revisions: [r1]\n    slots:\n"
            "      - {slot: cpu1, takes: processor}\n    components: [system");
    for (int p = 1; p <= family->pairs; p++)
        printf (", controller-%d, logic-%d", p, p);
    printf ("]\n");
}

static void
begin_component (const char *stem, int number, const char *method)
{
    printf ("  - component: %s", stem);
    if (number)
        printf ("-%d", number);
    printf ("\n    for: stair-board\n    versions: dotted\n    methods:\n      %s: {minutes: 9}\n    releases:\n",
            method);
}

static void
begin_release (const Family *family, int release)
{
    printf ("      - release: 1.%d\n", release);
    if (release == 0)
        printf ("        withdrawn: \"found in units as they come in; no file of it\"\n");
    else
        printf ("        from: \">= 1.%d, < 1.%d\"\n", at_least_0 (release - family->bridge), release);
}

static void
print_system (const Family *family)
{
    begin_component ("system", 0, "host");
    for (int release = 0; release <= family->releases; release++) {
        begin_release (family, release);
        loose_print_starts (1, release == family->releases ? 2 : 1);
        if (release == 0)
            continue;
        printf ("        to-write: {requires: \"");
        for (int p = 1; p <= family->pairs; p++)
            printf ("%scontroller-%d >= 1.%d and logic-%d >= 1.%d", p > 1 ? " and " : "", p, release, p, release);
        printf ("\"}\n");
    }
}

static void
print_pair (const Family *family, int pair)
{
    begin_component ("controller", pair, "controller");
    for (int release = 0; release <= family->releases; release++) {
        begin_release (family, release);
        if (release > family->stride)
            printf ("        to-write: {requires: \"logic-%d >= 1.%d\"}\n", pair, release - family->stride);
    }
    begin_component ("logic", pair, "controller");
    for (int release = 0; release <= family->releases; release++) {
        begin_release (family, release);
        if (release > 0)
            printf ("        to-write: {requires: \"controller-%d >= 1.%d\"}\n", pair, release);
    }
}

static void
print_work (const Family *family)
{
    printf ("---\nshop: stepwise\nmethods: [host, controller]\nloaners: [{part: part-1, count: 1}]\n"
            "---\nunit: LK-0004\nboard: stair-board\nrevision: r1\nfirmware:\n  system: 1.0\n");
    for (int p = 1; p <= family->pairs; p++)
        printf ("  controller-%d: 1.0\n  logic-%d: 1.0\n", p, p);
    printf ("fitted: {cpu1: part-2}\n---\nwant: the part that was sold runs\nslots: {cpu1: part-2}\n");
}

int
main (int argc, char **argv)
{
    static const int least[4] = { 1, 1, 1, 1 };
    int numbers[4];
    if (!loose_read_numbers (argc, argv, 4, least, numbers)) {
        fprintf (stderr, "usage: stepwise RELEASES BRIDGE STRIDE PAIRS   (at least 1 each)\n");
        return 2;
    }
    Family family = { numbers[0], numbers[1], numbers[2], numbers[3] };
    print_board (&family);
    printf ("firmware:\n");
    print_system (&family);
    for (int p = 1; p <= family.pairs; p++)
        print_pair (&family, p);
    printf ("parts:\n  - {processor: part-1, generation: age-1, stepping: a0}\n"
            "  - {processor: part-2, generation: age-2, stepping: a0}\n");
    loose_print_rules (0);
    print_work (&family);
    return 0;
}
