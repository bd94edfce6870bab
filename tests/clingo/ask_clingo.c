/* SPDX-License-Identifier: MIT */
#include "ask_clingo.h"

#include <glib/gstdio.h>
#include <jansson.h>
#include <string.h>
#include <unistd.h>

/* clingo's standard output. Transfer full. */
static char *
run (const char *path, const char *objective, int horizon, int seconds)
{
    gboolean by_steps = !strcmp (objective, "steps");
    /* <incmode> stops before the length imax. Undefined atoms are no mistake: not every job has every kind of step.
     * "trendy", of clasp's ready-made settings, was the quickest to refute: 15 steps of the demo shop's long story took
     * 4 s of processor time, with the usual settings 14. */
    g_autofree char *most = g_strdup_printf ("imax=%d", horizon + 1);
    g_autofree char *least = g_strdup_printf ("least=%d", by_steps ? 0 : horizon);
    g_autofree char *by = g_strdup_printf ("objective=%s", objective);
    g_autofree char *limit = g_strdup_printf ("--time-limit=%d", seconds);
    const char *const arguments[] = { CLINGO_BINARY,
                                      ROUTE_PROGRAM,
                                      path,
                                      "--const",
                                      most,
                                      "--const",
                                      least,
                                      "--const",
                                      by,
                                      "--const",
                                      by_steps ? "idling=0" : "idling=1",
                                      limit,
                                      "--outf=2",
                                      "--quiet=1",
                                      "--configuration=trendy",
                                      "--warn=no-atom-undefined",
                                      NULL };
    char *out = NULL;
    g_autofree char *errors = NULL;
    g_autoptr (GError) error = NULL;
    if (!g_spawn_sync (NULL, (char **) arguments, NULL, G_SPAWN_DEFAULT, NULL, NULL, &out, &errors, NULL, &error))
        g_error ("clingo does not run: %s", error->message);
    if (!strstr (out, "\"Result\""))
        g_error ("clingo gave no result: %s", errors);
    return out;
}

static char *
join_steps (const json_t *call)
{
    GString *out = g_string_new (NULL);
    const json_t *witness = json_array_get (json_object_get (call, "Witnesses"), 0);
    const json_t *steps = json_object_get (witness, "Value");
    for (gsize i = 0; i < json_array_size (steps); i++)
        g_string_append_printf (out, "%s%s", i ? " " : "", json_string_value (json_array_get (steps, i)));
    return g_string_free (out, FALSE);
}

static ClingoAnswer
read_answer (const json_t *said)
{
    const char *result = json_string_value (json_object_get (said, "Result"));
    const json_t *calls = json_object_get (said, "Call");
    const json_t *costs = json_object_get (json_object_get (said, "Models"), "Costs");
    gsize count = json_array_size (calls);
    ClingoAnswer answer = { .kind = CLINGO_UNDECIDED };
    if (!result || !count)
        g_error ("clingo's answer has no result");
    if (json_object_get (said, "TIME LIMIT"))
        return answer;
    if (!strcmp (result, "UNSATISFIABLE"))
        answer.kind = CLINGO_NONE;
    else if (!strcmp (result, "OPTIMUM FOUND") && json_array_size (costs) <= CLINGO_MOST_COSTS)
        answer = (ClingoAnswer){ .kind = CLINGO_ROUTE,
                                 .steps = (int) count - 1,
                                 .cost_count = (int) json_array_size (costs),
                                 .route = join_steps (json_array_get (calls, count - 1)) };
    else
        g_error ("clingo says %s", result);
    for (int i = 0; i < answer.cost_count; i++)
        answer.costs[i] = (int) json_integer_value (json_array_get (costs, (gsize) i));
    return answer;
}

ClingoAnswer
ask_clingo (const char *facts, const char *objective, int horizon, int seconds)
{
    g_autofree char *path = NULL;
    int file = g_file_open_tmp ("facts-XXXXXX.lp", &path, NULL);
    if (file < 0 || close (file) || !g_file_set_contents (path, facts, -1, NULL))
        g_error ("no temporary file for facts");
    g_autofree char *out = run (path, objective, horizon, seconds);
    g_unlink (path);
    json_t *said = json_loads (out, 0, NULL);
    if (!said)
        g_error ("clingo's answer is not JSON: %s", out);
    ClingoAnswer answer = read_answer (said);
    json_decref (said);
    return answer;
}

void
clingo_answer_clear (ClingoAnswer *answer)
{
    g_clear_pointer (&answer->route, g_free);
}
