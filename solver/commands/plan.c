/* SPDX-License-Identifier: MIT */
/* `rungwise plan`: the shortest safe route from a unit to a want. */
#include "commands/load.h"
#include "commands/output.h"
#include "commands/patience.h"
#include "commands/resume.h"

#include "route/branched.h"

#include <stdio.h>

#define MOST_STATES_IN_TIME G_MAXINT64 /* with --effort, the time alone decides */

/* Everything that one answer is made of. */
typedef struct {
    RouteAnswer *answer;
    GPtrArray *alternatives;
    gboolean alternatives_complete;
    GArray *fallbacks;
    GPtrArray *leg_fallbacks; /* GArray of Fallback, one per leg of a plan with branches */
    NoRoute *none;
} Planned;

static void
planned_clear (Planned *planned)
{
    g_clear_pointer (&planned->none, no_route_free);
    g_clear_pointer (&planned->fallbacks, g_array_unref);
    g_clear_pointer (&planned->leg_fallbacks, g_ptr_array_unref);
    g_clear_pointer (&planned->alternatives, g_ptr_array_unref);
    g_clear_pointer (&planned->answer, route_answer_free);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Planned, planned_clear)

/* Each leg is a question of its own: from the unit as it stands when the leg begins. */
static GPtrArray *
find_leg_fallbacks (const Question *question, const BranchAnswer *branches)
{
    GPtrArray *all = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);

    for (guint i = 0; i < branches->legs->len; i++) {
        const BranchLeg *leg = branches->legs->pdata[i];
        Question own = *question;

        own.unit = leg->unit;
        g_ptr_array_add (all, fallbacks_find (&own, leg->answer->steps));
    }
    return all;
}

/* The answer, and what belongs beside it. */
static void
find_all (const Options *options, Library *library, Shop *shop, Unit *unit, Want *want, const RouteOptions *limits,
          Planned *planned)
{
    const Question question = { library, shop, unit, want, limits };
    planned->answer = route_find (library, shop, unit, want, limits);
    if (planned->answer->claim == CLAIM_NO_ROUTE)
        planned->none = no_route_explain (library, shop, unit, want, limits);
    if (planned->answer->claim == CLAIM_BRANCHES)
        planned->leg_fallbacks = find_leg_fallbacks (&question, planned->answer->branches);
    if (planned->answer->steps == NULL)
        return;
    planned->fallbacks = fallbacks_find (&question, planned->answer->steps);
    if (options->alternatives > 0)
        planned->alternatives =
            alternatives_find (&question, (guint) options->alternatives, &planned->alternatives_complete);
}

static char *
report_in_form (const Options *options, const RouteReport *report)
{
    if (options->json)
        return report_route_json (report);
    if (options->html)
        return report_route_html (report);
    if (options->svg)
        return report_route_svg (report);
    return report_route_text (report, output_has_colour (options));
}

static Outcome
plan_unit (const Options *options, const Loaded *loaded, Unit *as_it_came, Want *want)
{
    g_autoptr (Resumed) resumed = NULL;
    g_autoptr (GPtrArray) records = g_ptr_array_new ();
    Outcome outcome = resume_unit (loaded, as_it_came, &resumed, records);
    Unit *unit = resumed != NULL ? resumed->unit : as_it_came;
    Shop *shop = resumed != NULL ? resumed->shop : loaded->shop;
    gboolean timed = options->effort_seconds > 0 && options->states == 0;
    g_auto (Patience) patience = { 0 };
    g_auto (Planned) planned = { 0 };
    RouteOptions limits = {
        .objective = options_objective (options),
        .familiar = resumed != NULL ? resumed->left : NULL,
        .search_states = (guint64) (timed ? MOST_STATES_IN_TIME : options->states),
        .go_on = patience_goes_on,
        .go_on_data = &patience,
    };
    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    patience_begin (&patience, options->effort_seconds);
    find_all (options, loaded->library, shop, unit, want, &limits, &planned);
    gboolean interrupted = patience_end (&patience);
    g_autofree char *note = loaded->published.timetable != NULL
                                ? batch_published_note (loaded->published.text, as_it_came->id)
                                : NULL;
    const RouteReport report = {
        .library = loaded->library,
        .shop = shop,
        .unit = unit,
        .want = want,
        .answer = planned.answer,
        .alternatives = planned.alternatives,
        .alternatives_complete = planned.alternatives_complete,
        .fallbacks = planned.fallbacks,
        .leg_fallbacks = planned.leg_fallbacks,
        .none = planned.none,
        .records = records,
        .in_batch = note != NULL,
        .batch_note = note,
    };
    outcome = outcome_of_answer (planned.answer);
    if (interrupted && (outcome == OUTCOME_BEST_FOUND || outcome == OUTCOME_NOT_FOUND))
        outcome = OUTCOME_STOPPED;
    g_autofree char *text = report_in_form (options, &report);
    if (text == NULL) {
        fprintf (stderr, "rungwise plan: there is no route to draw; without --svg the answer says why\n");
        return outcome;
    }
    return output_write (options, text, outcome);
}

static Outcome
plan (const Options *options)
{
    g_auto (Loaded) loaded = { 0 };
    Outcome outcome = load_all (command_plan.name, options, &loaded);
    Unit *unit = NULL;
    Want *want = NULL;

    if (outcome == OUTCOME_ANSWERED)
        outcome = load_unit (command_plan.name, &loaded, options->unit, &unit);
    if (outcome == OUTCOME_ANSWERED)
        outcome = load_want (command_plan.name, &loaded, unit, TRUE, &want);
    return outcome == OUTCOME_ANSWERED ? plan_unit (options, &loaded, unit, want) : outcome;
}

const Command command_plan = {
    .name = "plan",
    .bit = COMMAND_PLAN,
    .summary = "find the shortest safe order of steps from a unit to what is wanted",
    .arguments = "PATH...",
    .explains =
        "Answers: in which order do I take out, fit and write, so that the unit becomes what is wanted, never gets "
        "stuck "
        "on the way, and the sockets are touched as little as can be? The sheet says at each step what to take or "
        "write, whether the unit starts before and after, how long it takes, what to do when it fails, and what to "
        "mind.\n\n"
        "The PATHs are files or folders of the book, the shop and one unit; each document says itself what it is. What "
        "is "
        "wanted stands in a file too, or comes from --want. Every route is walked by a checker of its own before it is "
        "shown. Where a unit's releases are not all known, a route is shown only if it serves every one of them; where "
        "no one order serves every release, or reading on the way saves steps at the worst, the answer is a plan with "
        "branches: a common beginning, what to "
        "read "
        "then, and for each thing that may be read there how to go on. It has least in its worst case.\n\n"
        "Of a table with a row a unit (docs/batch.md), --unit says which one is meant.",
    .example = "rungwise plan data/larkfield/book data/larkfield/shop.yaml \\\n"
               "    data/larkfield/units/01-dark-needs-a-loaner.yaml",
    .run = plan,
};
