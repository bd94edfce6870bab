/* SPDX-License-Identifier: MIT */
#include "commands/patience.h"

#include <signal.h>
#include <stdio.h>
#include <time.h>
#include <unistd.h>

#define FIRST_PROGRESS (G_USEC_PER_SEC)     /* nothing is said before */
#define NEXT_PROGRESS  (G_USEC_PER_SEC / 2) /* nor more often */

static volatile sig_atomic_t interrupts;
static volatile gint64 first_interrupt; /* seconds of the monotonic clock */

/* Who asks again after a while does not want to wait for the answer. Two at once are one: some shells and wrappers send
 * an interrupt to the program and to its group. Calls only what a signal handler may. */
static void
note_interrupt (int number)
{
    struct timespec now = { 0 };
    clock_gettime (CLOCK_MONOTONIC, &now);
    if (interrupts == 0) {
        first_interrupt = now.tv_sec;
        interrupts = 1;
    } else if (now.tv_sec > first_interrupt + 1) {
        signal (number, SIG_DFL);
        raise (number);
    }
}

void
patience_limit (Patience *patience, double seconds)
{
    patience->deadline = seconds > 0 ? g_get_monotonic_time () + (gint64) (seconds * G_USEC_PER_SEC) : 0;
}

void
patience_begin (Patience *patience, double seconds)
{
    interrupts = 0;
    signal (SIGINT, note_interrupt);
    signal (SIGTERM, note_interrupt);
    patience->begun = TRUE;
    patience->began = g_get_monotonic_time ();
    patience->told = patience->began + FIRST_PROGRESS - NEXT_PROGRESS;
    patience_limit (patience, seconds);
    patience->shows = isatty (STDERR_FILENO);
}

static char *
say_route (gconstpointer work)
{
    const RouteProgress *progress = work;
    g_autofree char *best = progress->best == G_MAXUINT
                                ? g_strdup ("no route yet")
                                : g_strdup_printf ("best route so far: %u steps", progress->best);
    g_autofree char *amount = progress->layers > 0 ? g_strdup_printf ("%u layers", progress->layers)
                                                 : g_strdup_printf ("%" G_GUINT64_FORMAT " states", progress->opened);
    return g_strdup_printf ("%s, %s; %s, at least %u", progress->doing, amount, best, progress->lower_bound);
}

gboolean
patience_goes_on_with (Patience *patience, char *(*say) (gconstpointer work), gconstpointer work)
{
    gint64 now = g_get_monotonic_time ();

    if (patience->shows && now - patience->told >= NEXT_PROGRESS) {
        g_autofree char *words = say (work);

        patience->told = now;
        fprintf (stderr, "\r\033[K%llds, %s", (long long) ((now - patience->began) / G_USEC_PER_SEC), words);
        fflush (stderr);
    }
    return interrupts == 0 && (patience->deadline == 0 || now < patience->deadline);
}

gboolean
patience_goes_on (const RouteProgress *progress, gpointer data)
{
    return patience_goes_on_with (data, say_route, progress);
}

gboolean
patience_end (Patience *patience)
{
    if (!patience->begun)
        return FALSE;
    patience->begun = FALSE;
    if (patience->shows)
        fputs ("\r\033[K", stderr);
    signal (SIGINT, SIG_DFL);
    signal (SIGTERM, SIG_DFL);
    return interrupts != 0;
}

void
patience_clear (Patience *patience)
{
    patience_end (patience);
}
