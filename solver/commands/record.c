/* SPDX-License-Identifier: MIT */
/* `rungwise record`: one more entry in a bench record. */
#include "commands/load.h"
#include "commands/output.h"
#include "commands/record_file.h"
#include "commands/record_text.h"
#include "commands/resume.h"

#include "book/files.h"

#include <stdio.h>

#define MOST_COMPLAINTS 50
#define NEW_COLUMN      3 /* of the dash, in a new record */

/* One run of the command. */
typedef struct {
    const Options *options;
    const char *path; /* of the record, as it was named; borrowed */
    RecordFile *file;
    GPtrArray *others; /* char*: every other file that is read; owned */
} Recording;

static Outcome
cannot_write (const char *why)
{
    fprintf (stderr, "rungwise record: the entry was not recorded: %s\n", why);
    return OUTCOME_CANNOT_WRITE;
}

static gboolean
is_text (const char *said)
{
    return said == NULL || g_utf8_validate (said, -1, NULL);
}

static gboolean
are_texts (const Options *options)
{
    for (char *const *item = options->fitted; item != NULL && *item != NULL; item++)
        if (!is_text (*item))
            return FALSE;
    for (char *const *item = options->firmware; item != NULL && *item != NULL; item++)
        if (!is_text (*item))
            return FALSE;
    return is_text (options->found) && is_text (options->initials) && is_text (options->unit) &&
           is_text (options->time) && is_text (options->step_words);
}

static Outcome
check_usage (const Options *options)
{
    if (options->paths == NULL || options->paths[0] == NULL)
        return usage_error (command_record.name, "RECORD, then PATH...: the book, the shop, the unit, the route",
                            "no record is named");
    if (options->paths[1] == NULL)
        return usage_error (command_record.name, "RECORD, then PATH...: the book, the shop, the unit, the route",
                            "nothing is named beside the record %s", options->paths[0]);
    if ((options->step > 0) == (options->step_words != NULL))
        return usage_error (command_record.name, "--step N, a step of the route, or --do WORDS, another one",
                            options->step > 0 ? "--step and --do are both given" : "no step is named");
    if (options->initials == NULL || *options->initials == '\0')
        return usage_error (command_record.name, "--initials XX", "it is not said who did it");
    if (!are_texts (options))
        return usage_error (command_record.name, "text in UTF-8", "an option holds bytes that are not UTF-8 text");
    return OUTCOME_ANSWERED;
}

/* ---- Reading ---- */

/* Every file that the PATHs stand for but the record itself, which may lie in one of the folders: it is read as it was or
 * as it is to be, and never as both. */
static void
list_others (Recording *recording, Complaints *complaints)
{
    gboolean unread = FALSE;
    g_autoptr (GPtrArray) files = files_list ((const char *const *) recording->options->paths + 1, &unread, complaints);
    struct stat there;

    recording->others = g_ptr_array_new_with_free_func (g_free);
    for (guint i = 0; i < files->len; i++) {
        const char *path = g_ptr_array_index (files, i);
        gboolean is_record = recording->file->is_there && stat (path, &there) == 0 &&
                             there.st_dev == recording->file->there.st_dev &&
                             there.st_ino == recording->file->there.st_ino;

        if (!is_record)
            g_ptr_array_add (recording->others, g_strdup (path));
    }
}

/* Everything, with the record as it stands in `record_path` (NULL: without). What is wrong is left in `complaints`. */
static Outcome
read_with (const Recording *recording, const char *record_path, Complaints *complaints, Loaded *loaded)
{
    g_autoptr (GPtrArray) paths = g_ptr_array_new ();

    for (guint i = 0; i < recording->others->len; i++)
        g_ptr_array_add (paths, g_ptr_array_index (recording->others, i));
    if (record_path != NULL)
        g_ptr_array_add (paths, (gpointer) record_path);
    g_ptr_array_add (paths, NULL);
    return load_paths (command_record.name, recording->options, (const char *const *) paths->pdata, complaints, loaded);
}

/* The records that were read from this file. Transfer container. */
static GPtrArray *
records_in (const Library *library, const char *path)
{
    GPtrArray *found = g_ptr_array_new ();

    for (guint i = 0; i < library->records->len; i++) {
        Record *record = g_ptr_array_index (library->records, i);

        if (g_strcmp0 (record->file, path) == 0)
            g_ptr_array_add (found, record);
    }
    return found;
}

