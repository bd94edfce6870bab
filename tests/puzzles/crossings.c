/* SPDX-License-Identifier: MIT */
#include "puzzle_parts.h"
#include "puzzles.h"

static const char *const bank[] = { "west", "east" };

/* ---- Wolf, goat and cabbage ---- */

/* Who crosses takes the farmer along, from the same bank. */
static void
add_passenger (GString *out, const char *name)
{
    puzzle_begin_component (out, name, "host");
    for (int to = 0; to < 2; to++)
        g_string_append_printf (out,
                                "      - {release: %s, from: \"= %s\", to-write: {requires: \"farmer = %s\"}, "
                                "also-writes: {farmer: %s}}\n",
                                bank[to], bank[!to], bank[!to], bank[to]);
}

static void
add_not_alone (GString *out, const char *eats, const char *eaten)
{
    for (int side = 0; side < 2; side++)
        g_string_append_printf (out,
                                "  - {rule: %s-%s-%s, says: \"The %s is not left with the %s.\", breaking: stops, "
                                "when: \"%s = %s and %s = %s\", requires: \"farmer = %s\"}\n",
                                eats, eaten, bank[side], eats, eaten, eats, bank[side], eaten, bank[side], bank[side]);
}

char *
puzzle_wolf (void)
{
    GString *out = g_string_new (NULL);
    puzzle_begin_book (out, "farmer, wolf, goat, cabbage");
    puzzle_begin_component (out, "farmer", "host");
    for (int to = 0; to < 2; to++)
        g_string_append_printf (out, "      - {release: %s, from: \"= %s\"}\n", bank[to], bank[!to]);
    add_passenger (out, "wolf");
    add_passenger (out, "goat");
    add_passenger (out, "cabbage");
    g_string_append (out, "---\nrules:\n");
    add_not_alone (out, "wolf", "goat");
    add_not_alone (out, "goat", "cabbage");
    puzzle_add_work (out, "host", "farmer: west, wolf: west, goat: west, cabbage: west",
                     "farmer: east, wolf: east, goat: east, cabbage: east");
    return g_string_free (out, FALSE);
}

/* ---- Missionaries and cannibals -----------------------------------------------------------------------------------
 *
 * `missionaries` and `cannibals` count those on the west bank. A crossing is a file of its own, which writes boat and
 * counts along: one for each load of the boat, direction and number before. What was crossed last is told apart by
 * nothing; boat and counts are written by no other file. */

enum { PEOPLE = 3, BOAT = 2 };

static void
add_crossing (GString *out, int to, int missionaries, int cannibals, int missionaries_before, int cannibals_before)
{
    int sign = to == 1 ? -1 : 1;
    g_string_append_printf (out,
                            "      - {release: %s-%d-of-%d-and-%d-of-%d, to-write: {requires: \"boat = %s and "
                            "missionaries = n%d and cannibals = n%d\"}, also-writes: {boat: %s",
                            bank[to], missionaries, missionaries_before, cannibals, cannibals_before, bank[!to],
                            missionaries_before, cannibals_before, bank[to]);
    if (missionaries > 0)
        g_string_append_printf (out, ", missionaries: n%d", missionaries_before + sign * missionaries);
    if (cannibals > 0)
        g_string_append_printf (out, ", cannibals: n%d", cannibals_before + sign * cannibals);
    g_string_append (out, "}}\n");
}

static gboolean
are_enough (int to, int load, int before)
{
    return load <= (to == 1 ? before : PEOPLE - before);
}

static void
add_crossings (GString *out)
{
    puzzle_begin_component (out, "crossing", "host");
    g_string_append (out, "      - {release: none, withdrawn: \"before the first crossing\"}\n");
    for (int to = 0; to < 2; to++)
        for (int m = 0; m <= BOAT; m++)
            for (int c = m == 0 ? 1 : 0; m + c <= BOAT; c++)
                for (int m_before = 0; m_before <= PEOPLE; m_before++)
                    for (int c_before = 0; c_before <= PEOPLE; c_before++)
                        if (are_enough (to, m, m_before) && are_enough (to, c, c_before))
                            add_crossing (out, to, m, c, m_before, c_before);
}

/* Where there are missionaries on a bank, the cannibals there are no more than they. */
static void
add_outnumbered (GString *out)
{
    g_string_append (out, "---\nrules:\n");
    for (int west = 1; west <= PEOPLE; west++)
        g_string_append_printf (out,
                                "  - {rule: west-%d, says: \"Cannibals don't outnumber missionaries.\", breaking: "
                                "stops, when: \"missionaries = n%d\", requires: \"cannibals <= n%d\"}\n",
                                west, west, west);
    for (int east = 1; east <= PEOPLE; east++)
        g_string_append_printf (out,
                                "  - {rule: east-%d, says: \"Cannibals don't outnumber missionaries.\", breaking: "
                                "stops, when: \"missionaries = n%d\", requires: \"cannibals >= n%d\"}\n",
                                east, PEOPLE - east, PEOPLE - east);
}

char *
puzzle_missionaries (void)
{
    static const char *const counts[] = { "missionaries", "cannibals" };
    GString *out = g_string_new (NULL);
    puzzle_begin_book (out, "crossing, boat, missionaries, cannibals");
    add_crossings (out);
    puzzle_begin_component (out, "boat", "controller");
    g_string_append (out, "      - {release: west}\n      - {release: east}\n");
    for (int i = 0; i < 2; i++) {
        puzzle_begin_component (out, counts[i], "controller");
        for (int n = 0; n <= PEOPLE; n++)
            g_string_append_printf (out, "      - {release: n%d}\n", n);
    }
    add_outnumbered (out);
    puzzle_add_work (out, "host", "crossing: none, boat: west, missionaries: n3, cannibals: n3",
                     "boat: east, missionaries: n0, cannibals: n0");
    return g_string_free (out, FALSE);
}
