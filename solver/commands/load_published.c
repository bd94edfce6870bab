/* SPDX-License-Identifier: MIT */
/* The timetable of the last run, for a command that is about one of its units. */
#include "commands/clock.h"
#include "commands/load.h"

#include <string.h>

#include "book/files.h"

Outcome
load_published (const char *path, Complaints *complaints, Loaded *loaded)
{
    g_auto (Published) published = { .path = path };
    g_autofree char *begin = NULL;
    BatchClock clock = { 0 };
    gsize length = 0;
    Outcome outcome = OUTCOME_BAD_INPUT;

    published.text = files_read (path, &length, complaints);
    if (published.text == NULL)
        return outcome;
    complaints_add_text (complaints, path, published.text, length);
    if (!batch_published_begin (path, published.text, &begin, complaints))
        return outcome;
    outcome = clock_begin (begin, loaded->shop, &clock);
    if (outcome == OUTCOME_ANSWERED)
        published.timetable = batch_published_read (path, published.text, &loaded->library->book,
                                                    loaded->library->units, &clock, complaints);
    g_clear_pointer (&clock.begin, g_date_time_unref);
    if (outcome == OUTCOME_ANSWERED && published.timetable == NULL)
        return OUTCOME_BAD_INPUT;
    loaded->published = published;
    published = (Published){ 0 };
    return outcome;
}

void
published_clear (Published *published)
{
    g_clear_pointer (&published->timetable, batch_published_free);
    g_free (published->text);
    *published = (Published){ 0 };
}
