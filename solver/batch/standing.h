/* SPDX-License-Identifier: MIT */
/* Standing: what the files that find out how a unit stands share. For this room only. */
#ifndef RUNGWISE_BATCH_STANDING_H
#define RUNGWISE_BATCH_STANDING_H

#include "batch/plan.h"

/* One unit while it is found out how it stands. */
typedef struct {
    Planning *planning;
    guint unit;
    const Record *record;           /* nullable */
    guint entry;                    /* of the record: the next one */
    const PublishedUnit *published; /* nullable */
    Shop *shop;                     /* owned: as the entries so far leave it */
    const GArray *lent;             /* Lot: what the published timetable lends of pulled parts */
    Complaints *complaints;         /* owned */
} Standing;

/* The unit after steps that are done, with every release that it may then have. Transfer full. */
Unit *standing_unit_after (const Unit *unit, const GArray *steps, guint done);
/* What becomes of the unit by so many entries, from `standing->entry` on, which moves behind them. NULL, and a complaint: that
 * can't have happened. Transfer full. */
Resumed *standing_resume_part (Standing *standing, GArray *steps, guint count);
/* Parts that the entries from `from` on set aside are gone for everybody; `steps`: the route that they go by. */
void standing_lose_parts (Standing *standing, const Shop *after, const GArray *steps, guint from, gboolean by_last_route);
/* Notes that so many of a lot are gone, with their numbers where the sheet that the entries were made by tells them (lost.c). How
 * many of them were pulled parts. */
guint lost_note (Standing *standing, const Lot *lot, guint count, const GArray *steps, guint from, gboolean by_last_route);
/* The unit out of what a record leaves, and the shop too where it is asked for; the rest is freed. Transfer full. */
Unit *standing_take_unit (Resumed **resumed, Shop **shop);
/* From here on the unit is this one; takes it over. */
void standing_stand_as (Planning *planning, guint unit, Unit *stands);
/* The unit can have done those steps: what they take out was there, what they fit was to be had. Else FALSE, and a complaint that
 * says why not. */
gboolean standing_can_have_done (const Planning *planning, const Unit *unit, GArray *steps, guint done, Complaints *complaints);
/* Notes the numbers of the loaners in a unit that leaves its route, by the steps that are done (standing_held.c). Before it
 * leaves. */
void standing_hold_by_time (Planning *planning, guint unit);
/* The same by its record's entries from `from` on. Transfer full, per slot. */
guint *standing_held_by_entries (const Standing *standing, guint from);
/* The unit, which keeps to its published route, is planned anew from where that has got it: as its record leaves it, where it has
 * one, else behind the steps that are done. */
void standing_leave_at_step (Planning *planning, guint unit);
/* A unit on the bench that can't go on by its route for want of what a record says is gone is planned anew, as it stands by now.
 * `lent`: pulled parts that are still there (standing_lost.c). */
void standing_leave_if_lost (Planning *planning, guint unit, const GArray *lent);
/* What records and the clock say of numbered loaners must go together (standing_numbers.c). */
void standing_settle_numbers (Planning *planning);
/* Takes the unit through the routes that it has left. FALSE: its record can't have happened, or is not there any more. */
gboolean standing_go_by_earlier (Standing *standing);

#endif
