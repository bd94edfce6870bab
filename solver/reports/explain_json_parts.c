/* SPDX-License-Identifier: MIT */
/* Cases, evidence, ways and causes as JSON. */
#include "reports/explain_json.h"
#include "reports/cautions.h"
#include "reports/explain_sheet.h"
#include "reports/route_json.h"
#include "route/branched.h"

/* ---- Cases ---- */

static const char *
fact_word (DarkFactKind kind)
{
    static const char *const words[] = { "held", "empty", "release", "failed", "revision", "redundant" };

    return words[kind];
}

static json_t *
json_dark_facts (const DarkCase *one, const GArray *indices)
{
    json_t *list = json_array ();

    for (guint i = 0; i < indices->len; i++) {
        const DarkFact *fact = one->facts->pdata[g_array_index (indices, guint, i)];
        json_t *entry = json_object ();

        json_set_text (entry, "fact", fact_word (fact->kind));
        json_set_text (entry, "says", fact->says);
        json_set_place (entry, "at", fact->at);
        json_array_append_new (list, entry);
    }
    return list;
}

static json_t *
json_dark_set (const DarkCase *one, const DarkSet *set)
{
    json_t *object = json_object ();
    json_t *rules = json_array ();

    for (guint i = 0; i < set->rules->len; i++) {
        const DarkRule *rule = g_ptr_array_index (set->rules, i);
        json_t *entry = json_object ();

        json_set_text (entry, "rule", rule->id);
        json_set_text (entry, "says", rule->says);
        json_set_text (entry, "source", rule->source.text);
        json_set_text (entry, "checked", rule->source.checked);
        json_set_place (entry, "at", rule->at);
        json_object_set_new (entry, "is-broken", json_boolean (rule->broken != NULL));
        json_array_append_new (rules, entry);
    }
    json_object_set_new (object, "facts", json_dark_facts (one, set->facts));
    json_object_set_new (object, "rules", rules);
    json_object_set_new (object, "stated", json_boolean (set->stated));
    return object;
}

static json_t *
json_flagged_releases (const Component *component, const gboolean *flags)
{
    json_t *list = json_array ();

    for (guint r = 0; r < component->releases->len; r++)
        if (flags[r])
            json_array_append_new (list, json_string (component_release (component, r)->name));
    return list;
}

static json_t *
json_may_be (const Unit *unit, const DarkCase *one)
{
    json_t *object = json_object ();

    for (guint c = 0; c < unit->board->components->len; c++) {
        const Component *component = board_component (unit->board, c);
        json_object_set_new (object, component->name, json_flagged_releases (component, one->may_be[c]));
    }
    return object;
}

json_t *
json_dark_case (const ExplainReport *report, guint index)
{
    static const char *const starts[] = { "yes", "no", "not-known" };
    const DarkCase *one = g_ptr_array_index (report->diagnosis->dark->cases, index);
    const gboolean *out = report->diagnosis->evidence->case_out;
    json_t *object = json_object ();
    json_t *sets = json_array (), *changes = json_array (), *broken = json_array ();

    json_object_set_new (object, "releases", json_may_be (report->unit, one));
    json_object_set_new (object, "combinations", json_integer ((json_int_t) one->members));
    json_set_text (object, "starts", starts[one->starts]);
    json_object_set_new (object, "ruled-out", json_boolean (out != NULL && out[index]));
    for (guint i = 0; i < one->sets->len; i++)
        json_array_append_new (sets, json_dark_set (one, g_ptr_array_index (one->sets, i)));
    for (guint i = 0; i < one->corrections->len; i++)
        json_array_append_new (changes, json_dark_facts (one, g_ptr_array_index (one->corrections, i)));
    for (guint i = 0; i < one->broken->len; i++)
        json_array_append_new (broken, json_broken (g_ptr_array_index (one->broken, i)));
    json_object_set_new (object, "enough", sets);
    json_object_set_new (object, "changes", changes);
    json_object_set_new (object, "complete", json_boolean (one->complete));
    json_object_set_new (object, "broken", broken);
    return object;
}

/* ---- What was seen ---- */

