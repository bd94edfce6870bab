/* SPDX-License-Identifier: MIT */
/* `rungwise record`: one more entry in a bench record. */
#include "commands/output.h"
#include "commands/record_text.h"
#include "commands/recording.h"

#include <stdio.h>

#define NEW_COLUMN 3 /* of the dash, in a new record */

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
    if ((options->step_number != NULL) == (options->step_words != NULL))
        return usage_error (command_record.name, "--step N, a step of the route, or --do WORDS, another one",
                            options->step_number != NULL ? "--step and --do are both given" : "no step is named");
    if (options->initials == NULL || *options->initials == '\0')
        return usage_error (command_record.name, "--initials XX", "it is not said who did it");
    if (!are_texts (options))
        return usage_error (command_record.name, "text in UTF-8", "an option holds bytes that are not UTF-8 text");
    return OUTCOME_ANSWERED;
}

/* ---- What the file is to become ---- */

/* The old text, byte for byte, and one line break should the last one be missing; or what a new record begins with. */
static Outcome
append_what_stands (GString *yaml, const Recording *recording, const Loaded *loaded, const Record *present,
                    const Unit *unit)
{
    if (present == NULL)
        return recording_append_head (yaml, recording, loaded, unit);
    g_string_append_len (yaml, recording->file->text, (gssize) recording->file->length);
    if (yaml->len > 0 && yaml->str[yaml->len - 1] != '\n')
        g_string_append_c (yaml, '\n');
    return OUTCOME_ANSWERED;
}

/* The timetable counts so many entries of the unit's record to routes that it has left: the new one has to come behind them. */
static Outcome
comes_behind_what_is_counted (const Recording *recording, const Loaded *loaded, const Record *present, const Unit *unit)
{
    const BatchPublished *timetable = loaded->published.timetable;
    const PublishedUnit *of = timetable == NULL ? NULL : batch_published_find (timetable, unit->id);
    guint counted = of == NULL ? 0 : batch_published_entries (of),
          entries = present == NULL ? 0 : present->entries->len;

    if (entries >= counted)
        return OUTCOME_ANSWERED;
    return usage_error (command_record.name, "the record with which the timetable was planned",
                        "of the record of %s the timetable %s counts %u to routes that are left, and %s has %u in all",
                        unit->id, loaded->published.path, counted, recording->path, entries);
}

/* What the unit's sheet calls a step is its number from here on. */
static Outcome
read_label (Recording *recording, const Loaded *loaded, const Unit *unit)
{
    Options *options = &recording->own_options;
    guint step = 0;

    if (options->step_number == NULL || options->step > 0)
        return OUTCOME_ANSWERED;
    step = batch_published_step (loaded->published.text, unit->id, options->step_number);
    if (step == 0)
        return usage_error (command_record.name,
                            "a number on the unit's sheet, or what the sheet calls the step. The steps of another part are in no "
                            "timetable: record what was read with the step before it, plan the batch anew, and go on by the new "
                            "sheet; or say what was done with --do",
                            "--step %s: the sheet of %s in %s has no step that is called so", options->step_number,
                            unit->id, loaded->published.path);
    options->step = (int) step;
    return OUTCOME_ANSWERED;
}

/* ---- The command ---- */

/* "step 3", and of a published timetable which that is. Transfer full. */
static char *
words_of_step (const Recording *recording, const Loaded *loaded, const Recorded *recorded)
{
    const Options *options = recording->options;
    g_autofree char *mark = recorded->step == NULL ? NULL : batch_published_mark (loaded->published.text);

    if (options->step == 0)
        return g_strdup (options->step_words);
    if (recorded->by_earlier)
        return g_strdup_printf ("step %d of a route that the unit has left", options->step);
    if (recorded->step == NULL)
        return g_strdup_printf ("step %d", options->step);
    return g_strdup_printf ("step %d of timetable %s (%s)", options->step, mark != NULL ? mark : "without digits",
                            recorded->step);
}

