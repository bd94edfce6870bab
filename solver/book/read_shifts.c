/* SPDX-License-Identifier: MIT */
/* Shifts: when a shop works. */
#include "book/read.h"

#define DAY  1440u       /* minutes */
#define WEEK (7u * DAY)

static const char *const day_words[] = { "mon", "tue", "wed", "thu", "fri", "sat", "sun", NULL };

/* Minutes from a shift's beginning to a time of the clock: 0 to 1439. */
static guint
minutes_into (const Shift *shift, guint clock)
{
    return (clock + DAY - shift->from) % DAY;
}

/* The same for a time at which something ends: 1 to 1440. */
static guint
minutes_to_end (const Shift *shift, guint clock)
{
    return (clock + 2 * DAY - shift->from - 1) % DAY + 1;
}

/* FALSE after a complaint. */
static gboolean
read_span (Loader *loader, const Node *node, const char *what, guint *from, guint *to)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, what))
        return FALSE;
    const Node *from_node = map_take (&reader, "from", KEY_REQUIRED), *to_node = map_take (&reader, "to", KEY_REQUIRED);
    gboolean right = value_clock (loader, from_node, "from", from);
    right = value_clock (loader, to_node, "to", to) && right;
    map_end (&reader);
    return right;
}

/* ---- Breaks ---- */

static int
compare_breaks (gconstpointer a, gconstpointer b, gpointer shift)
{
    guint left = minutes_into (shift, ((const ShiftBreak *) a)->from), right = minutes_into (shift, ((const ShiftBreak *) b)->from);
    return left < right ? -1 : left > right;
}

/* Complains of a break that is not wholly inside its shift, or does not end later than it begins. */
static gboolean
break_is_inside (Loader *loader, const Shift *shift, const ShiftBreak *one)
{
    guint length = minutes_to_end (shift, shift->to), begins = minutes_into (shift, one->from);
    guint ends = minutes_to_end (shift, one->to);
    g_autofree char *expected = g_strdup_printf ("expected it to begin and end between %02u:%02u and %02u:%02u",
                                                 shift->from / 60, shift->from % 60, shift->to / 60, shift->to % 60);
    if (begins >= length || ends > length)
        complaints_add (loader->complaints, one->at, expected, "this break is not inside its shift");
    else if (ends <= begins)
        complaints_add (loader->complaints, one->at, "expected its end after its beginning",
                        "this break does not end later than it begins");
    else
        return TRUE;
    return FALSE;
}

static void
complain_of_overlap (Loader *loader, Mark at, Mark other, const char *what, const char *on)
{
    g_autofree char *expected =
        g_strdup_printf ("expected %ss that do not overlap; the other is at %s:%u:%u", what, other.file, other.line,
                         other.column);
    complaints_add (loader->complaints, at, expected, "this %s overlaps another%s", what, on);
}

static void
read_breaks (Loader *loader, const Node *node, Shift *shift, gboolean shift_is_right)
{
    const GPtrArray *items = value_list (loader, node, "breaks");
    for (guint i = 0; items && i < items->len; i++) {
        const Node *item = g_ptr_array_index (items, i);
        ShiftBreak one = { .at = item->at };
        if (read_span (loader, item, "this break", &one.from, &one.to) && shift_is_right &&
            break_is_inside (loader, shift, &one))
            g_array_append_val (shift->breaks, one);
    }
    g_array_sort_with_data (shift->breaks, compare_breaks, shift);
    for (guint i = 1; i < shift->breaks->len; i++) {
        const ShiftBreak *earlier = &g_array_index (shift->breaks, ShiftBreak, i - 1), *one = earlier + 1;
        if (minutes_into (shift, one->from) < minutes_to_end (shift, earlier->to))
            complain_of_overlap (loader, one->at, earlier->at, "break", "");
    }
}

/* ---- Shifts ---- */

static void
clear_shift (gpointer data)
{
    g_clear_pointer (&((Shift *) data)->breaks, g_array_unref);
}

static void
read_shift (Loader *loader, const Node *node, GArray *shifts)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this shift"))
        return;
    Shift shift = { .breaks = g_array_new (FALSE, FALSE, sizeof (ShiftBreak)), .at = node->at };
    const Node *days = map_take (&reader, "days", KEY_REQUIRED);
    gboolean right = value_words (loader, days, "days", day_words, &shift.days);
    if (right && shift.days == 0)
        loader_complain (loader, days, "expected at least one day, such as mon", "days is an empty list");
    const Node *from = map_take (&reader, "from", KEY_REQUIRED), *to = map_take (&reader, "to", KEY_REQUIRED);
    gboolean from_right = value_clock (loader, from, "from", &shift.from);
    gboolean to_right = value_clock (loader, to, "to", &shift.to);
    read_breaks (loader, map_take (&reader, "breaks", KEY_OPTIONAL), &shift, from_right && to_right);
    map_end (&reader);
    if (from_right && to_right)
        g_array_append_val (shifts, shift);
    else
        g_array_unref (shift.breaks);
}

/* `taken` has for each minute of the week the shift that has it, counted from 1. Complains once, of the first minute that is
 * taken already. */
static void
take_minutes (Loader *loader, const GArray *shifts, guint index, guint *taken)
{
    const Shift *shift = &g_array_index (shifts, Shift, index);
    guint length = minutes_to_end (shift, shift->to);
    for (guint day = 0; day < 7; day++)
        for (guint i = 0; shift->days & 1u << day && i < length; i++) {
            guint minute = (day * DAY + shift->from + i) % WEEK;
            if (taken[minute]) {
                g_autofree char *on = g_strconcat (" on ", day_words[minute / DAY], NULL);
                complain_of_overlap (loader, shift->at, g_array_index (shifts, Shift, taken[minute] - 1).at, "shift",
                                     on);
                return;
            }
            taken[minute] = index + 1;
        }
}

GArray *
read_shifts (Loader *loader, const Node *node)
{
    const GPtrArray *items = value_list (loader, node, "shifts");
    if (!items)
        return NULL;
    if (items->len == 0)
        loader_complain (loader, node, "expected at least one shift; without \"shifts:\" work is done at any time",
                         "shifts is an empty list");
    GArray *shifts = g_array_new (FALSE, FALSE, sizeof (Shift));
    g_autofree guint *taken = g_new0 (guint, WEEK);
    g_array_set_clear_func (shifts, clear_shift);
    for (guint i = 0; i < items->len; i++)
        read_shift (loader, g_ptr_array_index (items, i), shifts);
    for (guint i = 0; i < shifts->len; i++)
        take_minutes (loader, shifts, i, taken);
    return shifts;
}
