/* SPDX-License-Identifier: MIT */
/* Facts: what takes part in breaking a rule, each in words and with its place in the files. */
#include "check/facts.h"

#include "check/offers.h"
#include "check/state.h"

#include <stdarg.h>

static void
fact_free (gpointer data)
{
    Fact *fact = data;

    g_free (fact->text);
    g_free (fact);
}

static void
broken_free (gpointer data)
{
    Broken *broken = data;

    g_ptr_array_unref (broken->facts);
    g_free (broken);
}

GPtrArray *
broken_list_new (void)
{
    return g_ptr_array_new_with_free_func (broken_free);
}

static Broken *
add_broken (GPtrArray *found, const char *id, const char *says, Breaking breaking)
{
    Broken *broken = g_new0 (Broken, 1);

    broken->rule = id;
    broken->says = says;
    broken->breaking = breaking;
    broken->sureness = SURE_STATED;
    broken->facts = g_ptr_array_new_with_free_func (fact_free);
    g_ptr_array_add (found, broken);
    return broken;
}

Broken *
broken_add_rule (GPtrArray *found, const Rule *rule)
{
    Broken *broken = add_broken (found, rule->id, rule->says, rule->breaking);

    broken->powers = rule->powers;
    broken->methods = rule->methods;
    broken->source = rule->source;
    broken->at = rule->at;
    return broken;
}

Broken *
broken_add_running (GPtrArray *found, const Release *release)
{
    Broken *broken =
        add_broken (found, g_intern_static_string ("while-running"),
                    "A release starts only beside what it states that it needs while it runs.", BREAKING_STOPS);

    broken->source = release->source;
    broken->at = release->at;
    return broken;
}

Broken *
broken_add_failed (GPtrArray *found, const Component *component)
{
    Broken *broken = add_broken (
        found, g_intern_static_string ("failed-write"),
        "Nothing can be relied on in a component whose last write failed, and a unit with one does not start.",
        BREAKING_STOPS);

    broken->source.text = g_intern_static_string ("common practice, no source");
    broken->at = component->at;
    return broken;
}

gboolean
broken_keeps_dark (const Broken *broken)
{
    return broken->breaking == BREAKING_STOPS ||
           (broken->breaking == BREAKING_HARMS && (broken->powers & POWER_ON) != 0);
}

static gboolean
has_fact (const Broken *broken, const char *text)
{
    for (guint i = 0; i < broken->facts->len; i++)
        if (g_str_equal (((const Fact *) broken->facts->pdata[i])->text, text))
            return TRUE;
    return FALSE;
}

void
broken_add_fact (Broken *broken, Mark at, const char *format, ...)
{
    va_list args;

    va_start (args, format);
    g_autofree char *text = g_strdup_vprintf (format, args);
    va_end (args);
    if (has_fact (broken, text))
        return;
    Fact *fact = g_new0 (Fact, 1);
    fact->text = g_steal_pointer (&text);
    fact->at = at;
    g_ptr_array_add (broken->facts, fact);
}

char *
attribute_in_words (const Attribute *attribute)
{
    if (attribute == NULL || attribute->values->len == 0)
        return g_strdup ("not stated");
    g_autoptr (GString) words = g_string_new (NULL);
    for (guint i = 0; i < attribute->values->len; i++)
        g_string_append_printf (words, "%s%s", i > 0 ? " or " : "", (const char *) attribute->values->pdata[i]);
    return g_string_free (g_steal_pointer (&words), FALSE);
}

static void
append_detail (GString *words, const char *name, const char *value)
{
    g_string_append_printf (words, "%s%s %s", words->len > 0 ? ", " : "", name, value);
}

/* "generation elvane, stepping b1, watts 135"; empty when there is nothing to say. */
static char *
part_details (const Held *held, const char *attribute)
{
    g_autoptr (GString) words = g_string_new (NULL);

    if (held->part->generation != NULL)
        append_detail (words, "generation", held->part->generation);
    if (held->stepping != NULL)
        append_detail (words, "stepping", held->stepping);
    if (attribute != NULL && !g_str_equal (attribute, "model") && !g_str_equal (attribute, "generation") &&
        !g_str_equal (attribute, "stepping")) {
        g_autofree char *value = attribute_in_words (attribute_find (held->part->attributes, attribute));

        append_detail (words, attribute, value);
    }
    if (held->bound != NULL)
        append_detail (words, "bound to", held->bound);
    return g_string_free (g_steal_pointer (&words), FALSE);
}