/* NULL after a complaint. */
static const Record *
present_record (const Recording *recording, const Library *library)
{
    const char *unit = recording->options->unit;
    g_autoptr (GPtrArray) records = records_in (library, recording->path);
    const Record *record = records->len == 1 ? g_ptr_array_index (records, 0) : NULL;

    if (record == NULL) {
        usage_error (command_record.name, "a file with one record (docs/files.md, \"Record\"), or a new one",
                     "%s holds %u records", recording->path, records->len);
        return NULL;
    }
    if (unit != NULL && g_strcmp0 (record->unit, unit) != 0) {
        usage_error (command_record.name, "the record of that unit, or no --unit", "%s is the record of %s, not of %s",
                     recording->path, record->unit, unit);
        return NULL;
    }
    return record;
}

/* ---- What the file is to become ---- */

/* Whose record a new one is; NULL after a complaint. */
static const Unit *
choose_unit (const Recording *recording, const Loaded *loaded)
{
    const GPtrArray *units = loaded->library->units;
    const char *id = recording->options->unit;

    if (id == NULL)
        return load_one_unit (command_record.name, loaded);
    for (guint i = 0; i < units->len; i++)
        if (g_strcmp0 (((const Unit *) g_ptr_array_index (units, i))->id, id) == 0)
            return g_ptr_array_index (units, i);
    usage_error (command_record.name, "the id of a unit in the files", "--unit %s: the files hold no such unit", id);
    return NULL;
}

/* A record of this unit names it, so the record that is begun is of another. */
static gboolean
has_a_record (const Library *library, const Unit *unit, const WrittenRoute *route)
{
    for (guint i = 0; i < library->records->len; i++) {
        const Record *record = g_ptr_array_index (library->records, i);

        if (g_strcmp0 (record->unit, unit->id) == 0 && g_strcmp0 (record->route, route->name) == 0)
            return TRUE;
    }
    return FALSE;
}

/* The routes for the unit's board; of several, those alone that no record of the unit is of, if there are any. Transfer
 * container. */
static GPtrArray *
routes_to_begin (const Library *library, const Unit *unit)
{
    g_autoptr (GPtrArray) all = g_ptr_array_new ();
    g_autoptr (GPtrArray) unrecorded = g_ptr_array_new ();

    for (guint i = 0; i < library->routes->len; i++) {
        WrittenRoute *route = g_ptr_array_index (library->routes, i);

        if (route->board != unit->board)
            continue;
        g_ptr_array_add (all, route);
        if (!has_a_record (library, unit, route))
            g_ptr_array_add (unrecorded, route);
    }
    return unrecorded->len > 0 ? g_steal_pointer (&unrecorded) : g_steal_pointer (&all);
}

/* The route's title, where it is plain which is meant. It has to be once the entry is a step of it. */
static Outcome
choose_route (const Recording *recording, const Library *library, const Unit *unit, const char **title)
{
    g_autoptr (GPtrArray) routes = routes_to_begin (library, unit);

    if (routes->len == 0 && recording->options->step > 0)
        return usage_error (command_record.name, "the route's file among the PATHs, or --do WORDS",
                            "--step %d: the files hold no route", recording->options->step);
    if (routes->len > 1 && recording->options->step > 0)
        return usage_error (command_record.name,
                            "the one route that is worked from among the PATHs; of earlier ones, each with the "
                            "record that names it",
                            "--step %d: the files hold %u routes that the new record may be of",
                            recording->options->step, routes->len);
    if (routes->len == 1)
        *title = ((const WrittenRoute *) g_ptr_array_index (routes, 0))->name;
    return OUTCOME_ANSWERED;
}

static Outcome
append_head (GString *yaml, const Recording *recording, const Loaded *loaded)
{
    const Unit *unit = choose_unit (recording, loaded);
    const char *route = NULL;
    Outcome outcome = OUTCOME_BAD_USAGE;

    if (unit != NULL)
        outcome = choose_route (recording, loaded->library, unit, &route);
    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    g_string_append (yaml, "record: ");
    record_append_text (yaml, route != NULL ? route : unit->id);
    g_string_append (yaml, "\nunit: ");
    record_append_text (yaml, unit->id);
    if (route != NULL) {
        g_string_append (yaml, "\nroute: ");
        record_append_text (yaml, route);
    }
    g_string_append (yaml, "\nentries:\n");
    return OUTCOME_ANSWERED;
}

