/* SPDX-License-Identifier: MIT */
/* Plan: what the files of a batch's planning share. For this room only. */
#ifndef RUNGWISE_BATCH_PLAN_H
#define RUNGWISE_BATCH_PLAN_H

#include "batch/batch.h"
#include "batch/ways.h"

/* Alike parts: those of the shop, and of loaners those that units of the batch give as well. */
typedef struct {
    Lot lot; /* `count`: the shop's own */
    guint
        give; /* parts that routes take out of units for good, where pulled parts are lent; all classes and units together */
    int rank; /* r: units give it whose way needs no gift, or gifts below r alone; -1: nobody gives it */
} Pool;

/* So many of a pool. */
typedef struct {
    guint pool, amount;
} Draw;

/* A part of a pool becomes free when this step is done. */
typedef struct {
    guint pool, step;
} Give;

/* What a mode takes and gives, by pool. */
typedef struct {
    GArray *stock;     /* Draw; owned; beyond what the unit holds already */
    GArray *lent;      /* Draw; owned */
    GArray *gives;     /* Give; owned; empty unless pulled parts are lent and the unit's may be */
    gboolean possible; /* there are as many as it needs, stock that others take not counted */
} ModeDraws;

/* A unit while it is planned. */
typedef struct {
    const Unit *unit; /* as it is planned: where it stands */
    guint class;
    gint64 due; /* as in BatchUnit */
    const PublishedUnit *published; /* borrowed; NULL: it is in no earlier timetable */
    guint done;                     /* steps of its mode that are done */
    gint64 under_way;               /* the next one began then; -1: it has not */
    gboolean has_record;
    guint entries;   /* of the record, that go by its last published route */
    gboolean anew;   /* it leaves that route: `unit` is how it stands now */
    Unit *as_read;   /* owned; it goes on by that route, and this is how it stands by its record; else NULL */
    guint *as_read_held; /* owned; with it, as `held` */
    gboolean refused; /* begun, and its published route does not lead on with the book and the shop as they are now */
    gboolean settled; /* its record leaves no release with which the rest of that route is not its way */
    gboolean parked; /* begun, and without a bench place at the moment */
    gboolean stands_open;       /* it waits on the bench, or was put aside from there, and was left with the power off */
    gboolean no_place, no_hand; /* what is under way of it is more than there are places, technicians for: it is let be */
    int keeps;       /* the mode that it goes on with; -1: any */
    int mode;        /* the one that stock is kept for; -1: none */
    guint *held;      /* owned; anew: per slot the published number of the loaner in it, 0: not known; NULL: it goes on */
    gboolean moved_on; /* a borrower's record shows that it is further than the timetable says */
    guint wants_lost; /* anew: its route needs this one of BatchReplan.lost; G_MAXUINT: its record departs from it */
} UnitPlan;

typedef struct GiftIndex GiftIndex;

typedef struct {
    const BatchQuestion *question;
    Batch *batch;
    Shop *shop;            /* owned: what there is now */
    UnitPlan *plans;       /* owned; per unit */
    GArray *pools;         /* Pool; owned */
    guint why_plans;       /* planning runs that explanations took */
    guint64 why_opened;    /* states that they opened */
    GHashTable *unmatched; /* BatchClass*, borrowed: some way of it would mix steppings; owned */
    GPtrArray *draws;      /* per class a GPtrArray of ModeDraws*, one per mode; owned */
    GArray *gifts;         /* KnownGift; owned; empty in a first plan */
    GiftIndex *gift_index; /* of them; owned */
    GPtrArray *lanes;      /* per pool a GArray of Gift, or NULL until it is asked for; owned */
    GHashTable *given;     /* pool -> numbers of what is given already (number -> 1 + its place in gifts_given()); owned */
} Planning;

