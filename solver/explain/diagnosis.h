/* SPDX-License-Identifier: MIT */
/* Diagnosis: everything there is to say of a unit that stays dark.
 *
 * Owns:   what the evidence means, what tells cases apart, the ways out, the order of checks, the verdict for a return.
 * Calls:  dark, order, explain (alternatives, no route), route, check, book.
 * Never:  prints.
 * Method: docs/method.md, "A dark unit". */
#ifndef RUNGWISE_DIAGNOSIS_H
#define RUNGWISE_DIAGNOSIS_H

#include "book/evidence.h"
#include "explain/dark.h"
#include "explain/explain.h"

typedef struct {
    Library *library;
    Shop *shop;
    Unit *unit;
    /* Nullable; with `asked_only`: the unit as it stands, without the parts that are asked about, which `unit` has in.
     * Ways out start from it, with these parts at hand and wanted in their slots. On the same board. */
    const Unit *before;
    Want *want;          /* nullable */
    const Seen *seen;    /* nullable: nothing was seen but that it is dark */
    gboolean asked_only; /* the parts are not fitted yet: --fit */
    int suspect;         /* slot whose part may be sent back; -1: none was named, every fitted processor is looked at */
    const RouteOptions *options;
} DiagnosisQuestion;

/* ---- Evidence ---- */

/* What one observation means. */
typedef struct {
    const Observation *observation; /* borrowed */
    const Sign *sign;               /* nullable: it follows from docs/method.md, not from a sign of the files */
    char *says;                     /* owned; a sentence */
    char *releases_out; /* owned; nullable: releases that it rules out by itself, in words: "system 3.0.0 or 3.0.1" */
    Source source;
    guint swapped; /* SEEN_WITH: kinds of part in whose slots something was changed, of those that a cause speaks of */
    guint swapped_all; /* of these, kinds of which no part stayed in; both masks 1u << PartKind */
    gboolean shows;    /* SEEN_WITH, dark: no rule keeps it dark with these parts in, whichever releases are left */
    gboolean waited;   /* SEEN_DARK_MINUTES, without a sign: as long as a first start may take */
} SignGiven;

/* Observations that cannot all be right; none of them can be left out. */
typedef struct {
    GArray *given;       /* guint, indices of Evidence.given; owned */
    gboolean with_files; /* they may all be right, and do not go with what the files say of this unit */
} Conflict;

typedef struct {
    GPtrArray *given;        /* SignGiven*, in the order of the observations; owned */
    GPtrArray *without_sign; /* const Observation*: nothing in the files says what they mean; owned array */
    /* What is in a conflict excludes nothing, neither cases nor causes, so that a case is always left. */
    gboolean *case_out; /* owned; per case of the DarkAnswer: what was seen excludes it */
    gboolean **may_be;  /* owned, NULL-terminated; per component, per release: the unit may have it after all this */
    /* A case is left in part only, and what is left is every combination of `may_be`: the unit can be told anew. */
    gboolean narrows;
    GPtrArray *conflicts; /* Conflict*; owned; empty: all can be right */
    /* Something shows that it did not come as far as any broken rule (no light, still fans), and something physical has to
     * explain it, whichever the releases: that goes first. */
    gboolean physical_first;
    gboolean against_book; /* there are conflicts, and each is one with the files */
    gboolean too_early;    /* it was not left on for as long as a first start may take, or nobody says how long */
    gboolean waited;       /* it was, for certain */
} Evidence;

/* ---- Physical causes ---- */

typedef struct {
    const Cause *cause;
    double share;       /* as the files and the shop's counts have it, of 1 */
    double probability; /* after the evidence, of 1 over all causes that are left; 0: excluded */
    guint counted;      /* how often this shop found it */
    int excluded_by;    /* index of Evidence.given; -1: it is not excluded */
} CauseWeight;

typedef struct {
    const LookFirst *look;
    double probability; /* of its causes together */
    double minutes;     /* of a wait for memory training, what is left of the time that a first start may take */
} CheckDue;

typedef struct {
    GPtrArray *causes; /* CauseWeight*, in the order of the looks; owned */
    /* CheckDue, in the order to make them; owned; not those done, those that can find nothing, nor, where a rule is broken
     * that may do harm under power, those with the unit on. */
    GArray *checks;
    double expected_minutes, likeliest_first_minutes;
    double left_over;        /* probability of what no check finds */
    gboolean skip_last;      /* the last need not be made */
    gboolean only_left_over; /* no check is left that finds anything: what is left is what no check finds, the board */
    guint counted;           /* units behind the shop's own counts */
} PhysicalCauses;

/* ---- Telling cases apart ---- */

