/* SPDX-License-Identifier: MIT */
/* Model: one small job as plain arrays, for the outside test of shortest routes.
 *
 * Owns:   its own words for boards, parts, firmware, rules, shop, unit and want. No pointer, so that `=` copies a job.
 * Calls:  nothing of the program under test: what is written here is written from docs/method.md, "Words made exact",
 *         and docs/files.md alone. Only compare.c knows both sides.
 * Method: a job is drawn from a seed (generate.h), answered by trying everything (exhaustive.h), written out as files
 *         (emit.h) and handed to the program (compare.h); what differs is made smaller (shrink.h). */
#ifndef RANDOM_MODEL_H
#define RANDOM_MODEL_H

#include <glib.h>

enum {
    MAX_SLOTS = 8,
    MAX_FIRMWARE = 4,
    MAX_RELEASES = 5,
    MAX_PIECES = 14,
    MAX_LOTS = 10,
    MAX_TRIPLES = 24,
    MAX_LAWS = 24,
    MAX_PULLED = 3,
    MAX_CASES = 8,
    MAX_NODES = 7,
    GENERATIONS = 3,
    STEPPINGS = 4,
    TABLES = 2, /* names that releases provide with a version */
    REVISIONS = 3
};

typedef enum {
    PIECE_PROCESSOR,
    PIECE_SINK,
    PIECE_MEMORY,
    PIECE_SUPPLY,
    PIECE_MEDIUM,
    PIECE_BLANK,
    PIECE_KINDS
} PieceKind;
typedef enum { WAY_HOST, WAY_CONTROLLER, WAY_CLIP, WAY_JUMPER, WAY_SPARE, WAYS } Way;
enum { ALL_WAYS = (1 << WAYS) - 1 };
typedef enum { OWN, LOAN, STOCK } Keeper;
/* To whom a part has bound itself, or what a board binds to. */
typedef enum { BOUND_NOBODY, BOUND_FIRST, BOUND_SECOND, BOUND_COUNT } Bound;
/* What a write by the controller needs of the host. */
typedef enum { NEED_OFF, NEED_ON, NEED_EITHER } HostNeed;
typedef enum { CMP_ANY, CMP_LT, CMP_LE, CMP_EQ, CMP_GE, CMP_GT, CMP_NE } Cmp;

/* A node of a dependency expression. For ATOM_RELEASE `subject` is a component and `value` a release; ATOM_MODEL: a
 * piece and a stepping; ATOM_GENERATION: a generation and a stepping; ATOM_REVISION: `value` a revision; ATOM_TABLE: a
 * table and its version; ATOM_KIND, ATOM_SLOT: `subject` alone. */
typedef enum {
    ATOM_RELEASE,
    ATOM_MODEL,
    ATOM_GENERATION,
    ATOM_REVISION,
    ATOM_TABLE,
    ATOM_KIND,
    ATOM_SLOT,
    JOIN_AND,
    JOIN_OR,
    JOIN_IF /* left if right */
} NodeKind;

typedef struct {
    NodeKind kind;
    int subject;
    Cmp cmp;
    int value;
    int left, right; /* joins: nodes at lower indices */
} Node;

typedef struct {
    int count; /* 0: nothing is asked. The root is the last node. */
    Node nodes[MAX_NODES];
} Cond;

typedef struct {
    char name[24];
    PieceKind takes;
    int over, served_by; /* slot; -1: none */
    int socket;          /* processors; -1: not stated */
    int memory_type;     /* memory; -1: not stated */
    int rated;           /* fittings that it bears; 0: not stated */
    gboolean gone;       /* taken out by shrinking */
} Place;

/* A model of a part. */
typedef struct {
    char name[24];
    PieceKind kind;
    int generation;        /* processors */
    unsigned steppings;    /* bits; 0 for what has none */
    unsigned sockets;      /* bits; processors */
    unsigned memory_types; /* bits; processors and memory */
    int watts;             /* -1: not stated */
    int rating, output;    /* sinks; supplies */
    gboolean binds;        /* itself for good, to whom the first board that starts it binds to */
    Cond requires, conflicts;
    gboolean gone;
} Piece;

typedef struct {
    unsigned starts[GENERATIONS], never[GENERATIONS]; /* stepping bits */
    gboolean states_starts;                           /* the key is there, however empty */
    Cond from, write_requires, write_conflicts, run_requires, run_conflicts;
    int lowest; /* release; -1: none */
    int also;   /* component; -1: none */
    int also_release;
    unsigned ways;      /* bits */
    int tables[TABLES]; /* version provided; 0: none */
    gboolean withdrawn;
    gboolean gone;
} Edition;

typedef struct {
    gboolean there, next_start, obeys_from, obeys_to_write, obeys_floor;
    gboolean recovery_only; /* writes the component only while that is failed */
    HostNeed host;          /* WAY_CONTROLLER */
    int tenths;             /* of a minute */
    Cond requires;
} WayEntry;

typedef enum { ORDER_DOTTED, ORDER_SEMVER, ORDER_DEBIAN, ORDER_LISTED } Order;

typedef struct {
    Order order;
    int count;
    Edition editions[MAX_RELEASES];
    WayEntry ways[WAYS];
    unsigned recovery; /* way bits */
    int spare;         /* the component that is this one's spare image; -1: none */
    int spare_of;      /* the component whose spare image this one is; -1: none. What it says is job_mirror_spares' */
    gboolean gone;
} Firmware;

