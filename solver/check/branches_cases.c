/* SPDX-License-Identifier: MIT */
/* The cases of a plan with branches: all of them are there, once, and none is told apart by what nobody has read. */
#include "check/branches_parts.h"

#include <stdarg.h>
#include <string.h>

static void
standing_free (gpointer data)
{
    Standing *standing = data;

    state_free (standing->state);
    g_free (standing);
}

GPtrArray *
standings_new (void)
{
    return g_ptr_array_new_with_free_func (standing_free);
}

void
standings_add (GPtrArray *standings, guint index, State *state)
{
    Standing *standing = g_new0 (Standing, 1);

    standing->index = index;
    standing->state = state;
    g_ptr_array_add (standings, standing);
}

/* "system began at 1.0.2 and logic at 3", or nothing where the unit has one case. Transfer full. */
static char *
case_in_words (const Unit *unit, const guint *releases)
{
    g_autoptr (GString) words = g_string_new (NULL);

    for (guint i = 0; i < unit->board->components->len; i++) {
        const Component *component = board_component (unit->board, i);

        if (unit->releases[i].count < 2)
            continue;
        g_string_append_printf (
            words, "%s%s %sat %s", words->len > 0 ? " and " : "", component->name, words->len > 0 ? "" : "began ",
            releases[i] < component->releases->len ? component_release (component, releases[i])->name
                                                   : "no release that there is");
    }
    return g_string_free (g_steal_pointer (&words), FALSE);
}

/* "after step 3". Transfer full. */
static char *
moment_in_words (const PlanWalk *walk)
{
    return walk->path->len > 0 ? g_strdup_printf ("after step %u", walk->path->len) : g_strdup ("at the beginning");
}

/* `releases` NULL: it is no case's fault alone. */
static gboolean
refuse_plan (PlanWalk *walk, const guint *releases, const char *moment, const char *what)
{
    g_autofree char *words = releases != NULL ? case_in_words (walk->unit, releases) : g_strdup ("");
    gboolean several = *words != '\0';

    walk->why = g_strdup_printf ("%s%s%s%s: %s", several ? "where " : "", words, several ? ", " : "", moment, what);
    return FALSE;
}

gboolean
plan_refuse (PlanWalk *walk, const char *format, ...)
{
    g_autofree char *moment = moment_in_words (walk);
    va_list args;

    va_start (args, format);
    g_autofree char *what = g_strdup_vprintf (format, args);
    va_end (args);
    return refuse_plan (walk, NULL, moment, what);
}

gboolean
plan_refuse_case (PlanWalk *walk, guint index, const char *format, ...)
{
    g_autofree char *moment = moment_in_words (walk);
    va_list args;

    va_start (args, format);
    g_autofree char *what = g_strdup_vprintf (format, args);
    va_end (args);
    return refuse_plan (walk, walk->cases->pdata[index], moment, what);
}

gboolean
plan_refuse_step (PlanWalk *walk, guint index, guint number, const char *why)
{
    g_autofree char *moment = g_strdup_printf ("step %u", number);

    return refuse_plan (walk, walk->cases->pdata[index], moment, why);
}

gboolean
plan_is_case (const PlanWalk *walk, guint index, const guint *releases)
{
    return memcmp (walk->cases->pdata[index], releases, walk->unit->board->components->len * sizeof (guint)) == 0;
}

/* How often the branch lists the case. */
static guint
count_case (const PlanWalk *walk, const Branch *branch, guint index)
{
    guint count = 0;

    for (guint i = 0; i < branch->cases->len; i++)
        count += plan_is_case (walk, index, branch->cases->pdata[i]) ? 1 : 0;
    return count;
}

gboolean
plan_begins_with_all_cases (PlanWalk *walk, const Branch *root, GPtrArray *standings)
{
    for (guint i = 0; i < walk->cases->len; i++) {
        guint count = count_case (walk, root, i);

        if (count == 0)
            return plan_refuse_case (walk, i, "the plan leaves this case out");
        if (count > 1)
            return plan_refuse_case (walk, i, "the plan has this case %u times", count);
        standings_add (standings, i, state_from_unit (walk->unit, walk->cases->pdata[i]));
    }
    if (root->cases->len == walk->cases->len)
        return TRUE;
    return plan_refuse (walk, "the plan has %u cases, and the unit has %u", root->cases->len, walk->cases->len);
}

/* All cases are counted in all branches, so that what is left over is no case that stands here. */
static gboolean
holds_no_others (PlanWalk *walk, const Branch *branch, const GPtrArray *standings)
{
    guint there = 0;

    for (guint i = 0; i < branch->next->len; i++) {
        const Branch *next = branch->next->pdata[i];

        if (next->cases->len == 0)
            return plan_refuse (walk, "a branch that goes on is for no case");
        there += next->cases->len;
    }
    if (there == standings->len)
        return TRUE;
    return plan_refuse (walk, "the branches that go on are for %u cases, and %u get there", there, standings->len);
}

gboolean
plan_parts_cases (PlanWalk *walk, const Branch *branch, GPtrArray *standings)
{
    for (guint i = 0; i < standings->len; i++) {
        Standing *standing = standings->pdata[i];
        guint times = 0;

        for (guint b = 0; b < branch->next->len; b++) {
            guint here = count_case (walk, branch->next->pdata[b], standing->index);

            times += here;
            if (here > 0)
                standing->next = b;
        }
        if (times == 0)
            return plan_refuse_case (walk, standing->index, "no branch goes on");
        if (times > 1)
            return plan_refuse_case (walk, standing->index, "this case stands %u times in the branches that go on",
                                     times);
    }
    return holds_no_others (walk, branch, standings);
}

/* Whether what is read is the same in both cases. */
static gboolean
reads_alike (const Branch *branch, const Standing *left, const Standing *right)
{
    if (branch->then == THEN_READ)
        return left->state->releases[branch->component] == right->state->releases[branch->component];
    if (left->starts != right->starts)
        return FALSE;
    return !left->starts || memcmp (left->state->releases, right->state->releases,
                                    left->state->board->components->len * sizeof (guint)) == 0;
}

/* A start that was tried leaves nobody in doubt whether the unit is dark; after a page nobody has looked. */
static gboolean
darkness_is_as_said (PlanWalk *walk, const Branch *branch, const Standing *standing)
{
    const Branch *next = branch->next->pdata[standing->next];
    gboolean dark = branch->then == THEN_TRY && !standing->starts;

    if (next->dark == dark)
        return TRUE;
    if (branch->then == THEN_READ)
        return plan_refuse_case (walk, standing->index,
                                 "a page is read, and the branch that goes on is for a unit that stayed dark");
    return plan_refuse_case (walk, standing->index, "the unit %s, and the branch that goes on is for one that %s",
                             dark ? "stays dark" : "starts", dark ? "starts" : "stayed dark");
}

gboolean
plan_keeps_alike_together (PlanWalk *walk, const Branch *branch, const GPtrArray *standings)
{
    for (guint i = 0; i < standings->len; i++) {
        const Standing *left = standings->pdata[i];

        if (!darkness_is_as_said (walk, branch, left))
            return FALSE;
        for (guint j = i + 1; j < standings->len; j++) {
            const Standing *right = standings->pdata[j];

            if (left->next == right->next || !reads_alike (branch, left, right))
                continue;
            g_autofree char *other = case_in_words (walk->unit, walk->cases->pdata[right->index]);
            return plan_refuse_case (walk, left->index,
                                     "nothing tells this from where %s, and another branch goes on there", other);
        }
    }
    return TRUE;
}
