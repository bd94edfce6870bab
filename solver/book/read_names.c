/* SPDX-License-Identifier: MIT */
/* Names of parts, steppings, slots, components and releases, where a unit, want, shop or route speaks of them. */
#include "book/read.h"

#include <string.h>

const Part *
read_part_name (Loader *loader, const Node *node, PartKind kind)
{
    const Book *book = &loader->library->book;
    const char *name = value_name (loader, node, "part");
    if (!name)
        return NULL;
    const Part *part = book_find_part (book, name);
    if (!part) {
        g_autoptr (GPtrArray) fitting = g_ptr_array_new (); /* only what could stand here is worth naming */
        for (guint i = 0; i < book->parts->len; i++)
            if (kind == KIND_COUNT || ((const Part *) g_ptr_array_index (book->parts, i))->kind == kind)
                g_ptr_array_add (fitting, g_ptr_array_index (book->parts, i));
        g_autofree const char **known = names_of (fitting);
        loader_unknown (loader, node->at, kind == KIND_COUNT ? "part" : part_kind_name (kind), name, NULL, known);
    } else if (kind != KIND_COUNT && part->kind != kind) {
        g_autofree char *expected = g_strdup_printf ("expected a part of kind %s", part_kind_name (kind));
        complaints_add (loader->complaints, node->at, expected, "%s is of kind %s", name, part_kind_name (part->kind));
        return NULL;
    }
    return part;
}

/* "expected one of a0, b0". Transfer full. */
static char *
expected_steppings (const Part *part)
{
    g_autoptr (GString) joined = g_string_new (NULL);
    for (guint i = 0; i < part->steppings->len; i++)
        g_string_append_printf (joined, "%s%s", i ? ", " : "", (const char *) g_ptr_array_index (part->steppings, i));
    return part->steppings->len ? g_strdup_printf ("expected one of %s", joined->str)
                                : g_strdup ("expected no stepping: the book gives it none");
}

gboolean
read_stepping (Loader *loader, const Part *part, const Node *node, const Node *at, const char **out)
{
    const char *name = value_name (loader, node, "stepping");
    if (node && !name)
        return FALSE;
    gboolean part_is_whole = !g_hash_table_contains (loader->damaged, part);
    g_autofree char *expected = expected_steppings (part);
    if (name && !names_have (part->steppings, name)) {
        if (part_is_whole)
            complaints_add (loader->complaints, node->at, expected, "%s has no stepping %s", part->name, name);
        return FALSE;
    }
    if (!name && part->steppings->len > 1) {
        if (part_is_whole)
            complaints_add (loader->complaints, at->at, expected, "the stepping of %s is not given", part->name);
        return FALSE;
    }
    *out = name ? name : part->steppings->len ? g_ptr_array_index (part->steppings, 0) : NULL;
    return TRUE;
}

int
read_slot_name (Loader *loader, const Board *board, const Node *node)
{
    const char *name = value_name (loader, node, "slot");
    int index = name ? board_find_slot (board, name) : -1;
    if (name && index < 0) {
        g_autofree const char **known = names_of (board->slots);
        g_autofree char *whole = g_strdup_printf ("board %s", board->name);
        loader_unknown (loader, node->at, "slot", name, whole, known);
    }
    return index;
}

int
read_component_name (Loader *loader, const Board *board, const Node *node)
{
    const char *name = value_name (loader, node, "component");
    int index = name ? board_find_component (board, name) : -1;
    if (name && index < 0) {
        g_autofree const char **known = names_of (board->components);
        g_autofree char *whole = g_strdup_printf ("board %s", board->name);
        loader_unknown (loader, node->at, "component", name, whole, known);
    }
    return index;
}

const Unit *
read_unit_name (Loader *loader, const Node *node, const char *id)
{
    const GPtrArray *units = loader->library->units;
    g_autoptr (GPtrArray) known = g_ptr_array_new ();
    for (guint i = 0; id && i < units->len; i++) {
        const Unit *unit = g_ptr_array_index (units, i);
        if (unit->id == id)
            return unit;
        g_ptr_array_add (known, (gpointer) unit->id);
    }
    g_ptr_array_add (known, NULL);
    if (id && !loader->lost_unit && !loader->unread_files && !g_hash_table_contains (loader->unit_marks, id))
        loader_unknown (loader, node->at, "unit", id, NULL, (const char *const *) known->pdata);
    return NULL;
}

