/* SPDX-License-Identifier: MIT */
/* shared_memory MODULES SOCKETS STAGES TYPES: prints one job of the family "memory modules that must move", as files in
 * one.
 *
 * Every socket holds the part that was sold, of generation STAGES + 1. All MODULES modules of the unit sit beside the
 * last socket; as many slots beside the first one are empty. A loaner runs alone in the first socket, and every older
 * generation asks for a module in each of the first socket's slots. Release r of `system` starts generations r and
 * r + 1, and is written over r - 1 by the host, as in borrowed.c. The want names no slot, so each has to end as it
 * began.
 *
 * TYPES 1: all generations drive one type of memory, and the shelf lends none: the unit's own modules move.
 * TYPES 2: every generation drives a type of its own, and the shelf lends MODULES of each older type.
 *
 * Shortest length, by hand: every sold part comes out and goes back, 2 SOCKETS; for each of the STAGES releases there
 * is a loaner in and out and a write, 3 STAGES. With TYPES 1, each module goes out, in beside the first socket, out,
 * and back, once for all stages; with TYPES 2, each lent module goes in and out in each stage.
 *
 *     TYPES 1: 2 SOCKETS + 3 STAGES + 4 MODULES
 *     TYPES 2: 2 SOCKETS + 3 STAGES + 2 MODULES STAGES
 *     1 2 1 1: 11    4 2 1 1: 23    2 2 2 1: 18    1 2 2 2: 14    2 2 2 2: 18 */
#include "loose_text.h"

#include <stdio.h>

typedef struct {
    int modules, sockets, stages, many_types;
} Family;

static void
print_board (const Family *family)
{
    printf ("book: memory modules that must move\nboards:\n  - board: bank-board\n    revisions: [r1]\n    slots:\n");
    for (int s = 1; s <= family->sockets; s++)
        printf ("      - {slot: cpu%d, takes: processor}\n", s);
    for (int m = 1; m <= family->modules; m++)
        printf ("      - {slot: dimm-a%d, takes: memory, served-by: cpu1}\n", m);
    for (int m = 1; m <= family->modules; m++)
        printf ("      - {slot: dimm-z%d, takes: memory, served-by: cpu%d}\n", m, family->sockets);
    printf ("    components: [system]\n");
}

static void
print_firmware (const Family *family)
{
    printf ("firmware:\n  - component: system\n    for: bank-board\n    versions: dotted\n    methods:\n"
            "      host: {minutes: 9}\n    releases:\n");
    for (int release = 0; release <= family->stages; release++) {
        printf ("      - release: 1.%d\n", release);
        loose_print_starts (release, release + 1);
        if (release == 0)
            printf ("        withdrawn: \"found in units as they come in; no file of it\"\n");
        else
            printf ("        from: \"= 1.%d\"\n", release - 1);
    }
}

/* The type of memory that a generation drives. */
static int
type_of (const Family *family, int generation)
{
    return family->many_types ? generation : family->stages + 1;
}

static void
print_parts (const Family *family)
{
    printf ("parts:\n");
    for (int generation = 0; generation <= family->stages + 1; generation++)
        printf ("  - {processor: part-%d, generation: age-%d, stepping: a0, memory-type: mk-%d}\n", generation,
                generation, type_of (family, generation));
    for (int generation = 1; generation <= family->stages + 1; generation++)
        printf ("  - {memory: module-%d, memory-type: mk-%d}\n", generation, generation);
}

static void
print_channels_rule (const Family *family)
{
    printf ("  - rule: older-fill-channels\n"
            "    says: \"An older processor runs only with a module in each slot of the first socket.\"\n"
            "    source: made up for this family\n    breaking: stops\n    when: \"");
    for (int generation = 0; generation <= family->stages; generation++)
        printf ("%sgeneration age-%d", generation ? " or " : "", generation);
    printf ("\"\n    requires: \"");
    for (int m = 1; m <= family->modules; m++)
        printf ("%sdimm-a%d", m > 1 ? " and " : "", m);
    printf ("\"\n");
}

static void
print_shop (const Family *family)
{
    printf ("---\nshop: shared memory\nmethods: [host]\nloaners:\n");
    for (int generation = 1; generation <= family->stages; generation++) {
        printf ("  - {part: part-%d, count: 1}\n", generation);
        if (family->many_types)
            printf ("  - {part: module-%d, count: %d}\n", generation, family->modules);
    }
}

static void
print_work (const Family *family)
{
    printf ("---\nunit: LK-0003\nboard: bank-board\nrevision: r1\nfirmware: {system: 1.0}\nfitted:\n");
    for (int s = 1; s <= family->sockets; s++)
        printf ("  cpu%d: part-%d\n", s, family->stages + 1);
    for (int m = 1; m <= family->modules; m++)
        printf ("  dimm-z%d: module-%d\n", m, family->stages + 1);
    /* The want names no slot, so that every slot has to end as it began. */
    printf ("---\nwant: the part that was sold runs\nfirmware: {system: \"1.%d\"}\n", family->stages);
}

int
main (int argc, char **argv)
{
    static const int least[4] = { 1, 2, 1, 1 };
    int numbers[4];
    if (!loose_read_numbers (argc, argv, 4, least, numbers) || numbers[3] > 2) {
        fprintf (stderr, "usage: shared_memory MODULES SOCKETS STAGES TYPES   (at least 1, 2, 1, 1; TYPES 1 one for "
                         "all, 2 one each)\n");
        return 2;
    }
    Family family = { numbers[0], numbers[1], numbers[2], numbers[3] == 2 };
    print_board (&family);
    print_firmware (&family);
    print_parts (&family);
    loose_print_rules (1);
    print_channels_rule (&family);
    print_shop (&family);
    print_work (&family);
    return 0;
}
