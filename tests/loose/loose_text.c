/* SPDX-License-Identifier: MIT */
#include "loose_text.h"

#include <stdio.h>
#include <stdlib.h>

int
loose_read_numbers (int argc, char **argv, int count, const int *least, int *numbers)
{
    if (argc != count + 1)
        return 0;
    for (int i = 0; i < count; i++) {
        numbers[i] = atoi (argv[i + 1]);
        if (numbers[i] < least[i])
            return 0;
    }
    return 1;
}

void
loose_print_rules (int with_memory)
{
    printf ("---\nrules:\n"
            "  - {rule: a-processor, says: \"A processor is fitted.\", source: common practice, breaking: stops, some: "
            "processor}\n"
            "  - {rule: first-first, says: \"The first socket is populated first.\", source: common practice, "
            "breaking: stops, before: processor}\n"
            "  - {rule: same-model, says: \"All processors are of one model.\", source: common practice, breaking: "
            "stops, same: model, of: processor}\n"
            "  - {rule: known, says: \"The firmware knows the processor.\", source: common practice, breaking: stops, "
            "knows: processor}\n");
    if (with_memory)
        printf ("  - {rule: a-module, says: \"A memory module is alive.\", source: common practice, breaking: stops, "
                "some: memory}\n"
                "  - {rule: memory-type, says: \"Every processor drives the memory.\", source: common practice, "
                "breaking: stops, same: memory-type, of: memory, with: processor}\n");
}

void
loose_print_starts (int first, int last)
{
    printf ("        starts: [");
    for (int generation = first; generation <= last; generation++)
        printf ("%sage-%d", generation > first ? ", " : "", generation);
    printf ("]\n");
}
