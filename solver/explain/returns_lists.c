/* SPDX-License-Identifier: MIT */
/* A return in words: what was tried, what that rules out, what was not tried. */
#include "explain/returns_words.h"

#include "explain/explain_words.h"

static void
list_tried (const Saying *saying)
{
    const Seen *seen = saying->question->seen;

    for (guint i = 0; seen != NULL && i < seen->observations->len; i++)
        g_ptr_array_add (saying->block->tried,
                         observation_words (saying->question->unit->board, seen->observations->pdata[i]));
}

/* "left on and dark for 12 minutes: a first start that still trains memory"; nothing where it rules nothing out. */
static void
add_ruled_out (const Saying *saying, const SignGiven *given)
{
    g_autofree char *causes = given_causes_out (saying->question, given);
    const char *releases = given->releases_out;

    if (causes == NULL && releases == NULL)
        return;
    g_autofree char *seen = observation_words (saying->question->unit->board, given->observation);
    g_ptr_array_add (saying->block->rules_out,
                     g_strdup_printf ("%s%s: %s%s%s", seen,
                                      given_is_dark_start (given) ? ", and these parts taken to be good" : "",
                                      causes != NULL ? causes : "", causes != NULL && releases != NULL ? "; " : "",
                                      releases != NULL ? releases : ""));
}

static void
list_ruled_out (const Saying *saying)
{
    const Evidence *evidence = saying->diagnosis->evidence;

    for (guint g = 0; g < evidence->given->len; g++)
        if (evidence_counts (evidence, g))
            add_ruled_out (saying, evidence_given (evidence, g));
}

/* "contacts (8 minutes): a bent contact in the socket or dirt or paste on the contacts" */
static char *
check_in_words (const PhysicalCauses *physical, const CheckDue *check)
{
    g_autoptr (GPtrArray) causes = g_ptr_array_new ();

    for (guint i = 0; i < physical->causes->len; i++) {
        const CauseWeight *weight = physical->causes->pdata[i];

        if (weight->cause->look == check->look && weight->probability > 0)
            g_ptr_array_add (causes, (char *) weight->cause->says);
    }
    g_autofree char *joined = explain_join (causes, "or");
    return g_strdup_printf ("the look %s (%g minutes): %s", check->look->id, check->minutes, joined);
}

/* Where a rule explains it all, waiting longer or another such part shows nothing. */
static gboolean
rule_explains_all (const Saying *saying)
{
    return saying->block->verdict == RETURN_NO_FIRMWARE || saying->block->verdict == RETURN_RULE;
}

static void
list_starts_left (const Saying *saying)
{
    const DiagnosisQuestion *question = saying->question;
    GPtrArray *left = saying->block->left;
    guint slot = saying->block->slot;
    g_autofree char *part = explain_part (saying->part->part, saying->part->stepping);
    g_autofree char *names = saying_unknown_components (saying);

    if (saying->block->verdict == RETURN_NO_FIRMWARE)
        g_ptr_array_add (left, g_strdup_printf ("a start of %s under firmware that states that it starts it", part));
    if (saying->block->verdict == RETURN_RULE)
        g_ptr_array_add (left, g_strdup_printf ("a start of %s with none of these rules broken", part));
    if (rule_explains_all (saying))
        return;
    if (names[0] != '\0')
        g_ptr_array_add (left, g_strdup_printf ("reading the release of %s", names));
    if (saying->diagnosis->evidence->too_early)
        g_ptr_array_add (left, g_strdup_printf ("leaving it on, dark, for %g minutes: a first start may take so long",
                                                dark_after_minutes (question)));
    if (seen_with_like (question, slot, TRUE) == NULL && seen_with_like (question, slot, FALSE) == NULL)
        g_ptr_array_add (left, g_strdup_printf ("another %s in %s, with all else the same", part, saying->slot));
}

static void
list_left (const Saying *saying)
{
    const PhysicalCauses *physical = saying->diagnosis->physical;

    if (saying->block->verdict == RETURN_STARTS)
        return;
    list_starts_left (saying);
    for (guint i = 0; physical != NULL && i < physical->checks->len; i++)
        g_ptr_array_add (saying->block->left,
                         check_in_words (physical, &g_array_index (physical->checks, CheckDue, i)));
    char *only = saying_what_is_left (saying);
    if (only != NULL)
        g_ptr_array_add (saying->block->left, only);
}

void
return_block_list (const Saying *saying)
{
    list_tried (saying);
    list_ruled_out (saying);
    list_left (saying);
}
