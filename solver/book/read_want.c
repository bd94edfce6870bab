/* SPDX-License-Identifier: MIT */
/* Wants: slots, firmware and what to keep. Wants of a command line: want_items.c. */
#include "book/attributes.h"
#include "book/library.h"
#include "book/read.h"
#include "book/read_want.h"

#include <string.h>

/* ---- Slots ---- */

/* Appends one test for each atom of an `and`; FALSE after a complaint. */
static gboolean
append_tests (Loader *loader, const Node *node, const Expr *expr, const char *attribute, GArray *tests)
{
    if (expr->kind == EXPR_AND)
        return append_tests (loader, node, expr->left, attribute, tests) &&
               append_tests (loader, node, expr->right, attribute, tests);
    if (expr->kind != EXPR_ATOM || strcmp (expr->name, attribute) != 0 || expr->op == OP_ANY) {
        loader_complain (loader, node, "expected a value, or comparisons joined by commas, such as >= 12",
                         "%s cannot be asked for like this", attribute);
        return FALSE;
    }
    WantTest test = { .attribute = attribute, .op = expr->op, .text = g_intern_string (expr->version), .at = expr->at };
    AttributeType type = attributes_type (loader, attribute);
    char *end;
    test.number = strcmp (attribute, "signature") == 0 ? (double) g_ascii_strtoull (test.text, &end, 16)
                                                       : g_ascii_strtod (test.text, &end);
    gboolean is_number = *end == '\0' && g_ascii_isdigit (*test.text);
    test.is_number = is_number && type != ATTRIBUTE_TEXT;
    gboolean ordered = expr->op != OP_EQ && expr->op != OP_NE;
    if (type == ATTRIBUTE_NUMBER && !is_number)
        complaints_add (loader->complaints, expr->at, "expected a number", "%s \"%s\" is not a number", attribute,
                        test.text);
    else if (!test.is_number && ordered && strcmp (attribute, "stepping") != 0)
        complaints_add (loader->complaints, expr->at, "expected = or !=", "%s has no order", attribute);
    else {
        g_array_append_val (tests, test);
        return TRUE;
    }
    return FALSE;
}

/* Some part and stepping of the kind that is as wanted. */
static gboolean
book_has_such (const Loader *loader, PartKind kind, const WantSlot *want)
{
    const GPtrArray *parts = loader->library->book.parts;
    for (guint i = 0; i < parts->len; i++) {
        const Part *part = g_ptr_array_index (parts, i);
        if (g_hash_table_contains (loader->damaged, part))
            return TRUE; /* it might be, once it can be read */
        if (part->kind != kind)
            continue;
        for (guint j = 0; j < MAX (part->steppings->len, 1); j++)
            if (want_slot_is_met (want, part, part->steppings->len ? g_ptr_array_index (part->steppings, j) : NULL))
                return TRUE;
    }
    return loader->unread_files || g_hash_table_size (loader->lost_words) > 0;
}

/* Attributes of a wanted part, each with a value or comparisons. */
static void
read_like (Loader *loader, MapReader *reader, const Slot *slot, WantSlot *out)
{
    const Node *map = reader->map;
    gboolean right = TRUE;
    out->tests = g_array_new (FALSE, TRUE, sizeof (WantTest));
    for (guint i = 0; i < map->keys->len; i++) {
        const Node *key = g_ptr_array_index (map->keys, i), *value = g_ptr_array_index (map->items, i);
        const char *name = g_intern_string (key->text);
        gboolean is_part = strcmp (name, "part") == 0;
        if (!is_part && !attributes_type (loader, name))
            continue;
        map_take (reader, name, KEY_OPTIONAL);
        if (is_part && (value->kind != NODE_SCALAR || !read_part_name (loader, value, slot->takes))) {
            right = FALSE;
            continue;
        }
        g_autoptr (Expr) expr = value_expression (loader, value, name, name);
        right = expr && append_tests (loader, value, expr, name, out->tests) && right;
    }
    out->kind = WANT_LIKE;
    if (right && out->tests->len && !book_has_such (loader, slot->takes, out))
        complaints_add (loader->complaints, map->at, "expected what some part of the book has, all of it at once",
                        "no %s in the book is so", part_kind_name (slot->takes));
}

/* {part}, {part, stepping}, or attributes. */
static void
read_want_map (Loader *loader, const Slot *slot, const Node *node, WantSlot *out)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this slot"))
        return;
    const Node *part_node = map_take (&reader, "part", KEY_OPTIONAL);
    const Node *stepping_node = map_take (&reader, "stepping", KEY_OPTIONAL);
    guint plain = (part_node ? 1 : 0) + (stepping_node ? 1 : 0);
    if (!part_node || plain < node->keys->len)
        read_like (loader, &reader, slot, out);
    else {
        out->kind = WANT_PART;
        out->part = read_part_name (loader, part_node, slot->takes);
        if (out->part && stepping_node)
            read_stepping (loader, out->part, stepping_node, part_node, &out->stepping);
    }
    g_autofree const char **known = sorted_keys (loader->attributes);
    for (guint i = 0; known[i]; i++)
        map_also_knows (&reader, known[i]);
    map_end (&reader);
    if (node->keys->len == 0)
        loader_complain (loader, node, "expected a part, attributes, or empty", "nothing is asked of slot %s",
                         slot->name);
}

void
want_read_slot (Loader *loader, const Slot *slot, const Node *node, WantSlot *out)
{
    out->at = node->at;
    if (node->kind == NODE_MAP)
        read_want_map (loader, slot, node, out);
    else if (node->kind == NODE_SCALAR && strcmp (node->text, "empty") == 0)
        out->kind = WANT_EMPTY;
    else {
        out->kind = WANT_PART;
        out->part = read_part_name (loader, node, slot->takes);
    }
}

