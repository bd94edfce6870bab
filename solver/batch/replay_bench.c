/* SPDX-License-Identifier: MIT */
/* Replay of the bench: technicians and places, one thing at a time. */
#include "batch/replay.h"

typedef struct {
    guint number; /* of the technician, of the place */
    gint64 from, to;
    const BatchUnit *unit;
    gboolean under_way;
    gboolean let_go; /* of a place: the rest of the unit's work is at another one */
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

/* ---- What is let be ---- */

/* How many of the uses that are under way overlap with it, itself too. */
static guint
together (const GArray *uses, const Use *one)
{
    guint count = 0;

    for (guint i = 0; i < uses->len; i++) {
        const Use *other = &g_array_index (uses, Use, i);
        count += other->under_way && other->from < one->to && one->from < other->to ? 1 : 0;
    }
    return count;
}

/* A step under way that more of are under way than there is anything for; the timetable need not count it. */
static gboolean
may_be_let_be (const GArray *uses, const Use *use, guint most)
{
    return use->under_way && together (uses, use) > most;
}

/* Leaves out those at a number that there is not, as many as are too many: what is left out makes no other one too many. */
static void
leave_out (GArray *uses, guint most)
{
    for (guint i = uses->len; i-- > 0;) {
        const Use *use = &g_array_index (uses, Use, i);

        if ((use->number >= most || use->let_go) && may_be_let_be (uses, use, most))
            g_array_remove_index (uses, i);
    }
}

/* ---- Units ---- */

static gboolean
has_begun (const BatchQuestion *question, const BatchTask *task)
{
    return question->published != NULL && task->begins < question->now;
}

/* From its first task that is not done to the end of its last; what is under way, for itself. FALSE: they are not all at one place. */
static gboolean
add_place (const BatchQuestion *question, GArray *places, const BatchUnit *unit)
{
    Use now = { .number = G_MAXUINT, .unit = unit }, rest = now;

    for (guint i = 0; i < unit->tasks->len; i++) {
        const BatchTask *task = &g_array_index (unit->tasks, BatchTask, i);

        if (task->done)
            continue;
        if (has_begun (question, task) && now.number == G_MAXUINT) {
            now = (Use){ task->place, task->begins, task->ends, unit, TRUE, FALSE };
            continue;
        }
        if (rest.number == G_MAXUINT)
            rest = (Use){ task->place, now.number == task->place ? now.to : task->begins, task->ends, unit, FALSE, FALSE };
        if (task->place != rest.number)
            return FALSE;
        rest.to = task->ends;
    }
    now.let_go = rest.number != G_MAXUINT && now.number != rest.number;
    if (now.to > now.from)
        g_array_append_val (places, now);
    if (rest.to > rest.from)
        g_array_append_val (places, rest);
    return TRUE;
}

static void
add_hands (const BatchQuestion *question, GArray *hands, const BatchUnit *unit)
{
    for (guint i = 0; i < unit->tasks->len; i++) {
        const BatchTask *task = &g_array_index (unit->tasks, BatchTask, i);
        Use use = { task->technician, task->begins, task->attended_until, unit, has_begun (question, task), FALSE };

        if (!task->done && use.to > use.from)
            g_array_append_val (hands, use);
        use = (Use){ task->start.technician, task->start.begins, task->ends, unit,
                     question->published != NULL && task->start.begins < question->now, FALSE };
        if (!task->done && task->start.apart)
            g_array_append_val (hands, use);
    }
}

/* One that was let go of its place, and not for want of places. */
static char *
check_moves (const GArray *places)
{
    for (guint i = 0; i < places->len; i++)
        if (g_array_index (places, Use, i).let_go)
            return g_strdup_printf ("%s changes its bench place on the way",
                                    g_array_index (places, Use, i).unit->unit->id);
    return NULL;
}

char *
replay_bench (const BatchQuestion *question, const Batch *batch)
{
    g_autoptr (GArray) hands = g_array_new (FALSE, FALSE, sizeof (Use));
    g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (Use));
    guint technicians = MAX (question->shop->technicians, 1), stations = MAX (question->shop->stations, 1);
    char *wrong = NULL;

    for (guint i = 0; i < batch->units->len; i++) {
        const BatchUnit *unit = batch->units->pdata[i];

        if (unit->aside != ASIDE_NOT)
            continue;
        add_hands (question, hands, unit);
        if (!add_place (question, places, unit))
            return g_strdup_printf ("%s changes its bench place on the way", unit->unit->id);
    }
    leave_out (hands, technicians);
    leave_out (places, stations);
    wrong = check_moves (places);
    if (wrong == NULL)
        wrong = check_uses (hands, "technician", technicians);
    return wrong != NULL ? wrong : check_uses (places, "bench place", stations);
}
