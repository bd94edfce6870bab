/* SPDX-License-Identifier: MIT */
/* An explanation as JSON: docs/explain-json.md, docs/schemas/printed-explain.schema.json. */
#include "reports/explain_json.h"
#include "reports/explain_sheet.h"
#include "reports/records_text.h"
#include "reports/route_none_json.h"

#include <math.h>

#define SCHEMA_NAME    "rungwise-explain"
#define SCHEMA_VERSION 1
#define SHARES         10000.0 /* parts of one that a share is told to */

json_t *
json_share (double share)
{
    return json_real (round (share * SHARES) / SHARES);
}

static const char *
starts_word (DiagnosisStarts starts)
{
    static const char *const words[] = { "all-start", "none-starts", "none-known", "some-start", "too-many" };

    return words[starts];
}

static json_t *
json_texts (const GPtrArray *texts)
{
    json_t *list = json_array ();

    for (guint i = 0; i < texts->len; i++) {
        g_autofree char *valid = g_utf8_make_valid (g_ptr_array_index (texts, i), -1);

        json_array_append_new (list, json_string (valid));
    }
    return list;
}

static json_t *
json_fitted (const Unit *unit)
{
    json_t *list = json_array ();

    for (guint s = 0; s < unit->board->slots->len; s++) {
        const Fitted *fitted = &unit->fitted[s];
        json_t *entry = NULL;

        if (fitted->part == NULL)
            continue;
        entry = json_object ();
        json_set_text (entry, "slot", board_slot (unit->board, s)->name);
        json_set_text (entry, "part", fitted->part->name);
        json_set_text (entry, "stepping", fitted->stepping);
        json_set_text (entry, "serial", fitted->serial);
        json_set_text (entry, "from", owner_name (fitted->owner));
        json_array_append_new (list, entry);
    }
    return list;
}

/* ---- Returns ---- */

static const char *
return_word (ReturnVerdict verdict)
{
    static const char *const words[] = {
        [RETURN_NO_FIRMWARE] = "no-firmware",  [RETURN_RULE] = "rule",
        [RETURN_TOO_EARLY] = "too-early",      [RETURN_NOT_READ] = "not-read",
        [RETURN_CONFLICT] = "conflict",        [RETURN_OTHER_CAUSE] = "other-cause",
        [RETURN_ELSEWHERE] = "like-part-dark", [RETURN_FOUND] = "found",
        [RETURN_CHECKS_LEFT] = "checks-left",  [RETURN_LIKE_STARTS] = "like-part-starts",
        [RETURN_LEFT_OVER] = "left-over",      [RETURN_STARTS] = "starts",
    };

    return words[verdict];
}

static json_t *
json_return (const ExplainReport *report, const ReturnBlock *block)
{
    json_t *object = json_object ();
    g_autofree char *text = explain_return_text (report, block);

    json_set_text (object, "slot", board_slot (report->unit->board, block->slot)->name);
    json_set_text (object, "finding", return_word (block->verdict));
    json_set_text (object, "says", block->says);
    json_object_set_new (object, "probability", json_share (block->probability));
    json_object_set_new (object, "tried", json_texts (block->tried));
    json_object_set_new (object, "rules-out", json_texts (block->rules_out));
    json_object_set_new (object, "not-tried", json_texts (block->left));
    json_set_text (object, "text", text);
    return object;
}

/* ---- The document ---- */

static void
set_lists (json_t *document, const ExplainReport *report)
{
    const Diagnosis *diagnosis = report->diagnosis;
    json_t *cases = json_array (), *tellings = json_array (), *ways = json_array (), *returns = json_array ();

    for (guint i = 0; i < diagnosis->dark->cases->len; i++)
        json_array_append_new (cases, json_dark_case (report, i));
    for (guint i = 0; i < diagnosis->tellings->len; i++)
        json_array_append_new (tellings, json_telling (report, g_ptr_array_index (diagnosis->tellings, i)));
    for (guint i = 0; i < diagnosis->ways->len; i++)
        json_array_append_new (ways, json_way (report, g_ptr_array_index (diagnosis->ways, i)));
    for (guint i = 0; i < diagnosis->returns->len; i++)
        json_array_append_new (returns, json_return (report, g_ptr_array_index (diagnosis->returns, i)));
    json_object_set_new (document, "cases", cases);
    json_object_set_new (document, "tells-apart", tellings);
    json_object_set_new (document, "ways", ways);
    if (diagnosis->none != NULL) {
        const RouteReport route = { .unit = explain_unit_of_ways (report), .none = diagnosis->none };

        json_object_set_new (document, "none", none_to_json (&route));
    }
    if (diagnosis->physical != NULL)
        json_object_set_new (document, "physical", json_physical (report));
    json_object_set_new (document, "returns", returns);
}

char *
report_explain_json (const ExplainReport *report)
{
    const Diagnosis *diagnosis = report->diagnosis;
    json_t *document = json_object ();

    json_set_text (document, "schema", SCHEMA_NAME);
    json_object_set_new (document, "version", json_integer (SCHEMA_VERSION));
    json_object_set_new (document, "for", json_unit (report->unit));
    json_object_set_new (document, "fitted", json_fitted (report->unit));
    json_object_set_new (document, "asked-only", json_boolean (report->asked != NULL));
    if (records_are_there (report->records))
        json_set_text (document, "record", records_last (report->records)->name);
    if (report->want != NULL) {
        g_autofree char *want = words_want (report->unit->board, report->want);

        json_set_text (document, "wanted", want);
    }
    json_object_set_new (document, "outcome", json_integer (explain_outcome (diagnosis)));
    json_set_text (document, "verdict", starts_word (diagnosis->starts));
    json_object_set_new (document, "combinations", json_integer ((json_int_t) diagnosis->dark->combinations));
    json_object_set_new (document, "seen", json_evidence (report));
    set_lists (document, report);
    return json_finish (document);
}
