/* SPDX-License-Identifier: MIT */
/* How numbered parts, times and situations of a batch are said. */
#include "reports/batch_branches.h"

#define TENTHS_IN_MINUTE 10
#define MINUTES_IN_HOUR  60
#define MINUTES_IN_DAY   1440
#define DAYS_IN_WEEK     7
#define MOST_RELEASES    3 /* of a component that are named before they are only counted */

const char *
batch_aside_key (Aside aside)
{
    static const char *const keys[] = { "not",      "no-route", "not-found", "read-first",
                                        "no-stock", "no-time",  "record" };

    G_STATIC_ASSERT (G_N_ELEMENTS (keys) == ASIDE_RECORD + 1);
    return keys[aside];
}

char *
batch_number_words (guint number)
{
    return number == G_MAXUINT ? g_strdup ("-") : g_strdup_printf ("%u", number + 1);
}

/* ---- Times ---- */

/* Whole minutes from the Monday of the batch's week, rounded up as batch_time_words() does. */
static gint64
minutes_from_monday (const BatchClock *clock, gint64 time)
{
    return (clock->from_monday + time + TENTHS_IN_MINUTE - 1) / TENTHS_IN_MINUTE;
}

gint64
batch_day (const BatchClock *clock, gint64 time)
{
    return minutes_from_monday (clock, time) / MINUTES_IN_DAY;
}

char *
batch_hour_words (const BatchClock *clock, gint64 time)
{
    gint64 of_day = minutes_from_monday (clock, time) % MINUTES_IN_DAY;

    return g_strdup_printf ("%02d:%02d", (int) (of_day / MINUTES_IN_HOUR), (int) (of_day % MINUTES_IN_HOUR));
}

char *
batch_day_words (const BatchClock *clock, gint64 time)
{
    static const char *const names[] = { "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun" };
    gint64 day = batch_day (clock, time);
    gint64 week = day / DAYS_IN_WEEK;
    const char *name = names[day % DAYS_IN_WEEK];

    if (clock->begin != NULL) {
        g_autofree char *words = batch_time_words (clock, time);

        return g_strdup_printf ("%s %.10s", name, words); /* the date of 2034-03-06T07:15 */
    }
    return week == 0 ? g_strdup (name) : g_strdup_printf ("%s+%d", name, (int) week);
}

char *
batch_length_words (gint64 tenths)
{
    gint64 minutes = (tenths + TENTHS_IN_MINUTE - 1) / TENTHS_IN_MINUTE;
    gint64 hours = minutes / MINUTES_IN_HOUR;

    if (hours == 0)
        return g_strdup_printf ("%d min", (int) minutes);
    return minutes % MINUTES_IN_HOUR == 0
               ? g_strdup_printf ("%" G_GINT64_FORMAT " h", hours)
               : g_strdup_printf ("%" G_GINT64_FORMAT " h %d min", hours, (int) (minutes % MINUTES_IN_HOUR));
}

char *
batch_span_words (gint64 tenths)
{
    gint64 minutes = (tenths + TENTHS_IN_MINUTE - 1) / TENTHS_IN_MINUTE;
    gint64 days = minutes / MINUTES_IN_DAY, rest = minutes % MINUTES_IN_DAY;
    g_autofree char *hours = rest > 0 ? batch_length_words (rest * TENTHS_IN_MINUTE) : NULL;

    if (days < 2)
        return batch_length_words (tenths);
    return g_strdup_printf ("%" G_GINT64_FORMAT " days%s%s", days, hours == NULL ? "" : " ", hours == NULL ? "" : hours);
}

/* ---- Parts ---- */

char *
batch_short_part (const Part *part, const char *stepping)
{
    return stepping == NULL ? g_strdup (part->name) : g_strdup_printf ("%s %s", part->name, stepping);
}

char *
batch_part_words (const BatchView *view, const BatchPart *part)
{
    g_autofree char *name = batch_short_part (part->part, part->stepping);
    const char *serial = part->serial;

    if (part->from_unit < 0)
        return g_strdup_printf ("%s%s%s #%u", name, part->bound == NULL ? "" : " bound to ",
                                part->bound == NULL ? "" : part->bound, part->number);
    return g_strdup_printf ("%s of %s%s%s", name, view_unit (view, (guint) part->from_unit)->unit->id,
                            serial == NULL ? "" : ", serial ", serial == NULL ? "" : serial);
}

/* Without what it depends on. */
static char *
words_of_step (const BatchView *view, const BatchUnit *unit, const BatchTask *task)
{
    const Step *step = view_step (view, unit, task);
    const Board *board = unit->unit->board;
    const Held *held = &g_array_index (view_way (view, unit)->moved, Held, task->step);
    const char *slot = NULL;
    g_autofree char *part = NULL;
    g_autofree char *whose = NULL;
    const char *comma = NULL;

    if (step->kind == STEP_WRITE)
        return words_step (board, step);
    slot = board_slot (board, step->slot)->name;
    part = task->part < 0 ? batch_short_part (held->part, held->stepping)
                          : batch_part_words (view, view->batch->parts->pdata[task->part]);
    whose = batch_whose_words (view, unit, task);
    comma = whose != NULL && task->part >= 0 ? "," : ""; /* behind the serial of what another unit lends */
    if (step->kind == STEP_REMOVE)
        return g_strdup_printf ("take %s%s out of %s, %s", part, comma, slot,
                                whose != NULL ? whose : words_give_back (held->owner));
    return g_strdup_printf ("fit %s%s in %s, %s", part, comma, slot, whose != NULL ? whose : words_owner (held->owner));
}

