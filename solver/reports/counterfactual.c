/* SPDX-License-Identifier: MIT */
/* Routes without one of their steps, and what is refused first in them. */
#include "reports/counterfactual.h"

#include "reports/words.h"

static const Step *
step_at (const RouteJob *job, guint index)
{
    return &g_array_index (job->steps, Step, index);
}

int
next_on_slot (const RouteJob *job, guint index)
{
    for (guint i = index + 1; i < job->steps->len; i++)
        if (step_at (job, i)->kind != STEP_WRITE && step_at (job, i)->slot == step_at (job, index)->slot)
            return (int) i;
    return -1;
}

static gboolean *
steps_to_leave_out (const RouteJob *job, guint index)
{
    gboolean *left_out = g_new0 (gboolean, job->steps->len);
    StepKind kind = step_at (job, index)->kind;
    int next = kind == STEP_WRITE ? -1 : next_on_slot (job, index);

    left_out[index] = TRUE;
    if (next >= 0 && step_at (job, (guint) next)->kind != kind)
        left_out[next] = TRUE;
    return left_out;
}

/* The steps that stay, and which of the route each of them is. */
static GArray *
shortened (const RouteJob *job, guint index, const gboolean *left_out, GArray *numbers)
{
    GArray *steps = g_array_new (FALSE, FALSE, sizeof (Step));
    const Step *gone = step_at (job, index);

    for (guint i = 0; i < job->steps->len; i++) {
        Step step = *step_at (job, i);

        if (left_out[i])
            continue;
        if (i > index && gone->kind != STEP_WRITE && step.kind == STEP_REMOVE && step.slot == gone->slot)
            step.part = NULL;
        g_array_append_val (steps, step);
        g_array_append_val (numbers, i);
    }
    return steps;
}

/* Transfer full. */
static State *
start_of (const RouteJob *job, guint at_case)
{
    if (job->starts != NULL)
        return state_copy (job->starts->pdata[at_case]);
    return state_from_unit (job->unit, job->cases == NULL ? NULL : job->cases->pdata[at_case]);
}

void
without_step (const RouteJob *job, guint index, Without *without)
{
    gboolean *left_out = steps_to_leave_out (job, index);
    g_autoptr (GArray) numbers = g_array_new (FALSE, FALSE, sizeof (guint));
    g_autoptr (GArray) steps = shortened (job, index, left_out, numbers);
    guint count = job->cases == NULL ? 1 : job->cases->len;

    *without = (Without){ left_out, NULL, -1, 0 };
    for (guint i = 0; i < count && without->walk == NULL; i++) {
        g_autoptr (State) start = start_of (job, i);
        Walk *walk = check_walk (job->library, job->shop, job->want, start, steps);

        if (walk->sound) {
            walk_free (walk);
            continue;
        }
        without->walk = walk;
        without->at_case = i;
        if (walk->first_bad < steps->len)
            without->refused = (int) g_array_index (numbers, guint, walk->first_bad);
    }
}

void
without_clear (Without *without)
{
    g_clear_pointer (&without->left_out, g_free);
    g_clear_pointer (&without->walk, walk_free);
}

static gboolean
keeps_dark (const Broken *broken)
{
    return broken->breaking == BREAKING_STOPS ||
           (broken->breaking == BREAKING_HARMS && (broken->powers & POWER_ON) != 0);
}

static char *
facts_in_words (const Broken *broken)
{
    GString *text = g_string_new (NULL);

    for (guint i = 0; i < broken->facts->len; i++) {
        const Fact *fact = broken->facts->pdata[i];
        g_autofree char *place = words_place (fact->at);

        g_string_append_printf (text, *place == '\0' ? "%s%s" : "%s%s (%s)", i == 0 ? "" : "; ", fact->text, place);
    }
    return g_string_free (text, FALSE);
}

char *
what_keeps_dark (const RouteJob *job, const State *state)
{
    g_autoptr (GPtrArray) broken = check_state (job->library, job->shop, state);

    for (guint i = 0; i < broken->len; i++) {
        const Broken *rule = broken->pdata[i];

        if (keeps_dark (rule))
            return rule->facts->len == 0 ? g_strdup (rule->says) : facts_in_words (rule);
    }
    return NULL;
}
