/* SPDX-License-Identifier: MIT */
/* One serial in two places: one of them is written down wrongly, mostly by copying a row. No plan looks at serials, so nothing is left
 * out for it; but sheets and travels name parts by them. */
#include "batch/plan.h"

enum {
    MOST_PLACES = 4,   /* of one serial that are named */
    MOST_SERIALS = 10, /* that are named: a column of "n/a" would fill a page */
};

/* Where the parts of one model and serial are said to be. */
typedef struct {
    const Part *part;
    const char *serial;
    GPtrArray *places; /* char*; owned */
} Given;

static guint
given_hash (gconstpointer data)
{
    const Given *given = data;

    return g_str_hash (given->serial) ^ g_direct_hash (given->part);
}

static gboolean
given_equal (gconstpointer left, gconstpointer right)
{
    const Given *one = left, *other = right;

    return one->part == other->part && g_str_equal (one->serial, other->serial);
}

static void
given_free (gpointer data)
{
    Given *given = data;

    g_ptr_array_unref (given->places);
    g_free (given);
}

/* Takes over `place`. */
static void
add_place (GPtrArray *all, GHashTable *known, const Fitted *fitted, char *place)
{
    const Given key = { fitted->part, fitted->serial, NULL };
    Given *given = g_hash_table_lookup (known, &key);

    if (given == NULL) {
        given = g_new0 (Given, 1);
        *given = (Given){ fitted->part, fitted->serial, g_ptr_array_new_with_free_func (g_free) };
        g_ptr_array_add (all, given);
        g_hash_table_add (known, given);
    }
    g_ptr_array_add (given->places, place);
}

static gboolean
has_serial (const Fitted *fitted)
{
    return fitted->part != NULL && fitted->serial != NULL && *fitted->serial != '\0';
}

static void
add_unit (GPtrArray *all, GHashTable *known, const Unit *unit)
{
    for (guint i = 0; i < unit->board->slots->len; i++)
        if (has_serial (&unit->fitted[i]))
            add_place (all, known, &unit->fitted[i], g_strdup_printf ("%s %s", unit->id, board_slot (unit->board, i)->name));
    for (guint i = 0; unit->pulled != NULL && i < unit->pulled->len; i++) {
        const Fitted *beside = &g_array_index (unit->pulled, Fitted, i);

        if (has_serial (beside))
            add_place (all, known, beside, g_strdup_printf ("beside %s", unit->id));
    }
}

/* "LK-1 cpu1, LK-2 cpu1 and 3 more". Transfer full. */
static char *
places_in_words (const Given *given)
{
    GString *out = g_string_new (NULL);
    const guint named = MIN (given->places->len, MOST_PLACES), more = given->places->len - named;

    for (guint i = 0; i < named; i++)
        g_string_append_printf (out, "%s%s", i == 0 ? "" : i + 1 == named && more == 0 ? " and " : ", ",
                                (const char *) given->places->pdata[i]);
    if (more > 0)
        g_string_append_printf (out, " and %u more", more);
    return g_string_free (out, FALSE);
}

void
say_serials_given_twice (Planning *planning)
{
    g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func (given_free);
    g_autoptr (GHashTable) known = g_hash_table_new (given_hash, given_equal);
    guint twice = 0;

    for (guint i = 0; i < planning_units (planning); i++)
        add_unit (all, known, planning_unit (planning, i)->unit);
    for (guint i = 0; i < all->len; i++) {
        const Given *given = all->pdata[i];
        g_autofree char *places = given->places->len < 2 ? NULL : places_in_words (given);

        if (places != NULL && ++twice <= MOST_SERIALS)
            g_ptr_array_add (planning->batch->said,
                             g_strdup_printf ("%s with serial %s is given for %s: one part is in one place, so one of "
                                              "these is written down wrongly",
                                              given->part->name, given->serial, places));
    }
    if (twice > MOST_SERIALS)
        g_ptr_array_add (planning->batch->said, g_strdup_printf ("%u more serials are given for several places",
                                                                  twice - MOST_SERIALS));
}
