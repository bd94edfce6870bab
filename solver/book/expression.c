/* SPDX-License-Identifier: MIT */
/* Expressions: from text to a tree and back, and how a tree joins the answers for its atoms. */
#include "book/expression.h"

#include <string.h>

/* Far more than a person writes; keeps the recursion over a tree shallow. */
#define MOST_ATOMS       500
#define MOST_PARENTHESES 50

#define EXPECTED_ATOM "expected a name, or a name and a version, such as controller >= 2.10"

typedef enum {
    TOKEN_END,
    TOKEN_WORD,
    TOKEN_OP,
    TOKEN_AND,
    TOKEN_OR,
    TOKEN_IF,
    TOKEN_OPEN,
    TOKEN_CLOSE,
    TOKEN_BAD
} Token;

typedef struct {
    const char *text; /* the whole expression */
    const char *at;   /* start of the present token */
    gsize length;     /* of the present token */
    Token token;
    VersionOp op; /* with TOKEN_OP */
    Mark start;
    const char *implied_name;
    guint atoms, parentheses;
    Complaints *complaints;
} Parser;

static Expr *parse_expression (Parser *parser);

/* ---- Tokens ---- */

static Mark
mark_here (const Parser *parser)
{
    return mark_right_of (parser->start, (guint) g_utf8_pointer_to_offset (parser->text, parser->at));
}

static void
take_operator (Parser *parser)
{
    static const struct {
        const char *text;
        VersionOp op;
    } operators[] = {
        { "<=", OP_LE }, { ">=", OP_GE }, { "!=", OP_NE }, { "<", OP_LT }, { ">", OP_GT }, { "=", OP_EQ }
    };
    for (guint i = 0; i < G_N_ELEMENTS (operators); i++)
        if (g_str_has_prefix (parser->at, operators[i].text)) {
            parser->token = TOKEN_OP;
            parser->op = operators[i].op;
            parser->length = strlen (operators[i].text);
            return;
        }
    parser->token = TOKEN_BAD;
    parser->length = 1;
}

static Token
word_token (const char *word, gsize length)
{
    if (length == 3 && strncmp (word, "and", 3) == 0)
        return TOKEN_AND;
    if (length == 2 && strncmp (word, "or", 2) == 0)
        return TOKEN_OR;
    if (length == 2 && strncmp (word, "if", 2) == 0)
        return TOKEN_IF;
    return TOKEN_WORD;
}

static void
next_token (Parser *parser)
{
    parser->at += parser->length;
    while (g_ascii_isspace (*parser->at))
        parser->at++;
    parser->length = 1;
    switch (*parser->at) {
    case '\0':
        parser->token = TOKEN_END;
        parser->length = 0;
        return;
    case '(':
        parser->token = TOKEN_OPEN;
        return;
    case ')':
        parser->token = TOKEN_CLOSE;
        return;
    case ',':
        parser->token = TOKEN_AND;
        return;
    default:
        break;
    }
    gsize length = 0;
    while (text_is_name_character (parser->at[length]))
        length++;
    if (length == 0) {
        take_operator (parser);
        return;
    }
    parser->token = word_token (parser->at, length);
    parser->length = length;
}

static gpointer
complain (Parser *parser, const char *expected)
{
    Mark at = mark_here (parser);
    if (parser->token == TOKEN_END)
        complaints_add (parser->complaints, at, expected, "the expression ends too early");
    else {
        const char *end = parser->token == TOKEN_BAD ? g_utf8_next_char (parser->at) : parser->at + parser->length;
        g_autofree char *found = g_strndup (parser->at, (gsize) (end - parser->at));
        complaints_add (parser->complaints, at, expected, "\"%s\" does not belong here", found);
    }
    return NULL;
}

/* ---- Trees ---- */

static Expr *
join (ExprKind kind, Expr *left, Expr *right, Mark at)
{
    Expr *expr = g_new0 (Expr, 1);
    expr->kind = kind;
    expr->at = at;
    expr->left = left;
    expr->right = right;
    return expr;
}

static Expr *
new_atom (const char *name, VersionOp op, const char *version, Mark at)
{
    Expr *expr = g_new0 (Expr, 1);
    expr->kind = EXPR_ATOM;
    expr->at = at;
    expr->name = g_intern_string (name);
    expr->op = op;
    expr->version = g_strdup (version);
    return expr;
}

void
expression_free (Expr *expr)
{
    if (!expr)
        return;
    expression_free (expr->left);
    expression_free (expr->right);
    g_free (expr->version);
    g_free (expr);
}

Expr *
expression_copy (const Expr *expr, const char *name, const char *new_name)
{
    if (!expr)
        return NULL;
    Expr *copy = g_memdup2 (expr, sizeof *expr);
    if (expr->name && expr->name == name)
        copy->name = new_name;
    copy->version = g_strdup (expr->version);
    copy->left = expression_copy (expr->left, name, new_name);
    copy->right = expression_copy (expr->right, name, new_name);
    return copy;
}

/* Takes one word that starts with a letter or a digit. Transfer full. */
static char *
take_word (Parser *parser, const char *expected)
{
    if (parser->token != TOKEN_WORD || !g_ascii_isalnum (*parser->at))
        return complain (parser, expected);
    char *word = g_strndup (parser->at, parser->length);
    next_token (parser);
    return word;
}

/* Takes `op version` for a name. */
static Expr *
parse_comparison (Parser *parser, const char *name, Mark at)
{
    VersionOp op = parser->op;
    next_token (parser);
    g_autofree char *version = take_word (parser, "expected a version after the comparison");
    return version ? new_atom (name, op, version, at) : NULL;
}