guint planning_units (const Planning *planning);
BatchUnit *planning_unit (const Planning *planning, guint unit);
BatchClass *planning_class (const Planning *planning, guint class);
BatchMode *class_mode (const BatchClass *class, guint mode);
const ModeDraws *planning_draws (const Planning *planning, guint class, guint mode);
/* Indices of units in the order in which they are served: by due time, priority, file; those that are begun come first.
 * Transfer full. */
guint *planning_order (const Planning *planning);
gboolean unit_has_begun (const UnitPlan *plan);

/* Sets a unit aside; takes over `why`. */
void planning_set_aside (Planning *planning, guint unit, Aside aside, char *why);

/* ---- What the units say (serials.c) ---- */

/* Parts of one model and serial that are said to be in several places: a warning each. */
void say_serials_given_twice (Planning *planning);

/* ---- Classes (classes.c) ---- */

/* Sorts the units into classes, in the order of their first units. */
void classes_make (Planning *planning);
/* Takes the unit out of its class, into a new one of its own, which has no modes yet. */
void classes_part (Planning *planning, guint unit);
void batch_class_free (gpointer data);

/* ---- Modes (modes.c, mode.c, mode_of_branches.c, no_mode.c, spare.c) ---- */

/* A route as a mode: its walk, what it takes and gives. NULL when the walk refuses it. Transfer full. */
BatchMode *batch_mode_new (const BatchQuestion *question, const Shop *shelf, const Unit *unit, const Want *want,
                           const GArray *steps, const guint *releases);
void batch_mode_free (gpointer data);
/* One of the unit's own parts that is taken out for good. */
typedef struct {
    guint step, slot; /* the slot that it came in; behind the slots those that lay beside it */
} Pulled;
const Fitted *unit_piece (const Unit *unit, guint slot);
/* Transfer full (GArray of Pulled), in the order of the steps. */
GArray *steps_pull (const Unit *unit, const GArray *steps);
/* What steps take from stock and borrow: adds to each list a Lot with the most that are in the unit at a time. */
void steps_lots (const Unit *unit, const GArray *steps, GArray *stock, GArray *lent);
gboolean lot_is_like (const Lot *left, const Lot *right);

/* ---- Plans with branches (branching.c) ---- */

/* Sets `mode->branching`, and returns it. */
BatchBranching *branching_new (const Shop *shop, const Unit *unit, BatchMode *mode, const BranchCost *worst);
void batch_branching_free (BatchBranching *branching);
/* Where a case goes on; NULL: the plan ends there. */
const Branch *branch_next_for (const Branch *branch, const guint *releases, guint n_components);
/* The most that any way of the mode takes (Lot) of stock or loaners; without branches what the mode takes. Transfer full. */
GArray *mode_most (const BatchMode *mode, Owner owner);
/* As steps_pull(), those that come out for good whatever is read. Transfer full. */
GArray *mode_pulls_surely (const Unit *unit, const BatchMode *mode);
/* Says of a unit that goes on by its mode `keeps` when the clock alone takes it past a reading that no record tells of. */
void branching_say_unread (Planning *planning, guint unit);
/* Which units still depend on what is read, and how many of them may have no way. When their modes are known. */
void batch_find_open (Planning *planning);

/* Plans each class. */
void modes_find (Planning *planning);
/* Plans one class that came later. */
void modes_find_for (Planning *planning, guint class);
/* The worst case of a plan with branches, as one way. NULL when the checker refuses it, or when another way borrows more than the
 * shop has of its own. Transfer full. */
BatchMode *mode_of_branches (const BatchQuestion *question, const Shop *shelf, const Unit *unit, const Want *want,
                             const RouteAnswer *answer);
/* Fills in what comes back from each step of the modes that units go by. */
void modes_find_ways_back (Planning *planning);
/* Why classes have no way, cheapest first, until that has taken about a second's work. */
void classes_explain_none (Planning *planning);
/* Looks for ways of a class that need other things than its best one, which it has. */
void class_find_alternatives (Planning *planning, guint class);
/* Does that for the classes that want what is scarce. */
void classes_spare (Planning *planning);

