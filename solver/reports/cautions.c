/* SPDX-License-Identifier: MIT */
/* Choosing cautions by the words of their `when`. */
#include "reports/cautions.h"

typedef enum {
    WORD_ROUTE,
    WORD_OPENING,
    WORD_PROCESSOR, /* the kinds stand in the order of PartKind */
    WORD_HEAT_SINK,
    WORD_MEMORY,
    WORD_SUPPLY,
    WORD_RISER,
    WORD_FAN,
    WORD_BAFFLE,
    WORD_BLANK,
    WORD_MEDIUM,
    WORD_WRITE,
    WORD_HOST_WRITE, /* the methods stand in the order of Method */
    WORD_CONTROLLER_WRITE,
    WORD_CLIP_WRITE,
    WORD_JUMPER_WRITE,
    WORD_SPARE_WRITE,
    WORD_CLEARS_SETTINGS,
    WORD_ASKS_CLEAR_SETTINGS,
    WORD_BINDS,
    WORD_MAINS_OFF,
    WORD_AFTER_CONTROLLER_WRITE,
    WORD_START,
    WORD_POWER_UP,
    WORD_NO_RECOVERY,
    WORD_COUNT
} Word;

G_STATIC_ASSERT (WORD_MEDIUM - WORD_PROCESSOR == KIND_MEDIUM - KIND_PROCESSOR);
G_STATIC_ASSERT (WORD_SPARE_WRITE - WORD_HOST_WRITE == METHOD_SPARE - METHOD_HOST);

#define WHEN_BIT(word) (1u << (word))

CautionWords
caution_word (const char *word)
{
    const char *const *words = caution_when_words (); /* in the order of Word */
    g_assert (g_strv_length ((char **) words) == WORD_COUNT);
    for (guint i = 0; words[i] != NULL; i++)
        if (g_str_equal (word, words[i]))
            return WHEN_BIT (i);
    return 0;
}

CautionWords
caution_words_of_route (void)
{
    return WHEN_BIT (WORD_ROUTE);
}

CautionWords
caution_words_of_opening (gboolean after_controller_write)
{
    return WHEN_BIT (WORD_OPENING) | (after_controller_write ? WHEN_BIT (WORD_AFTER_CONTROLLER_WRITE) : 0);
}

CautionWords
caution_words_of_power_up (void)
{
    return WHEN_BIT (WORD_POWER_UP);
}

CautionWords
caution_words_of_start (void)
{
    return WHEN_BIT (WORD_START);
}

CautionWords
caution_words_of_clip (void)
{
    return WHEN_BIT (WORD_CLIP_WRITE);
}

/* A sink over the slot comes off and goes back as part of the work on it, unless it is out already. */
int
sink_on_slot (const Board *board, const Held *held, guint slot)
{
    for (guint s = 0; s < board->slots->len; s++) {
        const Slot *above = board_slot (board, s);

        if (above->takes == KIND_HEAT_SINK && above->over == (int) slot && held[s].part != NULL)
            return (int) s;
    }
    return -1;
}

static CautionWords
words_of_slot_work (const CautionMoment *moment)
{
    guint slot = moment->step->slot;
    CautionWords words = WHEN_BIT (WORD_PROCESSOR + board_slot (moment->board, slot)->takes);

    if (sink_on_slot (moment->board, moment->held, slot) >= 0)
        words |= WHEN_BIT (WORD_HEAT_SINK);
    if (moment->binds_part)
        words |= WHEN_BIT (WORD_BINDS);
    return words;
}

static CautionWords
words_of_write (const CautionMoment *moment)
{
    const Component *component = board_component (moment->board, moment->step->component);
    const Release *release = component_release (component, moment->step->release);
    CautionWords words = WHEN_BIT (WORD_WRITE) | WHEN_BIT (WORD_HOST_WRITE + moment->step->method);

    if (release->clears_settings)
        words |= WHEN_BIT (WORD_CLEARS_SETTINGS);
    if (release->asks_clear_settings)
        words |= WHEN_BIT (WORD_ASKS_CLEAR_SETTINGS);
    if (release->takes_effect == EFFECT_MAINS_OFF)
        words |= WHEN_BIT (WORD_MAINS_OFF);
    if (moment->recovery == 0)
        words |= WHEN_BIT (WORD_NO_RECOVERY);
    return words;
}

CautionWords
caution_words_of_moment (const CautionMoment *moment)
{
    return moment->step->kind == STEP_WRITE ? words_of_write (moment) : words_of_slot_work (moment);
}

static gboolean
caution_is_due (const Caution *caution, CautionWords words)
{
    for (guint i = 0; i < caution->when->len; i++)
        if (words & caution_word (g_ptr_array_index (caution->when, i)))
            return TRUE;
    return FALSE;
}

static gboolean
is_listed (const GArray *due, const Caution *caution)
{
    for (guint i = 0; due != NULL && i < due->len; i++)
        if (g_array_index (due, DueCaution, i).caution == caution)
            return TRUE;
    return FALSE;
}

void
cautions_choose (const GPtrArray *cautions, CautionWords words, GHashTable *said, const GArray *but, GArray *due)
{
    for (guint i = 0; i < cautions->len; i++) {
        Caution *caution = g_ptr_array_index (cautions, i);
        DueCaution entry = { caution, FALSE };

        if (!caution_is_due (caution, words) || is_listed (but, caution))
            continue;
        entry.in_full = g_hash_table_add (said, caution) || caution->every_time;
        g_array_append_val (due, entry);
    }
}

GArray *
cautions_of_opening_again (const GPtrArray *cautions)
{
    g_autoptr (GHashTable) said = g_hash_table_new (NULL, NULL);
    GArray *due = g_array_new (FALSE, FALSE, sizeof (DueCaution));

    for (guint i = 0; i < cautions->len; i++)
        g_hash_table_add (said, cautions->pdata[i]);
    cautions_choose (cautions, caution_words_of_opening (FALSE), said, NULL, due);
    return due;
}
