/* SPDX-License-Identifier: MIT */
/* Ways out: to what is wanted, with the processors that are in, with any parts; each from the unit as the evidence
 * leaves it. */
#include "explain/diagnosis_parts.h"

#include "explain/asking.h"
#include "route/branched.h"

#define MOST_ALTERNATIVES 3
/* States that the search opens before libsolv is asked; and for the questions of this file, which nobody waits for
 * long, all that it opens. Of 40 stories of the demo shop, 20,000 for the latter found no more ways and took four times
 * as long. */
#define QUICK_STATES 20000
#define OWN_STATES   5000
#define OTHER_STATES 2000 /* where any slot may hold anything */

typedef struct {
    const DiagnosisQuestion *question;
    Diagnosis *diagnosis;
} Finding;

static Objective
objective_of (const DiagnosisQuestion *question)
{
    return question->options == NULL ? OBJECTIVE_STEPS : question->options->objective;
}

/* ---- Comparing ---- */

static gboolean
is_way (const RouteAnswer *answer)
{
    return answer_has_route (answer) ||
           (answer->claim == CLAIM_BRANCHES && answer->branches != NULL && answer->branches->plan != NULL);
}

/* What a way costs: its walk's counts. Of a plan with branches the worst case is known in steps and minutes alone. */
typedef struct {
    gboolean branches;
    Walk counts; /* nothing but numbers is looked at */
} WayCost;

static WayCost
cost_of (const RouteAnswer *answer)
{
    if (answer->claim != CLAIM_BRANCHES)
        return (WayCost){ FALSE, *answer->walk };
    return (WayCost){
        TRUE, { .steps = answer->branches->check->worst_steps, .minutes = answer->branches->check->worst_minutes }
    };
}

static int
costs_compare (const DiagnosisQuestion *question, WayCost left, WayCost right)
{
    Objective objective = objective_of (question);

    if (left.branches || right.branches) {
        left.counts.insertions = right.counts.insertions = 0;
        objective = objective == OBJECTIVE_TIME ? OBJECTIVE_TIME : OBJECTIVE_STEPS;
    }
    return walks_compare (objective, &left.counts, &right.counts);
}

static gboolean
branches_are_same (const Branch *left, const Branch *right)
{
    if (left->then != right->then || left->component != right->component || left->dark != right->dark ||
        left->next->len != right->next->len || !route_steps_equal (left->steps, right->steps))
        return FALSE;
    for (guint i = 0; i < left->next->len; i++)
        if (!branches_are_same (left->next->pdata[i], right->next->pdata[i]))
            return FALSE;
    return TRUE;
}

static gboolean
answers_are_same (const RouteAnswer *left, const RouteAnswer *right)
{
    gboolean branches = left->claim == CLAIM_BRANCHES;

    if (branches != (right->claim == CLAIM_BRANCHES))
        return FALSE;
    return branches ? branches_are_same (left->branches->plan, right->branches->plan)
                    : route_steps_equal (left->steps, right->steps);
}

/* ---- Adding ---- */

static void
way_free (gpointer data)
{
    WayOut *way = data;

    route_answer_free (way->answer);
    if (way->want != NULL)
        want_free (way->want);
    g_free (way);
}

/* A copy of one of the two wants that are made here, of which nothing is owned but the arrays of want_new(). */
static Want *
made_want_copy (const Want *want)
{
    Want *copy = want_new (want->name, want->board, want->at);

    for (guint s = 0; s < want->board->slots->len; s++)
        copy->slots[s] = want->slots[s];
    return copy;
}

/* Takes over `answer`; `want` (nullable) is copied. Nothing that is there already is added. */
static void
add_way (const Finding *finding, WayKind kind, RouteAnswer *answer, const Want *want)
{
    GPtrArray *ways = finding->diagnosis->ways;
    WayOut *way = NULL;
    gboolean again = ways->len == DIAGNOSIS_MOST_WAYS;

    for (guint i = 0; i < ways->len && !again; i++)
        again = answers_are_same (((const WayOut *) ways->pdata[i])->answer, answer);
    if (again) {
        route_answer_free (answer);
        return;
    }
    way = g_new0 (WayOut, 1);
    *way = (WayOut){ kind, answer, want == NULL ? NULL : made_want_copy (want) };
    g_ptr_array_add (ways, way);
}

