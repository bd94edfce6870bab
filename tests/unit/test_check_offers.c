/* SPDX-License-Identifier: MIT */
/* The two truth tables of docs/files.md, "Expressions", cell by cell, and what a state offers. */
#include "check_fixture.h"

#include "check/offers.h"

static gboolean
holds (const Board *board, const GArray *offers, const char *text)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Expr) expr = expression_parse (text, MARK_NONE, NULL, complaints);

    assert_non_null (expr);
    return offers_satisfy (board, offers, expr);
}

/* Offers `x` in each of these versions ("" for none), space apart. */
static GArray *
offer_x (const char *versions)
{
    GArray *offers = g_array_new (FALSE, FALSE, sizeof (Offer));
    g_auto (GStrv) each = g_strsplit (versions, " ", -1);

    for (guint i = 0; each[i] != NULL; i++) {
        const char *version = g_str_equal (each[i], "none") ? NULL : g_intern_string (each[i]);
        Offer offer = { { g_intern_string ("x"), version }, OFFERED_BY_BOARD, 0 };

        g_array_append_val (offers, offer);
    }
    return offers;
}

static void
atoms_are_as_the_table_says (void **fixture)
{
    (void) fixture;
    static const char *const offered[] = { "", "none", "2.0", "1.0 3.0" };
    static const struct {
        const char *atom;
        gboolean holds[4];
    } table[] = {
        { "x", { FALSE, TRUE, TRUE, TRUE } },          { "x = 2.0", { FALSE, FALSE, TRUE, FALSE } },
        { "x != 2.0", { FALSE, FALSE, FALSE, TRUE } }, { "x >= 2.0", { FALSE, FALSE, TRUE, TRUE } },
        { "x < 2.0", { FALSE, FALSE, FALSE, TRUE } },
    };
    g_autoptr (Library) library = fixture_load ("check-states.yaml");
    const Board *board = library->book.boards->pdata[0];

    for (guint row = 0; row < G_N_ELEMENTS (table); row++)
        for (guint column = 0; column < G_N_ELEMENTS (offered); column++) {
            g_autoptr (GArray) offers = offer_x (offered[column]);

            if (holds (board, offers, table[row].atom) != table[row].holds[column])
                fail_msg ("%s on \"%s\"", table[row].atom, offered[column]);
        }
}

static void
joined_atoms_are_as_the_table_says (void **fixture)
{
    (void) fixture;
    static const struct {
        const char *a, *b;
        gboolean both, either, a_if_b;
    } table[] = {
        { "x", "x", TRUE, TRUE, TRUE },
        { "x", "y", FALSE, TRUE, TRUE },
        { "y", "x", FALSE, TRUE, FALSE },
        { "y", "y", FALSE, FALSE, TRUE },
    };
    g_autoptr (Library) library = fixture_load ("check-states.yaml");
    const Board *board = library->book.boards->pdata[0];
    g_autoptr (GArray) offers = offer_x ("none");

    for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
        g_autofree char *both = g_strdup_printf ("%s and %s", table[i].a, table[i].b);
        g_autofree char *either = g_strdup_printf ("%s or %s", table[i].a, table[i].b);
        g_autofree char *conditional = g_strdup_printf ("%s if %s", table[i].a, table[i].b);

        assert_int_equal (holds (board, offers, both), table[i].both);
        assert_int_equal (holds (board, offers, either), table[i].either);
        assert_int_equal (holds (board, offers, conditional), table[i].a_if_b);
    }
}

/* The unit has an elvane-14 b0 in cpu1, live memory in dimm-a1 and other memory in dimm-b1, which is dead. */
static void
a_state_offers_board_releases_and_live_parts (void **fixture)
{
    (void) fixture;
    static const struct {
        const char *expression;
        gboolean holds;
    } table[] = {
        { "board sparrow-2", TRUE },
        { "board sparrow-2 >= r2", TRUE },
        { "board sparrow-2 < r2", FALSE },
        { "board finch-1", FALSE },
        { "form half", TRUE },
        { "system = 2.0", TRUE },
        { "system = 2.00", TRUE }, /* dotted: leading zeros are ignored */
        { "controller < 3", TRUE },
        { "table-format", FALSE }, /* another release provides it */
        { "processor", TRUE },
        { "processor = 1", FALSE }, /* offered without a version */
        { "elvane-14", TRUE },
        { "elvane-14 = b0", TRUE },
        { "generation elvane <= b0", TRUE },
        { "generation elvane > b0", FALSE },
        { "socket Q9", TRUE },
        { "cpu1", TRUE },
        { "cpu2", FALSE }, /* empty */
        { "memory-type mk4 and dimm-a1 and memory", TRUE },
        { "memory-type mk5", FALSE }, /* dead */
        { "dimm-b1", FALSE },         /* dead */
        { "dimm-mk5", FALSE },        /* dead */
    };
    g_autoptr (Library) library = fixture_load ("check-states.yaml");
    const Unit *unit = fixture_unit (library, "memory-dead-other-type");
    g_autoptr (State) state = state_from_unit (unit, NULL);
    g_autoptr (GArray) offers = offers_of_state (state);

    for (guint i = 0; i < G_N_ELEMENTS (table); i++)
        if (holds (state->board, offers, table[i].expression) != table[i].holds)
            fail_msg ("%s", table[i].expression);
}

static void
a_release_offers_what_it_provides (void **fixture)
{
    (void) fixture;
    g_autoptr (Library) library = fixture_load ("check-states.yaml");
    const Board *board = library->book.boards->pdata[0];
    g_autoptr (GArray) offers = offers_of_release (board, 0, 3);

    assert_true (holds (board, offers, "system = 3.0"));
    assert_true (holds (board, offers, "table-format >= 3"));
    assert_false (holds (board, offers, "controller"));
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (atoms_are_as_the_table_says),
        cmocka_unit_test (joined_atoms_are_as_the_table_says),
        cmocka_unit_test (a_state_offers_board_releases_and_live_parts),
        cmocka_unit_test (a_release_offers_what_it_provides),
    };

    g_log_set_always_fatal (G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);
    return cmocka_run_group_tests (tests, NULL, NULL);
}
