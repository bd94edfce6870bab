/* SPDX-License-Identifier: MIT */
/* Plant: a small board of its own, a unit on it that starts, and faults put into that unit one by one.
 *
 * The rules are those of rules/every-machine.yaml; what follows from a fault is common practice, no source: a processor that
 * the firmware does not know, on a revision that does not take it, beside another model, under too small a heat sink; no
 * memory that is live and of the right type; one supply where two are asked for. */
#ifndef DARK_PLANT_H
#define DARK_PLANT_H

#include "model.h" /* Dice */

typedef enum {
    FAULT_FIRMWARE,    /* too old for the processors */
    FAULT_REVISION,    /* does not take them */
    FAULT_PAIR,        /* of two models */
    FAULT_SINK,        /* too small */
    FAULT_NO_MEMORY,   /* in no slot */
    FAULT_DEAD_MEMORY, /* beside an empty socket alone */
    FAULT_MEMORY_TYPE, /* that its slot does not take */
    FAULT_SUPPLY,      /* one of two is missing, and the shop asks for redundancy */
    FAULT_COUNT
} Fault;

typedef struct {
    int sockets, filled; /* filled: from the first on */
    int sinks, modules;  /* over and beside the sockets, from the first on */
    gboolean supplies;   /* two bays; then the shop asks for redundancy */
    gboolean two_steppings, drops_old;
    int releases, knows_new; /* the first release that starts the new generation */
    int old_release;         /* what too old a unit has */
    int right_release;
    unsigned faults; /* bits 1u << Fault */
} Plant;

/* A board, and one to three faults that can be put into one unit together. */
void plant_draw (Dice *dice, Plant *plant);
/* The book; the unit with all faults, the same with its release not known, the sound one, and one unit for each fault alone,
 * in their order. Transfer full. */
char *plant_in_yaml (const Plant *plant);
const char *fault_name (Fault fault);

/* The facts that a fault consists of, as names: of slots, "system", "revision", "redundancy"; NULL-terminated; a processor's
 * fault of the one in cpu1. Transfer full. */
char **plant_fault_facts (const Plant *plant, Fault fault);

#endif