/* ---- Firmware and keep ---- */

void
want_read_firmware (Loader *loader, const Component *component, Expr *expr, Expr **out)
{
    if (!expr)
        return;
    *out = expr;
    if (!check_release_expression (loader, component, expr) || g_hash_table_contains (loader->damaged, component))
        return;
    for (guint i = 0; i < component->releases->len; i++)
        if (release_answers (component, expr, i))
            return;
    const Release *newest =
        component->releases->len ? component_release (component, component->releases->len - 1) : NULL;
    g_autofree char *text = expression_to_string (expr);
    g_autofree char *expected =
        newest ? g_strdup_printf ("expected releases of the book, the %s of which is %s",
                                  component->scheme == VERSIONS_LISTED ? "last" : "newest", newest->name)
               : NULL;
    complaints_add (loader->complaints, expr->at, expected, "no release in the book is %s", text);
}

void
want_read_keep (Loader *loader, const Node *node, Want *want)
{
    const char *name = value_name (loader, node, "keep");
    if (!name)
        return;
    int slot = board_find_slot (want->board, name), component = board_find_component (want->board, name);
    if (slot >= 0)
        want->keep_slot[slot] = TRUE;
    else if (component >= 0)
        want->keep_component[component] = TRUE;
    else {
        g_autoptr (GPtrArray) both = g_ptr_array_new ();
        for (guint i = 0; i < want->board->slots->len; i++)
            g_ptr_array_add (both, (gpointer) board_slot (want->board, i));
        for (guint i = 0; i < want->board->components->len; i++)
            g_ptr_array_add (both, (gpointer) board_component (want->board, i));
        g_autofree const char **known = names_of (both);
        g_autofree char *whole = g_strdup_printf ("board %s", want->board->name);
        loader_unknown (loader, node->at, "slot or component", name, whole, known);
    }
}

/* ---- A want document ---- */

static void
read_want_slots (Loader *loader, const Node *node, Want *want)
{
    if (!node)
        return;
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, "slots", "expected each slot with what it shall hold");
        return;
    }
    for (guint i = 0; i < node->keys->len; i++) {
        int index = read_slot_name (loader, want->board, g_ptr_array_index (node->keys, i));
        if (index >= 0)
            want_read_slot (loader, board_slot (want->board, (guint) index), g_ptr_array_index (node->items, i),
                            &want->slots[index]);
    }
}

static void
read_want_firmware (Loader *loader, const Node *node, Want *want)
{
    if (!node)
        return;
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, "firmware", "expected each component with its releases, such as >= 2.1.0");
        return;
    }
    for (guint i = 0; i < node->keys->len; i++) {
        int index = read_component_name (loader, want->board, g_ptr_array_index (node->keys, i));
        if (index < 0)
            continue;
        const Component *component = board_component (want->board, (guint) index);
        Expr *expr = value_expression (loader, g_ptr_array_index (node->items, i), component->name, component->name);
        want_read_firmware (loader, component, expr, &want->firmware[index]);
    }
}

static void
read_want_for (Loader *loader, const Node *root, const Board *board)
{
    MapReader reader;
    if (!map_begin (&reader, loader, root, "this want"))
        return;
    const char *name = value_text (loader, map_take (&reader, "want", KEY_REQUIRED), "want");
    const Node *named_board = map_take (&reader, "board", KEY_OPTIONAL);
    const Node *slots = map_take (&reader, "slots", KEY_OPTIONAL);
    const Node *firmware = map_take (&reader, "firmware", KEY_OPTIONAL);
    const Node *keep = map_take (&reader, "keep", KEY_OPTIONAL);
    map_end (&reader);
    if (!board)
        return;
    Want *want = want_new (name, board, root->at);
    want->says_board = named_board != NULL;
    read_want_slots (loader, slots, want);
    read_want_firmware (loader, firmware, want);
    g_autoptr (GPtrArray) kept = value_list_or_one (loader, keep, "keep");
    for (guint i = 0; kept && i < kept->len; i++)
        want_read_keep (loader, g_ptr_array_index (kept, i), want);
    g_ptr_array_add (loader->library->wants, want);
}

/* The value of a map's key; NULL when it is not there. */
static const Node *
value_under (const Node *map, const char *key)
{
    for (guint i = 0; i < map->keys->len; i++)
        if (strcmp (((const Node *) g_ptr_array_index (map->keys, i))->text, key) == 0)
            return g_ptr_array_index (map->items, i);
    return NULL;
}

/* Outside a batch a want goes with the unit that is read, so that it cannot be for another board. */
static void
check_board_of_units (Loader *loader, const Board *board, const Node *node)
{
    const GPtrArray *units = loader->library->units;
    gboolean met = units->len == 0 || loader->for_batch || loader->lost_unit;
    for (guint i = 0; !met && i < units->len; i++)
        met = ((const Unit *) g_ptr_array_index (units, i))->board == board;
    if (!met)
        complaints_add (loader->complaints, node->at, "expected the board of a unit that is read in the same run",
                        "this want is for board %s, and no unit has that board", board->name);
}

void
read_want (Loader *loader, const Node *root)
{
    const Node *node = value_under (root, "board");
    const Board *board = read_board_name (loader, node);
    if (board)
        check_board_of_units (loader, board, node);
    if (node)
        read_want_for (loader, root, board);
    else
        read_for_board (loader, root, "want", read_want_for);
}
