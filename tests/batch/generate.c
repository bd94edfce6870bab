/* SPDX-License-Identifier: MIT */
#include "generate.h"

typedef struct {
    guint64 state;
} Dice;

/* Steele, Lea & Flood's SplitMix64 (OOPSLA 2014); constants from memory of the published code. */
static guint
roll (Dice *dice, guint below)
{
    guint64 z = dice->state += G_GUINT64_CONSTANT (0x9e3779b97f4a7c15);
    z = (z ^ (z >> 30)) * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * G_GUINT64_CONSTANT (0x94d049bb133111eb);
    return (guint) (((z ^ (z >> 31)) >> 33) % below);
}

static void
add_resources (const Drawn *drawn, Timetable *timetable)
{
    for (guint i = 0; i < drawn->stations; i++) {
        g_autofree char *name = g_strdup_printf ("station %u", i + 1);
        timetable_add_resource (timetable, name, 1);
    }
    timetable_add_resource (timetable, "place", drawn->places);
    timetable_add_resource (timetable, "loaner", 1);
    if (drawn->hands > 0)
        timetable->hands = (int) timetable_add_resource (timetable, "technician", drawn->hands);
}

static guint
length_of (const Mode *mode, guint task)
{
    return (guint) g_array_index (mode->tasks, Task, task).duration;
}

static void
draw_within (Dice *dice, Mode *mode)
{
    for (guint i = 0; i < mode->spans->len; i++) {
        Span *span = &g_array_index (mode->spans, Span, i);
        guint last = length_of (mode, span->last);
        span->lead = roll (dice, 3) > 0 ? roll (dice, length_of (mode, span->first)) : 0;
        if (span->first == span->last)
            last -= (guint) span->lead;
        span->tail = roll (dice, last);
    }
    for (guint i = 0; i < mode->gains->len; i++) {
        Gain *gain = &g_array_index (mode->gains, Gain, i);
        gain->early = roll (dice, length_of (mode, gain->task));
    }
}

/* A chain, now and then with two tasks side by side; a place is held all the time, a station per task, a loaner over some. */
static void
draw_mode (const Drawn *drawn, Dice *dice, Job *job)
{
    Mode *mode = timetable_add_mode (job);
    guint tasks = drawn->least_tasks + roll (dice, drawn->most_tasks - drawn->least_tasks + 1);
    guint place = drawn->stations, loaner = place + 1;
    for (guint k = 0; k < tasks; k++) {
        gint64 duration = 1 + roll (dice, (guint) drawn->longest);
        guint task = timetable_add_task (mode, duration, roll (dice, (guint) duration + 1));
        guint skip = k > 2 && k + 1 < tasks && roll (dice, 6) == 0;
        if (k > 0)
            timetable_add_after (mode, task, task - 1 - skip);
        if (drawn->stations > 0 && roll (dice, 3) > 0)
            timetable_add_span (mode, roll (dice, drawn->stations), 1, task, task);
    }
    for (guint k = 0; k + 1 < tasks; k++) /* nothing comes after the last */
        timetable_add_after (mode, tasks - 1, k);
    timetable_add_span (mode, place, 1, 0, tasks - 1);
    mode->insertions = roll (dice, 4);
    guint lends = drawn->lent ? roll (dice, 6) : 5;
    if (lends < 2 && tasks > 1) {
        guint from = roll (dice, tasks - 1);
        timetable_add_span (mode, loaner, 1, from, tasks - 1);
    } else if (lends == 2) {
        timetable_add_gain (mode, loaner, 1, roll (dice, tasks));
    }
    if (drawn->within)
        draw_within (dice, mode);
}

static void
draw_calendar (const Drawn *drawn, gint64 until, Timetable *timetable)
{
    for (gint64 at = 0; drawn->shift > 0 && at <= until; at += drawn->shift + drawn->night) {
        Window shift = { at, at + drawn->shift };
        Window pause = { at + drawn->shift / 2, at + drawn->shift / 2 + drawn->pause };
        g_array_append_val (timetable->calendar.shifts, shift);
        if (drawn->pause > 0)
            g_array_append_val (timetable->calendar.breaks, pause);
    }
}

Timetable *
draw_batch (const Drawn *drawn)
{
    Timetable *timetable = timetable_new ();
    Dice dice = { drawn->seed * 1000003 + 17 };
    gint64 length = drawn->longest * drawn->most_tasks;
    add_resources (drawn, timetable);
    for (guint i = 0; i < drawn->jobs; i++) {
        Job *job = timetable_add_job (timetable);
        Dice kind = { drawn->seed * 1000003 + 1000 + i % MAX (drawn->kinds, 1) };
        Dice *used = drawn->kinds > 0 ? &kind : &dice;
        for (guint m = 1 + roll (used, drawn->most_modes); m > 0; m--)
            draw_mode (drawn, used, job);
        if (drawn->due && roll (&dice, 3) > 0)
            job->due = roll (&dice, (guint) (length * (1 + drawn->jobs / drawn->places)));
        job->weight = 1 + roll (&dice, 3);
    }
    /* One after another they would all fit. */
    gint64 days = drawn->shift > 0 ? 2 + drawn->jobs * (gint64) drawn->most_tasks : 0;
    draw_calendar (drawn, drawn->shift > 0 ? MIN (days, 200000) * (drawn->shift + drawn->night) : 0, timetable);
    return timetable;
}
