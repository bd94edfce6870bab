/* SPDX-License-Identifier: MIT */
#include "plant.h"

#include <string.h>

const char *
fault_name (Fault fault)
{
    static const char *const names[FAULT_COUNT] = { "firmware", "revision",    "pair",        "sink",
                                                    "memory",   "dead memory", "memory type", "supply" };

    return names[fault];
}

/* ---- Drawing ---- */

static gboolean
has (const Plant *plant, Fault fault)
{
    return (plant->faults & 1u << fault) != 0;
}

/* Whether this board can have it, beside what it has already. Of memory, one fault. */
static gboolean
can_have (const Plant *plant, Fault fault)
{
    gboolean memory = has (plant, FAULT_NO_MEMORY) || has (plant, FAULT_DEAD_MEMORY) || has (plant, FAULT_MEMORY_TYPE);

    switch (fault) {
    case FAULT_PAIR:
        return plant->filled == 2;
    case FAULT_SINK:
        return plant->sinks > 0;
    case FAULT_NO_MEMORY:
    case FAULT_MEMORY_TYPE:
        return !memory;
    case FAULT_DEAD_MEMORY:
        return !memory && plant->filled < plant->sockets && plant->modules == 2;
    case FAULT_SUPPLY:
        return plant->supplies;
    default:
        return TRUE;
    }
}

void
plant_draw (Dice *dice, Plant *plant)
{
    int faults = dice_between (dice, 1, 3);

    *plant = (Plant){ .sockets = dice_percent (dice, 65) ? 2 : 1 };
    plant->filled = dice_between (dice, 1, plant->sockets);
    plant->sinks = dice_percent (dice, 60) ? dice_between (dice, 1, plant->sockets) : 0;
    plant->modules = plant->sinks < 2 && dice_percent (dice, 75) ? plant->sockets : 1;
    plant->supplies = plant->sockets == 1 && dice_percent (dice, 60);
    plant->two_steppings = plant->sockets == 1 && dice_percent (dice, 50);
    plant->drops_old = dice_percent (dice, 40);
    plant->releases = dice_between (dice, 2, plant->sockets == 2 ? 3 : 4);
    plant->knows_new = dice_between (dice, 1, plant->releases - 1);
    plant->old_release = dice_between (dice, 0, plant->knows_new - 1);
    plant->right_release = dice_between (dice, plant->knows_new, plant->releases - 1);
    while (bits_count (plant->faults) < faults) {
        Fault fault = (Fault) dice_below (dice, FAULT_COUNT);

        if (!has (plant, fault) && can_have (plant, fault))
            plant->faults |= 1u << fault;
        else if (dice_percent (dice, 10) && plant->faults != 0)
            break; /* there may be no more that this board can have */
    }
}

/* ---- The book ---- */

static void
board_in_yaml (const Plant *plant, GString *out)
{
    g_string_append (out, "book: planted bench\n"
                          "generations:\n"
                          "  - {generation: dorvan, steppings: [a0]}\n"
                          "  - {generation: elvane, steppings: [b0, b1]}\n"
                          "boards:\n"
                          "  - board: pipit\n"
                          "    revisions: [r1, r2]\n"
                          "    watts: 20\n"
                          "    slots:\n");
    for (int i = 1; i <= plant->sockets; i++)
        g_string_append_printf (out, "      - {slot: cpu%d, takes: processor, socket: S1840}\n", i);
    for (int i = 1; i <= plant->sinks; i++)
        g_string_append_printf (out, "      - {slot: sink%d, takes: heat-sink, over: cpu%d}\n", i, i);
    for (int i = 1; i <= plant->modules; i++)
        g_string_append_printf (out, "      - {slot: dimm%d, takes: memory, memory-type: mk4, served-by: cpu%d}\n", i,
                                i);
    for (int i = 1; i <= 2 && plant->supplies; i++)
        g_string_append_printf (out, "      - {slot: supply%d, takes: supply}\n", i);
    g_string_append (out, "    components: [system]\n");
}

static void
firmware_in_yaml (const Plant *plant, GString *out)
{
    g_string_append (out, "firmware:\n"
                          "  - component: system\n"
                          "    for: pipit\n"
                          "    versions: dotted\n"
                          "    methods:\n"
                          "      host: {minutes: 9, verify: at-once}\n"
                          "    releases:\n");
    for (int r = 0; r < plant->releases; r++) {
        gboolean old = !plant->drops_old || r < plant->releases - 1, new = r >= plant->knows_new;

        g_string_append_printf (out, "      - release: \"%d.0\"\n        starts: [%s%s%s]\n", r + 1,
                                old ? "dorvan" : "", old && new ? ", " : "", new ? "elvane" : "");
        if (!old)
            g_string_append (out, "        never-starts: [dorvan]\n");
    }
}

