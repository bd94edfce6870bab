/* SPDX-License-Identifier: MIT */
/* Replay of the bench: technicians and places, one thing at a time. */
#include "batch/replay.h"

typedef struct {
    guint number; /* of the technician, of the place */
    gint64 from, to;
    const BatchUnit *unit;
} Use;

static int
compare_uses (gconstpointer a, gconstpointer b)
{
    const Use *left = a, *right = b;
    if (left->number != right->number)
        return left->number < right->number ? -1 : 1;
    if (left->from != right->from)
        return left->from < right->from ? -1 : 1;
    return (left->to > right->to) - (left->to < right->to);
}

static char *
check_uses (GArray *uses, const char *what, guint most)
{
    g_array_sort (uses, compare_uses);
    for (guint i = 0; i < uses->len; i++) {
        const Use *use = &g_array_index (uses, Use, i), *before = i > 0 ? use - 1 : NULL;

        if (use->number >= most)
            return g_strdup_printf ("%s: %s %u is one that the shop does not have", use->unit->unit->id, what,
                                    use->number + 1);
        if (before != NULL && before->number == use->number && before->to > use->from)
            return g_strdup_printf ("%s %u is with %s and %s at once", what, use->number + 1, before->unit->unit->id,
                                    use->unit->unit->id);
    }
    return NULL;
}

/* From its first task that is not done to the end of its last. FALSE: they are not all at one place. */
static gboolean
add_place (GArray *places, const BatchUnit *unit)
{
    Use use = { G_MAXUINT, 0, 0, unit };

    for (guint i = 0; i < unit->tasks->len; i++) {
        const BatchTask *task = &g_array_index (unit->tasks, BatchTask, i);

        if (task->done)
            continue;
        if (use.number == G_MAXUINT)
            use = (Use){ task->place, task->begins, task->ends, unit };
        if (task->place != use.number)
            return FALSE;
        use.to = task->ends;
    }
    if (use.to > use.from)
        g_array_append_val (places, use);
    return TRUE;
}

static void
add_hands (GArray *hands, const BatchUnit *unit)
{
    for (guint i = 0; i < unit->tasks->len; i++) {
        const BatchTask *task = &g_array_index (unit->tasks, BatchTask, i);
        Use use = { task->technician, task->begins, task->attended_until, unit };

        if (!task->done && use.to > use.from)
            g_array_append_val (hands, use);
        use = (Use){ task->start.technician, task->start.begins, task->ends, unit };
        if (!task->done && task->start.apart)
            g_array_append_val (hands, use);
    }
}

char *
replay_bench (const BatchQuestion *question, const Batch *batch)
{
    g_autoptr (GArray) hands = g_array_new (FALSE, FALSE, sizeof (Use));
    g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (Use));
    char *wrong = NULL;

    for (guint i = 0; i < batch->units->len; i++) {
        const BatchUnit *unit = batch->units->pdata[i];

        if (unit->aside != ASIDE_NOT)
            continue;
        add_hands (hands, unit);
        if (!add_place (places, unit))
            return g_strdup_printf ("%s changes its bench place on the way", unit->unit->id);
    }
    wrong = check_uses (hands, "technician", MAX (question->shop->technicians, 1));
    return wrong != NULL ? wrong : check_uses (places, "bench place", MAX (question->shop->stations, 1));
}
