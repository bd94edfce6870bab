/* SPDX-License-Identifier: MIT */
/* Walking a written route in every case of a unit, and saying how that went. */
#include "reports/account.h"
#include "reports/json.h"
#include "reports/paper.h"
#include "reports/reports.h"

#define SCHEMA_NAME    "rungwise-walk"
#define SCHEMA_VERSION 1

void
walk_answer_free (WalkAnswer *answer)
{
    if (answer == NULL)
        return;
    walk_free (answer->walk);
    g_clear_pointer (&answer->needless, g_ptr_array_unref);
    g_free (answer->releases);
    g_free (answer);
}

/* Keeps the walk that goes wrong first; of several, the one met first. */
static void
keep_worse_walk (WalkAnswer *answer, Walk *walk, const guint *releases)
{
    gboolean worse = answer->walk == NULL || (!walk->sound && answer->walk->sound) ||
                     (!walk->sound && !answer->walk->sound && walk->first_bad < answer->walk->first_bad);

    if (!worse) {
        walk_free (walk);
        return;
    }
    walk_free (answer->walk);
    g_free (answer->releases);
    answer->walk = walk;
    answer->releases = g_memdup2 (releases, answer->unit->board->components->len * sizeof (guint));
}

/* Steps that a sound route to a want could do without. Two of them may not be able to go both. */
static void
find_needless (WalkAnswer *answer, const Library *library, const Shop *shop)
{
    g_autoptr (RouteAccount) account =
        route_account_new (library, shop, answer->unit, answer->want, answer->route->steps);

    answer->needless = g_ptr_array_new_with_free_func (g_free);
    for (guint i = 0; i < account->steps->len; i++) {
        const StepAccount *step = account->steps->pdata[i];

        if (!step->needed)
            g_ptr_array_add (answer->needless, g_strdup_printf ("step %u is %s", i + 1, step->why));
    }
}

WalkAnswer *
walk_find (const Library *library, const Shop *shop, const Unit *unit, const Want *want, const WrittenRoute *route)
{
    WalkAnswer *answer = g_new0 (WalkAnswer, 1);
    g_autoptr (GPtrArray) cases = unit_cases (unit, WALK_MOST_CASES);

    answer->unit = unit;
    answer->route = route;
    answer->want = want;
    answer->cases = cases == NULL ? 0 : cases->len;
    for (guint i = 0; i < answer->cases; i++) {
        const guint *releases = g_ptr_array_index (cases, i);
        g_autoptr (State) start = state_from_unit (unit, releases);

        keep_worse_walk (answer, check_walk (library, shop, want, start, route->steps), releases);
    }
    if (answer->walk == NULL)
        answer->outcome = OUTCOME_READ_FIRST;
    else
        answer->outcome = answer->walk->sound ? OUTCOME_ANSWERED : OUTCOME_REFUSED;
    if (answer->outcome == OUTCOME_ANSWERED && want != NULL)
        find_needless (answer, library, shop);
    return answer;
}

static void
say_sound (Paper *paper, const WalkAnswer *answer)
{
    const Walk *walk = answer->walk;
    g_autofree char *steps = words_count (walk->steps, "step", "steps");
    g_autofree char *insertions = words_count (walk->insertions, "insertion", "insertions");
    g_autofree char *openings = words_count (walk->openings, "opening", "openings");
    g_autofree char *starts = words_count (walk->starts, "start", "starts");
    g_autofree char *minutes = words_minutes (walk->minutes);
    g_autofree char *attended = words_number (walk->attended);

    paper_say (paper, 0, 2, MARK_GOOD "Sound" MARK_PLAIN ": every step is allowed.");
    paper_say (paper, 0, 2, "%s, %s of processors, %s, %s; %s in all, %s of them attended.", steps, insertions,
               openings, starts, minutes, attended);
    if (answer->cases > 1)
        paper_say (paper, 0, 2, "That holds for all %u combinations of releases that the unit may have.",
                   answer->cases);
    for (guint i = 0; answer->needless != NULL && i < answer->needless->len; i++)
        paper_say (paper, 0, 2, MARK_CAUTION "Note" MARK_PLAIN ": %s.", (const char *) answer->needless->pdata[i]);
}