static void
parts_in_yaml (const Plant *plant, GString *out)
{
    static const char *const processors[] = { "elvane-14", "elvane-20" };

    g_string_append (out, "parts:\n"
                          "  - {processor: dorvan-8, generation: dorvan, stepping: a0, socket: S1840, watts: 80,"
                          " memory-type: mk4}\n");
    for (guint i = 0; i < G_N_ELEMENTS (processors); i++)
        g_string_append_printf (out,
                                "  - {processor: %s, generation: elvane, steppings: [%s], socket: S1840, watts: 130,"
                                " memory-type: [mk4, mk5], conflicts: \"board pipit < r2\"}\n",
                                processors[i], plant->two_steppings && i == 0 ? "b0, b1" : "b1");
    g_string_append (out, "  - {heat-sink: sink-85, rating: 85}\n"
                          "  - {heat-sink: sink-160, rating: 160}\n"
                          "  - {memory: mem-mk4, memory-type: mk4, watts: 5}\n"
                          "  - {memory: mem-mk5, memory-type: mk5, watts: 5}\n"
                          "  - {supply: supply-400, output: 400}\n"
                          "  - {supply: supply-90, output: 90}\n");
}

/* ---- Units ---- */

static void
memory_in_yaml (const Plant *plant, GString *out)
{
    if (has (plant, FAULT_NO_MEMORY))
        return;
    if (has (plant, FAULT_DEAD_MEMORY)) {
        g_string_append (out, "  dimm2: mem-mk4\n");
        return;
    }
    g_string_append_printf (out, "  dimm1: %s\n", has (plant, FAULT_MEMORY_TYPE) ? "mem-mk5" : "mem-mk4");
}

static void
unit_in_yaml (const Plant *plant, const char *id, gboolean unknown, GString *out)
{
    int release = has (plant, FAULT_FIRMWARE) ? plant->old_release : plant->right_release;

    g_string_append_printf (out, "---\nunit: %s\nboard: pipit\nrevision: %s\nfirmware:\n", id,
                            has (plant, FAULT_REVISION) ? "r1" : "r2");
    if (unknown)
        g_string_append (out, "  system: unknown\nfitted:\n");
    else
        g_string_append_printf (out, "  system: \"%d.0\"\nfitted:\n", release + 1);
    for (int i = 1; i <= plant->filled; i++)
        g_string_append_printf (out, "  cpu%d: {part: %s, stepping: b1}\n", i,
                                i == 2 && has (plant, FAULT_PAIR) ? "elvane-20" : "elvane-14");
    for (int i = 1; i <= plant->sinks && i <= plant->filled; i++)
        g_string_append_printf (out, "  sink%d: %s\n", i, i == 1 && has (plant, FAULT_SINK) ? "sink-85" : "sink-160");
    memory_in_yaml (plant, out);
    for (int i = 1; plant->supplies && i <= (has (plant, FAULT_SUPPLY) ? 1 : 2); i++)
        g_string_append_printf (out, "  supply%d: supply-400\n", i);
}

char *
plant_in_yaml (const Plant *plant)
{
    GString *out = g_string_new (NULL);
    Plant other = *plant;

    board_in_yaml (plant, out);
    firmware_in_yaml (plant, out);
    parts_in_yaml (plant, out);
    unit_in_yaml (plant, "P-ALL", FALSE, out);
    unit_in_yaml (plant, "P-UNKNOWN", TRUE, out);
    other.faults = 0;
    unit_in_yaml (&other, "P-SOUND", FALSE, out);
    for (Fault fault = 0; fault < FAULT_COUNT; fault++) {
        g_autofree char *id = g_strdup_printf ("P-%d", fault);

        other.faults = 1u << fault;
        if (has (plant, fault))
            unit_in_yaml (&other, id, FALSE, out);
    }
    return g_string_free (out, FALSE);
}

char **
plant_fault_facts (const Plant *plant, Fault fault)
{
    switch (fault) {
    case FAULT_FIRMWARE:
        return g_strsplit ("cpu1 system", " ", -1);
    case FAULT_REVISION:
        return g_strsplit ("cpu1 revision", " ", -1);
    case FAULT_PAIR:
        return g_strsplit ("cpu1 cpu2", " ", -1);
    case FAULT_SINK:
        return g_strsplit ("cpu1 sink1", " ", -1);
    case FAULT_NO_MEMORY:
        return g_strsplit (plant->modules == 2 ? "dimm1 dimm2" : "dimm1", " ", -1);
    case FAULT_DEAD_MEMORY:
        return g_strsplit ("cpu2 dimm1", " ", -1);
    case FAULT_MEMORY_TYPE:
        return g_strsplit ("dimm1", " ", -1);
    case FAULT_SUPPLY:
        return g_strsplit ("supply2 redundancy", " ", -1);
    case FAULT_COUNT:
        break;
    }
    g_assert_not_reached ();
}
