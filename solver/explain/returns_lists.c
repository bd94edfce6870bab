/* SPDX-License-Identifier: MIT */
/* A return in words: what was tried, what that rules out, what was not tried. */
#include "explain/returns_words.h"

#include "explain/explain_words.h"

/* "with supply-p in supply1 it starts (it started with this part in)". Transfer full. */
static char *
tried_in_words (const Saying *saying, const Observation *observation)
{
    char *words = observation_words (saying->question->unit->board, observation);

    if (saying->block->verdict == RETURN_STARTS ||
        !started_with_it_in (saying->question, saying->block->slot, observation))
        return words;
    g_autofree char *seen = words;
    return g_strdup_printf ("%s (it started with this part in)", seen);
}

static void
list_tried (const Saying *saying)
{
    const Seen *seen = saying->question->seen;

    for (guint i = 0; seen != NULL && i < seen->observations->len; i++)
        g_ptr_array_add (saying->block->tried, tried_in_words (saying, seen->observations->pdata[i]));
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

/* A look not made yet that finds a fault of the board where parts of these kinds sit: a good part put there may be
 * damaged too, whatever keeps the unit dark. NULL: none. */
static const LookFirst *
look_before_swap (const Saying *saying, guint kinds)
{
    const GPtrArray *looks = saying->question->library->looks;

    for (guint i = 0; i < looks->len; i++) {
        const LookFirst *look = looks->pdata[i];

        if (look_is_done (saying->question->seen, look))
            continue;
        for (guint c = 0; look->finds != NULL && c < look->finds->len; c++) {
            const Cause *cause = look->finds->pdata[c];

            if (cause->blames_board && (cause->fit_of & kinds) != 0 && cause_suits (saying->question->unit, cause))
                return look;
        }
    }
    return NULL;
}

/* Kinds of part that a look finds a fault of, which is done with a good one in its place. */
static guint
blamed_by (const LookFirst *look)
{
    guint kinds = 0;

    for (guint c = 0; look->finds != NULL && c < look->finds->len; c++)
        kinds |= ((const Cause *) look->finds->pdata[c])->blames;
    return kinds;
}

/* "contacts (8 minutes): a bent contact in the socket or dirt or paste on the contacts"; of a look that puts a good part
 * in, which look comes before. */
static char *
check_in_words (const Saying *saying, const CheckDue *check)
{
    const PhysicalCauses *physical = saying->diagnosis->physical;
    g_autoptr (GPtrArray) causes = g_ptr_array_new ();
    guint kinds = blamed_by (check->look);
    const LookFirst *before = kinds != 0 ? look_before_swap (saying, kinds) : NULL;

    for (guint i = 0; i < physical->causes->len; i++) {
        const CauseWeight *weight = physical->causes->pdata[i];

        if (weight->cause->look == check->look && weight->probability > 0)
            g_ptr_array_add (causes, (char *) weight->cause->says);
    }
    g_autofree char *joined = text_join (causes, "or");
    return g_strdup_printf ("the look %s (%g minutes%s%s): %s", check->look->id, check->minutes,
                            before != NULL ? ", after the look " : "", before != NULL ? before->id : "", joined);
}

/* Where a rule explains it all, waiting longer or another such part shows nothing. */
static gboolean
rule_explains_all (const Saying *saying)
{
    return saying->block->verdict == RETURN_NO_FIRMWARE || saying->block->verdict == RETURN_RULE;
}

static gboolean
something_was_found (const Saying *saying)
{
    const Seen *seen = saying->question->seen;

    for (guint i = 0; seen != NULL && i < seen->observations->len; i++)
        if (((const Observation *) seen->observations->pdata[i])->cause != NULL)
            return TRUE;
    return FALSE;
}

/* Another such part in its place is worth a start: none was tried, nothing was found, and the place was looked at. */
static gboolean
like_part_is_left (const Saying *saying)
{
    const DiagnosisQuestion *question = saying->question;
    guint slot = saying->block->slot;

    return seen_with_like (question, NULL, slot, TRUE) == NULL &&
           seen_with_like (question, NULL, slot, FALSE) == NULL && !something_was_found (saying) &&
           look_before_swap (saying, 1u << saying->part->part->kind) == NULL;
}

static void
list_starts_left (const Saying *saying)
{
    GPtrArray *left = saying->block->left;
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
                                                dark_after_minutes (saying->question)));
    if (like_part_is_left (saying))
        g_ptr_array_add (left, g_strdup_printf ("another %s in %s, with all else the same", part, saying->slot));
}

/* Under power a rule may do harm: no start, and no look that takes one. */
static void
list_left_with_harm (const Saying *saying)
{
    const PhysicalCauses *physical = saying->diagnosis->physical;
    GPtrArray *left = saying->block->left;

    g_ptr_array_add (left, g_strdup ("putting right what may do harm under power, before any start"));
    for (guint i = 0; physical != NULL && i < physical->checks->len; i++) {
        const CheckDue *check = &g_array_index (physical->checks, CheckDue, i);

        if (!check->look->unit_on && blamed_by (check->look) == 0)
            g_ptr_array_add (left, check_in_words (saying, check));
    }
}

static void
list_left (const Saying *saying)
{
    const PhysicalCauses *physical = saying->diagnosis->physical;

    if (harm_may_be_done (saying->question, saying->diagnosis)) {
        list_left_with_harm (saying);
        return;
    }
    if (saying->block->verdict == RETURN_STARTS)
        return;
    list_starts_left (saying);
    for (guint i = 0; physical != NULL && i < physical->checks->len; i++)
        g_ptr_array_add (saying->block->left, check_in_words (saying, &g_array_index (physical->checks, CheckDue, i)));
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
