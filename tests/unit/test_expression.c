/* SPDX-License-Identifier: MIT */
/* Expressions: the grammar and the truth tables of docs/files.md, "Expressions". */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include "book/book.h"

static Expr *
parse (const char *text, const char *implied_name)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    Expr *expr = expression_parse (text, (Mark){ "x", 1, 1 }, implied_name, complaints);
    assert_int_equal (expr == NULL, complaints_count (complaints) != 0);
    return expr;
}

/* Parsed and written out again. */
static void
assert_reads_as (const char *text, const char *implied_name, const char *expected)
{
    g_autoptr (Expr) expr = parse (text, implied_name);
    if (!expr)
        fail_msg ("%s does not parse", text);
    g_autofree char *written = expression_to_string (expr);
    assert_string_equal (written, expected);
    g_autoptr (Expr) again = parse (written, NULL); /* what is written parses to the same */
    g_autofree char *rewritten = again ? expression_to_string (again) : NULL;
    assert_string_equal (rewritten, expected);
}

static void
test_grammar (void **state)
{
    (void) state;
    static const char *const same[] = {
        "controller", "controller >= 2.10", "board wren-2s >= r2", "a and b or c",  "a or b and c",  "(a or b) and c",
        "a if b",     "a or b if c and d",  "a and (b if c)",      "a if (b if c)", "(a if b) if c", "a and (b and c)",
    };
    for (guint i = 0; i < G_N_ELEMENTS (same); i++)
        assert_reads_as (same[i], NULL, same[i]);
    assert_reads_as ("a,b", NULL, "a and b");
    assert_reads_as ("  ( ( a>=1 ) )  ", NULL, "a >= 1");
    assert_reads_as ("a!=1,b<2 or c=3", NULL, "a != 1 and b < 2 or c = 3");
}

static void
test_implied_name (void **state)
{
    (void) state;
    assert_reads_as (">= 1.4.0, < 2.0", "system", "system >= 1.4.0 and system < 2.0");
    assert_reads_as ("1.4.0", "system", "system = 1.4.0");
    assert_reads_as ("1.4.0 or 1.6.0", "system", "system = 1.4.0 or system = 1.6.0");
    assert_reads_as ("system >= 1", "system", "system >= 1");
}

/* Closeness: `and` before `or` before `if`; each `and` and `or` from the left. */
static void
test_shape (void **state)
{
    (void) state;
    g_autoptr (Expr) expr = parse ("a or b and c if d", NULL);
    assert_int_equal (expr->kind, EXPR_IF);
    assert_int_equal (expr->left->kind, EXPR_OR);
    assert_int_equal (expr->left->right->kind, EXPR_AND);
    assert_string_equal (expr->right->name, "d");
    g_autoptr (Expr) chain = parse ("a and b and c", NULL);
    assert_string_equal (chain->right->name, "c");
    assert_string_equal (chain->left->left->name, "a");
}

static void
test_columns (void **state)
{
    (void) state;
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Expr) expr =
        expression_parse ("controller >= 2 and logic < 3", (Mark){ "x.yaml", 7, 20 }, NULL, complaints);
    assert_int_equal (expr->left->at.column, 20);
    assert_int_equal (expr->at.column, 36);
    assert_int_equal (expr->right->at.column, 40);
    assert_int_equal (expr->right->at.line, 7);
}

static void
test_refused (void **state)
{
    (void) state;
    static const struct {
        const char *text;
        guint column;
    } table[] = {
        { "", 1 },       { "a and", 6 },  { "and a", 1 },  { "a b c", 5 },       { "a >=", 5 },      { ">= 1", 1 },
        { "(a", 3 },     { "a)", 2 },     { "a || b", 3 }, { "a if b if c", 8 }, { "a >= >= 1", 6 }, { "a >= (1)", 6 },
        { "a = -1", 5 }, { "not a,", 7 }, { "a, , b", 4 }, { "()", 2 },
    };
    for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
        g_autoptr (Complaints) complaints = complaints_new ();
        g_autoptr (Expr) expr = expression_parse (table[i].text, (Mark){ "x", 1, 1 }, NULL, complaints);
        assert_null (expr);
        assert_int_equal (complaints_count (complaints), 1);
        if (complaints_get (complaints, 0)->at.column != table[i].column)
            fail_msg ("\"%s\": column %u", table[i].text, complaints_get (complaints, 0)->at.column);
    }
}