/* ---- The shelf (shelf.c) ---- */

/* What may be lent to units of a class: the shop's own, and what other units may give. Transfer full. */
Shop *shelf_for_class (const Planning *planning, guint class);
/* Parts that the wants push out of their slots, per class and slot; before any route is known. */
void shelf_expect (Planning *planning);
/* The pools and draws of the modes that were found. */
void shelf_count (Planning *planning);
void mode_draws_free (gpointer data);

/* ---- Sharing (share.c, share_room.c) ---- */

/* Gives each unit a mode that stock and loaners allow, or sets it aside. */
void share_out (Planning *planning);
/* A unit that was set aside for its record keeps what the published timetable had for it from stock (withheld.c). */
gboolean unit_withholds (const Planning *planning, guint unit);
/* That, with what is in it by the part of its record that can be gone by; empty of any other unit. Transfer full (GArray of Lot). */
GArray *unit_withheld (const Planning *planning, guint unit);
/* Says what is withheld, and which loaners may be in those units. */
void withheld_say (Planning *planning);
/* Stock being handed out. */
typedef struct {
    Planning *planning;
    guint *left;    /* owned; per pool */
    guint **served; /* owned; per class and mode: units that have it and may change it */
} Sharing;
/* Takes what is withheld for the unit (withheld.c). */
void sharing_take_withheld (Sharing *sharing, guint unit);
gboolean sharing_has (const Sharing *sharing, const ModeDraws *draws);
void sharing_take (Sharing *sharing, guint class, guint mode);
void sharing_put_back (Sharing *sharing, guint class, guint mode);
/* Changes the modes of units that are served already, so that there is stock for this one. FALSE: nothing changed. */
gboolean sharing_make_room (Sharing *sharing, guint class, guint mode);

/* ---- Time (batch_time.c, batch_calendar.c) ---- */

gint64 tenths (double minutes);
/* When a unit is due, from time 0, below 0 where that was before; BATCH_NOT_DUE: it is not, or there is no date to count
 * from. */
gint64 unit_due (const Shop *shop, const BatchClock *clock, const Unit *unit);
/* Shifts and breaks from time 0 until `work` tenths of a minute lie in shifts. */
void calendar_fill (Calendar *calendar, const Shop *shop, const BatchClock *clock, gint64 work);
/* The shortest and the longest time between two breaks or ends of shifts; G_MAXINT64 in a shop that works at any time. */
void calendar_stretches (const Shop *shop, const BatchClock *clock, gint64 *shortest, gint64 *longest);

/* ---- Into the timetable and back ---- */

/* What a step takes, with the opening and the starts around it. */
typedef struct {
    gint64 duration, attended;
} StepTime;
/* Per step; of a plan with branches with the tries and reads before it. Transfer full (GArray of StepTime). */
GArray *mode_times (const BatchMode *mode, const Shop *shop);
/* How long the start at the end takes where it is a task of its own, with what is read there; else 0: it is part of the last step,
 * or there is none. */
gint64 mode_last_start (const BatchMode *mode, const Shop *shop);
/* The start of a unit that goes on as it was published; NULL: it was no task of its own. */
const LastStart *plan_published_start (const UnitPlan *plan);

/* Parts in and out of slots by the steps of a mode: what is held from where to where. */
typedef struct {
    Owner owner; /* loan or stock */
    guint pool, slot;
    guint fit, remove; /* steps; fit G_MAXUINT: it is in at the beginning; remove G_MAXUINT: it stays */
} Holding;
/* Transfer full (GArray of Holding), in the order of their fittings. */
GArray *mode_holdings (const Planning *planning, const Unit *unit, const GArray *steps);
int planning_pool (const Planning *planning, Owner owner, const Part *part, const char *stepping, const char *bound);

/* Consecutive steps of one opening that are made in one go, as one task of the timetable; or one step alone (blocks.c). One behind
 * all steps, with none, is the start at the end where that is a task of its own. */
