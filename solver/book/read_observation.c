/* SPDX-License-Identifier: MIT */
/* Observations: minutes, words, codes, looks that were done. Events: read_event.c. */
#include "book/read_observation.h"

#include "book/causes.h"
#include "book/read_event.h"

#include <string.h>

/* "long short short", as it is written everywhere after; NULL where it holds another word. Transfer full. */
static char *
beeps_in_order (const char *text)
{
    g_auto (GStrv) words = g_strsplit_set (text, " \t\n", -1);
    GString *joined = g_string_new (NULL);
    gboolean right = TRUE;
    for (guint i = 0; words[i]; i++) {
        if (*words[i] == '\0')
            continue;
        right = right && (strcmp (words[i], "long") == 0 || strcmp (words[i], "short") == 0);
        g_string_append_printf (joined, "%s%s", joined->len ? " " : "", words[i]);
    }
    right = (right && joined->len) || strcmp (joined->str, "none") == 0;
    return g_string_free (joined, !right);
}

static const char *
read_beeps (Loader *loader, const Node *node)
{
    static const char expected[] = "expected long and short in the order in which they come, or none";
    const char *text = value_scalar (loader, node, "beeps", expected);
    g_autofree char *beeps = text ? beeps_in_order (text) : NULL;
    if (text && !beeps)
        loader_complain (loader, node, expected, "\"%s\" are no beeps", text);
    return g_intern_string (beeps);
}

const char *
read_seen_word (Loader *loader, SeenKind kind, const Node *node)
{
    static const char *const image_words[] = { "dark", "started", NULL };
    static const char *const light_words[] = { "on", "off", "blinking", NULL };
    static const char *const fan_words[] = { "still", "turning", "full-speed", "stop-and-go", NULL };
    if (kind == SEEN_BEEPS)
        return read_beeps (loader, node);
    const char *const *words = kind == SEEN_OTHER_IMAGE ? image_words : kind == SEEN_FANS ? fan_words : light_words;
    int word = value_word (loader, node, seen_kind_name (kind), words);
    return word < 0 ? NULL : g_intern_string (words[word]);
}

gboolean
read_single (Loader *loader, SeenKind kind, const Node *node, Observation *out)
{
    int code = 0;
    if (kind == SEEN_DARK_MINUTES)
        return value_minutes (loader, node, seen_kind_name (kind), &out->number);
    if (kind == SEEN_POST_CODE) {
        gboolean right = value_byte (loader, node, seen_kind_name (kind), 0xFF, &code);
        out->number = code;
        return right;
    }
    out->word = read_seen_word (loader, kind, node);
    return out->word != NULL;
}

/* ---- Looks ---- */

static const LookFirst *
read_look_name (Loader *loader, const Node *node)
{
    const char *name = value_name (loader, node, "looked");
    const LookFirst *look = name ? looks_find (loader, name) : NULL;
    if (name && !look) {
        g_autofree const char **known = names_of (loader->library->looks);
        loader_unknown (loader, node->at, "look", name, NULL, known);
    }
    return look;
}

/* What a look may have found, for a complaint. Transfer full. */
static char *
expected_causes (const LookFirst *look)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new ();
    if (!look->by_elimination)
        g_ptr_array_add (words, (gpointer) NOTHING);
    for (guint i = 0; i < look->finds->len; i++)
        g_ptr_array_add (words, (gpointer) ((const Cause *) g_ptr_array_index (look->finds, i))->id);
    guint count = words->len;
    g_ptr_array_add (words, NULL);
    g_autofree char *joined = g_strjoinv (", ", (char **) words->pdata);
    return g_strdup_printf (count > 1 ? "expected one of %s" : "expected %s", joined);
}

gboolean
read_looked (Loader *loader, const Node *look_node, const Node *found_node, Observation *out)
{
    const LookFirst *look = read_look_name (loader, look_node);
    gboolean nothing = found_node->kind == NODE_SCALAR && strcmp (found_node->text, NOTHING) == 0;
    const Cause *cause = nothing ? NULL : read_cause_name (loader, found_node, "looked");
    if (!look || (!nothing && !cause))
        return FALSE;
    g_autofree char *expected = expected_causes (look);
    if (nothing && look->by_elimination) {
        loader_complain (loader, look_node, expected, "%s is by elimination: there is nothing to look at", look->id);
        return FALSE;
    }
    if (cause && cause->look != look) {
        loader_complain (loader, found_node, expected, "%s does not find %s", look->id, cause->id);
        return FALSE;
    }
    out->look = look;
    out->cause = cause;
    return TRUE;
}