static void
say_refused (Paper *paper, const WalkAnswer *answer)
{
    const Walk *walk = answer->walk;
    const GArray *steps = answer->route->steps;

    if (walk->first_bad < steps->len) {
        const Step *step = &g_array_index (steps, Step, walk->first_bad);
        g_autofree char *sentence = words_step (answer->unit->board, step);
        g_autofree char *place = words_place (step->at);

        paper_say (paper, 0, 2, MARK_BAD "Refused" MARK_PLAIN " at step %u, %s%s%s%s.", walk->first_bad + 1, sentence,
                   *place == '\0' ? "" : " (", place, *place == '\0' ? "" : ")");
    } else {
        paper_say (paper, 0, 2, MARK_BAD "Refused" MARK_PLAIN " at the end, after all %u steps.", steps->len);
    }
    if (answer->cases > 1) {
        g_autofree char *releases = words_case (answer->unit, answer->releases, NULL);

        paper_say (paper, 0, 2, "Found with %s, one of %u combinations that the unit may have.", releases,
                   answer->cases);
    }
    paper_say (paper, 0, 2, "Why [%s]: %s", walk->rule == NULL ? "not said" : walk->rule,
               walk->why == NULL ? "not said" : walk->why);
}

char *
report_walk_text (const WalkAnswer *answer, gboolean colour)
{
    Paper *paper = paper_new (colour);
    const Unit *unit = answer->unit;

    paper_say (paper, 0, 2, MARK_STRONG "Route \"%s\"" MARK_PLAIN " on unit %s, board %s, revision %s",
               answer->route->name, unit->id, unit->board->name,
               (const char *) g_ptr_array_index (unit->board->revisions, unit->revision));
    if (answer->want == NULL) {
        paper_say (paper, 0, 2, "No want was given: any end is allowed.");
    } else {
        g_autofree char *want = words_want (unit->board, answer->want);

        paper_say (paper, 0, 2, "wanted at the end: %s", want);
    }
    if (answer->walk == NULL)
        paper_say (paper, 0, 2,
                   "The unit may have too many combinations of releases to go through. Read one of them first and put "
                   "it into the unit's file.");
    else if (answer->walk->sound)
        say_sound (paper, answer);
    else
        say_refused (paper, answer);
    return paper_finish (paper);
}

static void
set_counts (json_t *document, const Walk *walk)
{
    json_object_set_new (document, "steps", json_integer (walk->steps));
    json_object_set_new (document, "insertions", json_integer (walk->insertions));
    json_object_set_new (document, "openings", json_integer (walk->openings));
    json_object_set_new (document, "starts", json_integer (walk->starts));
    json_object_set_new (document, "minutes", json_number (walk->minutes));
    json_object_set_new (document, "attended", json_number (walk->attended));
}

static void
set_needless (json_t *document, const WalkAnswer *answer)
{
    json_t *list = json_array ();

    for (guint i = 0; i < answer->needless->len; i++)
        json_array_append_new (list, json_string (answer->needless->pdata[i]));
    json_object_set_new (document, "not-needed", list);
}

static void
set_refusal (json_t *document, const WalkAnswer *answer)
{
    const Walk *walk = answer->walk;

    if (walk->first_bad < answer->route->steps->len) {
        json_object_set_new (document, "step", json_integer (walk->first_bad + 1));
        json_set_place (document, "at", g_array_index (answer->route->steps, Step, walk->first_bad).at);
    }
    json_set_text (document, "rule", walk->rule);
    json_set_text (document, "why", walk->why);
    json_object_set_new (document, "releases", json_releases (answer->unit->board, answer->releases));
}

char *
report_walk_json (const WalkAnswer *answer)
{
    json_t *document = json_object ();

    json_set_text (document, "schema", SCHEMA_NAME);
    json_object_set_new (document, "version", json_integer (SCHEMA_VERSION));
    json_set_text (document, "name", answer->route->name);
    json_object_set_new (document, "for", json_unit (answer->unit));
    json_object_set_new (document, "end-checked", json_boolean (answer->want != NULL));
    json_object_set_new (document, "combinations", json_integer (answer->cases));
    json_object_set_new (document, "outcome", json_integer (answer->outcome));
    if (answer->walk != NULL && answer->walk->sound)
        set_counts (document, answer->walk);
    else if (answer->walk != NULL)
        set_refusal (document, answer);
    if (answer->needless != NULL)
        set_needless (document, answer);
    return json_finish (document);
}