/* Complains of a version that the component's scheme does not know. */
static gboolean
version_is_right (Loader *loader, const Component *component, Mark at, const char *version)
{
    const char *problem = version_problem (component->scheme, version);
    if (!problem)
        return TRUE;
    g_autofree char *expected = g_strdup_printf ("expected %s", problem);
    if (!g_hash_table_contains (loader->damaged, component))
        complaints_add (loader->complaints, at, expected, "\"%s\" is no version under the scheme of %s", version,
                        component->name);
    return FALSE;
}

static void
unknown_release (Loader *loader, const Component *component, Mark at, const char *name)
{
    if (g_hash_table_contains (loader->damaged, component) && loader_has_lost (loader, name))
        return;
    g_autofree const char **known = names_of (component->releases);
    loader_unknown (loader, at, "release", name, component->name, known);
}

int
read_release_name (Loader *loader, const Component *component, const Node *node)
{
    const char *name = value_name (loader, node, component->name);
    if (!name || !version_is_right (loader, component, node->at, name))
        return -1;
    int index = component_find_release (component, name);
    if (index < 0)
        unknown_release (loader, component, node->at, name);
    return index;
}

int
read_release_at_or_above (Loader *loader, const Component *component, const Node *node)
{
    if (component->scheme == VERSIONS_LISTED)
        return read_release_name (loader, component, node);
    const char *name = value_name (loader, node, component->name);
    if (!name || !version_is_right (loader, component, node->at, name))
        return -1;
    for (guint i = 0; i < component->releases->len; i++)
        if (version_compare (component->scheme, component_release (component, i)->name, name) >= 0)
            return (int) i;
    if (!g_hash_table_contains (loader->damaged, component))
        complaints_add (loader->complaints, node->at, "expected a release that is in the book",
                        "%s %s is above every release in the book", component->name, name);
    return -1;
}

/* ---- Expressions over a component's releases ---- */

typedef struct {
    Loader *loader;
    const Component *component;
    gboolean is_right;
} ReleaseCheck;

static void
check_release_atom (const Expr *atom, gpointer data)
{
    ReleaseCheck *check = data;
    const Component *component = check->component;
    if (strcmp (atom->name, component->name) != 0) {
        g_autofree char *expected =
            g_strdup_printf ("expected releases of %s, such as >= %s", component->name,
                             component->releases->len ? component_release (component, 0)->name : "1.0");
        complaints_add (check->loader->complaints, atom->at, expected, "%s is not %s", atom->name, component->name);
        check->is_right = FALSE;
    } else if (atom->op != OP_ANY && component->scheme == VERSIONS_LISTED) {
        if (component_find_release (component, atom->version) < 0) {
            unknown_release (check->loader, component, atom->at, atom->version);
            check->is_right = FALSE;
        }
    } else if (atom->op != OP_ANY && !version_is_right (check->loader, component, atom->at, atom->version))
        check->is_right = FALSE;
}

gboolean
check_release_expression (Loader *loader, const Component *component, const Expr *expr)
{
    ReleaseCheck check = { loader, component, TRUE };
    expression_each_atom (expr, check_release_atom, &check);
    return check.is_right;
}

typedef struct {
    const Component *component;
    const Release *release;
} ReleaseQuestion;

static gboolean
release_atom_holds (const Expr *atom, gpointer data)
{
    const ReleaseQuestion *question = data;
    if (atom->op == OP_ANY)
        return TRUE;
    const Component *component = question->component;
    if (component->scheme == VERSIONS_LISTED) {
        int asked = component_find_release (component, atom->version);
        return asked >= 0 && version_op_holds (atom->op, (int) question->release->index - asked);
    }
    return version_op_holds (atom->op, version_compare (component->scheme, question->release->name, atom->version));
}

gboolean
release_answers (const Component *component, const Expr *expr, guint release)
{
    ReleaseQuestion question = { component, component_release (component, release) };
    return expression_holds (expr, release_atom_holds, &question);
}
