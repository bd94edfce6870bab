/* SPDX-License-Identifier: MIT */
#include "batch/profile.h"

#include <string.h>

enum { MOST_STEPS = 128 }; /* of a flight; 64 and 256 take as long */

typedef struct {
    gint64 at;   /* from then on, until the next step */
    gint64 free; /* beside the flight's lift */
} Step;

struct Flight {
    Step steps[MOST_STEPS]; /* ascending; the very first is at 0, the very last holds for ever */
    guint count;            /* at least 1 */
    gint64 lift;            /* added to all of its steps */
    gint64 least, most;     /* of its steps, lift left out; only where `measured` */
    gboolean measured;
};

typedef struct {
    guint flight, step;
} Place;

void
profile_reset (Profile *profile, gint64 capacity)
{
    if (profile->room == 0) {
        profile->room = 1;
        profile->flights = g_new0 (Flight *, 1);
        profile->flights[0] = g_new (Flight, 1);
    }
    Flight *first = profile->flights[0];
    profile->count = first->count = 1;
    first->lift = 0;
    first->measured = FALSE;
    first->steps[0] = (Step){ 0, capacity };
}

void
profile_clear (Profile *profile)
{
    for (guint i = 0; i < profile->room; i++)
        g_free (profile->flights[i]);
    g_clear_pointer (&profile->flights, g_free);
    profile->count = profile->room = 0;
}

static gint64
start_of (const Profile *profile, guint flight)
{
    return flight < profile->count ? profile->flights[flight]->steps[0].at : NEVER;
}

static void
measure (Flight *flight)
{
    flight->least = flight->most = flight->steps[0].free;
    for (guint i = 1; i < flight->count; i++) {
        flight->least = MIN (flight->least, flight->steps[i].free);
        flight->most = MAX (flight->most, flight->steps[i].free);
    }
    flight->measured = TRUE;
}

/* ---- Where a time is ---- */

