/* SPDX-License-Identifier: MIT */
/* What one task needs, holds, and gives back. */
#include "batch/flat_parts.h"

static void
add_use (Flat *flat, guint resource, guint amount, gint64 lead, gint64 length)
{
    FlatUse use = { resource, (gint32) MIN (amount, (guint) G_MAXINT32), lead, length };
    if (length > 0 && amount > 0)
        g_array_append_val (flat->uses, use);
}

/* These return how many they added. */
static guint16
add_held (Flat *flat, const Timetable *timetable, const Mode *mode, guint index)
{
    const Task *task = &g_array_index (mode->tasks, Task, index);
    guint from = flat->uses->len;
    for (guint i = 0; i < mode->spans->len; i++) {
        const Span *span = &g_array_index (mode->spans, Span, i);
        flat->hands_in_spans |= (int) span->resource == timetable->hands;
        if (span->first == index)
            add_use (flat, span->resource, span->amount, span->lead,
                     span->last == index ? task->duration - span->lead - span->tail : FOR_GOOD);
    }
    if (timetable->hands >= 0)
        add_use (flat, (guint) timetable->hands, 1, 0, task->attended);
    return (guint16) (flat->uses->len - from);
}

static guint16
add_closed (Flat *flat, const Mode *mode, guint index)
{
    gint64 duration = g_array_index (mode->tasks, Task, index).duration;
    guint from = flat->uses->len;
    for (guint i = 0; i < mode->spans->len; i++) {
        const Span *span = &g_array_index (mode->spans, Span, i);
        if (span->last == index && span->first != index)
            add_use (flat, span->resource, span->amount, duration - span->tail, FOR_GOOD);
    }
    return (guint16) (flat->uses->len - from);
}

static guint16
add_gained (Flat *flat, const Mode *mode, guint index)
{
    gint64 duration = g_array_index (mode->tasks, Task, index).duration;
    guint from = flat->uses->len;
    for (guint i = 0; i < mode->gains->len; i++) {
        const Gain *gain = &g_array_index (mode->gains, Gain, i);
        if (gain->task == index)
            add_use (flat, gain->resource, gain->amount, duration - gain->early, FOR_GOOD);
    }
    return (guint16) (flat->uses->len - from);
}

/* ---- What must be free ---- */

/* By resource, the longest first. */
static int
compare_lengths (gconstpointer a, gconstpointer b)
{
    const FlatUse *left = a, *right = b;
    if (left->resource != right->resource)
        return left->resource < right->resource ? -1 : 1;
    return (left->length < right->length) - (left->length > right->length);
}

/* All begin with the task: what is taken for the longest time is needed through all shorter uses of the same resource too. */
static guint16
sum_nested (Flat *flat, guint from)
{
    FlatUse *uses = (FlatUse *) (void *) flat->uses->data + from;
    guint16 count = (guint16) (flat->uses->len - from);
    if (count > 1)
        qsort (uses, count, sizeof (FlatUse), compare_lengths);
    for (guint i = 1; i < count; i++) {
        if (uses[i].resource == uses[i - 1].resource)
            uses[i].amount = (gint32) MIN ((gint64) uses[i].amount + uses[i - 1].amount, G_MAXINT32);
    }
    return count;
}

/* From `at` on, in a task, so much more (or less) of a resource is taken. */
typedef struct {
    guint resource;
    gint64 at, more;
} Change;

static int
compare_changes (gconstpointer a, gconstpointer b)
{
    const Change *left = a, *right = b;
    if (left->resource != right->resource)
        return left->resource < right->resource ? -1 : 1;
    return (left->at > right->at) - (left->at < right->at);
}

static void
add_change (GArray *changes, const FlatUse *use, gint64 at, gint64 sign)
{
    Change change = { use->resource, at, sign * use->amount };
    g_array_append_val (changes, change);
}

/* The same where some begin later, so that one may take what another has just given back: piece by piece. */
static guint16
sum_pieces (Flat *flat, guint from, guint held)
{
    g_autoptr (GArray) changes = g_array_new (FALSE, FALSE, sizeof (Change));
    gint64 level = 0;
    for (guint i = from; i < flat->uses->len; i++) {
        const FlatUse *use = &g_array_index (flat->uses, FlatUse, i);
        add_change (changes, use, use->lead, i < from + held ? 1 : -1);
        if (use->length != FOR_GOOD)
            add_change (changes, use, use->lead + use->length, -1);
    }
    g_array_set_size (flat->uses, from);
    g_array_sort (changes, compare_changes);
    for (guint i = 0; i < changes->len; i++) {
        const Change *change = &g_array_index (changes, Change, i);
        gboolean last = i + 1 == changes->len || change[1].resource != change->resource;
        level = i > 0 && change[-1].resource == change->resource ? level + change->more : change->more;
        if (level > 0)
            add_use (flat, change->resource, (guint) MIN (level, G_MAXINT32), change->at,
                     last ? FOR_GOOD : change[1].at - change->at);
    }
    return (guint16) (flat->uses->len - from);
}

static guint16
add_needs (Flat *flat, const Timetable *timetable, const Mode *mode, guint index)
{
    guint from = flat->uses->len, held = add_held (flat, timetable, mode, index);
    gboolean leads = FALSE;
    for (guint i = from; i < from + held; i++)
        leads |= g_array_index (flat->uses, FlatUse, i).lead > 0;
    if (!leads)
        return sum_nested (flat, from);
    flat->leads = TRUE;
    add_closed (flat, mode, index);
    add_gained (flat, mode, index);
    return sum_pieces (flat, from, held);
}

void
flat_add_uses (Flat *flat, const Timetable *timetable, const Mode *mode, guint index, FlatTask *task)
{
    task->use_at = flat->uses->len;
    task->needs = add_needs (flat, timetable, mode, index);
    task->holds = add_held (flat, timetable, mode, index);
    task->closes = add_closed (flat, mode, index);
    task->gains = add_gained (flat, mode, index);
    flat->gains |= task->gains > 0;
    flat->long_spans |= task->closes > 0;
}