static json_t *
json_given (const Board *board, const Observation *observation, const SignGiven *given)
{
    json_t *object = json_object ();
    g_autofree char *seen = observation_words (board, observation);

    json_set_text (object, "kind", seen_kind_name (observation->kind));
    json_set_text (object, "seen", seen);
    json_set_place (object, "at", observation->at);
    if (given == NULL)
        return object;
    if (given->sign != NULL)
        json_set_text (object, "sign", given->sign->id);
    json_set_text (object, "means", given->says);
    json_set_text (object, "rules-out", given->releases_out);
    json_set_text (object, "source", given->source.text);
    return object;
}

/* By component, for those of which a release is out. */
static json_t *
json_ruled_out (const ExplainReport *report)
{
    const Board *board = report->unit->board;
    gboolean **ruled_out = report->diagnosis->ruled_out;
    json_t *object = json_object ();

    for (guint c = 0; ruled_out != NULL && c < board->components->len; c++) {
        const Component *component = board_component (board, c);
        json_t *list = json_flagged_releases (component, ruled_out[c]);

        if (json_array_size (list) > 0)
            json_object_set_new (object, component->name, list);
        else
            json_decref (list);
    }
    return object;
}

json_t *
json_evidence (const ExplainReport *report)
{
    const Board *board = report->unit->board;
    const Evidence *evidence = report->diagnosis->evidence;
    json_t *object = json_object ();
    json_t *given = json_array (), *without = json_array (), *conflicts = json_array ();

    for (guint i = 0; i < evidence->given->len; i++) {
        const SignGiven *one = g_ptr_array_index (evidence->given, i);

        json_array_append_new (given, json_given (board, one->observation, one));
    }
    for (guint i = 0; i < evidence->without_sign->len; i++)
        json_array_append_new (without, json_given (board, g_ptr_array_index (evidence->without_sign, i), NULL));
    for (guint i = 0; i < evidence->conflicts->len; i++) {
        const Conflict *conflict = g_ptr_array_index (evidence->conflicts, i);
        json_t *entry = json_object (), *list = json_array ();

        for (guint g = 0; g < conflict->given->len; g++)
            json_array_append_new (list, json_integer (g_array_index (conflict->given, guint, g)));
        json_object_set_new (entry, "given", list);
        json_object_set_new (entry, "with-files", json_boolean (conflict->with_files));
        json_array_append_new (conflicts, entry);
    }
    json_object_set_new (object, "given", given);
    json_object_set_new (object, "without-sign", without);
    json_object_set_new (object, "conflicts", conflicts);
    json_object_set_new (object, "ruled-out", json_ruled_out (report));
    json_object_set_new (object, "too-early", json_boolean (evidence->too_early));
    json_object_set_new (object, "waited", json_boolean (evidence->waited));
    return object;
}

/* ---- Telling apart, ways out ---- */

json_t *
json_telling (const ExplainReport *report, const Telling *telling)
{
    static const char *const kinds[] = { "page", "label", "start" };
    const Board *board = report->unit->board;
    json_t *object = json_object ();

    json_set_text (object, "by", kinds[telling->kind]);
    if (telling->kind != TELL_START)
        json_set_text (object, "component", board_component (board, telling->component)->name);
    json_set_text (object, "says", telling->says);
    json_object_set_new (object, "minutes", json_number (telling->minutes));
    json_object_set_new (object, "for-certain", json_boolean (telling->for_certain));
    if (telling->steps != NULL)
        json_object_set_new (object, "steps", json_written_steps (board, telling->steps));
    return object;
}

static json_t *
json_branch (const Board *board, const Branch *branch)
{
    static const char *const thens[] = { "end", "try", "read", "give-up" };
    json_t *object = json_object ();
    json_t *cases = json_array (), *next = json_array ();

    for (guint i = 0; i < branch->cases->len; i++)
        json_array_append_new (cases, json_releases (board, g_ptr_array_index (branch->cases, i)));
    for (guint i = 0; i < branch->next->len; i++)
        json_array_append_new (next, json_branch (board, g_ptr_array_index (branch->next, i)));
    json_object_set_new (object, "came-with", cases);
    json_object_set_new (object, "dark", json_boolean (branch->dark));
    json_object_set_new (object, "steps", json_written_steps (board, branch->steps));
    json_set_text (object, "then", thens[branch->then]);
    if (branch->then == THEN_READ)
        json_set_text (object, "component", board_component (board, branch->component)->name);
    json_object_set_new (object, "branches", next);
    return object;
}

