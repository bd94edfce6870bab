/* SPDX-License-Identifier: MIT */
/* What `rungwise record` reads: the files beside the record, the record as it stands, and whose it is. */
#include "commands/recording.h"

#include "book/files.h"

void
recording_list_others (Recording *recording, Complaints *complaints)
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

Outcome
recording_read (const Recording *recording, const char *record_path, Complaints *complaints, Loaded *loaded)
{
    g_autoptr (GPtrArray) paths = g_ptr_array_new ();

    for (guint i = 0; i < recording->others->len; i++)
        g_ptr_array_add (paths, g_ptr_array_index (recording->others, i));
    if (record_path != NULL)
        g_ptr_array_add (paths, (gpointer) record_path);
    g_ptr_array_add (paths, NULL);
    return load_one_of_rows (command_record.name, recording->options, (const char *const *) paths->pdata, complaints,
                             loaded);
}

GPtrArray *
recording_records_in (const Library *library, const char *path)
{
    GPtrArray *found = g_ptr_array_new ();

    for (guint i = 0; i < library->records->len; i++) {
        Record *record = g_ptr_array_index (library->records, i);

        if (g_strcmp0 (record->file, path) == 0)
            g_ptr_array_add (found, record);
    }
    return found;
}

/* The one record of the file. */
static Outcome
find_record (const Recording *recording, const Loaded *loaded, const Record **present)
{
    const char *unit = recording->options->unit;
    g_autoptr (GPtrArray) records = recording_records_in (loaded->library, recording->path);
    const Record *record = records->len == 1 ? g_ptr_array_index (records, 0) : NULL;

    if (record == NULL)
        return usage_error (command_record.name, "a file with one record (docs/files.md, \"Record\"), or a new one",
                            "%s holds %u records", recording->path, records->len);
    if (unit != NULL && g_strcmp0 (record->unit, unit) != 0)
        return usage_error (command_record.name, "the record of that unit, or no --unit",
                            "%s is the record of %s, not of %s", recording->path, record->unit, unit);
    *present = record;
    return OUTCOME_ANSWERED;
}

/* A record whose unit stands in a row with a mistake is not read: then that row is what is wrong. */
static gboolean
may_be_of_lost_row (const Recording *recording, const Loaded *loaded)
{
    g_autoptr (GPtrArray) records = recording_records_in (loaded->library, recording->path);

    return records->len == 0 && loaded->library->left_out->len > 0;
}

Outcome
recording_present (const Recording *recording, const Loaded *loaded, const Record **present, Unit **unit)
{
    const char *id = recording->options->unit;
    Outcome outcome = OUTCOME_ANSWERED;

    *present = NULL;
    if (!recording->file->is_there)
        return load_unit (command_record.name, loaded, id, unit);
    if (may_be_of_lost_row (recording, loaded))
        outcome = load_unit (command_record.name, loaded, id, unit);
    if (outcome == OUTCOME_ANSWERED)
        outcome = find_record (recording, loaded, present);
    return outcome == OUTCOME_ANSWERED ? load_unit (command_record.name, loaded, (*present)->unit, unit) : outcome;
}