/* The slot that keeps this one dead: the first empty one up the chain. */
static const char *
empty_server (const State *state, guint slot)
{
    const Slot *entry = board_slot (state->board, slot);

    for (guint links = 0; links < state->board->slots->len && entry->served_by >= 0; links++) {
        guint server = (guint) entry->served_by;

        entry = board_slot (state->board, server);
        if (state->held[server].part == NULL)
            break;
    }
    return entry->name;
}

void
broken_add_slot (Broken *broken, const State *state, guint slot, const char *attribute)
{
    const Slot *entry = board_slot (state->board, slot);
    const Held *held = &state->held[slot];

    if (held->part == NULL) {
        broken_add_fact (broken, entry->at, "%s is empty", entry->name);
        return;
    }
    g_autofree char *details = part_details (held, attribute);
    g_autoptr (GString) words = g_string_new (NULL);
    g_string_append_printf (words, "%s holds %s", entry->name, held->part->name);
    if (*details != '\0')
        g_string_append_printf (words, " (%s)", details);
    if (!state_slot_is_live (state, slot))
        g_string_append_printf (words, ", but is dead while %s is empty", empty_server (state, slot));
    broken_add_fact (broken, held->part->at, "%s", words->str);
}

static void
add_offer (Broken *broken, const State *state, const Offer *offer)
{
    const Board *board = state->board;

    if (offer->by == OFFERED_BY_SLOT) {
        broken_add_slot (broken, state, offer->index, NULL);
    } else if (offer->by == OFFERED_BY_BOARD) {
        broken_add_fact (broken, board->at, "the board is %s %s", board->name,
                         (const char *) board->revisions->pdata[state->revision]);
    } else {
        const Component *component = board_component (board, offer->index);
        const Release *release = state_release (state, offer->index);

        if (offer->provide.name == component->name)
            broken_add_fact (broken, release->at, "%s is at %s", component->name, release->name);
        else
            broken_add_fact (broken, release->at, "%s is at %s, which provides %s%s%s", component->name, release->name,
                             offer->provide.name, offer->provide.version != NULL ? " = " : "",
                             offer->provide.version != NULL ? offer->provide.version : "");
    }
}

typedef struct {
    Broken *broken;
    const State *state;
    const GArray *offers;
} Answers;

static void
add_answers_of_atom (const Expr *atom, gpointer data)
{
    const Answers *answers = data;
    gboolean offered = FALSE;

    for (guint i = 0; i < answers->offers->len; i++) {
        const Offer *offer = &g_array_index (answers->offers, Offer, i);

        if (offer->provide.name == atom->name) {
            add_offer (answers->broken, answers->state, offer);
            offered = TRUE;
        }
    }
    if (!offered)
        broken_add_fact (answers->broken, atom->at, "nothing here is or provides %s", atom->name);
}

void
broken_add_answers (Broken *broken, const State *state, const GArray *offers, const Expr *expr)
{
    Answers answers = { broken, state, offers };

    expression_each_atom (expr, add_answers_of_atom, &answers);
}

void
broken_add_expression (Broken *broken, const State *state, const GArray *offers, const char *heading, const Expr *expr)
{
    g_autofree char *text = expression_to_string (expr);

    broken_add_fact (broken, expr->at, "%s: %s", heading, text);
    broken_add_answers (broken, state, offers, expr);
}

char *
part_in_words (const Part *part, const char *stepping)
{
    return stepping != NULL ? g_strdup_printf ("%s %s", part->name, stepping) : g_strdup (part->name);
}

char *
held_in_words (const Held *held)
{
    if (held->part == NULL)
        return g_strdup ("nothing");
    g_autofree char *part = part_in_words (held->part, held->stepping);
    return held->bound != NULL ? g_strdup_printf ("%s bound to %s", part, held->bound) : g_steal_pointer (&part);
}

char *
mark_in_words (Mark at)
{
    return at.line > 0 && at.file != NULL ? g_strdup_printf ("%s:%u", at.file, at.line) : g_strdup ("the command line");
}

char *
broken_in_words (const Broken *broken)
{
    g_autoptr (GString) words = g_string_new (NULL);

    g_string_append_printf (words, "rule %s, \"%s\"", broken->rule, broken->says);
    for (guint i = 0; i < broken->facts->len; i++) {
        const Fact *fact = broken->facts->pdata[i];
        g_autofree char *place = mark_in_words (fact->at);

        g_string_append_printf (words, "%s%s (%s)", i > 0 ? "; " : ": ", fact->text, place);
    }
    return g_string_free (g_steal_pointer (&words), FALSE);
}