static void
set_branches (json_t *object, const Board *board, const BranchAnswer *branches)
{
    json_t *counts = json_object ();

    json_object_set_new (counts, "worst-steps", json_integer (branches->check->worst_steps));
    json_object_set_new (counts, "worst-minutes", json_number (branches->check->worst_minutes));
    json_object_set_new (counts, "expected-steps", json_number (branches->check->expected_steps));
    json_object_set_new (counts, "expected-minutes", json_number (branches->check->expected_minutes));
    json_object_set_new (counts, "given-up", json_integer (branches->check->given_up));
    json_object_set_new (object, "at-most", counts);
    json_object_set_new (object, "plan", json_branch (board, branches->plan));
}

json_t *
json_way (const ExplainReport *report, const WayOut *way)
{
    static const char *const kinds[] = { "wanted", "same-processors", "other-parts" };
    const RouteAnswer *answer = way->answer;
    json_t *object = json_object ();
    Claim claim = answer->branches != NULL ? answer->branches->claim : answer->claim;

    json_set_text (object, "way", kinds[way->kind]);
    json_object_set_new (object, "proved", json_boolean (claim == CLAIM_PROVED_SHORTEST));
    if (answer->branches != NULL) {
        set_branches (object, report->unit->board, answer->branches);
        return object;
    }
    json_object_set_new (object, "counts", json_counts (answer->walk));
    json_object_set_new (object, "steps", json_written_steps (report->unit->board, answer->steps));
    return object;
}

/* ---- Physical causes ---- */

static json_t *
json_cause (const CauseWeight *weight)
{
    json_t *object = json_object ();

    json_set_text (object, "cause", weight->cause->id);
    json_set_text (object, "says", weight->cause->says);
    json_set_text (object, "look", weight->cause->look->id);
    json_object_set_new (object, "share", json_share (weight->share));
    json_object_set_new (object, "counted", json_integer (weight->counted));
    json_object_set_new (object, "probability", json_share (weight->probability));
    if (weight->excluded_by >= 0)
        json_object_set_new (object, "ruled-out-by", json_integer (weight->excluded_by));
    return object;
}

static json_t *
json_check (const ExplainReport *report, guint index)
{
    const CheckDue *check = &g_array_index (report->diagnosis->physical->checks, CheckDue, index);
    g_autoptr (GArray) due = explain_check_cautions (report, index);
    json_t *object = json_object (), *cautions = json_array ();

    json_set_text (object, "look", check->look->id);
    json_set_text (object, "says", check->look->says);
    json_object_set_new (object, "minutes", json_number (check->minutes));
    json_object_set_new (object, "probability", json_share (check->probability));
    json_set_text (object, "source", check->look->source.text);
    for (guint i = 0; i < due->len; i++)
        json_array_append_new (cautions, json_string (g_array_index (due, DueCaution, i).caution->id));
    json_object_set_new (object, "cautions", cautions);
    return object;
}

json_t *
json_physical (const ExplainReport *report)
{
    const PhysicalCauses *physical = report->diagnosis->physical;
    json_t *object = json_object ();
    json_t *causes = json_array (), *checks = json_array ();

    for (guint i = 0; i < physical->causes->len; i++)
        json_array_append_new (causes, json_cause (g_ptr_array_index (physical->causes, i)));
    for (guint i = 0; i < physical->checks->len; i++)
        json_array_append_new (checks, json_check (report, i));
    json_object_set_new (object, "causes", causes);
    json_object_set_new (object, "checks", checks);
    json_object_set_new (object, "expected-minutes", json_number (physical->expected_minutes));
    json_object_set_new (object, "likeliest-first-minutes", json_number (physical->likeliest_first_minutes));
    json_object_set_new (object, "left-over", json_share (physical->left_over));
    json_object_set_new (object, "only-left-over", json_boolean (physical->only_left_over));
    json_object_set_new (object, "skip-last", json_boolean (physical->skip_last));
    json_object_set_new (object, "counted", json_integer (physical->counted));
    return object;
}
