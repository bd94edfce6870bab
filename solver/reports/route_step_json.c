/* SPDX-License-Identifier: MIT */
/* The steps of a route as JSON. */
#include "reports/route_json.h"

static const char *
answer_key (Answer answer)
{
    static const char *const keys[] = { "no", "yes", "depends" };

    return keys[answer];
}

static void
append_cautions (json_t *list, const GArray *due)
{
    for (guint i = 0; i < due->len; i++) {
        const DueCaution *entry = &g_array_index (due, DueCaution, i);
        json_t *caution = json_object ();

        json_set_text (caution, "caution", entry->caution->id);
        json_set_text (caution, "says", entry->caution->says);
        json_set_text (caution, "source", entry->caution->source.text);
        json_array_append_new (list, caution);
    }
}

json_t *
json_cautions (const GArray *due)
{
    json_t *list = json_array ();

    append_cautions (list, due);
    return list;
}

/* Those for the opening or start before the step, then those for the step itself. */
static json_t *
json_step_cautions (const StepAccount *step)
{
    json_t *list = json_cautions (step->power_cautions);

    append_cautions (list, step->cautions);
    return list;
}

static json_t *
json_file (const Release *release)
{
    json_t *file = json_object ();

    json_set_text (file, "name", release->file_name);
    json_set_text (file, "sha256", release->sha256);
    if (release->bytes >= 0)
        json_object_set_new (file, "bytes", json_integer (release->bytes));
    return file;
}

/* ---- Steps written out, without more ---- */

static const char *
verb_of (StepKind kind)
{
    static const char *const verbs[] = { "remove", "fit", "write" };

    return verbs[kind];
}

static json_t *
json_written_step (const Board *board, const Step *step)
{
    json_t *object = json_object ();

    json_set_text (object, "do", verb_of (step->kind));
    if (step->kind == STEP_WRITE) {
        const Component *component = board_component (board, step->component);

        json_set_text (object, "component", component->name);
        json_set_text (object, "release", component_release (component, step->release)->name);
        json_set_text (object, "by", method_name (step->method));
        return object;
    }
    json_set_text (object, "slot", board_slot (board, step->slot)->name);
    if (step->kind == STEP_FIT) {
        json_set_text (object, "part", step->part->name);
        json_set_text (object, "stepping", step->stepping);
        json_set_text (object, "from", owner_name (step->owner));
        json_set_text (object, "bound", step->bound);
    }
    return object;
}

json_t *
json_written_steps (const Board *board, const GArray *steps)
{
    json_t *list = json_array ();

    for (guint i = 0; i < steps->len; i++)
        json_array_append_new (list, json_written_step (board, &g_array_index (steps, Step, i)));
    return list;
}

/* ---- What is said of a step ---- */

static void
set_part (json_t *object, const RouteReport *report, const StepAccount *step)
{
    const Board *board = report->unit->board;
    g_autoptr (GPtrArray) looks = looks_after (report->library, step->step);

    json_set_text (object, "slot", board_slot (board, step->step->slot)->name);
    json_set_text (object, "part", step->moved.part->name);
    json_set_text (object, "stepping", step->moved.stepping);
    json_set_text (object, "from", owner_name (step->moved.owner));
    json_set_text (object, "bound", step->moved.bound);
    json_set_text (object, "serial", step->serial);
    if (step->binds_part)
        json_set_text (object, "binds", board->binds);
    if (looks->len > 0) {
        json_t *ids = json_array ();

        for (guint i = 0; i < looks->len; i++)
            json_array_append_new (ids, json_string (((const LookFirst *) looks->pdata[i])->id));
        json_object_set_new (object, "looks", ids);
    }
}

static json_t *
json_fallback (const Board *board, const Fallback *fallback)
{
    static const char *const kinds[] = { "route", "none", "open" };
    json_t *object = json_object ();

    json_set_text (object, "kind", kinds[fallback->kind]);
    if (fallback->kind == FALLBACK_ROUTE) {
        json_object_set_new (object, "steps", json_written_steps (board, fallback->steps));
        json_object_set_new (object, "proved", json_boolean (fallback->proved));
        json_object_set_new (object, "reaches-after", json_boolean (fallback->reaches_after));
    }
    return object;
}

static json_t *
json_also_writes (const Board *board, const Step *step)
{
    json_t *also = json_object ();

    for (guint c = 0; c < board->components->len; c++) {
        int release = c == step->component ? -1 : step_writes_release (board, step, c);
        const Component *other = board_component (board, c);

        if (release >= 0)
            json_set_text (also, other->name, component_release (other, (guint) release)->name);
    }
    return also;
}

