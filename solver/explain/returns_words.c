/* SPDX-License-Identifier: MIT */
/* A return in words: the verdict's sentence. */
#include "explain/returns_words.h"

#include "check/facts.h"
#include "explain/explain_words.h"

/* ---- What the firmware knows ---- */

/* As a release of the book is asked: of a part without a generation nothing can be stated. */
static SupportAnswer
support_of (const Release *release, const Fitted *part)
{
    Mark where;

    if (part->part->generation == NULL)
        return SUPPORT_NOT_STATED;
    return release_support (release, part->part->generation, part->stepping, &where);
}

/* "elvane b1"; of a part without a generation its name. Transfer full. */
static char *
generation_in_words (const Fitted *part)
{
    if (part->part->generation == NULL || part->stepping == NULL)
        return g_strdup (part->part->generation != NULL ? part->part->generation : part->part->name);
    return g_strdup_printf ("%s %s", part->part->generation, part->stepping);
}

/* The first release that one could write today; NULL: none in the book does. */
static const Release *
first_that_knows (const Component *component, const Fitted *part)
{
    for (guint r = 0; r < component->releases->len; r++) {
        const Release *release = component_release (component, r);

        if (release->withdrawn == NULL && support_of (release, part) == SUPPORT_YES)
            return release;
    }
    return NULL;
}

/* " system 1.2.0 or 1.4.0 does not state that it starts elvane b1; the first that does is 2.1.0." */
static void
say_component (const Saying *saying, guint component, GString *words)
{
    const UnitRelease *known = &saying->diagnosis->unit->releases[component];
    const Component *entry = board_component (saying->question->unit->board, component);
    g_autofree gboolean *without = g_new0 (gboolean, entry->releases->len + 1);
    const Release *first = first_that_knows (entry, saying->part);
    guint count = 0, stated = 0;

    for (guint r = 0; r < entry->releases->len; r++) {
        SupportAnswer support = support_of (component_release (entry, r), saying->part);

        without[r] = known->may_be[r] && support != SUPPORT_YES;
        count += without[r];
        stated += without[r] && support == SUPPORT_NO;
    }
    if (count == 0)
        return;
    g_autofree char *releases = explain_releases (entry, without);
    g_autofree char *generation = generation_in_words (saying->part);
    g_string_append_printf (words, " %s %s %s %s; ", entry->name, releases,
                            stated == count ? "states that it never starts" : "does not state that it starts",
                            generation);
    if (first != NULL)
        g_string_append_printf (words, "the first release that states that it does is %s.", first->name);
    else
        g_string_append (words, "no release in the book states that it does.");
}

static gboolean
began_with_one_that_knows (const Saying *saying, guint component)
{
    const UnitRelease *began = saying->question->unit->began_releases;
    const Component *entry = board_component (saying->question->unit->board, component);

    for (guint r = 0; began != NULL && r < entry->releases->len; r++)
        if (began[component].may_be[r] && support_of (component_release (entry, r), saying->part) == SUPPORT_YES)
            return TRUE;
    return FALSE;
}

/* A floor above what a component may have now: a newer release was in. Or the work began with one that knows the part. */
static gboolean
ran_newer_firmware (const Saying *saying)
{
    const Unit *unit = saying->diagnosis->unit;

    for (guint c = 0; c < unit->board->components->len; c++) {
        const UnitRelease *known = &unit->releases[c];
        guint lowest = 0;

        if (!board_component (unit->board, c)->states_starts)
            continue;
        while (lowest < board_component (unit->board, c)->releases->len && !known->may_be[lowest])
            lowest++;
        if (known->floor > (int) lowest || began_with_one_that_knows (saying, c))
            return TRUE;
    }
    return FALSE;
}

static char *
say_no_firmware (const Saying *saying)
{
    const Unit *unit = saying->diagnosis->unit;
    GString *words = g_string_new ("Not shown faulty: ");

    if (ran_newer_firmware (saying))
        g_string_append (words, "its present firmware does not know it.");
    else
        g_string_append_printf (words, "this board has never run firmware that knows it, %s.",
                                unit->factory.unwritten ? "and nobody has written any since it left the factory"
                                                        : "as far as its present releases say");
    for (guint c = 0; c < unit->board->components->len; c++)
        if (board_component (unit->board, c)->states_starts)
            say_component (saying, c, words);
    return g_string_free (words, FALSE);
}