/* The old text, byte for byte, and one line break should the last one be missing; or what a new record begins with. */
static Outcome
append_what_stands (GString *yaml, const Recording *recording, const Loaded *loaded, const Record *present)
{
    if (present == NULL)
        return append_head (yaml, recording, loaded);
    g_string_append_len (yaml, recording->file->text, (gssize) recording->file->length);
    if (yaml->len > 0 && yaml->str[yaml->len - 1] != '\n')
        g_string_append_c (yaml, '\n');
    return OUTCOME_ANSWERED;
}

/* ---- Reading it back ---- */

/* The draft's record; NULL unless it has one, with so many entries. */
static const Record *
drafted_record (const Recording *recording, const Loaded *loaded, guint entries)
{
    g_autoptr (GPtrArray) records = records_in (loaded->library, recording->file->draft);
    const Record *record = records->len == 1 ? g_ptr_array_index (records, 0) : NULL;

    return record != NULL && record->entries->len == entries ? record : NULL;
}

/* Whether an entry that is surely right would be one more where the new one went. */
static gboolean
takes_an_entry (const Recording *recording, const GString *before, const Board *board, guint column, guint entries)
{
    g_autoptr (GString) yaml = g_string_new_len (before->str, (gssize) before->len);
    g_autoptr (Complaints) complaints = complaints_new ();
    g_auto (Loaded) loaded = { 0 };

    if (board->slots->len == 0)
        return TRUE; /* nothing can be said, and hardly anything be recorded */
    g_string_append_printf (yaml, "%*s- {step: {do: remove, slot: ", (int) column - 1, "");
    record_append_text (yaml, board_slot (board, 0)->name);
    g_string_append (yaml, "}, outcome: skipped, time: 2000-01-01T00:00Z, initials: x}\n");
    return record_file_draft (recording->file, yaml->str, yaml->len, NULL) &&
           read_with (recording, recording->file->draft, complaints, &loaded) == OUTCOME_ANSWERED &&
           drafted_record (recording, &loaded, entries) != NULL;
}

/* Complaints about the draft, said of the record itself, as it would have been. */
static Outcome
complain_of_entry (const Recording *recording, const char *draft, Complaints *complaints)
{
    g_autoptr (GString) text = g_string_new (NULL);
    g_autofree char *said = complaints_to_string (complaints, MOST_COMPLAINTS);

    g_string_append (text, said);
    g_string_replace (text, draft, recording->path, 0);
    fprintf (stderr, "rungwise record: the entry was not recorded; %s would read:\n%s", recording->path, text->str);
    return OUTCOME_BAD_USAGE;
}

static Outcome
complain_of_place (const Record *present)
{
    Mark at = present->entries_at;

    return usage_error (command_record.name, "`entries` as the last thing in the file, a list with a dash an entry",
                        "%s:%u:%u: nothing can be added to these entries", at.file, at.line, at.column);
}

/* The entry has to be read as one more, and it has to be possible that it happened. */
static Outcome
check_draft (const Recording *recording, const Record *present, const GString *before, guint column)
{
    guint entries = present == NULL ? 1 : present->entries->len + 1;
    g_autofree char *draft = g_strdup (recording->file->draft);
    g_autoptr (Complaints) complaints = complaints_new ();
    g_auto (Loaded) loaded = { 0 };
    g_autoptr (Resumed) resumed = NULL;
    const Record *record = NULL;
    const Unit *unit = NULL;
    Outcome outcome = read_with (recording, draft, complaints, &loaded);

    if (outcome == OUTCOME_BAD_USAGE)
        return outcome;
    record = outcome == OUTCOME_ANSWERED ? drafted_record (recording, &loaded, entries) : NULL;
    if (record == NULL && present != NULL && !takes_an_entry (recording, before, present->board, column, entries))
        return complain_of_place (present);
    if (record == NULL)
        return complain_of_entry (recording, draft, complaints);
    for (guint i = 0; i < loaded.library->units->len; i++)
        if (((const Unit *) g_ptr_array_index (loaded.library->units, i))->id == record->unit)
            unit = g_ptr_array_index (loaded.library->units, i);
    resumed = resume_from_files (&loaded, unit, NULL, complaints);
    return resumed == NULL ? complain_of_entry (recording, draft, complaints) : OUTCOME_ANSWERED;
}

/* ---- The command ---- */

