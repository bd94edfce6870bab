/* SPDX-License-Identifier: MIT */
#include "instances.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *
read_all (const char *path)
{
    g_autoptr (GError) error = NULL;
    char *text = NULL;
    if (!g_file_get_contents (path, &text, NULL, &error)) {
        fprintf (stderr, "%s\n", error->message);
        exit (2);
    }
    return text;
}

/* The next whole number of the text. */
static guint
next_number (char **text, const char *path)
{
    char *end = *text;
    unsigned long number = strtoul (*text, &end, 10);
    if (end == *text) {
        fprintf (stderr, "%s: a number was expected at: %.20s\n", path, *text);
        exit (2);
    }
    *text = end;
    return (guint) number;
}

Timetable *
read_jobshop (const char *path)
{
    g_autofree char *text = read_all (path);
    char *at = text;
    Timetable *timetable = timetable_new ();
    guint jobs = next_number (&at, path), machines = next_number (&at, path);
    for (guint i = 0; i < machines; i++) {
        g_autofree char *name = g_strdup_printf ("machine %u", i);
        timetable_add_resource (timetable, name, 1);
    }
    for (guint i = 0; i < jobs; i++) {
        Mode *mode = timetable_add_mode (timetable_add_job (timetable));
        for (guint k = 0; k < machines; k++) {
            guint machine = next_number (&at, path);
            guint task = timetable_add_task (mode, next_number (&at, path), 0);
            timetable_add_span (mode, machine, 1, task, task);
            if (task > 0)
                timetable_add_after (mode, task, task - 1);
        }
    }
    return timetable;
}

/* What follows `word`. */
static char *
find_word (char *text, const char *word, const char *path)
{
    char *at = strstr (text, word);
    if (at == NULL) {
        fprintf (stderr, "%s: \"%s\" is missing\n", path, word);
        exit (2);
    }
    return at + strlen (word);
}

/* The line after the one that begins with `title`, and `below` more. */
static char *
find_section (char *text, const char *title, guint below, const char *path)
{
    char *at = find_word (text, title, path);
    for (guint i = 0; at != NULL && i <= below; i++) {
        at = strchr (at, '\n');
        at = at != NULL ? at + 1 : NULL;
    }
    if (at == NULL) {
        fprintf (stderr, "%s: there is no section %s\n", path, title);
        exit (2);
    }
    return at;
}

static void
read_demands (char *at, const char *path, Mode *mode, guint jobs, guint resources)
{
    for (guint i = 0; i < jobs; i++) {
        next_number (&at, path);
        next_number (&at, path);
        guint task = timetable_add_task (mode, next_number (&at, path), 0);
        for (guint r = 0; r < resources; r++) {
            guint amount = next_number (&at, path);
            if (amount > 0)
                timetable_add_span (mode, r, amount, task, task);
        }
    }
}

static void
read_order (char *at, const char *path, Mode *mode, guint jobs)
{
    for (guint i = 0; i < jobs; i++) {
        guint job = next_number (&at, path);
        next_number (&at, path);
        for (guint left = next_number (&at, path); left > 0; left--)
            timetable_add_after (mode, next_number (&at, path) - 1, job - 1);
    }
}

Timetable *
read_project (const char *path)
{
    g_autofree char *text = read_all (path);
    char *at = find_word (text, "jobs (incl. supersource/sink ):", path);
    Timetable *timetable = timetable_new ();
    Mode *mode = timetable_add_mode (timetable_add_job (timetable));
    guint jobs = next_number (&at, path);
    at = find_word (text, "- renewable                 :", path);
    guint resources = next_number (&at, path);
    at = find_section (text, "RESOURCEAVAILABILITIES", 1, path);
    for (guint r = 0; r < resources; r++) {
        g_autofree char *name = g_strdup_printf ("R %u", r + 1);
        timetable_add_resource (timetable, name, next_number (&at, path));
    }
    read_demands (find_section (text, "REQUESTS/DURATIONS", 2, path), path, mode, jobs, resources);
    read_order (find_section (text, "PRECEDENCE RELATIONS", 1, path), path, mode, jobs);
    return timetable;
}

gint64
read_optimum (const char *path, const char *name, guint column)
{
    g_autofree char *text = read_all (path);
    g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
    for (char **line = lines; *line != NULL; line++) {
        g_auto (GStrv) cells = g_strsplit (*line, "\t", -1);
        if (g_strcmp0 (cells[0], name) == 0 && g_strv_length (cells) > column)
            return g_ascii_strtoll (cells[column], NULL, 10);
    }
    fprintf (stderr, "%s: there is no %s\n", path, name);
    exit (2);
}