static gboolean
is_settled (const RouteAnswer *answer)
{
    return answer->claim == CLAIM_PROVED_SHORTEST || answer->claim == CLAIM_NO_ROUTE ||
           answer->claim == CLAIM_READ_FIRST || answer->claim == CLAIM_BRANCHES;
}

/* As the caller has them. What leads back from each step is left to the whole sheet. */
static RouteOptions
way_options (const DiagnosisQuestion *question)
{
    RouteOptions options = { 0 };

    if (question->options != NULL)
        options = *question->options;
    options.no_ways_back = TRUE;
    return options;
}

/* The search alone. */
static RouteOptions
quick_options (const DiagnosisQuestion *question, guint64 states)
{
    RouteOptions options = way_options (question);

    options.search_only = TRUE;
    if (options.search_states == 0 || options.search_states > states)
        options.search_states = states;
    return options;
}

static RouteAnswer *
plan_with (const Finding *finding, const Want *want, const RouteOptions *options)
{
    const DiagnosisQuestion *question = finding->question;

    return route_find (question->library, diagnosis_shop (question, finding->diagnosis),
                       diagnosis_from (finding->diagnosis), want, options);
}

/* The search alone first: it settles everyday questions in a hundredth of the time that libsolv takes to begin. `own`:
 * it is this file's own question, which nobody waits for long: what the search does not settle stays open. */
static RouteAnswer *
plan (const Finding *finding, const Want *want, gboolean own)
{
    const DiagnosisQuestion *question = finding->question;
    const RouteOptions full = way_options (question);
    RouteOptions quick = quick_options (question, own ? OWN_STATES : QUICK_STATES);
    RouteAnswer *answer = plan_with (finding, want, &quick);

    if (own || is_settled (answer) || answer->stopped || full.search_only)
        return answer;
    route_answer_free (answer);
    return plan_with (finding, want, &full);
}

/* ---- What is asked ---- */

/* Whether the part in this slot is asked about and not in yet. */
static gboolean
is_asked_about (const DiagnosisQuestion *question, guint slot)
{
    const Fitted *asked = &question->unit->fitted[slot];
    const Fitted *there = question->before != NULL ? &question->before->fitted[slot] : asked;

    return asked->part != there->part || asked->stepping != there->stepping;
}

/* Every socket as it is, and every part that is asked about in its slot. The lines of the unit file are where it says so.
 * Transfer full. */
static Want *
want_same_processors (const DiagnosisQuestion *question)
{
    const Unit *unit = question->unit;
    Want *want = want_new ("a start with the same processors", unit->board, unit->at);

    for (guint s = 0; s < unit->board->slots->len; s++) {
        const Fitted *fitted = &unit->fitted[s];
        WantSlot *asked = &want->slots[s];

        if (board_slot (unit->board, s)->takes != KIND_PROCESSOR && !is_asked_about (question, s))
            continue;
        asked->kind = fitted->part != NULL ? WANT_PART : WANT_EMPTY;
        asked->part = fitted->part;
        asked->stepping = fitted->stepping;
        asked->at = fitted->part != NULL ? fitted->at : unit->at;
    }
    return want;
}

/* Transfer full. */
static Want *
want_any_parts (const Unit *unit)
{
    Want *want = want_new ("a start with other parts", unit->board, unit->at);

    for (guint s = 0; s < unit->board->slots->len; s++)
        want->slots[s].kind = WANT_ANYTHING;
    return want;
}

static gboolean
has_processor (const Unit *unit)
{
    for (guint s = 0; s < unit->board->slots->len; s++)
        if (unit->fitted[s].part != NULL && board_slot (unit->board, s)->takes == KIND_PROCESSOR)
            return TRUE;
    return FALSE;
}

