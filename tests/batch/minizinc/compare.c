/* SPDX-License-Identifier: MIT */
/* compare SECONDS SEED...: random batches of 6 to 30 units (of 3 or 4 from seed 1000 on, which Gecode can prove;
 * of seeds 500 to 999 and 1500 to 1999 uses begin and end within tasks), ours beside Gecode's through MiniZinc, the same time on the wall for
 * both (MiniZinc's own reading of the model included). Prints a table; fails where ours is worse, or where one is refused. */
#include "export.h"
#include "generate.h"

#include <glib/gstdio.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
    TimetableCost cost;
    gboolean found, proved;
    double seconds;
} Answer;

static Timetable *
draw (guint64 seed)
{
    guint jobs = seed < 1000 ? 6 + (guint) (seed * 7 % 25) : 3 + (guint) (seed % 2);
    Drawn drawn = { .seed = seed, .jobs = jobs, .kinds = seed % 2 ? 5 : 0, .least_tasks = 2, .most_tasks = seed < 1000 ? 4 : 2,
                    .most_modes = 1 + (guint) (seed % 2), .stations = 3, .hands = 1 + (guint) (seed % 3),
                    .places = 2 + (guint) (seed % 3), .longest = 12, .shift = seed % 4 ? 60 : 0, .night = 30,
                    .pause = seed % 4 > 1 ? 5 : 0, .due = seed % 3 > 0, .lent = TRUE,
                    .within = seed / 500 % 2 == 1 };
    return draw_batch (&drawn);
}

static gboolean
in_time (const TimetableCost *best, const TimetableCost *bound, gpointer data)
{
    (void) best;
    (void) bound;
    return g_get_monotonic_time () < *(gint64 *) data;
}

static Answer
ask_ours (const Timetable *timetable, double seconds)
{
    gint64 begin = g_get_monotonic_time (), until = begin + (gint64) (seconds * 1e6);
    ScheduleOptions options = { .seed = 1, .most_tried = G_MAXUINT32, .go_on = in_time, .go_on_data = &until };
    g_autoptr (Schedule) schedule = timetable_solve (timetable, &options);
    double spent = (double) (g_get_monotonic_time () - begin) / 1e6;
    g_autofree char *wrong = timetable_check (timetable, schedule);
    if (wrong != NULL || schedule->left_out > 0) {
        fprintf (stderr, "%s\n", wrong != NULL ? wrong : "jobs are left out");
        exit (EXIT_FAILURE);
    }
    return (Answer){ schedule->cost, TRUE, schedule->proved, spent };
}

/* The number behind the last mention of a word: of several answers the last is the best. */
static gint64
last_number (const char *text, const char *word)
{
    const char *at = g_strrstr (text, word);
    return at != NULL ? g_ascii_strtoll (at + strlen (word), NULL, 10) : -1;
}

static Answer
ask_gecode (const Timetable *timetable, const TimetableCost *ours, double seconds)
{
    g_autofree char *data = export_timetable (timetable, ours->finish * 2 + 100, ours->lateness * 2 + 1000), *path = NULL;
    g_autofree char *limit = g_strdup_printf ("%.0f", seconds * 1000), *output = NULL;
    g_autoptr (GError) error = NULL;
    int status = 0, file = g_file_open_tmp ("timetable-XXXXXX.dzn", &path, &error);
    const char *command[] = { MINIZINC, "--solver", "gecode", "-a", "--time-limit", limit, MODEL, path, NULL };
    gint64 begin = g_get_monotonic_time ();
    if (file < 0 || !g_file_set_contents (path, data, -1, &error)
        || !g_spawn_sync (NULL, (char **) command, NULL, G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, &output, NULL, &status, &error)
        || !g_spawn_check_wait_status (status, &error)) {
        fprintf (stderr, "%s\n", error != NULL ? error->message : "no file");
        exit (EXIT_FAILURE);
    }
    g_close (file, NULL);
    g_unlink (path);
    Answer answer = { .found = strstr (output, "----------") != NULL, .proved = strstr (output, "==========") != NULL,
                      .seconds = (double) (g_get_monotonic_time () - begin) / 1e6 };
    if (answer.found)
        answer.cost = (TimetableCost){ .lateness = last_number (output, "late "), .finish = last_number (output, "ends "),
                                       .insertions = (guint64) last_number (output, "insertions "),
                                       .attended = last_number (output, "attended ") };
    if (strstr (output, "=====UNSAT") != NULL || strstr (output, "=====ERROR") != NULL) {
        fprintf (stderr, "the model has no answer or is wrong\n");
        exit (EXIT_FAILURE);
    }
    return answer;
}

static void
print_answer (const Answer *answer)
{
    if (answer->found)
        printf (" %7" G_GINT64_FORMAT " %6" G_GINT64_FORMAT " %4" G_GUINT64_FORMAT " %6.2f %-6s", answer->cost.lateness,
                answer->cost.finish, answer->cost.insertions, answer->seconds, answer->proved ? "proved" : "");
    else
        printf (" %7s %6s %4s %6.2f %-6s", "-", "-", "-", answer->seconds, "");
}

int
main (int argc, char **argv)
{
    double seconds = argc > 1 ? g_ascii_strtod (argv[1], NULL) : 5;
    guint better = 0, same = 0, worse = 0;
    printf ("%4s %5s | %7s %6s %4s %6s %-6s | %7s %6s %4s %6s\n", "seed", "units", "late", "ends", "ins", "s", "ours", "late",
            "ends", "ins", "s, Gecode");
    for (int i = 2; i < argc; i++) {
        guint64 seed = g_ascii_strtoull (argv[i], NULL, 10);
        g_autoptr (Timetable) timetable = draw (seed);
        Answer ours = ask_ours (timetable, seconds), theirs = ask_gecode (timetable, &ours.cost, seconds);
        int order = theirs.found ? timetable_cost_compare (&ours.cost, &theirs.cost) : -1;
        better += order < 0;
        same += order == 0;
        /* What Gecode proves is lateness and finish alone, in a horizon that ours sets; ours must not be below that. */
        gboolean below = theirs.proved && (ours.cost.lateness < theirs.cost.lateness
                                           || (ours.cost.lateness == theirs.cost.lateness && ours.cost.finish < theirs.cost.finish));
        worse += order > 0 || below;
        printf ("%4" G_GUINT64_FORMAT " %5u |", seed, timetable->jobs->len);
        print_answer (&ours);
        printf (" |");
        print_answer (&theirs);
        printf (" %s\n", order > 0 ? "WORSE" : below ? "BELOW WHAT IS PROVED" : order < 0 ? "better" : "same");
        fflush (stdout);
    }
    printf ("better %u, same %u, worse %u\n", better, same, worse);
    return worse > 0 ? EXIT_FAILURE : EXIT_SUCCESS;
}
