/* SPDX-License-Identifier: MIT */
/* ladder COMPONENTS RELEASES BRIDGE CROSS: prints one job of the ladder family, as files in one.
 *
 * Two sockets hold new processors that `system` knows from release floor (2 RELEASES / 3) on, so the unit is dark. A
 * release is written over the BRIDGE releases below it, by the host only. Release r of a component needs the next
 * component at r - CROSS or above (CROSS 0: needs nothing). On the shelf: two loaners each of two older models. Wanted:
 * the newest `system`, with the new processors in both sockets.
 *
 * Shortest length, by hand: one loaner in the first socket is enough, so two new parts out, one loaner in and out, two
 * new parts in are 6 steps; and component f is raised to RELEASES - 1 - f CROSS, in steps of BRIDGE, rounded up.
 *     2 6 3 0: 8    4 12 4 3: 14    6 20 5 3: 22    3 40 4 6: 32    8 30 6 4: 30 */
#include <stdio.h>
#include <stdlib.h>

typedef struct {
    int components, releases, bridge, cross;
} Ladder;

static void
print_component_name (int component)
{
    if (component)
        printf ("layer-%d", component);
    else
        printf ("system");
}

static void
print_board (const Ladder *ladder)
{
    printf ("book: ladder %d %d %d %d\n", ladder->components, ladder->releases, ladder->bridge, ladder->cross);
    printf ("boards:\n  - board: rung-2s\n    revisions: [r1]\n    slots:\n"
            "      - {slot: cpu1, takes: processor}\n      - {slot: cpu2, takes: processor}\n    components: [");
    for (int c = 0; c < ladder->components; c++) {
        printf ("%s", c ? ", " : "");
        print_component_name (c);
    }
    printf ("]\nfirmware:\n");
}

static void
print_release (const Ladder *ladder, int component, int release)
{
    printf ("      - release: 1.%d\n", release);
    if (!component)
        printf ("        starts: [dorvan, elvane%s]\n", release >= 2 * ladder->releases / 3 ? ", fenric" : "");
    if (!release) {
        printf ("        withdrawn: \"found in units as they come in; no file of it\"\n");
        return;
    }
    int low = release > ladder->bridge ? release - ladder->bridge : 0;
    printf ("        from: \">= 1.%d, < 1.%d\"\n", low, release);
    if (ladder->cross && component + 1 < ladder->components && release > ladder->cross) {
        printf ("        to-write: {requires: \"");
        print_component_name (component + 1);
        printf (" >= 1.%d\"}\n", release - ladder->cross);
    }
}

static void
print_firmware (const Ladder *ladder)
{
    for (int c = 0; c < ladder->components; c++) {
        printf ("  - component: ");
        print_component_name (c);
        printf ("\n    for: rung-2s\n    versions: dotted\n    methods:\n      host: {minutes: 9}\n    releases:\n");
        for (int r = 0; r < ladder->releases; r++)
            print_release (ladder, c, r);
    }
}

static void
print_parts_and_rules (void)
{
    printf ("parts:\n"
            "  - {processor: dorvan-8, generation: dorvan, stepping: a1}\n"
            "  - {processor: elvane-12, generation: elvane, stepping: b0}\n"
            "  - {processor: fenric-16, generation: fenric, stepping: b1}\n"
            "---\nrules:\n"
            "  - {rule: a-processor, says: \"A processor is fitted.\", source: common practice, breaking: stops, some: "
            "processor}\n"
            "  - {rule: first-first, says: \"The first socket is populated first.\", source: common practice, "
            "breaking: stops, before: processor}\n"
            "  - {rule: same-model, says: \"All processors are of one model.\", source: common practice, breaking: "
            "stops, same: model, of: processor}\n"
            "  - {rule: known, says: \"The firmware knows the processor.\", source: common practice, breaking: stops, "
            "knows: processor}\n");
}

static void
print_work (const Ladder *ladder)
{
    printf ("---\nshop: ladder\nmethods: [host]\n"
            "loaners: [{part: dorvan-8, count: 2}, {part: elvane-12, count: 2}]\n"
            "---\nunit: LK-0001\nboard: rung-2s\nrevision: r1\nfirmware:\n");
    for (int c = 0; c < ladder->components; c++) {
        printf ("  ");
        print_component_name (c);
        printf (": 1.0\n");
    }
    printf ("fitted: {cpu1: fenric-16, cpu2: fenric-16}\n"
            "---\nwant: top of the ladder\nslots: {cpu1: fenric-16, cpu2: fenric-16}\nfirmware: {system: \"= 1.%d\"}\n",
            ladder->releases - 1);
}

int
main (int argc, char **argv)
{
    Ladder ladder = { 0 };
    if (argc == 5)
        ladder = (Ladder){ atoi (argv[1]), atoi (argv[2]), atoi (argv[3]), atoi (argv[4]) };
    if (ladder.components < 1 || ladder.releases < 2 || ladder.bridge < 1 || ladder.cross < 0) {
        fprintf (stderr, "usage: ladder COMPONENTS RELEASES BRIDGE CROSS   (at least 1, 2, 1, 0)\n");
        return 2;
    }
    print_board (&ladder);
    print_firmware (&ladder);
    print_parts_and_rules ();
    print_work (&ladder);
    return 0;
}
