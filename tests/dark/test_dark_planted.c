/* SPDX-License-Identifier: MIT */
/* Why units with planted faults are dark.
 *   test_dark_planted --seed S --count N
 *
 * source: what was planted (plant.h), and the enumeration (enumerate.h), which asks the check room about every state. Each
 * fault alone keeps the sound unit from starting; each is a set's facts, or among them; without all of them the unit starts;
 * the lists are those of the enumeration, with the release known and with it not known. */
#include "against.h"
#include "load_text.h"
#include "plant.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_STATES = 12000 };

typedef struct {
    Plant plant;
    Library *library;
    Shop *shop;
    const Unit *all, *unknown, *sound;
} Trial;

/* ---- What was planted ---- */

static gboolean
unit_starts (const Trial *trial, const Unit *unit)
{
    g_autoptr (State) state = state_from_unit (unit, NULL);

    return state_starts (trial->library, trial->shop, state);
}

static guint64
facts_named (const Enumeration *all, char *const *names)
{
    guint64 facts = 0;

    for (guint i = 0; names[i] != NULL; i++) {
        int slot = board_find_slot (all->unit->board, names[i]);
        int component = board_find_component (all->unit->board, names[i]);
        guint bit = slot >= 0                              ? (guint) slot
                    : component >= 0                       ? enumeration_bit_of_component (all, (guint) component)
                    : g_str_equal (names[i], "redundancy") ? enumeration_bit_of_redundancy (all)
                                                           : enumeration_bit_of_revision (all);

        facts |= (guint64) 1 << bit;
    }
    return facts;
}

static gboolean
is_within_some_set (const Enumeration *all, const DarkCase *one, guint64 facts)
{
    for (guint i = 0; i < one->sets->len; i++)
        if ((facts & ~facts_of_indices (all, one, ((const DarkSet *) one->sets->pdata[i])->facts)) == 0)
            return TRUE;
    return FALSE;
}

/* NULL: as planted. Transfer full. */
static char *
fault_is_missed (const Trial *trial, const Enumeration *all, const DarkCase *one, Fault fault)
{
    g_autofree char *id = g_strdup_printf ("P-%d", fault);
    g_auto (GStrv) names = plant_fault_facts (&trial->plant, fault);

    if (unit_starts (trial, unit_named (trial->library, id)))
        return g_strdup_printf ("with the fault of %s alone the unit starts", fault_name (fault));
    if (!is_within_some_set (all, one, facts_named (all, names)))
        return g_strdup_printf ("the fault of %s is in no set", fault_name (fault));
    return NULL;
}

static char *
faults_are_missed (const Trial *trial, const Enumeration *all, guint *found)
{
    g_autoptr (DarkAnswer) answer = dark_find (trial->library, trial->shop, trial->all, 0);
    char *wrong = unit_starts (trial, trial->sound) ? NULL : g_strdup ("the sound unit does not start");

    for (Fault fault = 0; fault < FAULT_COUNT && wrong == NULL; fault++)
        if ((trial->plant.faults & 1u << fault) != 0) {
            wrong = fault_is_missed (trial, all, answer->cases->pdata[0], fault);
            found[fault]++;
        }
    return wrong;
}

/* ---- One unit ---- */

static char *
lists_are_wrong (const Trial *trial, const Enumeration *all, const Unit *unit, Tally *tally)
{
    g_autoptr (DarkAnswer) answer = dark_find (trial->library, trial->shop, unit, 0);

    return against_enumeration (all, answer, tally);
}

static void
test_planted (guint64 seed, Tally *tally, guint *found)
{
    Dice dice = { .state = seed };
    Trial trial = { 0 };

    plant_draw (&dice, &trial.plant);
    g_autofree char *text = plant_in_yaml (&trial.plant);
    const char *const paths[] = { "rules/every-machine.yaml", NULL };
    g_autoptr (Library) library = trial.library = load_with_text (paths, text);
    g_autoptr (Shop) shop = trial.shop = shop_new_default ();
    shop->redundant_supplies = trial.plant.supplies;
    trial.all = unit_named (library, "P-ALL");
    trial.unknown = unit_named (library, "P-UNKNOWN");
    trial.sound = unit_named (library, "P-SOUND");
    g_autoptr (Enumeration) all = enumerate (library, shop, trial.all, MOST_STATES);
    g_assert_nonnull (all);
    g_autofree char *wrong = faults_are_missed (&trial, all, found);
    if (wrong == NULL)
        wrong = classes_are_wrong (all, tally);
    if (wrong == NULL)
        wrong = lists_are_wrong (&trial, all, trial.all, tally);
    all->unit = trial.unknown; /* the same but for what is known of it, so its states are the same */
    if (wrong == NULL)
        wrong = lists_are_wrong (&trial, all, trial.unknown, tally);
    if (wrong == NULL)
        return;
    printf ("seed %" G_GUINT64_FORMAT ": %s\n%s", seed, wrong, text);
    exit (EXIT_FAILURE);
}

int
main (int argc, char **argv)
{
    guint64 seed = 1, count = 100;
    guint found[FAULT_COUNT] = { 0 };
    gboolean each = TRUE;
    Tally tally = { 0 };

    for (int i = 1; i + 1 < argc; i += 2) {
        if (!strcmp (argv[i], "--seed"))
            seed = g_ascii_strtoull (argv[i + 1], NULL, 10);
        else if (!strcmp (argv[i], "--count"))
            count = g_ascii_strtoull (argv[i + 1], NULL, 10);
    }
    for (guint64 i = 0; i < count; i++)
        test_planted (seed * 100000 + i, &tally, found);
    for (Fault fault = 0; fault < FAULT_COUNT; fault++) {
        printf ("%s%s %u", fault > 0 ? ", " : "planted: ", fault_name (fault), found[fault]);
        each = each && (found[fault] > 0 || count < 100);
    }
    printf ("\n%u combinations in %u cases, %u dark; %u sets (%u stated), %u corrections, %u rules, %u releases in the "
            "class "
            "of another; %u lists cut short\n",
            tally.combinations, tally.cases, tally.dark, tally.sets, tally.stated, tally.corrections, tally.rules,
            tally.classes, tally.cut_short);
    return each && tally.cut_short == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
