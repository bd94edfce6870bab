/* SPDX-License-Identifier: MIT */
/* Evidence: what each observation means, by the signs of the files and by docs/method.md, "Evidence". */
#include "explain/diagnosis_parts.h"

#include "check/state.h"
#include "explain/explain_words.h"

static const Source no_source = { .text = "common practice, no source" };

static void
sign_given_free (gpointer data)
{
    SignGiven *given = data;

    g_free (given->says);
    g_free (given->releases_out);
    g_free (given);
}

static void
conflict_free (gpointer data)
{
    Conflict *conflict = data;

    g_array_unref (conflict->given);
    g_free (conflict);
}

void
evidence_free (Evidence *evidence)
{
    g_ptr_array_unref (evidence->given);
    g_ptr_array_unref (evidence->without_sign);
    g_ptr_array_unref (evidence->conflicts);
    for (guint c = 0; evidence->may_be[c] != NULL; c++)
        g_free (evidence->may_be[c]);
    g_free (evidence->may_be);
    g_free (evidence->case_out);
    g_free (evidence);
}

const SignGiven *
evidence_given (const Evidence *evidence, guint index)
{
    return g_ptr_array_index (evidence->given, index);
}

gboolean
observation_counts (const Evidence *evidence, const Observation *observation)
{
    for (guint i = 0; i < evidence->conflicts->len; i++) {
        const Conflict *conflict = evidence->conflicts->pdata[i];

        for (guint g = 0; g < conflict->given->len; g++)
            if (evidence_given (evidence, g_array_index (conflict->given, guint, g))->observation == observation)
                return FALSE;
    }
    return TRUE;
}

gboolean
evidence_counts (const Evidence *evidence, guint given)
{
    return observation_counts (evidence, evidence_given (evidence, given)->observation);
}

double
dark_after_minutes (const DiagnosisQuestion *question)
{
    return shop_dark_after_minutes (question->shop, question->unit->board);
}

const Observation *
seen_first (const Seen *seen, SeenKind kind)
{
    for (guint i = 0; seen != NULL && i < seen->observations->len; i++) {
        const Observation *observation = seen->observations->pdata[i];

        if (observation->kind == kind)
            return observation;
    }
    return NULL;
}

State *
state_seen_with (const Unit *unit, const guint *releases, const Observation *observation)
{
    State *state = state_from_unit (unit, releases);

    for (guint s = 0; s < unit->board->slots->len; s++)
        if (observation->changed[s])
            state->held[s] = held_from_fitted (&observation->fitted[s]);
    return state;
}

/* ---- What needs no sign ---- */

static gboolean
started_from_other_image (const Observation *observation)
{
    return observation->kind == SEEN_OTHER_IMAGE && g_strcmp0 (observation->word, "started") == 0;
}

static gboolean
was_left_on (const DiagnosisQuestion *question, const Observation *observation)
{
    return observation->kind == SEEN_DARK_MINUTES && observation->number >= dark_after_minutes (question);
}

static char *
say_minutes (const DiagnosisQuestion *question, const Observation *observation)
{
    double after = dark_after_minutes (question);

    if (!was_left_on (question, observation))
        return g_strdup_printf (
            "A first start may train memory for %g minutes with a dark screen, and it was left on for %g: "
            "too early to say.",
            after, observation->number);
    return g_strdup_printf (
        "A first start may take %g minutes, and it was left on for %g: it is not still training memory.", after,
        observation->number);
}

static char *
say_look (const Observation *observation)
{
    g_autoptr (GPtrArray) causes = g_ptr_array_new ();

    if (observation->cause != NULL)
        return g_strdup_printf (
            "Found: %s. With one thing wrong at a time, no other part or fitting is to blame; a rule may "
            "be broken beside it.",
            observation->cause->says);
    for (guint i = 0; i < observation->look->finds->len; i++)
        g_ptr_array_add (causes, (char *) ((const Cause *) observation->look->finds->pdata[i])->says);
    g_autofree char *joined = text_join (causes, "and");
    return g_strdup_printf ("Nothing was found, which rules out: %s.", joined);
}

/* NULL where docs/method.md gives it no meaning of its own. Transfer full. */
static char *
say_without_sign (const DiagnosisQuestion *question, const Observation *observation)
{
    switch (observation->kind) {
    case SEEN_DARK_MINUTES:
        return say_minutes (question, observation);
    case SEEN_WITH: /* more of it when that is known: given_say_swap() */
        return g_strdup (observation->started ? "It started so." : "It stays dark so too.");
    case SEEN_LOOKED:
        return say_look (observation);
    case SEEN_OTHER_IMAGE:
        return started_from_other_image (observation)
                   ? g_strdup (
                         "It starts from the other image: what is wrong is in the active image or in its release, not "
                         "in the parts.")
                   : NULL;
    default:
        return NULL;
    }
}

/* ---- Signs given ---- */