static void
set_write (json_t *object, const RouteReport *report, const StepAccount *step, const Fallback *fallback)
{
    const Board *board = report->unit->board;
    const Component *component = board_component (board, step->step->component);
    const Release *release = component_release (component, step->step->release);
    json_t *also = json_also_writes (board, step->step);

    json_set_text (object, "component", component->name);
    json_set_text (object, "release", release->name);
    json_set_text (object, "by", method_name (step->step->method));
    if (step->replaces >= 0)
        json_set_text (object, "replaces", component_release (component, (guint) step->replaces)->name);
    if (json_object_size (also) > 0)
        json_object_set (object, "also-writes", also);
    json_decref (also);
    if (release->file_name != NULL || release->sha256 != NULL || release->bytes >= 0)
        json_object_set_new (object, "file", json_file (release));
    json_set_text (object, "takes-effect", words_effect_key (release->takes_effect));
    json_object_set_new (object, "clears-settings", json_boolean (release->clears_settings));
    json_object_set_new (object, "asks-clear-settings", json_boolean (release->asks_clear_settings));
    json_object_set_new (object, "recovery", json_methods (step->recovery));
    if (fallback != NULL)
        json_object_set_new (object, "if-it-fails", json_fallback (board, fallback));
}

static json_t *
json_floor_rises (const StepAccount *step, const Board *board)
{
    json_t *lowest = json_object ();

    for (guint i = 0; i < step->floor_rises->len; i++) {
        const FloorRise *rise = &g_array_index (step->floor_rises, FloorRise, i);
        const Component *component = board_component (board, rise->component);

        json_set_text (lowest, component->name, component_release (component, rise->release)->name);
    }
    return lowest;
}

static json_t *
json_way_back (const WayBack *way)
{
    static const char *const kinds[] = { "none-before", "way", "no-return", "open" };
    json_t *object = json_object ();

    json_set_text (object, "kind", kinds[way->kind]);
    if (way->kind == BACK_WAY) {
        json_object_set_new (object, "steps", json_integer (way->steps));
        json_object_set_new (object, "at-most", json_boolean (way->at_most));
    }
    if (way->kind == BACK_NO_RETURN)
        json_object_set_new (object, "unknown", json_boolean (way->unknown));
    return object;
}

static void
set_return (json_t *object, const RouteReport *report, const StepAccount *step, const WayBack *way)
{
    if (way != NULL)
        json_object_set_new (object, "way-back", json_way_back (way));
    if (step->floor_rises->len > 0)
        json_object_set_new (object, "floor-rises", json_floor_rises (step, report->unit->board));
}

static void
set_reason (json_t *object, const StepAccount *step)
{
    json_set_text (object, "why", step->why);
    json_object_set_new (object, "needed", json_boolean (step->needed));
    if (step->needed && step->needed_by >= 0)
        json_object_set_new (object, "needed-by", json_integer (step->needed_by + 1));
    json_set_text (object, "needed-by-label", step->needed_label);
    if (step->needed)
        json_set_text (object, "needed-rule", step->needed_rule);
}

json_t *
json_step (const RouteReport *report, const RouteAccount *account, guint index)
{
    static const char *const powers[] = { "off", "on", "standby" };
    const StepAccount *step = g_ptr_array_index (account->steps, index);
    json_t *object = json_object ();

    json_set_text (object, "do", verb_of (step->step->kind));
    json_object_set_new (object, "number", json_integer (index + 1));
    if (account->labels != NULL)
        json_set_text (object, "label", account->labels->pdata[index]);
    if (step->step->kind == STEP_WRITE)
        set_write (object, report, step, report_fallback (report, index));
    else
        set_part (object, report, step);
    set_return (object, report, step, report_way_back (report, index));
    json_set_text (object, "power", powers[step->power]);
    if (step->opening > 0)
        json_object_set_new (object, "opening", json_integer (step->opening));
    json_object_set_new (object, "start", json_boolean (step->starts_unit));
    json_set_text (object, "starts-before", answer_key (step->starts_before));
    json_set_text (object, "starts-after", answer_key (step->starts_after));
    json_object_set_new (object, "minutes", json_number (step->minutes));
    json_object_set_new (object, "attended", json_number (step->attended));
    set_reason (object, step);
    json_object_set_new (object, "cautions", json_step_cautions (step));
    return object;
}
