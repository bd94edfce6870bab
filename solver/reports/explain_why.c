/* SPDX-License-Identifier: MIT */
/* Why a unit is dark: what is enough to keep it so, case by case, and what would have to change; and what tells the cases
 * apart. */
#include "reports/explain_sheet.h"
#include "reports/broken_text.h"

#define MOST_SETS_SAID    6
#define MOST_CHANGES_SAID 3

static gboolean
says_why (const DarkCase *one)
{
    return one->starts != STARTS_YES || one->broken->len > 0;
}

static const char *
why_heading (const ExplainReport *report)
{
    const GPtrArray *cases = report->diagnosis->dark->cases;

    for (guint i = 0; i < cases->len; i++)
        if (cases->len > 1 || says_why (g_ptr_array_index (cases, i)))
            return "Why";
    return NULL;
}

/* ---- What is enough ---- */

/* How the rule is broken as things stand. What the set's own facts say word for word is left out. */
static void
say_values (Paper *paper, const DarkCase *one, const DarkSet *set, const Broken *broken)
{
    for (guint i = 0; i < broken->facts->len; i++) {
        const Fact *fact = g_ptr_array_index (broken->facts, i);
        g_autofree char *words = words_with_place (fact->text, fact->at, NULL);
        gboolean said = FALSE;

        for (guint f = 0; f < set->facts->len; f++) {
            const DarkFact *own = one->facts->pdata[g_array_index (set->facts, guint, f)];

            said |= g_str_equal (own->says, fact->text);
        }
        if (!said)
            paper_say (paper, 7, 9, "%s", words);
    }
}

/* `said`: ids of rules whose sentence was said before. */
static void
say_rule (Paper *paper, const DarkCase *one, const DarkSet *set, const DarkRule *rule, GHashTable *said)
{
    if (g_hash_table_add (said, (gpointer) rule->id)) {
        g_autofree char *words = words_with_place (rule->says, rule->at, &rule->source);
        gboolean harms = rule->broken != NULL && rule->broken->breaking == BREAKING_HARMS;

        paper_say (paper, 5, 7, "[%s] %s%s", rule->id, harms ? MARK_BAD "It may do damage." MARK_PLAIN " " : "", words);
    } else {
        paper_say (paper, 5, 7, "[%s], as above", rule->id);
    }
    if (rule->broken != NULL)
        say_values (paper, one, set, rule->broken);
}

static void
say_set (Paper *paper, const DarkCase *one, guint number, GHashTable *said)
{
    const DarkSet *set = g_ptr_array_index (one->sets, number - 1);
    g_autofree char *label = g_strdup_printf ("%u.", number);
    g_autoptr (GPtrArray) facts = g_ptr_array_new_with_free_func (g_free);

    for (guint i = 0; i < set->facts->len; i++) {
        const DarkFact *fact = one->facts->pdata[g_array_index (set->facts, guint, i)];

        g_ptr_array_add (facts, words_with_place (fact->says, fact->at, NULL));
    }
    g_autofree char *joined = text_join (facts, "and");
    paper_label (paper, 2, 5, label, MARK_STRONG "%s" MARK_PLAIN "%s", joined,
                 set->stated || set->rules->len == 0 ? "" : ": no fact says that these go together");
    for (guint i = 0; i < set->rules->len; i++)
        say_rule (paper, one, set, g_ptr_array_index (set->rules, i), said);
}

/* ---- What would have to change ---- */

static char *
change_in_words (const Board *board, const DarkFact *fact)
{
    switch (fact->kind) {
    case DARK_HELD:
        return g_strdup_printf ("something else in %s", board_slot (board, fact->index)->name);
    case DARK_EMPTY:
        return g_strdup_printf ("a part in %s", board_slot (board, fact->index)->name);
    case DARK_RELEASE:
        return g_strdup_printf ("another release of %s", board_component (board, fact->index)->name);
    case DARK_FAILED:
        return g_strdup_printf ("%s written anew", board_component (board, fact->index)->name);
    case DARK_REVISION:
        return g_strdup ("a board of another revision");
    case DARK_REDUNDANT:
        return g_strdup ("a shop that does not ask for redundant supplies");
    }
    g_assert_not_reached ();
}

static void
say_changes (Paper *paper, const Board *board, const DarkCase *one)
{
    guint count = MIN (one->corrections->len, MOST_CHANGES_SAID);

    if (count == 0)
        return;
    paper_say (paper, 2, 4,
               count == 1 ? "With all else as it is, it starts once this is changed to what suits:"
                          : "With all else as it is, it starts once one of these is changed to what suits:");
    for (guint i = 0; i < count; i++) {
        const GArray *correction = g_ptr_array_index (one->corrections, i);
        g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

        for (guint f = 0; f < correction->len; f++)
            g_ptr_array_add (words, change_in_words (board, one->facts->pdata[g_array_index (correction, guint, f)]));
        g_autofree char *joined = text_join (words, "and");
        paper_label (paper, 4, 6, "-", "%s", joined);
    }
    if (one->corrections->len > count)
        paper_say (paper, 4, 6, "and %u others; --json has them", one->corrections->len - count);
}

