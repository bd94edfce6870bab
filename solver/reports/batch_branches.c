/* SPDX-License-Identifier: MIT */
/* What the steps of a plan with branches are called in a batch, on what they depend, and where its other parts differ. */
#include "reports/batch_branches.h"

#include "reports/branches_text.h"
#include "reports/releases_text.h"

static const BranchLeg *
leg_at (const BatchMode *mode, guint leg)
{
    return mode->answer->branches->legs->pdata[leg];
}

/* ---- Conditions ---- */

static void
apply_way (const BatchMode *mode, int leg, State *state)
{
    if (leg < 0)
        return;
    apply_way (mode, leg_at (mode, (guint) leg)->parent, state);
    for (guint i = 0; i < leg_at (mode, (guint) leg)->branch->steps->len; i++)
        state_apply (state, &g_array_index (leg_at (mode, (guint) leg)->branch->steps, Step, i));
}

/* What the reading right before it shows. */
static char *
own_condition (const BatchClass *class, const BatchMode *mode, const BranchLeg *leg)
{
    g_autoptr (GPtrArray) starts = g_ptr_array_new_with_free_func ((GDestroyNotify) state_free);
    const BranchLeg *after = leg_at (mode, (guint) leg->parent);

    for (guint i = 0; i < leg->branch->cases->len; i++) {
        State *state = state_from_unit (class->unit, leg->branch->cases->pdata[i]);

        apply_way (mode, leg->parent, state);
        g_ptr_array_add (starts, state);
    }
    return branch_condition (after->unit, after->branch, leg->branch, starts);
}

/* Behind which step the reading is that leads to a leg. Transfer full. */
static char *
where_read (const BatchMode *mode, guint after)
{
    guint count = leg_at (mode, after)->branch->steps->len;
    g_autofree char *letter = plan_part_letter (after);

    if (count > 0)
        return g_strdup_printf ("after %s%u", letter, count);
    return g_strdup (leg_at (mode, after)->parent < 0 ? "at first" : "then");
}

/* Legs from the first reading on to that one. Transfer full (GArray of guint). */
static GArray *
legs_to (const BatchMode *mode, guint index)
{
    GArray *legs = g_array_new (FALSE, FALSE, sizeof (guint));

    for (int leg = (int) index; leg_at (mode, (guint) leg)->parent >= 0; leg = leg_at (mode, (guint) leg)->parent) {
        guint one = (guint) leg;

        g_array_prepend_val (legs, one);
    }
    return legs;
}

/* Of several readings where each one is belongs to it: the same may be read twice. */
char *
batch_leg_condition (const BatchClass *class, const BatchMode *mode, guint index)
{
    g_autoptr (GArray) legs = legs_to (mode, index);
    GString *text = g_string_new (NULL);
    gboolean dark = FALSE;

    if (legs->len <= 1) {
        g_string_free (text, TRUE);
        return legs->len == 0 ? NULL : own_condition (class, mode, leg_at (mode, index));
    }
    for (guint i = 0; i < legs->len; i++) {
        const BranchLeg *leg = leg_at (mode, g_array_index (legs, guint, i));
        g_autofree char *where = where_read (mode, (guint) leg->parent);
        g_autofree char *own = own_condition (class, mode, leg);

        g_string_append_printf (text, "%s%s %s%s", i == 0 ? "" : ", and ", where, own,
                                dark && leg->branch->dark ? " again" : "");
        dark = leg->branch->dark;
    }
    return g_string_free (text, FALSE);
}

/* ---- Steps ---- */

void
batch_words_free (BatchWords *words)
{
    if (words == NULL)
        return;
    g_ptr_array_unref (words->labels);
    g_ptr_array_unref (words->conditions);
    g_free (words);
}

BatchWords *
batch_words_new (const BatchClass *class, const BatchMode *mode)
{
    BatchWords *words = NULL;
    guint number = 0;

    if (mode->branching == NULL)
        return NULL;
    words = g_new0 (BatchWords, 1);
    words->labels = g_ptr_array_new_with_free_func (g_free);
    words->conditions = g_ptr_array_new_with_free_func (g_free);
    for (guint i = 0; i < mode->steps->len; i++) {
        guint leg = g_array_index (mode->branching->legs, guint, i);
        g_autofree char *letter = plan_part_letter (leg);

        number = i > 0 && leg == g_array_index (mode->branching->legs, guint, i - 1) ? number + 1 : 1;
        g_ptr_array_add (words->labels, g_strdup_printf ("%s%u", letter, number));
        g_ptr_array_add (words->conditions, batch_leg_condition (class, mode, leg));
    }
    return words;
}

