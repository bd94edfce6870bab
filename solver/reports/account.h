/* SPDX-License-Identifier: MIT */
/* Account: everything that a report says of a route, worked out once for text and JSON.
 *
 * Owns:   the merging of the checker's accounts over all cases of a unit, the reasons, and the cautions by step.
 * Calls:  check (walks the route in each case; walks it with steps left out to learn what they are for), book.
 * Never:  says anything in words of its own layout; that is route_text.c and route_json.c. */
#ifndef RUNGWISE_ACCOUNT_H
#define RUNGWISE_ACCOUNT_H

#include "check/branches.h"
#include "reports/cautions.h"
#include "reports/words.h"

#define ACCOUNT_MOST_CASES 1024

typedef enum { STEP_POWER_OFF, STEP_POWER_HOST, STEP_POWER_STANDBY } StepPower;

/* A floor that a write sets: from here nothing below this release can be written. */
typedef struct {
    guint component;
    guint release;
} FloorRise;

typedef struct {
    const Step *step; /* borrowed from the route */
    StepPower power;
    Answer starts_before, starts_after;
    double minutes, attended;
    guint opening;               /* which opening it begins, from 1; 0: none */
    gboolean starts_unit;        /* a start is made right before it */
    gboolean start_after_parts;  /* ... the first since parts were worked on */
    Held moved;                  /* remove, fit: the part, and whose it is */
    const char *serial;          /* nullable; borrowed from the unit */
    int replaces;                /* write: index of the release that it replaces; -1: depends on the case */
    gboolean replaces_failed;    /* write: the last write of the component had failed */
    guint recovery;              /* METHOD_BIT mask, writes only: what serves in every case */
    gboolean recovery_takes_all; /* no one method recovers everything that the file writes: all of them are needed */
    gboolean binds_part;         /* fit: in some case the part is bound for good once the unit starts */
    GArray *floor_rises;         /* FloorRise; owned */
    gboolean exchange;           /* a removal whose next step fits the same slot */
    char *why;                   /* owned */
    gboolean needed;             /* FALSE: the route is sound without it */
    int needed_by; /* needed: index of the step that is refused without it; -1: the end is, or another part */
    const char *needed_label; /* needed: what a step of another part is called that needs it; NULL; borrowed */
    const char *needed_rule;  /* needed: id of what that breaks */
    GArray *power_cautions;   /* DueCaution; owned; for the opening, power-up or start before it */
    GArray *cautions;         /* DueCaution; owned; for the step itself, without those */
    int sink;                 /* remove, fit: the slot of the heat sink on top that has to come off; -1: none */
    int sink_exchanged;       /* ... the step, as an index, of the same opening that works on that slot; -1: none */
} StepAccount;

/* What differs where the steps are a part of a plan with branches, or a way through it (reports/branches_plan.h). All
 * borrowed. */
typedef struct {
    const GPtrArray *starts; /* State*: each case as it stands before the first step; never empty */
    const GPtrArray *labels; /* char*: what each step is called, "B1" */
    gboolean running;        /* the unit was started right before it, and runs */
    gboolean parts_touched;  /* parts were worked on since it was last started */
    gboolean no_reasons;     /* they are filled in afterwards (branches_reasons.c) */
    Then then;               /* what follows: only with THEN_END and THEN_TRY a start */
} AccountPart;

typedef struct {
    GPtrArray *steps;                    /* StepAccount* */
    const GPtrArray *labels;             /* as in AccountPart; NULL: the steps are numbered */
    GArray *top_cautions, *end_cautions; /* DueCaution; owned */
    gboolean start_at_end;               /* the route ends with a start of its own */
    gboolean end_after_parts;            /* ... the first since parts were worked on */
    double dark_after_minutes;
    guint openings;
    guint cases;          /* how many combinations of releases were walked */
    guint64 combinations; /* how many there are, walked or not; G_MAXINT64 at most */
    gboolean all_cases;   /* FALSE: there are more than ACCOUNT_MOST_CASES; the first ones were walked */
    State *last;          /* owned; where the route ends, in the first case */
} RouteAccount;

/* `steps` (GArray of Step) must be sound in every case of the unit. Cost: steps squared, plus steps times cases.
 * Transfer full. */
RouteAccount *route_account_new (const Library *library, const Shop *shop, const Unit *unit, const Want *want,
                                 const GArray *steps);
/* The same; `part` (nullable) says what is different. */
RouteAccount *route_account_new_for (const Library *library, const Shop *shop, const Unit *unit, const Want *want,
                                     const GArray *steps, const AccountPart *part);
void route_account_free (RouteAccount *account);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (RouteAccount, route_account_free)

/* What the step is called: "3", "B1". `labels`: as in RouteAccount. Transfer full. */
char *step_label (const GPtrArray *labels, guint index);
/* What it and a further one, made as one, are called: "3-4". Transfer full. */
char *step_labels (const GPtrArray *labels, guint first, guint last);

/* The release that the step puts on the component, alone or along with another; -1: it leaves it alone. */
int step_writes_release (const Board *board, const Step *step, guint component);
/* Whether one of the first `count` steps writes the component, alone or along with another. */
gboolean steps_write_component (const Board *board, const GArray *steps, guint count, guint component);

#endif