static Outcome
say_recorded (const Recording *recording, const Record *present)
{
    static const char *const verbs[] = { "done", "failed", "skipped" };
    const Options *options = recording->options;
    g_autofree char *number = g_strdup_printf ("step %d", options->step);
    g_autofree char *text = g_strdup_printf (
        "%s: entry %u: %s, %s\n", recording->path, present == NULL ? 1 : present->entries->len + 1,
        options->step > 0 ? number : options->step_words, options->outcome != NULL ? options->outcome : verbs[0]);

    return output_write (options, text, OUTCOME_ANSWERED);
}

/* `present`: the record as it stands; NULL: there is none yet. */
static Outcome
add_entry (const Recording *recording, const Loaded *loaded, const Record *present)
{
    guint column = present == NULL ? NEW_COLUMN : present->entries_at.column;
    g_autoptr (GString) yaml = g_string_new (NULL);
    g_autoptr (GString) before = NULL;
    g_autoptr (GError) error = NULL;
    Outcome outcome = append_what_stands (yaml, recording, loaded, present);

    before = g_string_new_len (yaml->str, (gssize) yaml->len);
    if (outcome == OUTCOME_ANSWERED)
        outcome = record_append_entry (yaml, recording->options, &loaded->library->book, column);
    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    if (!record_file_draft (recording->file, yaml->str, yaml->len, &error))
        return cannot_write (error->message);
    outcome = check_draft (recording, present, before, column);
    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    if (!record_file_replace (recording->file, &error))
        return cannot_write (error->message);
    return say_recorded (recording, present);
}

static Outcome
read_and_add (Recording *recording)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    g_auto (Loaded) loaded = { 0 };
    const Record *present = NULL;
    Outcome outcome = OUTCOME_BAD_INPUT;

    list_others (recording, complaints);
    if (complaints_count (complaints) == 0)
        outcome = read_with (recording, recording->file->is_there ? recording->path : NULL, complaints, &loaded);
    if (outcome != OUTCOME_ANSWERED)
        return outcome == OUTCOME_BAD_INPUT ? load_complain (complaints) : outcome;
    if (recording->file->is_there) {
        present = present_record (recording, loaded.library);
        if (present == NULL)
            return OUTCOME_BAD_USAGE;
    }
    return add_entry (recording, &loaded, present);
}

static Outcome
record (const Options *options)
{
    g_auto (RecordFile) file = RECORD_FILE_INIT;
    Recording recording = { .options = options, .file = &file };
    g_autoptr (GError) error = NULL;
    Outcome outcome = check_usage (options);

    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    recording.path = options->paths[0];
    if (!record_file_open (&file, recording.path, &error))
        return cannot_write (error->message);
    outcome = read_and_add (&recording);
    g_clear_pointer (&recording.others, g_ptr_array_unref);
    return outcome;
}

const Command command_record = {
    .name = "record",
    .bit = COMMAND_RECORD,
    .summary = "add what was just done at the bench to a unit's record",
    .arguments = "RECORD PATH...",
    .explains =
        "Keeps what was done, and answers with the entry's number. RECORD is the file of the record (docs/files.md, "
        "\"Record\"), and is begun where it is not there yet. The PATHs are the book, the shop, the unit and the "
        "route that is worked from: names and numbers are checked against them. An entry may say that something "
        "else was done than the route says; it is refused only when it cannot have happened, such as a part fitted "
        "in a slot that holds one, and --fitted says what was found instead. Whether it was safe is not asked here; "
        "plan, with the record and its route among its PATHs, goes on from where it ends.\n\n"
        "A plan that was made from a record numbers its steps anew, so it gets a record of its own; every earlier "
        "record and its route stay among the PATHs, and are applied first, by their times. Of several routes the "
        "record names its own by the title; a new record takes the one that no other record of the unit is of. A part "
        "that went in, and with which the unit stays dark, is done: it is in. --found says that it stays dark. Failed "
        "is a part that did not go in.\n\n"
        "The file is replaced whole or not at all, its old text byte for byte at the beginning; several people may "
        "record at once. `entries` has to be the last thing in it.",
    .example = "rungwise record \"$(mktemp -d)/LK-0501.yaml\" --step 1 --initials mk data/larkfield/book \\\n"
               "    data/larkfield/shop.yaml tests/cases/files/wren-unit.yaml tests/cases/files/wren-route.yaml",
    .run = record,
};
