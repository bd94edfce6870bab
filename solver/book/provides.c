/* SPDX-License-Identifier: MIT */
/* Provides: what boards, releases and parts offer, and whether an offered version answers an atom. */
#include "book/book.h"

#include <string.h>

static void
append (GArray *out, const char *name, const char *version)
{
    Provide provide = { name, version };
    g_array_append_val (out, provide);
}

/* "socket S1840", interned: an attribute's value as a name. */
static const char *
name_of_value (const char *attribute, const char *value)
{
    g_autofree char *name = g_strdup_printf ("%s %s", attribute, value);
    return g_intern_string (name);
}

static void
append_attribute (GArray *out, const Attribute *attribute, const char *version)
{
    for (guint i = 0; i < attribute->values->len; i++)
        append (out, name_of_value (attribute->name, g_ptr_array_index (attribute->values, i)), version);
}

static void
append_written_out (GArray *out, const GPtrArray *provides)
{
    for (guint i = 0; i < provides->len; i++) {
        const Provide *provide = g_ptr_array_index (provides, i);
        append (out, provide->name, provide->version);
    }
}

void
part_each_provide (const Part *part, const char *stepping, GArray *out)
{
    append (out, g_intern_string (part_kind_name (part->kind)), NULL);
    append (out, part->name, stepping);
    for (guint i = 0; i < part->attributes->len; i++) {
        const Attribute *attribute = g_ptr_array_index (part->attributes, i);
        if (attribute->is_number)
            continue;
        if (strcmp (attribute->name, "stepping") == 0) {
            if (stepping) /* the one that this part has, of those that the model comes in */
                append (out, name_of_value (attribute->name, stepping), NULL);
        } else
            append_attribute (out, attribute, strcmp (attribute->name, "generation") == 0 ? stepping : NULL);
    }
    append_written_out (out, part->provides);
}

void
release_each_provide (const Component *component, const Release *release, GArray *out)
{
    append (out, component->name, release->name);
    append_written_out (out, release->provides);
}

void
board_each_provide (const Board *board, guint revision, GArray *out)
{
    append (out, name_of_value ("board", board->name), g_ptr_array_index (board->revisions, revision));
    for (guint i = 0; i < board->attributes->len; i++) {
        const Attribute *attribute = g_ptr_array_index (board->attributes, i);
        if (!attribute->is_number)
            append_attribute (out, attribute, NULL);
    }
    if (board->verified_boot)
        append (out, g_intern_static_string ("verified-boot"), NULL);
    append_written_out (out, board->provides);
}

/* Where two names of one order stand to each other by their index; FALSE when either is not in it. */
static gboolean
answers_by_index (VersionOp op, int have, int asked)
{
    return have >= 0 && asked >= 0 && version_op_holds (op, have - asked);
}

static gboolean
component_answers (const Component *component, const Expr *atom, const char *have)
{
    if (component->scheme == VERSIONS_LISTED)
        return answers_by_index (atom->op, component_find_release (component, have),
                                 component_find_release (component, atom->version));
    if (version_problem (component->scheme, have) || version_problem (component->scheme, atom->version))
        return FALSE;
    return version_op_holds (atom->op, version_compare (component->scheme, have, atom->version));
}

gboolean
board_version_answers (const Board *board, const Expr *atom, const char *have)
{
    g_return_val_if_fail (atom->kind == EXPR_ATOM, FALSE);
    if (atom->op == OP_ANY)
        return TRUE;
    if (!have)
        return FALSE;
    int component = board_find_component (board, atom->name);
    if (component >= 0)
        return component_answers (board_component (board, (guint) component), atom, have);
    if (g_str_has_prefix (atom->name, "board ") && strcmp (atom->name + strlen ("board "), board->name) == 0)
        return answers_by_index (atom->op, board_find_revision (board, have),
                                 board_find_revision (board, atom->version));
    return version_op_holds (atom->op, version_compare (VERSIONS_DEBIAN, have, atom->version));
}

static gboolean
support_covers (const GPtrArray *supports, const char *generation, const char *stepping, Mark *where)
{
    for (guint i = 0; supports && i < supports->len; i++) {
        const Support *support = g_ptr_array_index (supports, i);
        if (g_strcmp0 (support->generation, generation) != 0)
            continue;
        gboolean covered = !support->steppings;
        for (guint j = 0; !covered && j < support->steppings->len; j++)
            covered = g_strcmp0 (g_ptr_array_index (support->steppings, j), stepping) == 0;
        if (covered) {
            if (where)
                *where = support->at;
            return TRUE;
        }
    }
    return FALSE;
}

SupportAnswer
release_support (const Release *release, const char *generation, const char *stepping, Mark *where)
{
    if (support_covers (release->never_starts, generation, stepping, where))
        return SUPPORT_NO;
    if (support_covers (release->starts, generation, stepping, where))
        return SUPPORT_YES;
    if (where)
        *where = release->at;
    return SUPPORT_NOT_STATED;
}
