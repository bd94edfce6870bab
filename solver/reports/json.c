/* SPDX-License-Identifier: MIT */
/* Helpers for JSON reports. */
#include "reports/json.h"

#include <math.h>

/* Digits enough for tenths of minutes, few enough that 9.1 does not come out as 9.0999999999999996. */
#define REAL_DIGITS 10

json_t *
json_number (double number)
{
    double tenths = round (number * 10.0);

    if (fmod (tenths, 10.0) == 0.0)
        return json_integer ((json_int_t) (tenths / 10.0));
    return json_real (tenths / 10.0);
}

void
json_set_text (json_t *object, const char *key, const char *text)
{
    g_autofree char *valid = NULL;

    if (text == NULL)
        return;
    valid = g_utf8_make_valid (text, -1);
    json_object_set_new (object, key, json_string (valid));
}

void
json_set_place (json_t *object, const char *key, Mark at)
{
    json_t *place = NULL;

    if (at.file == NULL)
        return;
    place = json_object ();
    json_set_text (place, "file", at.file);
    json_object_set_new (place, "line", json_integer (at.line));
    json_object_set_new (object, key, place);
}

json_t *
json_methods (guint mask)
{
    json_t *list = json_array ();

    for (int method = 0; method < METHOD_COUNT; method++)
        if (mask & METHOD_BIT (method))
            json_array_append_new (list, json_string (method_name (method)));
    return list;
}

json_t *
json_releases (const Board *board, const guint *releases)
{
    json_t *object = json_object ();

    for (guint c = 0; c < board->components->len; c++) {
        const Component *component = board_component (board, c);

        json_set_text (object, component->name, component_release (component, releases[c])->name);
    }
    return object;
}

json_t *
json_unit (const Unit *unit)
{
    json_t *object = json_object ();

    json_set_text (object, "unit", unit->id);
    json_set_text (object, "board", unit->board->name);
    json_set_text (object, "revision", g_ptr_array_index (unit->board->revisions, unit->revision));
    json_set_text (object, "note", unit->note);
    return object;
}

static json_t *
broken_facts (const Broken *broken)
{
    json_t *facts = json_array ();

    for (guint i = 0; i < broken->facts->len; i++) {
        const Fact *fact = g_ptr_array_index (broken->facts, i);
        json_t *entry = json_object ();

        json_set_text (entry, "says", fact->text);
        json_set_place (entry, "at", fact->at);
        json_array_append_new (facts, entry);
    }
    return facts;
}

json_t *
json_broken (const Broken *broken)
{
    json_t *object = json_object ();
    json_t *powers = NULL;

    json_set_text (object, "rule", broken->rule);
    json_set_text (object, "says", broken->says);
    json_set_text (object, "breaking", words_breaking_key (broken->breaking));
    if (broken->breaking == BREAKING_HARMS) {
        powers = json_array ();
        if (broken->powers & POWER_ON)
            json_array_append_new (powers, json_string ("on"));
        if (broken->powers & POWER_STANDBY)
            json_array_append_new (powers, json_string ("standby"));
        json_object_set_new (object, "while", powers);
    }
    if (broken->breaking == BREAKING_BARS)
        json_object_set_new (object, "methods", json_methods (broken->methods));
    json_set_text (object, "sureness", broken->sureness == SURE_STATED ? "stated" : "not-stated");
    json_object_set_new (object, "facts", broken_facts (broken));
    json_set_text (object, "source", broken->source.text);
    json_set_text (object, "checked", broken->source.checked);
    json_set_place (object, "at", broken->at);
    return object;
}

char *
json_finish (json_t *document)
{
    char *dumped = json_dumps (document, JSON_INDENT (2) | JSON_REAL_PRECISION (REAL_DIGITS));
    char *text = NULL;

    g_assert (dumped != NULL);
    text = g_strconcat (dumped, "\n", NULL);
    free (dumped);
    json_decref (document);
    return text;
}