typedef enum {
    LAW_SAME,       /* attribute over all pieces of a kind */
    LAW_SAME_SLOT,  /* attribute of a piece and its slot */
    LAW_SAME_KINDS, /* attribute shared between two kinds */
    LAW_MIXED,      /* steppings, unless mixed-steppings */
    LAW_BEFORE,
    LAW_COVER,
    LAW_SUM,
    LAW_SOME,
    LAW_WHEN,
    LAW_KNOWS,
    LAW_OWN,
    LAW_ONE_OF, /* of a slot of `kind` and the slot of `other` that it is over, one is populated */
    LAW_BINDS
} LawForm;

typedef enum { ATTR_MODEL, ATTR_GENERATION, ATTR_SOCKET, ATTR_MEMORY_TYPE } Attr;
typedef enum { BREAK_STOPS, BREAK_HARMS, BREAK_WARNS, BREAK_BARS } Break;
enum { WHILE_ON = 1, WHILE_STANDBY = 2 };
typedef enum { LARGE_KEPT, LARGE_LOST, LARGE_BY_SHOP } Large;

typedef struct {
    LawForm form;
    Break breaking;
    unsigned powers; /* BREAK_HARMS */
    unsigned ways;   /* BREAK_BARS */
    PieceKind kind, other;
    Attr attr;
    gboolean memory_counts, board_counts; /* LAW_SUM: watts of memory, of the board, where stated */
    Large large;
    gboolean lent; /* LAW_BINDS: loaners that would be bound; else parts bound elsewhere */
    Cond when, requires, conflicts;
} Law;

typedef struct {
    int piece; /* -1: empty */
    int stepping;
    Keeper keeper;
    Bound bound;
} Fit;

typedef struct {
    int piece, stepping;
    Keeper keeper; /* LOAN or STOCK */
    Bound bound;
    int count;
} Stack;

typedef enum { ASK_NOTHING, ASK_EMPTY, ASK_MODEL, ASK_LIKE } AskKind;

/* What the want says of one slot; the tests of ASK_LIKE all hold, those not asked are -1 or CMP_ANY. */
typedef struct {
    AskKind kind;
    int piece, stepping; /* ASK_MODEL; stepping -1: any */
    int generation;      /* ASK_LIKE */
    Cmp cmp;             /* ASK_LIKE: watts, rating or output, by the slot's kind */
    int number;
} Ask;

typedef enum { TOLD_KNOWN, TOLD_UNKNOWN, TOLD_RANGE, TOLD_BOUNDS, TOLD_LIST } Told;

typedef struct {
    int place_count, piece_count, firmware_count, law_count, stack_count;
    Place places[MAX_SLOTS];
    Piece pieces[MAX_PIECES];
    Firmware firmware[MAX_FIRMWARE];
    Law laws[MAX_LAWS];
    Stack stacks[MAX_LOTS];
    unsigned generation_steppings[GENERATIONS];
    unsigned mixed[GENERATIONS]; /* stepping bits that may run side by side; 0: no set */
    int revision;
    int board_watts; /* -1: not stated */
    Bound board_binds;
    gboolean verified_boot;

    unsigned shop_ways;
    gboolean unverified, need_recovery, redundant;
    int opening_tenths, start_tenths, remove_tenths[PIECE_KINDS], fit_tenths[PIECE_KINDS];

    unsigned may_be[MAX_FIRMWARE]; /* release bits */
    Told told[MAX_FIRMWARE];       /* how the unit file says it */
    int floor[MAX_FIRMWARE];       /* release; -1: not given */
    gboolean failed[MAX_FIRMWARE];
    gboolean spare_untold; /* the unit file does not say what the spare image has: what the active image has */
    Fit fits[MAX_SLOTS];
    gboolean told_began[MAX_SLOTS]; /* the unit file says what the slot held when the work began */
    Fit began[MAX_SLOTS];           /* where it does; an own part or empty */
    int insertions[MAX_SLOTS];      /* fittings that a socket with a rating has had */
    int pulled_count;
    Fit pulled[MAX_PULLED]; /* the unit's own parts that lie beside it */

    Ask asks[MAX_SLOTS];
    Cond ask_firmware[MAX_FIRMWARE];
    gboolean keep_place[MAX_SLOTS], keep_firmware[MAX_FIRMWARE];

    int look; /* varies how the files are written, never what they say */
} Job;

/* Reproducible numbers; one draw to an expression, since compilers differ in which side they take first (Vigna's
 * splitmix64, constants from memory; any good mixer would do). */
typedef struct {
    guint64 state;
} Dice;

guint64 dice_next (Dice *dice);
int dice_below (Dice *dice, int n);               /* 0 .. n-1 */
int dice_between (Dice *dice, int low, int high); /* both included */
gboolean dice_percent (Dice *dice, int percent);

/* Names as the files write them. Static text. */
const char *firmware_name (const Job *job, int component);
const char *edition_name (const Firmware *firmware, int release);
const char *generation_name (int generation);
const char *stepping_name (int stepping);
const char *piece_kind_name (PieceKind kind);
const char *way_name (Way way);
const char *keeper_name (Keeper keeper);
const char *bound_name (Bound bound); /* NULL for nobody */

/* Has each spare image say what its component says, as far as it does (docs/method.md, "Spare images"). */
void job_mirror_spares (Job *job);
/* The same where the want keeps nothing. */
Job job_that_keeps_nothing (const Job *job);
/* What a slot held when the work began. */
const Fit *job_began (const Job *job, int slot);

/* How many of these bits are set; the lowest of them (-1: none). */
int bits_count (unsigned bits);
int bits_lowest (unsigned bits);

gboolean cmp_holds (Cmp cmp, int left, int right);
gboolean cond_names (const Cond *cond, NodeKind kind, int subject);

/* Conditions built from parts; each of at most MAX_NODES nodes. */
Cond cond_atom (NodeKind kind, int subject, Cmp cmp, int value);
Cond cond_join (NodeKind join, const Cond *left, const Cond *right);

#endif
