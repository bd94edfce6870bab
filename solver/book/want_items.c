/* SPDX-License-Identifier: MIT */
/* Wants of a command line: "cpu1=elvane-14", "system>=2.1.0", "keep=logic". Each is cut into nodes and then read as if
 * it stood in a file. */
#include "book/items.h"
#include "book/library.h"
#include "book/read.h"
#include "book/read_want.h"

#include <string.h>

static void
twice (Loader *loader, const Node *name, Mark first)
{
    g_autofree char *expected =
        g_strdup_printf ("expected it once; the other is at %s:%u:%u", first.file, first.line, first.column);
    complaints_add (loader->complaints, name->at, expected, "%s is wanted twice", name->text);
}

static void
read_slot_item (Loader *loader, Want *want, guint index, const Node *name, const Node *value, gboolean is_equal)
{
    WantSlot *out = &want->slots[index];
    if (!is_equal)
        complaints_add (loader->complaints, name->at, "expected = and a part, or = empty", "slot %s cannot be compared",
                        name->text);
    else if (out->kind != WANT_NOTHING)
        twice (loader, name, out->at);
    else
        want_read_slot (loader, board_slot (want->board, index), value, out);
}

static void
read_component_item (Loader *loader, Want *want, guint index, const Node *name, const Node *expression)
{
    if (want->firmware[index]) {
        twice (loader, name, want->firmware[index]->at);
        return;
    }
    const Component *component = board_component (want->board, index);
    Expr *expr = value_expression (loader, expression, component->name, component->name);
    want_read_firmware (loader, component, expr, &want->firmware[index]);
}

static void
read_named_item (Loader *loader, Want *want, const Node *name, const Node *value, const Node *expression)
{
    int slot = board_find_slot (want->board, name->text), component = board_find_component (want->board, name->text);
    if (slot >= 0)
        read_slot_item (loader, want, (guint) slot, name, value, *expression->text == '=');
    else if (component >= 0)
        read_component_item (loader, want, (guint) component, name, expression);
    else
        want_read_keep (loader, name, want); /* it is neither: this says so */
}

static void
read_keep_item (Loader *loader, Want *want, const Node *value)
{
    g_auto (GStrv) names = g_strsplit (value->text, ",", -1);
    guint column = 0;
    for (guint i = 0; names[i]; i++) {
        Node *node = item_node (names[i], strlen (names[i]), mark_right_of (value->at, column));
        want_read_keep (loader, node, want);
        node_free (node);
        column += (guint) g_utf8_strlen (names[i], -1) + 1;
    }
}

static void
read_item (Loader *loader, Want *want, const char *text, Mark at)
{
    gsize name_length = strcspn (text, "<>=!");
    if (text[name_length] == '\0' || name_length == 0) {
        complaints_add (loader->complaints, at, "expected such as cpu1=elvane-14, 'system>=2.1.0', keep=logic",
                        "\"%s\" is no want", text);
        return;
    }
    gsize op_length = strspn (text + name_length, "<>=!");
    const char *rest = text + name_length, *after = rest + op_length;
    Mark rest_at = mark_right_of (at, (guint) g_utf8_strlen (text, (gssize) name_length));
    Node *name = item_node (text, name_length, at);
    Node *expression = item_node (rest, strlen (rest), rest_at);
    Node *value = item_node (after, strlen (after), mark_right_of (rest_at, (guint) op_length));
    if (strcmp (name->text, "keep") == 0 && op_length == 1 && *rest == '=')
        read_keep_item (loader, want, value);
    else
        read_named_item (loader, want, name, value, expression);
    node_free (name);
    node_free (expression);
    node_free (value);
}

static void
read_each_item (Loader *loader, Want *want, const char *const *items, Mark at)
{
    for (guint i = 0; items[i]; i++) {
        at.line = i + 1;
        read_item (loader, want, items[i], at);
    }
}

/* ---- For which board ---- */

typedef struct {
    const char *const *items;
    Mark at;
} ItemsToTry;

static void
read_for_one_board (Loader *loader, const Board *board, gconstpointer data)
{
    const ItemsToTry *all = data;
    Want *want = want_new (g_intern_static_string ("command line"), board, all->at);
    g_ptr_array_add (loader->library->wants, want);
    read_each_item (loader, want, all->items, all->at);
}

/* One want for each of the boards that the items suit; where they suit none, what is wrong with them for the first. */
static void
read_for_boards (Loader *loader, const GPtrArray *boards, const ItemsToTry *all)
{
    guint before = loader->library->wants->len;
    for (guint i = 0; i < boards->len; i++)
        if (reads_well (loader, g_ptr_array_index (boards, i), read_for_one_board, all))
            read_for_one_board (loader, g_ptr_array_index (boards, i), all);
    if (loader->library->wants->len == before)
        read_for_one_board (loader, g_ptr_array_index (boards, 0), all);
}

/* The want read from files, or a new one. NULL after a complaint. */
static Want *
want_to_add_to (Loader *loader, Mark at)
{
    GPtrArray *wants = loader->library->wants;
    if (wants->len == 1)
        return g_ptr_array_index (wants, 0);
    if (wants->len > 1) {
        complaints_add (loader->complaints, at, "expected at most one want in the files",
                        "the files have several wants: which one is this added to?");
        return NULL;
    }
    g_autoptr (GPtrArray) boards = boards_for_file (loader, at.file);
    const Board *board = boards->len == 1 ? g_ptr_array_index (boards, 0) : NULL;
    if (!board) {
        complain_of_boards (loader, boards, at, "want");
        return NULL;
    }
    Want *want = want_new (g_intern_static_string ("command line"), board, at);
    g_ptr_array_add (wants, want);
    return want;
}

void
read_want_items (Loader *loader, const char *const *items)
{
    if (!items || !items[0])
        return;
    Mark at = items_begin (loader, "--want", items);
    g_autoptr (GPtrArray) boards = boards_for_file (loader, at.file);
    if (loader->for_batch && loader->library->wants->len == 0 && boards->len > 1) {
        read_for_boards (loader, boards, &(ItemsToTry){ items, at });
        return;
    }
    Want *want = want_to_add_to (loader, at);
    if (want)
        read_each_item (loader, want, items, at);
}
