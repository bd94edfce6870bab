/* SPDX-License-Identifier: MIT */
/* Evidence: what was seen of a dark unit, what that may mean, and what may be wrong with it besides the rules.
 *
 * Owns:   causes, signs and observations as structs. Part of the book room's interface, apart for length alone.
 * Calls:  book.
 * Never:  weighs anything; that is the explain room's.
 * Method: docs/files.md, "Looks", "Signs" and "Seen". */
#ifndef RUNGWISE_EVIDENCE_H
#define RUNGWISE_EVIDENCE_H

#include "book/book.h"

/* Something physical that keeps a unit dark while no rule is broken. Each is found by exactly one look. */
typedef struct {
    const char *id;
    const char *says;      /* "a bent contact in the socket" */
    double share;          /* weight beside the other causes of all looks, from shop experience; above 0 */
    guint blames;          /* mask 1u << PartKind: it is a fault of such a part; 0: of none */
    gboolean blames_board; /* it is a fault of the board */
    guint fit_of;          /* mask 1u << PartKind: it is how such a part sits, so another in its place may clear it */
    const LookFirst *look; /* the one that finds it; borrowed */
    Mark at;
} Cause;

/* How often a cause was what kept a unit dark, in this shop. */
typedef struct {
    const Cause *cause;
    guint count;
    Mark at;
} FoundCount;

typedef enum {
    SEEN_DARK_MINUTES, /* how long it was left on, dark */
    SEEN_OTHER_IMAGE,  /* a start from the other firmware image: `word` dark or started */
    SEEN_POWER_LIGHT,  /* on, off, blinking */
    SEEN_FANS,         /* still, turning, full-speed, stop-and-go */
    SEEN_BEEPS,        /* "long short short", or none */
    SEEN_POST_CODE,    /* the last two-digit code, 0 to 255 */
    SEEN_EVENT,        /* an entry of the controller's event log */
    SEEN_WITH,         /* a start with other parts in: `started` or not */
    SEEN_LOOKED,       /* a look was done: `cause` found, or nothing */
    SEEN_COUNT
} SeenKind;

/* The key of a kind in files and items: "dark-minutes", "event"; SEEN_WITH: "with", SEEN_LOOKED: "looked". */
const char *seen_kind_name (SeenKind kind);

/* An event as IPMI 2.0 writes it: -1 where not stated. Source: IPMI 2.0 (revision 1.1), section 32 and table 42-3. */
typedef struct {
    int sensor_type;     /* 0x07: processor */
    int offset;          /* event data 1, bits 3:0, of event type 6Fh */
    int data_2, data_3;  /* only where event data 1 says that they hold what the table lists */
    gboolean deasserted; /* it ended: the sign of an event that is there is not given by one that went */
} SeenEvent;

/* One thing that was seen. */
typedef struct {
    SeenKind kind;
    const char *word;  /* interned; OTHER_IMAGE, POWER_LIGHT, FANS, BEEPS */
    double number;     /* DARK_MINUTES, POST_CODE */
    SeenEvent event;   /* EVENT */
    Fitted *fitted;    /* owned; one per slot of the board; WITH: what the slots held that `looked_at` names */
    gboolean *changed; /* owned; per slot: the start was made with `fitted` there, all else as it stands */
    gboolean started;  /* WITH */
    const LookFirst *look;
    const Cause *cause; /* LOOKED; NULL: nothing was found */
    Mark at;
} Observation;

/* All that was seen of one unit. */
typedef struct {
    const char *name;
    const char *file; /* that it was read from; "--seen" for one made from a command line */
    const char *unit; /* its id; NULL: of the unit that is asked about */
    const Board *board;
    GPtrArray *observations; /* Observation*; owned; in the order of the file, items last */
    Mark at;
} Seen;

/* What a sign speaks of: exactly one of the three. */
typedef struct {
    const Cause *cause;
    const Rule *rule;
    gboolean any_rule; /* any broken rule */
} SignTarget;

typedef struct {
    SignTarget target;
    double factor; /* above 1: so many times as likely as before */
} SignSupport;

/* What an observation of a kind means. */
typedef struct {
    const char *id;
    GPtrArray *boards; /* interned names of boards; NULL: any */
    SeenKind kind;     /* any but WITH and LOOKED */
    const char *word;
    double from, to;      /* DARK_MINUTES, POST_CODE: ends included */
    SeenEvent event;      /* EVENT: -1 is any; data_2 from ... */
    int data_2_to;        /* ... to here */
    const char *says;     /* what it means, a sentence */
    GArray *supports;     /* SignSupport; never NULL */
    GArray *excludes;     /* SignTarget; never NULL */
    Source source;
    Mark at;
} Sign;

/* Whether `sign` is given by this observation on this board. */
gboolean sign_is_given (const Sign *sign, const Board *board, const Observation *observation);
/* In words: "the fans turn", "event log: sensor type 07h, offset 04h". Transfer full. */
char *observation_words (const Board *board, const Observation *observation);

#endif