static guint
find_flight (const Profile *profile, gint64 time)
{
    guint low = 0, high = profile->count;
    if (start_of (profile, high - 1) <= time) /* most questions are about the latest part */
        return high - 1;
    while (high - low > 1) {
        guint middle = (low + high) / 2;
        if (start_of (profile, middle) <= time)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* The last step at or before `time`. Doubles its stride from the end, for the same reason. */
static Place
find_step (const Profile *profile, gint64 time)
{
    Place place = { find_flight (profile, time), 0 };
    const Flight *flight = profile->flights[place.flight];
    guint high = flight->count, stride = 1;
    while (stride < flight->count) {
        if (flight->steps[flight->count - stride].at <= time) {
            place.step = flight->count - stride;
            break;
        }
        high = flight->count - stride;
        stride *= 2;
    }
    while (high - place.step > 1) {
        guint middle = (place.step + high) / 2;
        if (flight->steps[middle].at <= time)
            place.step = middle;
        else
            high = middle;
    }
    return place;
}

gint64
profile_free (const Profile *profile, gint64 time)
{
    Place place = find_step (profile, time);
    const Flight *flight = profile->flights[place.flight];
    return flight->steps[place.step].free + flight->lift;
}

/* ---- Changing it ---- */

/* The second half of a full flight becomes one of its own. */
static void
divide (Profile *profile, guint index)
{
    if (profile->count == profile->room) {
        profile->flights = g_renew (Flight *, profile->flights, 2 * profile->room);
        memset (profile->flights + profile->room, 0, profile->room * sizeof *profile->flights);
        profile->room *= 2;
    }
    Flight *half = profile->flights[index], *rest = profile->flights[profile->count];
    if (rest == NULL)
        rest = g_new (Flight, 1);
    memmove (profile->flights + index + 2, profile->flights + index + 1,
             (profile->count - index - 1) * sizeof *profile->flights);
    profile->flights[index + 1] = rest;
    profile->count++;
    half->count /= 2;
    rest->count = MOST_STEPS - half->count;
    rest->lift = half->lift;
    rest->measured = half->measured = FALSE;
    memcpy (rest->steps, half->steps + half->count, rest->count * sizeof (Step));
}

/* Sees to it that a step begins at `time`, which is within the step at `place`; returns where. `place` stays with its step. */
static Place
split_at (Profile *profile, Place *place, gint64 time)
{
    if (profile->flights[place->flight]->steps[place->step].at == time)
        return *place;
    if (profile->flights[place->flight]->count == MOST_STEPS) {
        divide (profile, place->flight);
        if (place->step >= MOST_STEPS / 2)
            *place = (Place){ place->flight + 1, place->step - MOST_STEPS / 2 };
    }
    Flight *flight = profile->flights[place->flight];
    Step *step = &flight->steps[place->step];
    memmove (step + 2, step + 1, (flight->count - place->step - 1) * sizeof (Step));
    step[1] = (Step){ time, step->free };
    flight->count++;
    return (Place){ place->flight, place->step + 1 };
}

/* The step at `time`, where there is one, and the one before it become one, where they are of the same height. */
static void
merge_at (Profile *profile, gint64 time)
{
    Place place = find_step (profile, time);
    Flight *flight = profile->flights[place.flight];
    if (flight->steps[place.step].at != time || time == 0)
        return;
    const Flight *other = place.step > 0 ? flight : profile->flights[place.flight - 1];
    const Step *before = &other->steps[(place.step > 0 ? place.step : other->count) - 1];
    if (before->free + other->lift != flight->steps[place.step].free + flight->lift)
        return;
    flight->count--;
    flight->measured = FALSE;
    memmove (&flight->steps[place.step], &flight->steps[place.step + 1], (flight->count - place.step) * sizeof (Step));
    if (flight->count > 0)
        return;
    profile->count--;
    memmove (profile->flights + place.flight, profile->flights + place.flight + 1,
             (profile->count - place.flight) * sizeof *profile->flights);
    profile->flights[profile->count] = flight;
}

/* Adds to the steps of one flight that begin before `to`, from `place` on, of which the last is made to end by then. Returns the
 * flight that it ended in, which is another one where it had to be divided. */
static guint
add_to_steps (Profile *profile, Place place, gint64 to, gint64 amount)
{
    Flight *flight = profile->flights[place.flight];
    for (; place.step < flight->count && flight->steps[place.step].at < to; place.step++) {
        gint64 until =
            place.step + 1 < flight->count ? flight->steps[place.step + 1].at : start_of (profile, place.flight + 1);
        if (until > to) {
            split_at (profile, &place, to);
            flight = profile->flights[place.flight];
        }
        flight->steps[place.step].free += amount;
        flight->measured = FALSE;
    }
    return place.flight;
}

void
profile_add (Profile *profile, gint64 from, gint64 to, gint64 amount)
{
    if (from >= to || amount == 0)
        return;
    Place place = find_step (profile, from);
    place = split_at (profile, &place, from);
    for (; start_of (profile, place.flight) < to; place = (Place){ place.flight + 1, 0 }) {
        if (place.step == 0 && start_of (profile, place.flight + 1) <= to)
            profile->flights[place.flight]->lift += amount;
        else
            place.flight = add_to_steps (profile, place, to, amount);
    }
    if (to != NEVER)
        merge_at (profile, to);
    merge_at (profile, from);
}

/* ---- Asking ---- */

gboolean
profile_overdrawn (const Profile *profile, gint64 *at)
{
    for (guint i = 0; i < profile->count; i++) {
        const Flight *flight = profile->flights[i];
        for (guint k = 0; k < flight->count; k++) {
            *at = flight->steps[k].at;
            if (flight->steps[k].free + flight->lift < 0)
                return TRUE;
        }
    }
    return FALSE;
}

static gint64
earliest_for_good (Profile *profile, gint64 from, gint64 amount)
{
    gint64 free_from = NEVER;
    for (guint i = profile->count; i-- > 0 && free_from > from;) {
        Flight *flight = profile->flights[i];
        if (flight->measured && flight->least + flight->lift >= amount) {
            free_from = flight->steps[0].at;
            continue;
        }
        for (guint k = flight->count; k-- > 0 && free_from > from;) {
            if (flight->steps[k].free + flight->lift < amount)
                return free_from;
            free_from = flight->steps[k].at;
        }
        if (free_from == flight->steps[0].at) /* all of it was looked at: once more will not be needed */
            measure (flight);
    }
    return MAX (from, free_from);
}

/* Goes through a flight from `step` on. begin: since when `amount` has been free. TRUE: for `length`, by the flight's end. */
static gboolean
is_long_enough (const Flight *flight, guint step, gint64 end, gint64 length, gint64 amount, gint64 *begin)
{
    for (; step < flight->count; step++) {
        gint64 until = step + 1 < flight->count ? flight->steps[step + 1].at : end;
        if (flight->steps[step].free + flight->lift < amount)
            *begin = until;
        else if (until == NEVER || until - *begin >= length)
            return TRUE;
    }
    return FALSE;
}

gint64
profile_earliest (Profile *profile, gint64 from, gint64 length, gint64 amount)
{
    if (length == FOR_GOOD)
        return earliest_for_good (profile, from, amount);
    gint64 begin = from;
    Place place = find_step (profile, from);
    for (; place.flight < profile->count; place = (Place){ place.flight + 1, 0 }) {
        Flight *flight = profile->flights[place.flight];
        gint64 end = start_of (profile, place.flight + 1);
        if (flight->measured && flight->most + flight->lift < amount) {
            begin = end;
            continue;
        }
        if (is_long_enough (flight, place.step, end, length, amount, &begin))
            return begin;
        if (place.step == 0 && !flight->measured)
            measure (flight);
    }
    return NEVER;
}
