/* SPDX-License-Identifier: MIT */
/* Everything a person typed is quoted, unless it is a plain name: nothing in it can be taken for YAML. */
#include "commands/record_text.h"

#include <string.h>

/* ---- Values ---- */

/* A name, or a word that stands for one, that YAML reads as it stands, within brackets too. */
static gboolean
is_plain (const char *text)
{
    return g_str_equal (text, "empty") || g_str_equal (text, "unknown") ||
           (text_name_problem (text) == NULL && strchr (text, ':') == NULL);
}

/* Without these a reader of YAML stops, or takes the text for several lines (YAML 1.1, 5.1 and 5.4). */
static gboolean
needs_escape (gunichar character)
{
    return character < 0x20 || (character >= 0x7f && character < 0xa0) || character == 0x2028 || character == 0x2029 ||
           character == 0xfeff || (character & 0xfffe) == 0xfffe;
}

static void
append_escape (GString *yaml, gunichar character)
{
    if (character == '\n')
        g_string_append (yaml, "\\n");
    else if (character == '\t')
        g_string_append (yaml, "\\t");
    else if (character > 0xffff)
        g_string_append_printf (yaml, "\\U%08X", character);
    else
        g_string_append_printf (yaml, "\\u%04X", character);
}

static void
append_quoted (GString *yaml, const char *text)
{
    g_string_append_c (yaml, '"');
    for (const char *at = text; *at != '\0'; at = g_utf8_next_char (at)) {
        gunichar character = g_utf8_get_char (at);

        if (needs_escape (character)) {
            append_escape (yaml, character);
            continue;
        }
        if (character == '"' || character == '\\')
            g_string_append_c (yaml, '\\');
        g_string_append_unichar (yaml, character);
    }
    g_string_append_c (yaml, '"');
}

void
record_append_text (GString *yaml, const char *text)
{
    if (is_plain (text))
        g_string_append (yaml, text);
    else
        append_quoted (yaml, text);
}

static void
append_key (GString *yaml, const char *key, const char *value)
{
    if (value == NULL)
        return;
    g_string_append_printf (yaml, "%s%s: ", g_str_has_suffix (yaml->str, "{") ? "" : ", ", key);
    record_append_text (yaml, value);
}

/* ---- Parts in slots ---- */

/* What one option says, and how it is called in complaints. */
typedef struct {
    const char *option; /* "--fitted" */
    const char *item;
    const char *form; /* what would be right */
    const Book *book;
} Said;

/* "SLOT=PART[:STEPPING][ from OWNER]", taken apart. */
typedef struct {
    char *slot, *part;
    char *stepping, *owner; /* nullable */
} PartSaid;

static void
part_said_clear (PartSaid *part)
{
    g_free (part->slot);
    g_free (part->part);
    g_free (part->stepping);
    g_free (part->owner);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PartSaid, part_said_clear)

static Outcome
not_understood (const Said *said)
{
    return usage_error (command_record.name, said->form, "%s '%s' is not understood", said->option, said->item);
}

/* The words of a text, runs of blanks apart. Transfer full. */
static char **
split_words (const char *text)
{
    g_auto (GStrv) pieces = g_strsplit_set (text, " \t", -1);
    g_autoptr (GStrvBuilder) words = g_strv_builder_new ();

    for (char **piece = pieces; *piece != NULL; piece++)
        if (**piece != '\0')
            g_strv_builder_add (words, *piece);
    return g_strv_builder_end (words);
}

/* A part's name may hold colons itself, so what the book knows is not split. */
static void
split_part (const char *text, const Book *book, PartSaid *part)
{
    const char *colon = strrchr (text, ':');

    if (colon == NULL || book_find_part (book, text) != NULL) {
        part->part = g_strdup (text);
        return;
    }
    part->part = g_strndup (text, (gsize) (colon - text));
    part->stepping = g_strdup (colon + 1);
}

/* `words`: what was said, NULL-terminated, from the one with the slot on. */
static Outcome
read_part (const Said *said, char *const *words, PartSaid *part)
{
    const char *equals = *words == NULL ? NULL : strchr (*words, '=');
    guint count = g_strv_length ((char **) words);

    if (equals == NULL || (count != 1 && (count != 3 || !g_str_equal (words[1], "from"))))
        return not_understood (said);
    part->slot = g_strndup (*words, (gsize) (equals - *words));
    split_part (equals + 1, said->book, part);
    part->owner = count == 3 ? g_strdup (words[2]) : NULL;
    return OUTCOME_ANSWERED;
}

static Outcome
append_found_part (GString *yaml, const Said *said)
{
    g_auto (GStrv) words = split_words (said->item);
    g_auto (PartSaid) part = { 0 };
    Outcome outcome = read_part (said, words, &part);

    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    if (part.stepping == NULL && part.owner == NULL) {
        record_append_text (yaml, part.slot);
        g_string_append (yaml, ": ");
        record_append_text (yaml, part.part);
        return OUTCOME_ANSWERED;
    }
    record_append_text (yaml, part.slot);
    g_string_append (yaml, ": {");
    append_key (yaml, "part", part.part);
    append_key (yaml, "stepping", part.stepping);
    append_key (yaml, "from", part.owner);
    g_string_append_c (yaml, '}');
    return OUTCOME_ANSWERED;
}

/* Several that it may be, "1.0.0|1.2.0" as in a table, become a list. */
static void
append_releases (GString *yaml, const char *said)
{
    g_auto (GStrv) releases = g_strsplit (said, "|", -1);

    if (g_strv_length (releases) < 2) {
        record_append_text (yaml, said);
        return;
    }
    for (char **release = releases; *release != NULL; release++) {
        g_string_append (yaml, release == releases ? "[" : ", ");
        record_append_text (yaml, g_strstrip (*release));
    }
    g_string_append_c (yaml, ']');
}