char *
batch_task_words (const BatchView *view, const BatchUnit *unit, const BatchTask *task)
{
    g_autofree char *does = words_of_step (view, unit, task);
    g_autofree char *before = batch_words_before (view_way (view, unit), unit->open, task->step);
    g_autofree char *behind =
        task->start.apart ? g_strdup ("") : batch_words_behind (view_way (view, unit), unit->open, task->step);

    return g_strconcat (before, does, behind, NULL);
}

/* ---- Situations ---- */

static gboolean
same_fitted (const Fitted *left, const Fitted *right)
{
    return left->part == right->part && left->stepping == right->stepping && left->owner == right->owner &&
           left->bound == right->bound;
}

static gboolean
same_releases (const Unit *left, const Unit *right, guint component)
{
    const UnitRelease *one = &left->releases[component], *other = &right->releases[component];
    guint count = board_component (left->board, component)->releases->len;
    gboolean failed_one = left->failed != NULL && left->failed[component];
    gboolean failed_other = right->failed != NULL && right->failed[component];

    if (one->count != other->count || failed_one != failed_other)
        return FALSE;
    for (guint r = 0; r < count; r++)
        if (one->may_be[r] != other->may_be[r])
            return FALSE;
    return TRUE;
}

static char *
release_words (const Unit *unit, guint c)
{
    const Component *component = board_component (unit->board, c);
    const UnitRelease *release = &unit->releases[c];
    g_autoptr (GPtrArray) names = g_ptr_array_new ();
    g_autofree char *joined = NULL;

    if (unit->failed != NULL && unit->failed[c])
        return g_strdup_printf ("%s failed", component->name);
    if (release->count > MOST_RELEASES)
        return g_strdup_printf ("%s one of %u releases", component->name, release->count);
    for (guint r = 0; r < component->releases->len; r++)
        if (release->may_be[r])
            g_ptr_array_add (names, (gpointer) component_release (component, r)->name);
    joined = text_join (names, "or");
    return g_strdup_printf ("%s %s", component->name, joined);
}

/* Which classes have this board; and of those, in what they differ. */
typedef struct {
    const BatchView *view;
    const BatchClass *class;
} Situation;

static gboolean
differs (const Situation *situation, gboolean (*same) (const Unit *left, const Unit *right, guint index), guint index)
{
    const GPtrArray *classes = situation->view->batch->classes;

    for (guint i = 0; i < classes->len; i++) {
        const BatchClass *other = classes->pdata[i];

        if (other->unit->board == situation->class->unit->board && !same (situation->class->unit, other->unit, index))
            return TRUE;
    }
    return FALSE;
}

static gboolean
same_slot (const Unit *left, const Unit *right, guint index)
{
    return same_fitted (&left->fitted[index], &right->fitted[index]);
}

static void
add_slots (const Situation *situation, gboolean all_processors, GPtrArray *words)
{
    const Unit *unit = situation->class->unit;

    for (guint s = 0; s < unit->board->slots->len; s++) {
        const Slot *slot = board_slot (unit->board, s);
        const Fitted *fitted = &unit->fitted[s];
        g_autofree char *part = fitted->part == NULL ? NULL : batch_short_part (fitted->part, fitted->stepping);

        if (!differs (situation, same_slot, s) && !(all_processors && slot->takes == KIND_PROCESSOR))
            continue;
        g_ptr_array_add (words, g_strdup_printf ("%s %s%s", slot->name, part == NULL ? "empty" : part,
                                                 fitted->owner == OWNER_UNIT ? "" : " (not its own)"));
    }
}

/* What two classes may still differ in: insertions, floors, whose parts are lent on. Then the first unit tells them apart. */
static char *
situation_words (const BatchView *view, const BatchClass *class)
{
    const Unit *unit = class->unit;
    Situation situation = { view, class };
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

    g_ptr_array_add (words, g_strdup_printf ("%s %s", unit->board->name,
                                             (const char *) unit->board->revisions->pdata[unit->revision]));
    for (guint c = 0; c < unit->board->components->len; c++)
        if (differs (&situation, same_releases, c))
            g_ptr_array_add (words, release_words (unit, c));
    add_slots (&situation, FALSE, words);
    if (words->len == 1)
        add_slots (&situation, TRUE, words);
    if (unit->own_parts_stay)
        g_ptr_array_add (words, g_strdup ("own parts stay"));
    g_ptr_array_add (words, NULL);
    return g_strjoinv (", ", (char **) words->pdata);
}

GPtrArray *
batch_situations (const BatchView *view)
{
    GPtrArray *all = g_ptr_array_new_with_free_func (g_free);
    g_autoptr (GHashTable) known = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

    for (guint i = 0; i < view->batch->classes->len; i++) {
        const BatchClass *class = view->batch->classes->pdata[i];
        char *words = situation_words (view, class);

        if (!g_hash_table_add (known, g_strdup (words))) {
            char *more = g_strconcat (words, ", like ", class->unit->id, NULL);

            g_free (words);
            words = more;
        }
        g_ptr_array_add (all, words);
    }
    return all;
}