/* ---- Cases ---- */

static void
say_case_heading (Paper *paper, const ExplainReport *report, guint index)
{
    const DarkCase *one = g_ptr_array_index (report->diagnosis->dark->cases, index);
    const Evidence *evidence = report->diagnosis->evidence;
    g_autofree char *releases = explain_case_in_words (report->unit, one);
    const char *mark = one->starts == STARTS_YES ? MARK_GOOD : one->starts == STARTS_NO ? MARK_BAD : MARK_CAUTION;

    paper_say (paper, 2, 4, MARK_STRONG "With %s" MARK_PLAIN ": %s%s" MARK_PLAIN "%s.", releases, mark,
               one->starts == STARTS_YES  ? "no rule is broken"
               : one->starts == STARTS_NO ? "it can't start"
                                          : "it is not known to start",
               evidence->case_out != NULL && evidence->case_out[index] ? "; what was seen rules this out" : "");
}

static void
say_sets (Paper *paper, const ExplainReport *report, const DarkCase *one, GHashTable *said)
{
    guint count = MIN (one->sets->len, MOST_SETS_SAID);

    if (count > 0)
        paper_say (paper, 2, 4,
                   count == 1 ? "This is enough to keep it dark:" : "Each of these is enough to keep it dark:");
    for (guint i = 1; i <= count; i++)
        say_set (paper, one, i, said);
    if (one->sets->len > count)
        paper_say (paper, 2, 4, "And %u more; --json has them.", one->sets->len - count);
    if (!one->complete && one->starts != STARTS_YES)
        paper_say (paper, 2, 4, "There may be others; not all were looked for.");
    say_changes (paper, report->unit->board, one);
}

static gboolean
set_has_rule (const DarkSet *set, const char *id)
{
    for (guint i = 0; i < set->rules->len; i++)
        if (g_str_equal (((const DarkRule *) set->rules->pdata[i])->id, id))
            return TRUE;
    return FALSE;
}

/* A rule that may do damage, and that no set that was said speaks of. */
static gboolean
some_harm_is_left_out (const DarkCase *one)
{
    for (guint b = 0; b < one->broken->len; b++) {
        const Broken *broken = g_ptr_array_index (one->broken, b);
        gboolean said = broken->breaking != BREAKING_HARMS;

        for (guint i = 0; i < one->sets->len && i < MOST_SETS_SAID; i++)
            said |= set_has_rule (g_ptr_array_index (one->sets, i), broken->rule);
        if (!said)
            return TRUE;
    }
    return FALSE;
}

static void
say_why (Paper *paper, const ExplainReport *report)
{
    const GPtrArray *cases = report->diagnosis->dark->cases;
    g_autoptr (GHashTable) said = g_hash_table_new (g_str_hash, g_str_equal);

    for (guint i = 0; i < cases->len; i++) {
        const DarkCase *one = g_ptr_array_index (cases, i);

        if (i > 0)
            paper_blank (paper);
        if (cases->len > 1)
            say_case_heading (paper, report, i);
        say_sets (paper, report, one, said);
        if (some_harm_is_left_out (one)) {
            broken_text_topic (paper, one->broken, TOPIC_HARMS_PLUGGED);
            broken_text_topic (paper, one->broken, TOPIC_HARMS);
        }
        broken_text_topic (paper, one->broken, TOPIC_WARNS);
    }
}

const ExplainSection explain_why = { why_heading, say_why };

/* ---- What tells the cases apart ---- */

static const char *
telling_heading (const ExplainReport *report)
{
    return report->diagnosis->tellings->len > 0 ? "What tells which it is, the quickest first" : NULL;
}

static void
say_telling (Paper *paper, const ExplainReport *report)
{
    const GPtrArray *tellings = report->diagnosis->tellings;

    for (guint i = 0; i < tellings->len; i++) {
        const Telling *telling = g_ptr_array_index (tellings, i);
        g_autofree char *label = g_strdup_printf ("%u.", i + 1);
        g_autofree char *minutes = words_minutes (telling->minutes);

        paper_label (paper, 2, 5, label, "%s (%s; %s)", telling->says, minutes,
                     telling->for_certain ? "settles it" : "may settle it");
        if (telling->steps != NULL)
            explain_say_steps (paper, 5, report, telling->steps);
    }
    paper_say (paper, 2, 4, "Put what was read into the unit's file, and ask again.");
}

const ExplainSection explain_telling = { telling_heading, say_telling };
