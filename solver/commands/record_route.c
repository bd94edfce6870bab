/* SPDX-License-Identifier: MIT */
/* Which route a new record is of. */
#include "commands/record_text.h"
#include "commands/recording.h"

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

/* Where it is plain which route is meant. It has to be once the entry is a step of it. */
static Outcome
choose_written (const Recording *recording, const Library *library, const Unit *unit, const char **title)
{
    g_autoptr (GPtrArray) routes = routes_to_begin (library, unit);

    if (routes->len == 0 && recording->options->step > 0)
        return usage_error (command_record.name,
                            "the route's file among the PATHs, --published with a batch's JSON, or --do WORDS",
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

/* The route's title; NULL: none is known, and none is needed. */
static Outcome
choose_route (const Recording *recording, const Loaded *loaded, const Unit *unit, const char **title)
{
    const BatchPublished *timetable = loaded->published.timetable;

    *title = NULL;
    if (timetable == NULL)
        return choose_written (recording, loaded->library, unit, title);
    if (batch_published_find (timetable, unit->id) != NULL)
        *title = BATCH_ROUTE;
    return OUTCOME_ANSWERED;
}

Outcome
recording_append_head (GString *yaml, const Recording *recording, const Loaded *loaded, const Unit *unit)
{
    const char *route = NULL;
    Outcome outcome = choose_route (recording, loaded, unit, &route);

    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    g_string_append (yaml, "record: ");
    record_append_text (yaml, route != NULL && loaded->published.timetable == NULL ? route : unit->id);
    g_string_append (yaml, "\nunit: ");
    record_append_text (yaml, unit->id);
    if (route != NULL) {
        g_string_append (yaml, "\nroute: ");
        record_append_text (yaml, route);
    }
    g_string_append (yaml, "\nentries:\n");
    return OUTCOME_ANSWERED;
}
