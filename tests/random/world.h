/* SPDX-License-Identifier: MIT */
/* World: what a job's unit has at one moment, and what may be done to it. docs/method.md, "Words made exact", read
 * line by line into loops; nothing is shared with the program under test.
 *
 * A unit whose releases are not all known is one world with several cases: the slots are the same in all of them, and
 * a move is allowed when every case allows it. */
#ifndef RANDOM_WORLD_H
#define RANDOM_WORLD_H

#include "model.h"

/* What runs of steps are counted by. */
typedef enum { MODE_FRESH, MODE_OFF, MODE_STANDBY, MODE_ON } Mode;

typedef struct {
    guint8 held[MAX_SLOTS];                  /* 0: empty; otherwise a triple + 1 */
    guint8 fittings[MAX_SLOTS];              /* since the start, of slots with a rating */
    guint8 release[MAX_CASES][MAX_FIRMWARE]; /* of a failed component: what it had before */
    guint8 floor[MAX_CASES][MAX_FIRMWARE];   /* lowest release that may be written */
    guint8 failed;                           /* component bits, the same in all cases */
    guint8 mode;                             /* Mode of the last step */
    guint8 unused[6];                        /* always 0: worlds are compared and hashed as whole words */
} World;
G_STATIC_ASSERT (sizeof (World) % 8 == 0);

typedef struct {
    int piece, stepping;
    Keeper keeper;
    Bound bound;
    int count;
} Triple;

typedef struct {
    const Job *job; /* borrowed */
    int triple_count, case_count;
    Triple triples[MAX_TRIPLES];
    gboolean may_end[MAX_SLOTS][MAX_TRIPLES + 1]; /* by `held` */
    World start;
} Play;

typedef enum { MOVE_REMOVE, MOVE_FIT, MOVE_WRITE } MoveKind;

typedef struct {
    MoveKind kind;
    int slot, triple;            /* remove, fit */
    int component, release, way; /* write */
} Move;

/* What may happen in a world, over all its cases. */
typedef struct {
    gboolean starts;       /* in every case */
    gboolean standby_safe; /* in every case */
    gboolean unharmed;     /* no rule that harms is broken, whatever its `while`, in every case */
    unsigned barred;       /* way bits, barred in some case */
} Verdict;

/* FALSE when the job has more cases than MAX_CASES; then nothing is filled in. With `only_case` >= 0 that case alone.
 */
gboolean play_setup (Play *play, const Job *job, int only_case);
/* How many combinations of releases the job's unit may have. */
int job_case_count (const Job *job);

Verdict world_verdict (const Play *play, const World *world);
/* Whether the last state may be this one (the want, loaners, slots left alone; that it starts is the verdict's). */
gboolean world_may_end (const Play *play, const World *world);
/* Whether `move` is allowed; `verdict` is that of `world`. */
gboolean move_allowed (const Play *play, const World *world, const Verdict *verdict, const Move *move);
World move_apply (const Play *play, const World *world, const Move *move);
/* The world in which everything that `move`, a write, would have set is failed. */
World move_fail (const Play *play, const World *world, const Move *move);
/* Insertions, and minutes in tenths, that the move adds, an opening or a start before it included. */
int move_insertions (const Play *play, const Move *move);
/* Openings that it begins: 0 or 1. */
int move_openings (const Play *play, const World *world, const Move *move);
int move_tenths (const Play *play, const World *world, const Move *move);
/* Tenths added at the end of a route whose last world this is. */
int end_tenths (const Play *play, const World *world);

/* How the unit is powered while this is done. */
Mode move_mode (const Job *job, const Move *move);
/* The components that a write sets. Bits. */
unsigned move_sets (const Job *job, const Move *move);
/* As a unit comes back to `right`: the same releases and parts; what had failed there, floors and counts of fittings may
 * differ. */
gboolean worlds_alike (const Play *play, const World *left, const World *right);

/* recovery.c: docs/method.md, "Recovery", in one case. `written`: the components that one file writes. */
/* Each of them could be put right in a unit that does not start. */
gboolean writes_recover (const Play *play, const World *world, int at_case, unsigned written);
/* `component` could be, by this way. */
gboolean way_recovers (const Play *play, const World *world, int at_case, int component, int way, unsigned written);

/* laws.c: whether rules and conditions hold in one case. */
gboolean cond_holds (const Play *play, const World *world, int at_case, const Cond *cond);
gboolean law_holds (const Play *play, const World *world, int at_case, const Law *law);
/* A release for itself: `from`, and what a want asks of a component. Other atoms than on releases do not occur. */
gboolean cond_holds_of (const Cond *cond, int release);
/* tied.c: whether a law ties two slots (docs/method.md, "Tied slots"). */
gboolean law_ties (const Job *job, const Law *law, int a, int b);
gboolean ask_is_met (const Job *job, int slot, int piece, int stepping);

#endif