static void
add_wanted (const Finding *finding)
{
    RouteAnswer *answer = NULL;

    if (finding->question->want == NULL)
        return;
    answer = plan (finding, finding->question->want, FALSE);
    if (is_way (answer))
        add_way (finding, WAY_WANTED, answer, NULL);
    else
        route_answer_free (answer);
}

/* The first of them is the best route, which is there. */
static void
add_alternatives (const Finding *finding, const Want *want)
{
    const DiagnosisQuestion *question = finding->question;
    RouteOptions quick = quick_options (question, OWN_STATES);
    Question asked = { question->library, diagnosis_shop (question, finding->diagnosis),
                       diagnosis_from (finding->diagnosis), want, &quick };
    gboolean complete = FALSE;
    g_autoptr (GPtrArray) found = alternatives_find (&asked, MOST_ALTERNATIVES, &complete);

    for (guint i = 1; i < found->len; i++) {
        Alternative *alternative = found->pdata[i];

        add_way (finding, WAY_SAME_PROCESSORS, g_steal_pointer (&alternative->answer), want);
    }
}

/* Sets `*best` to what the best of them costs; FALSE: there is none. */
static gboolean
add_same_processors (const Finding *finding, WayCost *best)
{
    Diagnosis *diagnosis = finding->diagnosis;
    const DiagnosisQuestion *question = finding->question;
    g_autoptr (Want) want = want_same_processors (question);
    RouteAnswer *answer = plan (finding, want, TRUE);

    if (is_way (answer)) {
        gboolean one_route = answer_has_route (answer);

        *best = cost_of (answer);
        add_way (finding, WAY_SAME_PROCESSORS, answer, want);
        if (one_route)
            add_alternatives (finding, want);
        return TRUE;
    }
    if (answer->claim == CLAIM_NO_ROUTE) {
        diagnosis->none = no_route_explain (question->library, diagnosis_shop (question, diagnosis),
                                            diagnosis_from (diagnosis), want, question->options);
        diagnosis->none_want = g_steal_pointer (&want);
    }
    route_answer_free (answer);
    return FALSE;
}

/* Not for parts that are only asked about: to leave them out is no way. Only where it is cheaper than to keep the
 * processors; one route for all releases, and none where the search runs out.
 * */
static void
add_other_parts (const Finding *finding, const WayCost *same)
{
    g_autoptr (Want) want = want_any_parts (finding->question->unit);
    RouteOptions quick = quick_options (finding->question, OTHER_STATES);
    quick.no_branches = TRUE;
    RouteAnswer *answer = plan_with (finding, want, &quick);

    if (is_way (answer) && (same == NULL || costs_compare (finding->question, cost_of (answer), *same) < 0))
        add_way (finding, WAY_OTHER_PARTS, answer, want);
    else
        route_answer_free (answer);
}

static int
cheapest_first (gconstpointer left, gconstpointer right, gpointer question)
{
    const WayOut *a = *(WayOut *const *) left, *b = *(WayOut *const *) right;
    int order = costs_compare (question, cost_of (a->answer), cost_of (b->answer));

    return order != 0 ? order : (int) a->kind - (int) b->kind;
}

void
diagnosis_find_ways (const DiagnosisQuestion *question, Diagnosis *diagnosis)
{
    Finding finding = { question, diagnosis };
    WayCost same = { FALSE };
    gboolean same_there = FALSE;

    g_ptr_array_set_free_func (diagnosis->ways, way_free);
    if (diagnosis->starts == ALL_START)
        return;
    add_wanted (&finding);
    if (has_processor (question->unit))
        same_there = add_same_processors (&finding, &same);
    if (question->before == NULL)
        add_other_parts (&finding, same_there ? &same : NULL);
    g_ptr_array_sort_with_data (diagnosis->ways, cheapest_first, (gpointer) question);
}