static Outcome
say_recorded (const Recording *recording, const Loaded *loaded, const Record *present, const Recorded *recorded)
{
    const Options *options = recording->options;
    g_autofree char *step = words_of_step (recording, loaded, recorded);
    if (recorded->remarks != NULL)
        fputs (recorded->remarks->str, stderr);
    g_autofree char *text =
        g_strdup_printf ("%s: entry %u: %s, %s\n", recording->path, present == NULL ? 1 : present->entries->len + 1,
                         step, options->outcome != NULL ? options->outcome : "done");

    return output_write (options, text, OUTCOME_ANSWERED);
}

/* `present`: the record as it stands; NULL: there is none yet. */
static Outcome
add_entry (const Recording *recording, const Loaded *loaded, const Record *present, const Unit *unit)
{
    guint column = present == NULL ? NEW_COLUMN : present->entries_at.column;
    g_autoptr (GString) yaml = g_string_new (NULL);
    g_autoptr (GString) before = NULL;
    g_autoptr (GError) error = NULL;
    g_auto (Recorded) recorded = { 0 };
    Outcome outcome = append_what_stands (yaml, recording, loaded, present, unit);

    before = g_string_new_len (yaml->str, (gssize) yaml->len);
    if (outcome == OUTCOME_ANSWERED)
        outcome = record_append_entry (yaml, recording->options, &loaded->library->book, column);
    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    if (!record_file_draft (recording->file, yaml->str, yaml->len, &error))
        return cannot_write (error->message);
    outcome = recording_check_draft (recording, present, before, column, &recorded);
    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    if (!record_file_replace (recording->file, &error))
        return cannot_write (error->message);
    return say_recorded (recording, loaded, present, &recorded);
}

static Outcome
read_and_add (Recording *recording)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    g_auto (Loaded) loaded = { 0 };
    const Record *present = NULL;
    Unit *unit = NULL;
    Outcome outcome = OUTCOME_BAD_INPUT;

    recording_list_others (recording, complaints);
    if (complaints_count (complaints) == 0)
        outcome = recording_read (recording, recording->file->is_there ? recording->path : NULL, complaints, &loaded);
    if (outcome != OUTCOME_ANSWERED)
        return outcome == OUTCOME_BAD_INPUT ? load_complain (complaints) : outcome;
    outcome = recording_present (recording, &loaded, &present, &unit);
    if (outcome == OUTCOME_ANSWERED)
        outcome = read_label (recording, &loaded, unit);
    if (outcome == OUTCOME_ANSWERED)
        outcome = comes_behind_what_is_counted (recording, &loaded, present, unit);
    return outcome == OUTCOME_ANSWERED ? add_entry (recording, &loaded, present, unit) : outcome;
}

static Outcome
record (const Options *options)
{
    g_auto (RecordFile) file = RECORD_FILE_INIT;
    Recording recording = { .own_options = *options, .file = &file };
    g_autoptr (GError) error = NULL;
    Outcome outcome = check_usage (options);

    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    recording.options = &recording.own_options;
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
        "is a part that did not go in, and a write after which the unit stays dark though it should start. What was found is "
        "words: plan and batch go by the outcome, and by what --firmware and --fitted say.\n\n"
        "Of a unit that is worked by a batch's sheet, --published names the batch's JSON: the steps are those of the "
        "sheet, and "
        "go on counting by the new one where the batch was planned anew. Such a unit has one record, for all its "
        "sheets. "
        "--unit says which unit of a table is meant; a mistake in another one's row is said, and ends nothing.\n\n"
        "The file is replaced whole or not at all, its old text byte for byte at the beginning; several people may "
        "record at once. `entries` has to be the last thing in it.",
    .example = "rungwise record \"$(mktemp -d)/LK-0501.yaml\" --step 1 --initials mk data/larkfield/book \\\n"
               "    data/larkfield/shop.yaml tests/cases/files/wren-unit.yaml tests/cases/files/wren-route.yaml",
    .run = record,
};
