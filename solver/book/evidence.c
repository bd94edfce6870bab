/* SPDX-License-Identifier: MIT */
/* Evidence: whether a sign is given, and an observation in words. */
#include "book/evidence.h"

#include <string.h>

const char *
seen_kind_name (SeenKind kind)
{
    static const char *const names[] = { "dark-minutes", "other-image", "power-light", "fans",  "beeps",
                                         "post-code",    "event",       "with",        "looked" };
    G_STATIC_ASSERT (G_N_ELEMENTS (names) == SEEN_COUNT);
    return names[kind];
}

/* ---- Signs ---- */

static gboolean
event_is_given (const Sign *sign, const SeenEvent *seen)
{
    const SeenEvent *asked = &sign->event;
    return !seen->deasserted && (asked->sensor_type < 0 || asked->sensor_type == seen->sensor_type) &&
           (asked->offset < 0 || asked->offset == seen->offset) &&
           (asked->data_2 < 0 || (seen->data_2 >= asked->data_2 && seen->data_2 <= sign->data_2_to)) &&
           (asked->data_3 < 0 || asked->data_3 == seen->data_3);
}

gboolean
sign_is_given (const Sign *sign, const Board *board, const Observation *observation)
{
    if (sign->kind != observation->kind)
        return FALSE;
    if (sign->boards && !g_ptr_array_find (sign->boards, board->name, NULL))
        return FALSE;
    switch (sign->kind) {
    case SEEN_DARK_MINUTES:
    case SEEN_POST_CODE:
        return sign->from <= observation->number && observation->number <= sign->to;
    case SEEN_EVENT:
        return event_is_given (sign, &observation->event);
    default:
        return sign->word == observation->word;
    }
}

/* ---- Words ---- */

/* What is said of a word; the word itself where it speaks for itself. */
static const struct {
    SeenKind kind;
    const char *word, *says;
} sayings[] = {
    { SEEN_OTHER_IMAGE, "dark", "a start from the other firmware image stays dark" },
    { SEEN_OTHER_IMAGE, "started", "it starts from the other firmware image" },
    { SEEN_POWER_LIGHT, "on", "the power light is on" },
    { SEEN_POWER_LIGHT, "off", "the power light is off" },
    { SEEN_POWER_LIGHT, "blinking", "the power light blinks" },
    { SEEN_FANS, "still", "the fans stand still" },
    { SEEN_FANS, "turning", "the fans turn" },
    { SEEN_FANS, "full-speed", "the fans turn at full speed" },
    { SEEN_FANS, "stop-and-go", "the fans start and stop again" },
    { SEEN_BEEPS, "none", "no beeps" },
};

static char *
word_in_words (const Observation *observation)
{
    for (guint i = 0; i < G_N_ELEMENTS (sayings); i++)
        if (sayings[i].kind == observation->kind && strcmp (sayings[i].word, observation->word) == 0)
            return g_strdup (sayings[i].says);
    return g_strdup_printf ("beeps: %s", observation->word);
}

static char *
minutes_in_words (double minutes)
{
    gint64 tenths = (gint64) (minutes * 10 + 0.5); /* files have at most one decimal */
    GString *text = g_string_new ("left on and dark for ");
    g_string_append_printf (text, "%" G_GINT64_FORMAT, tenths / 10);
    if (tenths % 10)
        g_string_append_printf (text, ".%" G_GINT64_FORMAT, tenths % 10);
    g_string_append (text, tenths == 10 ? " minute" : " minutes");
    return g_string_free (text, FALSE);
}

static char *
event_in_words (const SeenEvent *event)
{
    GString *text = g_string_new (NULL);
    g_string_append_printf (text, "event log: sensor type %02Xh, offset %02Xh", event->sensor_type, event->offset);
    if (event->data_2 >= 0)
        g_string_append_printf (text, ", data 2 %02Xh", event->data_2);
    if (event->data_3 >= 0)
        g_string_append_printf (text, ", data 3 %02Xh", event->data_3);
    if (event->deasserted)
        g_string_append (text, ", ended");
    return g_string_free (text, FALSE);
}

/* "with dorvan-8 a1 in cpu1 and nothing in cpu2 it starts" */
static char *
start_in_words (const Board *board, const Observation *observation)
{
    GString *text = g_string_new ("with ");
    guint left = 0;
    for (guint i = 0; i < board->slots->len; i++)
        left += observation->changed[i] ? 1 : 0;
    for (guint i = 0; i < board->slots->len; i++) {
        const Fitted *fitted = &observation->fitted[i];
        if (!observation->changed[i])
            continue;
        left--;
        g_string_append_printf (text, "%s%s%s in %s%s", fitted->part ? fitted->part->name : "nothing",
                                fitted->stepping ? " " : "", fitted->stepping ? fitted->stepping : "",
                                board_slot (board, i)->name,
                                left > 1    ? ", "
                                : left == 1 ? " and "
                                            : "");
    }
    g_string_append (text, observation->started ? " it starts" : " it stays dark");
    return g_string_free (text, FALSE);
}

char *
observation_words (const Board *board, const Observation *observation)
{
    switch (observation->kind) {
    case SEEN_DARK_MINUTES:
        return minutes_in_words (observation->number);
    case SEEN_POST_CODE:
        return g_strdup_printf ("code %02X on the board's display", (guint) observation->number);
    case SEEN_EVENT:
        return event_in_words (&observation->event);
    case SEEN_WITH:
        return start_in_words (board, observation);
    case SEEN_LOOKED:
        return g_strdup_printf ("look %s: %s", observation->look->id,
                                observation->cause ? observation->cause->says : "nothing found");
    default:
        return word_in_words (observation);
    }
}