/* Neither length nor depth of a text may exhaust the stack. */
static void
test_monsters (void **state)
{
    (void) state;
    g_autoptr (GString) text = g_string_new ("a");
    for (int i = 0; i < 100000; i++)
        g_string_append (text, " and a");
    assert_null (parse (text->str, NULL));
    g_autofree char *open = g_strnfill (100000, '(');
    assert_null (parse (open, NULL));
}

/* ---- Truth ---- */

/* An atom whose name is "t" is true. */
static gboolean
is_t (const Expr *atom, gpointer data)
{
    (void) data;
    return strcmp (atom->name, "t") == 0;
}

static void
test_truth_of_operators (void **state)
{
    (void) state;
    /* The second table of docs/files.md, "Expressions": a, b, and, or, if. */
    static const struct {
        const char *a, *b;
        gboolean and, or, if_;
    } table[] = {
        { "t", "t", TRUE, TRUE, TRUE },
        { "t", "f", FALSE, TRUE, TRUE },
        { "f", "t", FALSE, TRUE, FALSE },
        { "f", "f", FALSE, FALSE, TRUE },
    };
    static const char *const words[] = { "and", "or", "if" };
    for (guint i = 0; i < G_N_ELEMENTS (table); i++)
        for (guint j = 0; j < 3; j++) {
            g_autofree char *text = g_strdup_printf ("%s %s %s", table[i].a, words[j], table[i].b);
            g_autoptr (Expr) expr = parse (text, NULL);
            gboolean expected = j == 0 ? table[i].and : j == 1 ? table[i].or : table[i].if_;
            if (expression_holds (expr, is_t, NULL) != expected)
                fail_msg ("%s should be %s", text, expected ? "true" : "false");
        }
}

typedef struct {
    const Board *board;
    const Provide *offered;
    guint count;
} Offered;

static gboolean
is_offered (const Expr *atom, gpointer data)
{
    const Offered *all = data;
    for (guint i = 0; i < all->count; i++)
        if (strcmp (all->offered[i].name, atom->name) == 0 &&
            board_version_answers (all->board, atom, all->offered[i].version))
            return TRUE;
    return FALSE;
}

/* The first table of docs/files.md, "Expressions": one row an atom, one column what is offered. */
static void
test_truth_of_atoms (void **state)
{
    (void) state;
    static const Provide bare[] = { { "x", NULL } }, two[] = { { "x", "2.0" } },
                         one_and_three[] = { { "x", "1.0" }, { "x", "3.0" } };
    static const struct {
        const char *atom;
        gboolean nothing, bare, two, one_and_three;
    } table[] = {
        { "x", FALSE, TRUE, TRUE, TRUE },          { "x = 2.0", FALSE, FALSE, TRUE, FALSE },
        { "x != 2.0", FALSE, FALSE, FALSE, TRUE }, { "x >= 2.0", FALSE, FALSE, TRUE, TRUE },
        { "x < 2.0", FALSE, FALSE, FALSE, TRUE },
    };
    GPtrArray *none = g_ptr_array_new ();
    Board board = { .name = "wren", .components = none, .revisions = none };
    for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
        g_autoptr (Expr) expr = parse (table[i].atom, NULL);
        Offered columns[] = {
            { &board, NULL, 0 }, { &board, bare, 1 }, { &board, two, 1 }, { &board, one_and_three, 2 }
        };
        gboolean expected[] = { table[i].nothing, table[i].bare, table[i].two, table[i].one_and_three };
        for (guint j = 0; j < 4; j++)
            if (expression_holds (expr, is_offered, &columns[j]) != expected[j])
                fail_msg ("%s, column %u", table[i].atom, j + 1);
    }
    g_ptr_array_unref (none);
}

static void
append_name (const Expr *atom, gpointer data)
{
    g_string_append (data, atom->name);
}

static void
test_each_atom_left_to_right (void **state)
{
    (void) state;
    g_autoptr (Expr) expr = parse ("(a or b) and c if d", NULL);
    g_autoptr (GString) names = g_string_new (NULL);
    expression_each_atom (expr, append_name, names);
    expression_each_atom (NULL, append_name, names);
    assert_string_equal (names->str, "abcd");
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_grammar),
        cmocka_unit_test (test_implied_name),
        cmocka_unit_test (test_shape),
        cmocka_unit_test (test_columns),
        cmocka_unit_test (test_refused),
        cmocka_unit_test (test_monsters),
        cmocka_unit_test (test_truth_of_operators),
        cmocka_unit_test (test_truth_of_atoms),
        cmocka_unit_test (test_each_atom_left_to_right),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