typedef struct {
    guint first, steps;
    gint64 duration, attended;
    gboolean goes_on; /* the step before it is of the same opening */
} Block;
gint64 planning_stretch (const Planning *planning);
/* A mode's steps as blocks, for a unit: from the first one that is not done on. `stretch`: as planning_stretch() says. Transfer
 * full (GArray of Block). */
GArray *unit_blocks (const Planning *planning, guint unit, const BatchMode *mode, gint64 stretch);
/* Which of them has the step, which is not before the first one. */
guint block_of_step (const GArray *blocks, guint step);

/* How jobs and resources of the timetable stand for units and pools. */
typedef struct {
    gint64 stretch; /* the longest that a block may be */
    guint hands, places;
    guint beside; /* where a unit is that ends on no place that is counted; G_MAXUINT: there is none */
    guint *resource_of_pool; /* owned; G_MAXUINT: none */
    GArray *unit_of_job;     /* guint; owned */
    GPtrArray *modes_of_job; /* GArray of guint: mode of the class; owned */
} Mapping;
void mapping_free (Mapping *mapping);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Mapping, mapping_free)
/* When the timetable begins: `now` where there is a published one, else 0. */
gint64 planning_begin (const Planning *planning);
/* Task 0 of a job stands for what is held when the timetable begins. */
gboolean plan_has_marker (const Planning *planning, guint unit, const BatchMode *mode);
/* `by_rank`: a unit that gives a part uses none that is given as late; so none can wait for another in a circle. */
Mapping *timetable_of_batch (Planning *planning, gboolean by_rank);
/* Solves it; units that fit nowhere are set aside. Transfer full. */
Mapping *batch_schedule (Planning *planning);
/* Times, technicians, places and numbered parts into the units' tasks. */
void batch_take_over (Planning *planning, const Mapping *mapping);
/* Technicians, places and loaners keep the numbers that were published, where they can. */
void numbers_keep (Planning *planning, const Mapping *mapping, Assignment *assignment);
/* The parts that move, each in its places in order of time. */
void batch_number_parts (Planning *planning, const Assignment *assignment);

/* ---- When it goes wrong (replan.c, standing.c, standing_lent.c) ---- */

/* Reads published times and records: where each unit stands, and what the shop has lost. Before there are classes. */
void replan_read (Planning *planning);
/* What published routes lend beyond what the shop has: parts that were pulled in this batch. Transfer full (GArray of Lot). */
GArray *replan_lent (const Planning *planning);
/* Those of them that are not out of use. Transfer full. */
GArray *replan_lent_left (const Planning *planning, const GArray *lent);
/* The shop and that. Transfer full. */
Shop *replan_shelf (const Shop *shop, const GArray *lent);
/* The same thing done, whatever files say of where it is written. */
gboolean steps_are_equal (const Step *left, const Step *right);
/* Transfer full (GPtrArray of BatchEarlier*). */
GPtrArray *earlier_copy (const GPtrArray *earlier);
/* The unit leaves its last route, and stands as `stands`, which it takes over. */
void standing_leave_route (Planning *planning, guint unit, Unit *stands, GArray *steps);
/* Transfer full (GArray of Step). */
GArray *standing_published_steps (const PublishedUnit *published);
/* Gives units that are in the published timetable their modes; before the sharing. */
void replan_keep_modes (Planning *planning);
/* What is held now has to be there: puts right what records and timetable say apart. After the sharing. */
void replan_settle (Planning *planning);
/* Who keeps a bench place, when it is known what is under way (settle.c). */
void settle_places (Planning *planning);
/* Nothing is known yet. Transfer full. */
BatchReplan *batch_replan_new (guint units);
void batch_replan_free (BatchReplan *replan);
/* What it was gone by, before anything is planned (changes.c, records.c). */
void replan_take (Planning *planning);
/* What became different, and why (changes.c, changes_why.c). */
void replan_compare (Planning *planning);

