/* SPDX-License-Identifier: MIT */
/* Starts that were tried with other parts in: what they exclude of the physical causes, and what they mean in words. */
#include "explain/diagnosis_parts.h"

#include "explain/explain_words.h"

gboolean
given_is_start (const SignGiven *given)
{
    return given->sign == NULL && given->observation->kind == SEEN_WITH && given->observation->started;
}

gboolean
given_is_dark_start (const SignGiven *given)
{
    return given->sign == NULL && given->observation->kind == SEEN_WITH && !given->observation->started;
}

/* Kinds of part that some cause blames, or is about the fit of. */
static guint
kinds_with_causes (const Library *library)
{
    guint kinds = 0;

    for (guint i = 0; i < library->looks->len; i++) {
        const GPtrArray *finds = ((const LookFirst *) library->looks->pdata[i])->finds;

        for (guint c = 0; finds != NULL && c < finds->len; c++)
            kinds |= ((const Cause *) finds->pdata[c])->blames | ((const Cause *) finds->pdata[c])->fit_of;
    }
    return kinds;
}

void
given_mark_swap (const DiagnosisQuestion *question, SignGiven *given)
{
    const Observation *observation = given->observation;
    const Unit *unit = question->unit;
    guint stayed = 0;

    for (guint s = 0; observation->kind == SEEN_WITH && s < unit->board->slots->len; s++) {
        if (observation->changed[s])
            given->swapped |= 1u << board_slot (unit->board, s)->takes;
        else if (unit->fitted[s].part != NULL)
            stayed |= 1u << unit->fitted[s].part->kind;
    }
    given->swapped &= kinds_with_causes (question->library);
    given->swapped_all = given->swapped & ~stayed;
}

/* ---- What a start excludes ---- */

/* What stayed as it was is sound when it started so, unless it is something of the changed parts that the files do not
 * name. When it stayed dark, the parts that were changed are, if the others
 * are good and all of their kind were changed. Only time says that memory is not still trained: with other parts in, that
 * is another first start. */
gboolean
given_swap_excludes (const SignGiven *given, const Cause *cause)
{
    if (g_str_equal (cause->id, TRAINING_CAUSE))
        return FALSE;
    if (given->observation->started)
        return given->swapped != 0 && ((cause->blames | cause->fit_of) & given->swapped) == 0;
    return cause->blames != 0 && !cause->blames_board && (cause->blames & ~given->swapped_all) == 0;
}

static gboolean
holds_the_same (const Unit *unit, const Observation *one, const Observation *other)
{
    for (guint s = 0; s < unit->board->slots->len; s++) {
        if (one->changed[s] != other->changed[s])
            return FALSE;
        if (one->changed[s] &&
            (one->fitted[s].part != other->fitted[s].part || one->fitted[s].stepping != other->fitted[s].stepping))
            return FALSE;
    }
    return TRUE;
}

gboolean
starts_both_ways (const Unit *unit, const Evidence *evidence, const gboolean *kept)
{
    for (guint g = 0; g < evidence->given->len; g++)
        for (guint h = 0; kept[g] && given_is_start (evidence_given (evidence, g)) && h < evidence->given->len; h++)
            if (kept[h] && given_is_dark_start (evidence_given (evidence, h)) &&
                holds_the_same (unit, evidence_given (evidence, g)->observation,
                                evidence_given (evidence, h)->observation))
                return TRUE;
    return FALSE;
}

/* ---- In words ---- */

static gboolean
is_found (const Seen *seen, const Cause *cause)
{
    for (guint i = 0; seen != NULL && i < seen->observations->len; i++)
        if (((const Observation *) seen->observations->pdata[i])->cause == cause)
            return TRUE;
    return FALSE;
}

char *
given_causes_out (const DiagnosisQuestion *question, const SignGiven *given)
{
    const GPtrArray *looks = question->library->looks;
    g_autoptr (GPtrArray) words = g_ptr_array_new ();

    for (guint i = 0; i < looks->len; i++) {
        const LookFirst *look = looks->pdata[i];

        for (guint c = 0; look->finds != NULL && c < look->finds->len; c++) {
            const Cause *cause = look->finds->pdata[c];

            if ((cause_suits (question->unit, cause) || is_found (question->seen, cause)) &&
                given_excludes_cause (given, cause))
                g_ptr_array_add (words, (gpointer) cause->says);
        }
    }
    return words->len == 0 ? NULL : text_join (words, "and");
}

/* "It started so, which rules out: a loose lead; system 3.0." */
static char *
say_started (const SignGiven *given, const char *causes)
{
    const char *releases = given->releases_out;

    if (causes == NULL && releases == NULL)
        return g_strdup ("It started so, which by itself rules nothing out.");
    return g_strdup_printf ("It started so, which rules out: %s%s%s.", causes != NULL ? causes : "",
                            causes != NULL && releases != NULL ? "; " : "", releases != NULL ? releases : "");
}

static char *
say_dark (const SignGiven *given, const char *causes)
{
    if (!given->shows)
        return g_strdup ("It stays dark so too, which by itself rules nothing out: a rule may keep it dark so.");
    if (causes == NULL)
        return g_strdup ("It stays dark so too, which by itself rules nothing out.");
    return g_strdup_printf (
        "It stays dark so too, and no rule keeps it dark so. If these parts are good, and one thing is "
        "wrong at a time, that rules out: %s.",
        causes);
}

void
given_say_swap (const DiagnosisQuestion *question, SignGiven *given, gboolean counts)
{
    g_autofree char *causes = NULL;

    if (!counts || (!given_is_start (given) && !given_is_dark_start (given)))
        return;
    causes = given_causes_out (question, given);
    g_free (given->says);
    given->says = given_is_start (given) ? say_started (given, causes) : say_dark (given, causes);
}