static Expr *
parse_atom (Parser *parser)
{
    Mark at = mark_here (parser);
    if (++parser->atoms > MOST_ATOMS) {
        complaints_add (parser->complaints, at, NULL, "the expression has more than %d parts", MOST_ATOMS);
        return NULL;
    }
    if (parser->token == TOKEN_OP && parser->implied_name)
        return parse_comparison (parser, parser->implied_name, at);
    if (parser->token == TOKEN_OP)
        return complain (parser, "expected a name before the comparison, such as controller >= 2.10");
    g_autofree char *name = take_word (parser, EXPECTED_ATOM);
    if (!name)
        return NULL;
    if (parser->token == TOKEN_WORD) {
        g_autofree char *value = take_word (parser, EXPECTED_ATOM), *kind = g_steal_pointer (&name);
        if (!value)
            return NULL;
        name = g_strdup_printf ("%s %s", kind, value);
    } else if (parser->token != TOKEN_OP && parser->implied_name)
        return new_atom (parser->implied_name, OP_EQ, name, at);
    if (parser->token == TOKEN_OP)
        return parse_comparison (parser, name, at);
    return new_atom (name, OP_ANY, NULL, at);
}

static Expr *
parse_item (Parser *parser)
{
    if (parser->token != TOKEN_OPEN)
        return parse_atom (parser);
    if (++parser->parentheses > MOST_PARENTHESES)
        return complain (parser, "expected fewer parentheses");
    next_token (parser);
    g_autoptr (Expr) inside = parse_expression (parser);
    if (!inside)
        return NULL;
    if (parser->token != TOKEN_CLOSE)
        return complain (parser, "expected and, or, if or a closing parenthesis");
    next_token (parser);
    return g_steal_pointer (&inside);
}

/* Items of one level, joined from the left: `token` between them, each read by `parse_part`. */
static Expr *
parse_chain (Parser *parser, Expr *(*parse_part) (Parser *), Token token, ExprKind kind)
{
    g_autoptr (Expr) expr = parse_part (parser);
    while (expr && parser->token == token) {
        Mark at = mark_here (parser);
        next_token (parser);
        Expr *right = parse_part (parser);
        if (!right)
            return NULL;
        expr = join (kind, g_steal_pointer (&expr), right, at);
    }
    return g_steal_pointer (&expr);
}

static Expr *
parse_all (Parser *parser)
{
    return parse_chain (parser, parse_item, TOKEN_AND, EXPR_AND);
}

static Expr *
parse_group (Parser *parser)
{
    return parse_chain (parser, parse_all, TOKEN_OR, EXPR_OR);
}

static Expr *
parse_expression (Parser *parser)
{
    g_autoptr (Expr) left = parse_group (parser);
    if (!left || parser->token != TOKEN_IF)
        return g_steal_pointer (&left);
    Mark at = mark_here (parser);
    next_token (parser);
    Expr *right = parse_group (parser);
    return right ? join (EXPR_IF, g_steal_pointer (&left), right, at) : NULL;
}

Expr *
expression_parse (const char *text, Mark at, const char *implied_name, Complaints *complaints)
{
    Parser parser = { .text = text, .at = text, .start = at, .implied_name = implied_name, .complaints = complaints };
    next_token (&parser);
    g_autoptr (Expr) expr = parse_expression (&parser);
    if (expr && parser.token != TOKEN_END)
        return complain (&parser, parser.token == TOKEN_WORD || parser.token == TOKEN_OPEN
                                      ? "expected and, or or if before it"
                                      : "expected and, or, if, or the end of the expression");
    return g_steal_pointer (&expr);
}

/* ---- Reading a tree ---- */

/* How closely an operator binds; a part that binds less closely than its place asks for needs parentheses. */
static int
closeness (ExprKind kind)
{
    switch (kind) {
    case EXPR_ATOM:
        return 3;
    case EXPR_AND:
        return 2;
    case EXPR_OR:
        return 1;
    case EXPR_IF:
        return 0;
    }
    g_assert_not_reached ();
}

static void
append_expression (GString *out, const Expr *expr, int least)
{
    static const char *const words[] = { "", " and ", " or ", " if " };
    int own = closeness (expr->kind);
    if (expr->kind == EXPR_ATOM) {
        g_string_append (out, expr->name);
        if (expr->op != OP_ANY)
            g_string_append_printf (out, " %s %s", version_op_text (expr->op), expr->version);
        return;
    }
    if (own < least)
        g_string_append_c (out, '(');
    append_expression (out, expr->left, expr->kind == EXPR_IF ? 1 : own);
    g_string_append (out, words[expr->kind]);
    append_expression (out, expr->right, own + 1);
    if (own < least)
        g_string_append_c (out, ')');
}

char *
expression_to_string (const Expr *expr)
{
    GString *out = g_string_new (NULL);
    append_expression (out, expr, 0);
    return g_string_free (out, FALSE);
}

gboolean
expression_holds (const Expr *expr, ExprAtomHolds atom_holds, gpointer data)
{
    switch (expr->kind) {
    case EXPR_ATOM:
        return atom_holds (expr, data);
    case EXPR_AND:
        return expression_holds (expr->left, atom_holds, data) && expression_holds (expr->right, atom_holds, data);
    case EXPR_OR:
        return expression_holds (expr->left, atom_holds, data) || expression_holds (expr->right, atom_holds, data);
    case EXPR_IF:
        return !expression_holds (expr->right, atom_holds, data) || expression_holds (expr->left, atom_holds, data);
    }
    g_assert_not_reached ();
}

void
expression_each_atom (const Expr *expr, ExprVisit visit, gpointer data)
{
    if (!expr)
        return;
    if (expr->kind == EXPR_ATOM)
        visit (expr, data);
    expression_each_atom (expr->left, visit, data);
    expression_each_atom (expr->right, visit, data);
}