/* ---- Pulled parts by whose they are (gifts.c, gifts_find.c, gifts_settle.c) ---- */

/* One that the published timetable lends on. */
typedef struct {
    Lot lot;
    guint unit, step; /* whose it is; its step that takes it out for good; step G_MAXUINT: a route that it has left did */
    guint number;
    const char *serial;     /* nullable */
    gboolean gone;          /* it lies beside its unit again, or was never pulled */
    gboolean lost;          /* it is out of use */
    const char *holder;     /* id of the unit that has it now; NULL: none */
    gboolean by_record;     /* some record shows that it was given */
    gboolean wanted;        /* some published fitting of it is to come */
    const Unit *taken_from; /* its unit as it stands, beside which it does not lie any more */
} KnownGift;

/* One of a pool's gifts. */
typedef struct {
    gint64 at; /* it is given then; 0: it was before */
    guint unit, step, number;
    const char *serial; /* nullable */
} Gift;

typedef enum {
    GIFTS_FIRST,   /* before there are classes */
    GIFTS_CLASSED, /* classes have their modes */
    GIFTS_SHARED,  /* units have theirs */
} GiftStage;

/* What the published timetable lends on. */
void gifts_read (Planning *planning);
void gifts_free (gpointer data);
/* It is out of use; `of`, `step`: whose it was as an earlier run noted it, nullable. */
void gift_lose (Planning *planning, const Lot *lot, guint number, const char *of, guint step);
GiftIndex *gift_index_new (void);
void gift_index_free (GiftIndex *index);
/* Puts a copy behind the others. */
void gift_add (Planning *planning, const KnownGift *gift);
/* What the unit gives by the step. NULL: nothing is known of it. */
KnownGift *gift_of_step (const Planning *planning, const Lot *lot, guint unit, guint step);
/* NULL: nothing is known of it. */
KnownGift *gift_find (const Planning *planning, const Lot *lot, guint number);
gboolean gift_is_given (const Planning *planning, const KnownGift *gift);
/* What the unit's step would give is out of use. */
gboolean gift_is_lost (const Planning *planning, guint pool, guint unit, guint step);
/* 1: it is there, and no mode of a unit that is planned gives it; -1: some mode gives it, and it is not there. */
int gift_beyond_modes (const Planning *planning, const KnownGift *gift);
int gifts_beyond_modes (const Planning *planning, guint pool);
/* Of a pool, by number: those that are given already. Transfer full (GArray of Gift). */
GArray *gifts_given (const Planning *planning, guint pool);
guint planning_given (const Planning *planning, guint pool);
/* All of a pool's, in the order of the lanes behind the shop's own. When the units' tasks have their times. */
const GArray *planning_lane_gifts (const Planning *planning, guint pool);
/* Parts of routes that were left: what somebody has or counts on is lent on, and does not lie beside its unit. */
void gifts_resolve (Planning *planning);
/* Nobody has what its unit has not given. TRUE: some unit is not as far as was thought, or was set aside. */
gboolean gifts_settle (Planning *planning, GiftStage stage);
/* Of a unit without a route: that a part of it is out; NULL: none is. Transfer full. */
char *gifts_out_words (const Planning *planning, guint unit);

/* ---- Numbers of parts that are out of use (lost.c) ---- */

/* The shop's own of a lot or pool, before anything was set aside. */
guint lot_had (const Planning *planning, const Lot *lot);
guint pool_had (const Planning *planning, guint pool);
/* The lane of a pool's units that the timetable counts (from 0) as the number of a part, and back; G_MAXUINT: it is out of use,
 * or no number. The shop's own come first, then what units give, numbered on from what the shop had. */
guint number_of_lane (const Planning *planning, guint pool, guint lane);
guint lane_of_number (const Planning *planning, guint pool, guint number);
gboolean pool_number_is_lost (const Planning *planning, guint pool, guint number);

#endif
