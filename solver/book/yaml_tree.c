/* SPDX-License-Identifier: MIT */
/* YAML tree: libyaml's events to nodes. Anchors, aliases and tags are refused: a book has no use for them, and without
 * them no text can stand for more than it says. */
#include "book/yaml_tree.h"

#include <string.h>
#include <yaml.h>

#define DEEPEST 32 /* levels of lists and maps; the formats need 8 */

typedef struct {
    yaml_parser_t parser;
    yaml_event_t event;
    const char *file;
    const char *text;
    gsize length;
    Complaints *complaints;
    gboolean stopped; /* by a mistake after which nothing can be read */
} Reader;

void
node_free (Node *node)
{
    if (!node)
        return;
    g_free (node->text);
    if (node->items)
        g_ptr_array_unref (node->items);
    if (node->keys)
        g_ptr_array_unref (node->keys);
    g_free (node);
}

static void
free_node (gpointer data)
{
    node_free (data);
}

const char *
node_description (const Node *node)
{
    if (node_is_blank (node))
        return "no value";
    return node->kind == NODE_LIST ? "a list" : node->kind == NODE_MAP ? "keys with values" : "text";
}

gboolean
node_is_blank (const Node *node)
{
    return node->kind == NODE_SCALAR && node->plain && *node->text == '\0';
}

/* The one place where libyaml's counting from zero becomes counting from one. */
static Mark
mark_of (const Reader *reader, const yaml_mark_t *mark)
{
    return (Mark){ reader->file, (guint) mark->line + 1, (guint) mark->column + 1 };
}

/* The place of a byte, for mistakes that libyaml reports without a mark. */
static Mark
mark_of_offset (const char *file, const char *text, gsize offset)
{
    Mark at = { file, 1, 1 };
    for (gsize i = 0; i < offset; i++) {
        if (text[i] == '\n' || (text[i] == '\r' && text[i + 1] != '\n')) {
            at.line++;
            at.column = 1;
        } else if (text[i] != '\r' && ((guchar) text[i] & 0xc0) != 0x80)
            at.column++; /* first byte of a character */
    }
    return at;
}

/* ---- Mistakes in the YAML itself ---- */

static const char *
expected_instead (const Reader *reader, const yaml_mark_t *mark)
{
    const char *at = g_utf8_offset_to_pointer (reader->text, (glong) mark->index);
    if (at < reader->text + reader->length && *at == '\t')
        return "expected spaces: a tab cannot indent";
    if (reader->parser.error == YAML_SCANNER_ERROR)
        return "expected YAML: is a quote, a colon with a space after it, or an indent amiss here or just above?";
    return "expected YAML: is the indent of this line right, and is each bracket above closed?";
}

static void
complain_of_yaml (Reader *reader)
{
    yaml_parser_t *parser = &reader->parser;
    reader->stopped = TRUE;
    if (parser->error == YAML_READER_ERROR) {
        Mark at = mark_of_offset (reader->file, reader->text, MIN (parser->problem_offset, reader->length));
        complaints_add (reader->complaints, at, "expected text in UTF-8 without control characters", "%s",
                        parser->problem);
        return;
    }
    Mark began = mark_of (reader, &parser->context_mark);
    g_autofree char *context = parser->context ? g_strdup_printf (" %s that began in line %u, column %u",
                                                                  parser->context, began.line, began.column)
                                               : g_strdup ("");
    complaints_add (reader->complaints, mark_of (reader, &parser->problem_mark),
                    expected_instead (reader, &parser->problem_mark), "%s%s",
                    parser->problem ? parser->problem : "the YAML cannot be read", context);
}

static void
refuse (Reader *reader, const char *what, const char *expected)
{
    complaints_add (reader->complaints, mark_of (reader, &reader->event.start_mark), expected, "%s", what);
}

/* ---- Events ---- */

/* Steps to the next event, freeing the last one. FALSE when reading has stopped. */
static gboolean
next_event (Reader *reader)
{
    yaml_event_delete (&reader->event);
    if (reader->stopped)
        return FALSE;
    if (!yaml_parser_parse (&reader->parser, &reader->event)) {
        complain_of_yaml (reader);
        return FALSE;
    }
    return TRUE;
}

static Node *
new_node (Reader *reader, NodeKind kind, const yaml_char_t *anchor, const yaml_char_t *tag)
{
    Node *node = g_new0 (Node, 1);
    node->kind = kind;
    node->at = mark_of (reader, &reader->event.start_mark);
    if (anchor)
        refuse (reader, "an anchor (&) is not read here", "expected the value alone, written out where it is used");
    if (tag)
        refuse (reader, "a tag (!) is not read here", "expected the value alone");
    if (kind != NODE_SCALAR)
        node->items = g_ptr_array_new_with_free_func (free_node);
    if (kind == NODE_MAP)
        node->keys = g_ptr_array_new_with_free_func (free_node);
    return node;
}

static Node *
scalar_node (Reader *reader)
{
    const yaml_event_t *event = &reader->event;
    Node *node = new_node (reader, NODE_SCALAR, event->data.scalar.anchor, event->data.scalar.tag);
    node->text = g_strdup ((const char *) event->data.scalar.value);
    yaml_scalar_style_t style = event->data.scalar.style;
    node->plain = style == YAML_PLAIN_SCALAR_STYLE;
    node->quote = style == YAML_SINGLE_QUOTED_SCALAR_STYLE || style == YAML_DOUBLE_QUOTED_SCALAR_STYLE;
    gsize start = event->start_mark.column + node->quote, end = event->end_mark.column;
    node->spelled = event->start_mark.line == event->end_mark.line &&
                    start + (gsize) g_utf8_strlen (node->text, -1) + node->quote == end;
    return node;
}