static Outcome
append_read_release (GString *yaml, const Said *said)
{
    const char *equals = strchr (said->item, '=');
    g_autofree char *component = equals == NULL ? NULL : g_strndup (said->item, (gsize) (equals - said->item));

    if (equals == NULL)
        return not_understood (said);
    record_append_text (yaml, component);
    g_string_append (yaml, ": ");
    append_releases (yaml, equals + 1);
    return OUTCOME_ANSWERED;
}

/* ---- The step ---- */

static Outcome
append_fitting (GString *yaml, const Said *said, char *const *words)
{
    g_auto (PartSaid) part = { 0 };
    Outcome outcome = read_part (said, words, &part);

    if (outcome != OUTCOME_ANSWERED || part.owner == NULL)
        return outcome == OUTCOME_ANSWERED ? not_understood (said) : outcome;
    append_key (yaml, "slot", part.slot);
    append_key (yaml, "part", part.part);
    append_key (yaml, "stepping", part.stepping);
    append_key (yaml, "from", part.owner);
    return OUTCOME_ANSWERED;
}

static Outcome
append_write (GString *yaml, const Said *said, char *const *words)
{
    const char *equals = *words == NULL ? NULL : strchr (*words, '=');
    g_autofree char *component = equals == NULL ? NULL : g_strndup (*words, (gsize) (equals - *words));

    if (equals == NULL || g_strv_length ((char **) words) != 3 || !g_str_equal (words[1], "by"))
        return not_understood (said);
    append_key (yaml, "component", component);
    append_key (yaml, "release", equals + 1);
    append_key (yaml, "by", words[2]);
    return OUTCOME_ANSWERED;
}

static Outcome
append_step_words (GString *yaml, const Options *options, const Book *book)
{
    Said said = { "--do", options->step_words,
                  "'remove SLOT', 'fit SLOT=PART[:STEPPING] from OWNER' or 'write COMPONENT=RELEASE by METHOD'", book };
    g_auto (GStrv) words = split_words (said.item);
    guint count = g_strv_length (words);
    Outcome outcome = OUTCOME_ANSWERED;

    g_string_append_c (yaml, '{');
    append_key (yaml, "do", count > 0 ? words[0] : "");
    if (count == 2 && g_str_equal (words[0], "remove"))
        append_key (yaml, "slot", words[1]);
    else if (count > 0 && g_str_equal (words[0], "fit"))
        outcome = append_fitting (yaml, &said, words + 1);
    else if (count > 0 && g_str_equal (words[0], "write"))
        outcome = append_write (yaml, &said, words + 1);
    else
        outcome = not_understood (&said);
    g_string_append_c (yaml, '}');
    return outcome;
}

/* ---- The entry ---- */

typedef Outcome (*AppendItem) (GString *yaml, const Said *said);

/* `key: {item, item}` on a line of its own; nothing without items. */
static Outcome
append_items (GString *yaml, const char *begin, char *const *items, Said said, AppendItem append)
{
    if (items == NULL || *items == NULL)
        return OUTCOME_ANSWERED;
    g_string_append_printf (yaml, "%s%s: {", begin, said.option + strlen ("--"));
    for (char *const *item = items; *item != NULL; item++) {
        said.item = *item;
        if (item != items)
            g_string_append (yaml, ", ");
        if (append (yaml, &said) != OUTCOME_ANSWERED)
            return OUTCOME_BAD_USAGE;
    }
    g_string_append (yaml, "}\n");
    return OUTCOME_ANSWERED;
}

static void
append_line (GString *yaml, const char *begin, const char *key, const char *value)
{
    if (value == NULL)
        return;
    g_string_append_printf (yaml, "%s%s: ", begin, key);
    append_quoted (yaml, value);
    g_string_append_c (yaml, '\n');
}

/* A time as ISO 8601 writes it needs no quotes. */
static void
append_time (GString *yaml, const char *begin, const char *time)
{
    if (strspn (time, "0123456789:+-TZ") != strlen (time)) {
        append_line (yaml, begin, "time", time);
        return;
    }
    g_string_append_printf (yaml, "%stime: %s\n", begin, time);
}

static char *
now (void)
{
    g_autoptr (GDateTime) here = g_date_time_new_now_local ();

    return g_date_time_format (here, "%Y-%m-%dT%H:%M:%S%:z");
}

Outcome
record_append_entry (GString *yaml, const Options *options, const Book *book, guint column)
{
    g_autofree char *begin = g_strnfill (column + 1, ' ');
    g_autofree char *time = options->time != NULL ? g_strdup (options->time) : now ();
    Said parts = { "--fitted", NULL, "SLOT=PART[:STEPPING][ from OWNER] or SLOT=empty", book };
    Said releases = { "--firmware", NULL, "COMPONENT=RELEASE", book };

    g_string_append_printf (yaml, "%.*s- step: ", (int) column - 1, begin);
    if (options->step > 0)
        g_string_append_printf (yaml, "%d", options->step);
    else if (append_step_words (yaml, options, book) != OUTCOME_ANSWERED)
        return OUTCOME_BAD_USAGE;
    g_string_append_printf (yaml, "\n%soutcome: %s\n", begin, options->outcome != NULL ? options->outcome : "done");
    append_line (yaml, begin, "found", options->found);
    if (append_items (yaml, begin, options->fitted, parts, append_found_part) != OUTCOME_ANSWERED ||
        append_items (yaml, begin, options->firmware, releases, append_read_release) != OUTCOME_ANSWERED)
        return OUTCOME_BAD_USAGE;
    append_time (yaml, begin, time);
    append_line (yaml, begin, "initials", options->initials);
    return OUTCOME_ANSWERED;
}