/* ---- Other sentences ---- */

/* Says of each rule that keeps a case dark that is left, each once. Transfer full. */
static char *
rules_in_words (const Saying *saying)
{
    const DarkAnswer *dark = saying->diagnosis->dark;
    g_autoptr (GPtrArray) ids = g_ptr_array_new ();
    GString *words = g_string_new (NULL);

    for (guint i = 0; i < dark->cases->len; i++)
        for (guint b = 0; case_is_left (saying->diagnosis->evidence, i) && b < dark_case (dark, i)->broken->len; b++) {
            const Broken *broken = dark_case (dark, i)->broken->pdata[b];

            if (!broken_keeps_dark (broken) || g_ptr_array_find (ids, broken->rule, NULL) ||
                broken_only_by_failure (saying->question, dark_case (dark, i), broken->rule))
                continue;
            g_ptr_array_add (ids, (gpointer) broken->rule);
            g_string_append_printf (words, " %s", broken->says);
        }
    return g_string_free (words, FALSE);
}

/* Whether its release tells cases that are left apart; with too many cases, whether it is not known. */
static gboolean
release_matters (const Saying *saying, guint component)
{
    const DarkAnswer *dark = saying->diagnosis->dark;
    const UnitRelease *known = &saying->diagnosis->unit->releases[component];

    for (guint i = 0; i < dark->cases->len; i++)
        for (guint r = 0; case_is_left (saying->diagnosis->evidence, i) &&
                          r < board_component (saying->question->unit->board, component)->releases->len;
             r++)
            if (known->may_be[r] && !dark_case (dark, i)->may_be[component][r])
                return TRUE;
    return dark->cases->len == 0 && known->count > 1;
}

char *
saying_unknown_components (const Saying *saying)
{
    const Board *board = saying->question->unit->board;
    g_autoptr (GPtrArray) names = g_ptr_array_new ();

    for (guint c = 0; c < board->components->len; c++)
        if (release_matters (saying, c))
            g_ptr_array_add (names, (char *) board_component (board, c)->name);
    return text_join (names, "and");
}

static char *
say_rule (const Saying *saying)
{
    g_autofree char *rules = rules_in_words (saying);

    if (harm_explains_all (saying->diagnosis))
        return g_strdup_printf ("Not shown faulty by being dark: the unit was powered against a rule that may do "
                                "harm.%s",
                                rules);
    return g_strdup_printf (
        "Not shown faulty: as it stands the unit stays dark with such a part in %s, whatever the part is "
        "like.%s",
        saying->slot, rules);
}

static char *
say_not_read (const Saying *saying)
{
    g_autofree char *names = saying_unknown_components (saying);

    return g_strdup_printf (
        "Not shown faulty: with some of the releases that the unit may have it stays dark anyway. Read "
        "the release of %s first.",
        names);
}

static char *
say_too_early (const Saying *saying)
{
    const Observation *dark = seen_first (saying->question->seen, SEEN_DARK_MINUTES);
    double after = dark_after_minutes (saying->question);

    if (dark == NULL)
        return g_strdup_printf (
            "Not shown faulty: nobody says how long it was left on, and a first start may take %g minutes.", after);
    return g_strdup_printf ("Not shown faulty: it was left on for %g minutes, and a first start may take %g.",
                            dark->number, after);
}

char *
saying_what_is_left (const Saying *saying)
{
    const PhysicalCauses *physical = saying->diagnosis->physical;
    g_autoptr (GPtrArray) causes = g_ptr_array_new ();

    if (physical == NULL || !physical->only_left_over)
        return NULL;
    for (guint i = 0; i < physical->causes->len; i++) {
        const CauseWeight *weight = physical->causes->pdata[i];

        if (weight->cause->look->by_elimination && weight->probability > 0)
            g_ptr_array_add (causes, (char *) weight->cause->says);
    }
    g_autofree char *joined = text_join (causes, "or");
    return g_strdup_printf ("No look is left to make, which leaves: %s.", joined);
}