/* Takes over `says`. */
static SignGiven *
add_given (Evidence *evidence, const Observation *observation, const Sign *sign, char *says, Source source)
{
    SignGiven *given = g_new0 (SignGiven, 1);

    *given = (SignGiven){ .observation = observation, .sign = sign, .says = says, .source = source };
    g_ptr_array_add (evidence->given, given);
    return given;
}

static void
give_signs_of (const DiagnosisQuestion *question, const Observation *observation, Evidence *evidence)
{
    const GPtrArray *signs = question->library->signs;
    guint before = evidence->given->len;
    char *says = say_without_sign (question, observation);

    if (says != NULL) {
        SignGiven *given = add_given (evidence, observation, NULL, says, no_source);

        given->waited = was_left_on (question, observation);
        given_mark_swap (question, given);
    }
    for (guint i = 0; signs != NULL && i < signs->len; i++) {
        const Sign *sign = signs->pdata[i];

        if (sign_is_given (sign, question->unit->board, observation))
            add_given (evidence, observation, sign, g_strdup (sign->says), sign->source);
    }
    if (evidence->given->len == before)
        g_ptr_array_add (evidence->without_sign, (gpointer) observation);
}

void
evidence_give_signs (const DiagnosisQuestion *question, Evidence *evidence)
{
    for (guint i = 0; question->seen != NULL && i < question->seen->observations->len; i++)
        give_signs_of (question, question->seen->observations->pdata[i], evidence);
}

/* Left dark for long enough, or something else says that it is not training. */
static gboolean
has_waited (const DiagnosisQuestion *question, const Evidence *evidence)
{
    const Observation *dark = seen_first (question->seen, SEEN_DARK_MINUTES);

    if (dark != NULL && was_left_on (question, dark))
        return TRUE;
    for (guint i = 0; i < question->library->looks->len; i++) {
        const LookFirst *look = question->library->looks->pdata[i];

        for (guint c = 0; look->finds != NULL && c < look->finds->len; c++) {
            const Cause *cause = look->finds->pdata[c];

            for (guint g = 0; g_str_equal (cause->id, TRAINING_CAUSE) && g < evidence->given->len; g++)
                if (evidence_counts (evidence, g) && given_excludes_cause (evidence_given (evidence, g), cause))
                    return TRUE;
        }
    }
    return FALSE;
}

Evidence *
evidence_find (const DiagnosisQuestion *question, const DarkAnswer *dark)
{
    Evidence *evidence = g_new0 (Evidence, 1);

    evidence->given = g_ptr_array_new_with_free_func (sign_given_free);
    evidence->without_sign = g_ptr_array_new ();
    evidence->conflicts = g_ptr_array_new_with_free_func (conflict_free);
    evidence_give_signs (question, evidence);
    evidence_find_conflicts (question, dark, evidence);
    evidence->waited = has_waited (question, evidence);
    evidence->too_early = !evidence->waited;
    return evidence;
}

/* ---- What a sign excludes ---- */

static gboolean
sign_excludes (const Sign *sign, const Cause *cause, const char *rule)
{
    for (guint i = 0; i < sign->excludes->len; i++) {
        const SignTarget *target = &g_array_index (sign->excludes, SignTarget, i);

        if (cause != NULL && target->cause == cause)
            return TRUE;
        if (rule != NULL && (target->any_rule || (target->rule != NULL && target->rule->id == rule)))
            return TRUE;
    }
    return FALSE;
}

gboolean
given_excludes_all_causes (const SignGiven *given)
{
    return given->sign == NULL && started_from_other_image (given->observation);
}

gboolean
given_excludes_cause (const SignGiven *given, const Cause *cause)
{
    const Observation *observation = given->observation;

    if (given->sign != NULL)
        return sign_excludes (given->sign, cause, NULL);
    if (given_excludes_all_causes (given))
        return TRUE;
    if (observation->kind == SEEN_WITH)
        return (observation->started || given->shows) && given_swap_excludes (given, cause);
    if (observation->kind == SEEN_LOOKED)
        return observation->cause != NULL ? observation->cause != cause : observation->look == cause->look;
    return given->waited && g_str_equal (cause->id, TRAINING_CAUSE);
}

/* No light and no fan shows that the host came further than a rule allows. */
static gboolean
is_of_lights_or_fans (const SignGiven *given)
{
    return given->sign != NULL && (given->sign->kind == SEEN_POWER_LIGHT || given->sign->kind == SEEN_FANS);
}

gboolean
given_excludes_rule (const SignGiven *given, const char *rule)
{
    return given->sign != NULL && !is_of_lights_or_fans (given) && sign_excludes (given->sign, NULL, rule);
}

gboolean
given_comes_before_rule (const SignGiven *given, const char *rule)
{
    return is_of_lights_or_fans (given) && sign_excludes (given->sign, NULL, rule);
}