static Node *read_node (Reader *reader, guint depth);

/* FALSE, after a complaint, for a key that `seen` (text -> Node*) has already. */
static gboolean
key_is_new (Reader *reader, GHashTable *seen, Node *key)
{
    const Node *earlier = g_hash_table_lookup (seen, key->text);
    if (!earlier) {
        g_hash_table_insert (seen, key->text, key);
        return TRUE;
    }
    g_autofree char *expected = g_strdup_printf ("expected it once; the first is in line %u", earlier->at.line);
    complaints_add (reader->complaints, key->at, expected, "key \"%s\" is given twice", key->text);
    return FALSE;
}

/* Adds one key and its value; the key's event is the present one. */
static void
read_pair (Reader *reader, Node *map, GHashTable *seen, guint depth)
{
    Node *key = read_node (reader, depth); /* NULL for an alias; its value has to be stepped over all the same */
    if (key && key->kind != NODE_SCALAR)
        complaints_add (reader->complaints, key->at, "expected a word", "%s as a key", node_description (key));
    Node *value = next_event (reader) ? read_node (reader, depth) : NULL;
    gboolean keep = key && value && key->kind == NODE_SCALAR && key_is_new (reader, seen, key);
    if (keep) {
        g_ptr_array_add (map->keys, key);
        g_ptr_array_add (map->items, value);
    } else {
        node_free (key);
        node_free (value);
    }
}

static Node *
read_collection (Reader *reader, guint depth)
{
    const yaml_event_t *event = &reader->event;
    gboolean is_map = event->type == YAML_MAPPING_START_EVENT;
    Node *node = is_map
                     ? new_node (reader, NODE_MAP, event->data.mapping_start.anchor, event->data.mapping_start.tag)
                     : new_node (reader, NODE_LIST, event->data.sequence_start.anchor, event->data.sequence_start.tag);
    if (depth == DEEPEST) {
        complaints_add (reader->complaints, node->at, "expected at most 32 levels", "lists and keys lie too deep");
        reader->stopped = TRUE;
        return node;
    }
    yaml_event_type_t end = is_map ? YAML_MAPPING_END_EVENT : YAML_SEQUENCE_END_EVENT;
    g_autoptr (GHashTable) seen = is_map ? g_hash_table_new (g_str_hash, g_str_equal) : NULL;
    while (next_event (reader) && event->type != end) {
        if (is_map)
            read_pair (reader, node, seen, depth + 1);
        else {
            Node *item = read_node (reader, depth + 1);
            if (item)
                g_ptr_array_add (node->items, item);
        }
    }
    return node;
}

/* The node whose first event is the present one; NULL for an alias. */
static Node *
read_node (Reader *reader, guint depth)
{
    switch (reader->event.type) {
    case YAML_SCALAR_EVENT:
        return scalar_node (reader);
    case YAML_SEQUENCE_START_EVENT:
    case YAML_MAPPING_START_EVENT:
        return read_collection (reader, depth);
    case YAML_ALIAS_EVENT:
        refuse (reader, "an alias (*) is not read here", "expected the value itself");
        return NULL;
    default:
        g_assert_not_reached ();
    }
}

static void
read_documents (Reader *reader, GPtrArray *documents, gsize *read_until)
{
    while (next_event (reader) && reader->event.type != YAML_STREAM_END_EVENT) {
        if (reader->event.type != YAML_DOCUMENT_START_EVENT)
            continue;
        Node *node = next_event (reader) ? read_node (reader, 0) : NULL;
        if (!node)
            continue;
        if (reader->stopped || node_is_blank (node))
            node_free (node);
        else {
            *read_until = reader->event.end_mark.index;
            g_ptr_array_add (documents, node);
        }
    }
}

/* FALSE, after a complaint, for bytes that are not UTF-8 text. */
static gboolean
check_encoding (const char *file, const char *text, gsize length, Complaints *complaints)
{
    const char *bad;
    if (g_utf8_validate_len (text, length, &bad))
        return TRUE;
    complaints_add (complaints, mark_of_offset (file, text, (gsize) (bad - text)), "expected text in UTF-8",
                    "byte 0x%02x is not UTF-8 text", (guint) (guchar) *bad);
    return FALSE;
}

GPtrArray *
yaml_read (const char *file, const char *text, gsize length, const char **broken_from, Complaints *complaints)
{
    GPtrArray *documents = g_ptr_array_new_with_free_func (free_node);
    *broken_from = NULL;
    if (!check_encoding (file, text, length, complaints)) {
        *broken_from = text;
        return documents;
    }
    gsize skipped = length >= 3 && memcmp (text, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
    text += skipped, length -= skipped; /* libyaml would count the byte order mark as a column */
    Reader reader = { .file = g_intern_string (file), .text = text, .length = length, .complaints = complaints };
    if (!yaml_parser_initialize (&reader.parser))
        g_error ("out of memory");
    yaml_parser_set_input_string (&reader.parser, (const yaml_char_t *) text, length);
    yaml_parser_set_encoding (&reader.parser, YAML_UTF8_ENCODING);
    gsize read_until = 0;
    read_documents (&reader, documents, &read_until);
    yaml_event_delete (&reader.event);
    yaml_parser_delete (&reader.parser);
    if (reader.stopped)
        *broken_from = text + MIN (read_until, length);
    return documents;
}