typedef enum {
    TELL_PAGE,  /* the controller's own page */
    TELL_LABEL, /* a label on the board or its box: may settle it */
    TELL_START, /* a start with parts that start with any of the releases */
} TellKind;

typedef struct {
    TellKind kind;
    guint component; /* PAGE, LABEL */
    double minutes;
    GArray *steps;        /* Step; START; owned; NULL otherwise */
    gboolean for_certain; /* it tells every case that starts from every one that does not */
    char *says;           /* owned; a sentence */
} Telling;

/* ---- Ways out ---- */

typedef enum { WAY_WANTED, WAY_SAME_PROCESSORS, WAY_OTHER_PARTS } WayKind;

typedef struct {
    WayKind kind;
    RouteAnswer *answer; /* owned; with a route or with branches */
    Want *want;          /* owned, nullable: what it was asked with; NULL: the question's own */
} WayOut;

/* ---- For a return ---- */

typedef enum {
    RETURN_NO_FIRMWARE, /* not shown faulty: this board has never run firmware that knows it, or does not now */
    RETURN_RULE,        /* not shown faulty: such a part stays dark here, or under power may come to harm */
    RETURN_TOO_EARLY,   /* not shown faulty: it was not left on long enough */
    RETURN_NOT_READ,    /* not shown faulty: with some of the releases that the unit may have it stays dark anyway */
    RETURN_CONFLICT,    /* not shown faulty: what was seen does not fit together */
    RETURN_OTHER_CAUSE, /* not shown faulty: what was found, or seen, leaves no fault of such a part */
    RETURN_ELSEWHERE,   /* not shown faulty: a like part stays dark in its place too */
    RETURN_FOUND,       /* shown faulty by a look: it found a fault of such a part */
    RETURN_CHECKS_LEFT, /* may be faulty; likelier or cheaper checks were not made yet */
    RETURN_LIKE_STARTS, /* points to the part: a like part starts in its place, with all else the same */
    RETURN_LEFT_OVER,   /* points to the part: next to nothing else that keeps such a unit dark is left */
    RETURN_STARTS,      /* it was seen to start, and could not have without the part */
} ReturnVerdict;

/* One block of the return form, about one part. */
typedef struct {
    guint slot;
    ReturnVerdict verdict;
    char *says;           /* owned; the verdict's sentence */
    GPtrArray *tried;     /* char*: what was tried and seen; owned */
    GPtrArray *rules_out; /* char*: what that rules out: causes and releases, by name; owned */
    GPtrArray *left;      /* char*: what was not tried, and what is left then; owned */
    double probability;   /* that it is the part, after the evidence; 0 where a rule explains it all */
} ReturnBlock;

typedef enum {
    ALL_START,   /* no rule is broken: the cause is physical */
    NONE_STARTS, /* a fact says so, in every case */
    NONE_KNOWN,  /* in no case is it known to start, and in some only for want of a statement */
    SOME_START,
    TOO_MANY_CASES,
} DiagnosisStarts;

typedef struct {
    /* Owned. Of the unit as the evidence leaves it, where that leaves a case in part only (Evidence.narrows); else of the
     * unit as it was asked about, and Evidence.case_out says which cases are out. */
    DarkAnswer *dark;
    /* Owned, NULL-terminated; per component, per release: the unit might have had it, and what was seen rules it out. */
    gboolean **ruled_out;
    DiagnosisStarts starts; /* over the cases that the evidence leaves */
    Evidence *evidence;     /* owned */
    GPtrArray *tellings;    /* Telling*, least minutes first; owned; empty unless some cases start and some do not */
    GPtrArray *ways;        /* WayOut*, cheapest first; owned */
    NoRoute *none;   /* owned; why there is no way out with the same processors; NULL: there is one, or it is open */
    Want *none_want; /* owned; what that was asked with; NULL without `none` */
    /* Owned; with the releases that the evidence leaves: tellings and ways start from it, walks borrow it. */
    Unit *unit;
    /* Owned, nullable: with DiagnosisQuestion.before, what ways start from instead: that unit with these releases, and the
     * shop with the parts that are asked about at hand. */
    Unit *before;
    Shop *before_shop;
    /* Owned; NULL with `asked_only`, and where a rule explains every case that is left, unless a start of a like part
     * refutes that. */
    PhysicalCauses *physical;
    GPtrArray *returns; /* ReturnBlock*; owned */
} Diagnosis;

#define DIAGNOSIS_MOST_WAYS 6

/* Transfer full. Cost: planning runs for the ways out. */
Diagnosis *diagnosis_find (const DiagnosisQuestion *question);
void diagnosis_free (Diagnosis *diagnosis);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Diagnosis, diagnosis_free)

#endif
