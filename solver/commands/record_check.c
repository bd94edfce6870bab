/* SPDX-License-Identifier: MIT */
/* The draft of a record, read back: nothing takes the file's place that does not read as it was meant. */
#include "commands/record_text.h"
#include "commands/recording.h"
#include "commands/resume.h"
#include "commands/resume_published.h"

#include <stdio.h>

#include "reports/words.h"

#define MOST_COMPLAINTS 50

/* The draft's record; NULL unless it has one, with so many entries. */
static const Record *
drafted_record (const Recording *recording, const Loaded *loaded, guint entries)
{
    g_autoptr (GPtrArray) records = recording_records_in (loaded->library, recording->file->draft);
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
           recording_read (recording, recording->file->draft, complaints, &loaded) == OUTCOME_ANSWERED &&
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
    if (g_str_has_prefix (said, draft))
        fprintf (stderr, "rungwise record: the entry was not recorded; %s would read:\n%s", recording->path, text->str);
    else
        fprintf (stderr, "rungwise record: the entry was not recorded:\n%s", text->str);
    return OUTCOME_BAD_USAGE;
}

/* A number that makes no sense may be one of a sheet that another one has replaced, before or since. */
static void
say_which_sheet (const Recording *recording, const Loaded *loaded, const Record *record)
{
    g_autofree char *mark =
        loaded->published.text == NULL ? NULL : batch_published_mark (loaded->published.text);

    if (recording->options->step > 0 && mark != NULL)
        fprintf (stderr,
                 "  step %d is taken from timetable %s. Compare the eight digits on the sheet of %s: if they are others, the sheet "
                 "was replaced, or %s is the JSON of another run.\n",
                 recording->options->step, mark, record->unit, loaded->published.path);
}

static Outcome
complain_of_place (const Record *present)
{
    Mark at = present->entries_at;

    return usage_error (command_record.name, "`entries` as the last thing in the file, a list with a dash an entry",
                        "%s:%u:%u: nothing can be added to these entries", at.file, at.line, at.column);
}

/* What the last entry is a step of, where that is a published timetable. */
static void
tell_step (const Loaded *loaded, const Record *record, Recorded *recorded)
{
    const PublishedUnit *of = batch_published_find (loaded->published.timetable, record->unit);
    const RecordEntry *entry = g_ptr_array_index (record->entries, record->entries->len - 1);

    if (of == NULL || recorded->by_earlier || entry->number == 0 || entry->number > of->tasks->len)
        return;
    recorded->step = words_step (record->board, &g_array_index (of->tasks, PublishedTask, entry->number - 1).step);
}

/* FALSE after a complaint. */
static gboolean
can_have_happened (const Loaded *loaded, const Unit *unit, Recorded *recorded, Complaints *complaints)
{
    const Record *record = NULL;
    g_autoptr (Resumed) resumed = NULL;

    if (loaded->published.timetable == NULL) {
        resumed = resume_from_files (loaded, unit, NULL, complaints);
        return resumed != NULL;
    }
    resumed = resume_from_published (loaded, unit, &record, &recorded->by_earlier, complaints);
    if (resumed != NULL)
        tell_step (loaded, record, recorded);
    return resumed != NULL;
}

static const Unit *
unit_of (const Library *library, const Record *record)
{
    for (guint i = 0; i < library->units->len; i++)
        if (((const Unit *) g_ptr_array_index (library->units, i))->id == record->unit)
            return g_ptr_array_index (library->units, i);
    return NULL;
}

Outcome
recording_check_draft (const Recording *recording, const Record *present, const GString *before, guint column,
                       Recorded *recorded)
{
    guint entries = present == NULL ? 1 : present->entries->len + 1;
    g_autofree char *draft = g_strdup (recording->file->draft);
    g_autoptr (Complaints) complaints = complaints_new ();
    g_auto (Loaded) loaded = { 0 };
    const Record *record = NULL;
    Outcome outcome = recording_read (recording, draft, complaints, &loaded);

    if (outcome == OUTCOME_BAD_USAGE)
        return outcome;
    record = outcome == OUTCOME_ANSWERED ? drafted_record (recording, &loaded, entries) : NULL;
    if (record == NULL && present != NULL && !takes_an_entry (recording, before, present->board, column, entries))
        return complain_of_place (present);
    if (record == NULL)
        return complain_of_entry (recording, draft, complaints);
    if (!can_have_happened (&loaded, unit_of (loaded.library, record), recorded, complaints)) {
        outcome = complain_of_entry (recording, draft, complaints);
        say_which_sheet (recording, &loaded, record);
        return outcome;
    }
    recording_remark (&loaded, record, recorded);
    return OUTCOME_ANSWERED;
}

void
recorded_clear (Recorded *recorded)
{
    g_free (recorded->step);
    if (recorded->remarks != NULL)
        g_string_free (recorded->remarks, TRUE);
    *recorded = (Recorded){ 0 };
}