static char *
say_found (const Saying *saying)
{
    const Seen *seen = saying->question->seen;

    for (guint i = 0; seen != NULL && i < seen->observations->len; i++) {
        const Observation *observation = seen->observations->pdata[i];

        if (observation->cause != NULL)
            return g_strdup_printf ("Not shown faulty: something else was found, %s.", observation->cause->says);
    }
    g_autofree char *left = saying_what_is_left (saying);
    return g_strdup_printf ("Not shown faulty: what was seen rules out every fault of such a part.%s%s",
                            left != NULL ? " " : "", left != NULL ? left : "");
}

/* "a dead processor", of which part where there are several of them. */
static char *
say_shown (const Saying *saying)
{
    const Cause *cause = found_in_kind (saying->diagnosis->evidence, saying->part->part->kind);
    guint count = count_in_question (saying->question, saying->diagnosis, saying->part->part->kind);

    if (count > 1)
        return g_strdup_printf (
            "One of %u such parts is shown faulty by a look: %s. Which of them, the note does not say.", count,
            cause->says);
    return g_strdup_printf ("Shown faulty by a look: %s.", cause->says);
}

/* The part, or how it sat: that goes when another is put in its place too. */
static char *
say_like_starts (const Saying *saying)
{
    gboolean others = other_look_is_left (saying->diagnosis->physical, saying->part->part->kind);

    return g_strdup_printf ("Points to the part%s: a like part starts in %s, with all else the same.",
                            others ? ", or to how it sat" : "", saying->slot);
}

static char *
say_checks_left (const Saying *saying)
{
    if (saying->block->probability <= 0)
        return g_strdup_printf ("May be faulty: looks that find something else are left. The files name no fault of %s "
                                "that would keep a unit dark, and so no chance of one.",
                                explain_kinds (saying->part->part->kind));
    if (!other_look_is_left (saying->diagnosis->physical, saying->part->part->kind))
        return g_strdup_printf ("May be faulty: no look is left that finds something else, but more is left than this "
                                "part. As things stand it is the part with %.0f %%.",
                                saying->block->probability * 100);
    return g_strdup_printf (
        "May be faulty: looks that find something else are left. As things stand it is the part with "
        "%.0f %%.",
        saying->block->probability * 100);
}

static char *
say_verdict (const Saying *saying)
{
    switch (saying->block->verdict) {
    case RETURN_NO_FIRMWARE:
        return say_no_firmware (saying);
    case RETURN_RULE:
        return say_rule (saying);
    case RETURN_TOO_EARLY:
        return say_too_early (saying);
    case RETURN_NOT_READ:
        return say_not_read (saying);
    case RETURN_CONFLICT:
        return g_strdup ("Not shown faulty: what was seen does not fit together. Settle that first.");
    case RETURN_OTHER_CAUSE:
        return say_found (saying);
    case RETURN_ELSEWHERE:
        return g_strdup_printf ("Not shown faulty: a like part stays dark in %s too, with all else the same.",
                                saying->slot);
    case RETURN_CHECKS_LEFT:
        return say_checks_left (saying);
    case RETURN_LIKE_STARTS:
        return say_like_starts (saying);
    case RETURN_LEFT_OVER:
        return g_strdup ("Points to the part: what was looked at, and seen, rules out all else that a look finds.");
    case RETURN_FOUND:
        return say_shown (saying);
    case RETURN_STARTS:
        return g_strdup ("Nothing is wrong with it: the unit was seen to start with it in.");
    }
    g_assert_not_reached ();
}

/* Beside the verdict, where the unit was under power with a rule broken that may do harm. Takes over `verdict`. Transfer
 * full. */
static char *
with_harm (const Saying *saying, char *verdict)
{
    g_autofree char *says = verdict;
    g_autofree char *rules = harm_rules (saying->question, saying->diagnosis);

    if (rules == NULL || saying->block->verdict == RETURN_FOUND || saying->block->verdict == RETURN_STARTS)
        return g_steal_pointer (&says);
    return g_strdup_printf ("%s The part may have been damaged, under power against %s: have it checked, and put that "
                            "right before the next start.",
                            says, rules);
}

void
return_block_say (const DiagnosisQuestion *question, const Diagnosis *diagnosis, ReturnBlock *block)
{
    Saying saying = { question, diagnosis, &question->unit->fitted[block->slot], block,
                      board_slot (question->unit->board, block->slot)->name };

    block->says = with_harm (&saying, say_verdict (&saying));
    return_block_list (&saying);
}