static void
add_reading (const BatchWay *way, const BatchReading *reading, GString *text)
{
    if (reading->after->then == THEN_TRY)
        g_string_append (text, "start it and read what it shows");
    else
        g_string_append_printf (text, "read %s on the controller's page",
                                board_component (way->of->unit->board, reading->after->component)->name);
}

char *
batch_words_before (const BatchWay *way, gboolean open, guint step)
{
    GString *text = g_string_new (NULL);
    const char *condition = NULL;

    if (way->words == NULL)
        return g_string_free (text, FALSE);
    for (guint i = 0; open && i < way->mode->branching->readings->len; i++) {
        const BatchReading *reading = &g_array_index (way->mode->branching->readings, BatchReading, i);

        if (reading->before != step)
            continue;
        add_reading (way, reading, text);
        g_string_append (text, "; then ");
    }
    g_string_append (text, way->words->labels->pdata[step]);
    condition = open ? way->words->conditions->pdata[step] : NULL;
    if (condition != NULL)
        g_string_append_printf (text, ", only if %s", condition);
    g_string_append (text, ": ");
    return g_string_free (text, FALSE);
}

char *
batch_words_behind (const BatchWay *way, gboolean open, guint step)
{
    GString *text = g_string_new (NULL);

    for (guint i = 0; open && way->words != NULL && i < way->mode->branching->readings->len; i++) {
        const BatchReading *reading = &g_array_index (way->mode->branching->readings, BatchReading, i);

        if (reading->before < way->mode->steps->len || step + 1 < way->mode->steps->len)
            continue;
        g_string_append (text, "; then ");
        add_reading (way, reading, text);
    }
    return g_string_free (text, FALSE);
}

/* ---- The other parts ---- */

static gboolean
is_on_the_way (const BatchMode *mode, guint leg)
{
    gboolean there = leg_at (mode, leg)->parent < 0;

    for (guint i = 0; i < mode->branching->readings->len; i++)
        there |= g_array_index (mode->branching->readings, BatchReading, i).next == leg_at (mode, leg)->branch;
    return there;
}

static gboolean
fits (const Branch *branch, const Lot *lot)
{
    for (guint i = 0; i < branch->steps->len; i++) {
        const Step *step = &g_array_index (branch->steps, Step, i);

        if (step->kind == STEP_FIT && step->part == lot->part && step->stepping == lot->stepping &&
            step->bound == lot->bound && step->owner == lot->owner)
            return TRUE;
    }
    return FALSE;
}

static void
add_leg (const BatchWay *way, guint leg, GPtrArray *words)
{
    g_autofree char *condition = batch_leg_condition (way->of, way->mode, leg);
    g_autofree char *letter = plan_part_letter (leg);

    g_ptr_array_add (words, g_strdup_printf ("in part %s, if %s", letter, condition));
}

static char *
joined (GPtrArray *words)
{
    g_ptr_array_add (words, NULL);
    return g_strjoinv ("; or ", (char **) words->pdata);
}

char *
batch_lot_condition (const BatchWay *way, const Lot *lot)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

    for (guint i = 0; i < way->mode->answer->branches->legs->len; i++)
        if (!is_on_the_way (way->mode, i) && fits (leg_at (way->mode, i)->branch, lot))
            add_leg (way, i, words);
    return joined (words);
}

char *
batch_no_way_shows (const BatchWay *way)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

    for (guint i = 0; i < way->mode->answer->branches->legs->len; i++) {
        g_autofree char *condition = batch_leg_condition (way->of, way->mode, i);
        g_autofree char *letter = plan_part_letter (i);

        if (leg_at (way->mode, i)->branch->then == THEN_GIVE_UP)
            g_ptr_array_add (words, g_strdup_printf ("where %s (part %s)", condition, letter));
    }
    return joined (words);
}

char *
batch_no_way_releases (const BatchWay *way)
{
    g_autoptr (GPtrArray) cases = g_ptr_array_new ();
    const GArray *costs = NULL;

    if (way->mode->branching == NULL || way->mode->branching->given_up == 0)
        return NULL;
    costs = way->mode->answer->branches->check->costs;
    for (guint i = 0; i < costs->len; i++)
        if (g_array_index (costs, BranchCost, i).given_up)
            g_ptr_array_add (cases, (gpointer) g_array_index (costs, BranchCost, i).releases);
    return releases_in_words (way->of->unit, cases);
}
