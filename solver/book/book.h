/* SPDX-License-Identifier: MIT */
/* Book: everything that files say, as structs in this project's words.
 *
 * Owns:   boards, firmware, parts, rules, units, wants, shops, cautions, written routes. Loaded once, then const.
 * Calls:  text; libyaml (inside this room only).
 * Never:  decides whether anything starts; that is the check room's.
 * Method: docs/files.md has every key; docs/method.md, "Words made exact", the meaning.
 *
 * All `const char *` names are interned: two names are equal when the pointers are. */
#ifndef RUNGWISE_BOOK_H
#define RUNGWISE_BOOK_H

#include "book/expression.h"

typedef enum {
    KIND_PROCESSOR,
    KIND_HEAT_SINK,
    KIND_MEMORY,
    KIND_SUPPLY,
    KIND_RISER,
    KIND_FAN,
    KIND_BAFFLE,
    KIND_BLANK,
    KIND_MEDIUM, /* what a host starts from to write firmware */
    KIND_COUNT
} PartKind;

typedef enum {
    METHOD_HOST,
    METHOD_CONTROLLER,
    METHOD_CLIP,
    METHOD_JUMPER, /* recovery jumper set: the boot block writes the file from a medium */
    METHOD_SPARE,  /* the spare image is copied over the active one */
    METHOD_COUNT
} Method;
#define METHOD_BIT(method) (1u << (method))

typedef enum { OWNER_UNIT, OWNER_LOAN, OWNER_STOCK, OWNER_COUNT } Owner;

const char *part_kind_name (PartKind kind); /* "heat-sink" */
const char *method_name (Method method);
const char *owner_name (Owner owner); /* "own", "loan", "stock" */

/* How a unit is powered while something is done to it. */
typedef enum { POWERED_OFF, POWERED_STANDBY, POWERED_ON } Powered;

/* A fact of a part, slot or board that a rule may look at. */
typedef struct {
    const char *name;
    GPtrArray *values; /* of interned const char *; one for a scalar, several for a list */
    gboolean is_number;
    double number; /* meaningful only with is_number */
    Mark at;
} Attribute;

/* NULL when not stated. `attributes` is a GPtrArray of Attribute*. */
const Attribute *attribute_find (const GPtrArray *attributes, const char *name);

/* What a package offers: a name, and a version or NULL. */
typedef struct {
    const char *name;
    const char *version; /* interned, nullable */
    Mark at;             /* where it is written out; no place for what sugar gives */
} Provide;

typedef struct {
    const char *text; /* NULL when not stated */
    const char *checked;
    Mark at;
} Source;

typedef struct {
    const char *name;
    PartKind takes;
    GPtrArray *attributes; /* Attribute* */
    int over;              /* index of the slot that this one covers (a sink over a socket); -1: none */
    int served_by;         /* index of the slot that keeps this one alive; -1: always alive */
    guint index;
    Mark at;
} Slot;

/* Steppings of one generation that a board lets run together. */
typedef struct {
    const char *generation;
    GPtrArray *steppings; /* interned */
    Mark at;
} SteppingSet;

typedef struct Component Component;

/* How the release of a component can be read while the host is dark: the controller shows it, on standby power. */
typedef struct {
    gboolean there;
    double minutes;
    Expr *requires; /* nullable; holds in the state in which it is read */
    Mark at;
} ReadPage;

typedef struct {
    const char *name;
    GPtrArray *revisions;       /* interned, oldest first, never empty */
    GPtrArray *slots;           /* Slot*, in the order of the file */
    GPtrArray *components;      /* Component*, in the order that the board lists them; all have firmware */
    GPtrArray *mixed_steppings; /* SteppingSet*; NULL when the board does not state them */
    GPtrArray *attributes;      /* Attribute* (watts, ...) */
    GPtrArray *provides;        /* Provide*, written out */
    double dark_after_minutes;  /* how long a first start may stay dark; 0 when not stated */
    gboolean verified_boot;     /* verifies its firmware at each start: a clip recovers nothing */
    const char *binds;          /* to whom a part that binds itself is bound once it starts here; NULL: to nobody */
    Source source;
    Mark at;
} Board;

/* What a controller write needs of the host; either: standby is enough, and a running host is no harm. */
typedef enum { HOST_OFF, HOST_ON, HOST_EITHER } HostPower;

/* One way of writing a component. */
typedef struct {
    gboolean there;
    double minutes;                                   /* elapsed */
    double attended;                                  /* of these, with somebody standing by */
    gboolean verify_next_start;                       /* host: the state after the write need not start */
    Expr *requires;                                   /* nullable; holds in the state before */
    gboolean obeys_from, obeys_to_write, obeys_floor; /* always TRUE for host and controller */
    HostPower host;                                   /* controller: what the host has to be */
    gboolean recovery_only;                           /* writes the component only while that is failed */
    Mark at;
} MethodEntry;

/* How a unit is powered while this method writes: host on; controller on standby, or on where the host has to be on;
 * spare on standby; clip and jumper off (the unit is opened; the jumper's short run is part of the step). */
Powered method_powered (const MethodEntry *entry, Method method);

/* Support that a release states. */
typedef struct {
    const char *generation;
    GPtrArray *steppings; /* interned; NULL: all of them */
    Mark at;
} Support;

typedef struct {
    const char *component;
    const char *release;
    Mark at;
} AlsoWrites;

typedef enum { EFFECT_AT_ONCE, EFFECT_CONTROLLER_RESTART, EFFECT_HOST_RESTART, EFFECT_MAINS_OFF } TakesEffect;

typedef struct {
    const char *name;
    guint index; /* in the component's sorted list */
    const char *date;
    GPtrArray *starts;                            /* Support*; NULL when not stated at all */
    GPtrArray *never_starts;                      /* Support*; NULL when not stated */
    Expr *from;                                   /* nullable: any release at or above the floor */
    Expr *to_write_requires, *to_write_conflicts; /* nullable */
    Expr *running_requires, *running_conflicts;   /* nullable */
    int lowest;                                   /* index in the list; -1: sets no floor */
    GPtrArray *also_writes;                       /* AlsoWrites*; never NULL */
    guint methods; /* METHOD_BIT mask of the component's methods that may write this release */
    TakesEffect takes_effect;
    gboolean clears_settings;
    gboolean asks_clear_settings; /* afterwards the settings have to be cleared by hand, as part of the step */
    const char *file_name;
    const char *sha256;
    gint64 bytes;          /* -1 when not stated */
    const char *withdrawn; /* the reason; NULL: not withdrawn */
    GPtrArray *provides;   /* Provide*, written out; never NULL */
    Source source;
    Mark at;
} Release;

struct Component {
    const char *name;
    VersionScheme scheme;
    MethodEntry methods[METHOD_COUNT];
    guint recovery;         /* METHOD_BIT mask: what can rewrite it when a write has failed */
    GPtrArray *releases;    /* Release*, ascending, unique, never empty */
    gboolean states_starts; /* some release has `starts` or `never-starts` */
    const char *spare;      /* the component that is this one's spare image; NULL: there is none */
    const char *spare_of;   /* the component whose spare image this one is; NULL: it is none */
    ReadPage page;
    Mark at;
};

typedef struct {
    const char *name;
    PartKind kind;
    const char *generation;     /* processors; NULL otherwise */
    GPtrArray *steppings;       /* interned; empty when the part has none */
    GPtrArray *attributes;      /* Attribute*: all stated keys, generation, stepping and socket included */
    Expr *requires, *conflicts; /* nullable */
    GPtrArray *provides;        /* Provide*, written out; never NULL */
    gboolean binds;             /* binds itself for good to whom the first board that starts it binds to */
    Source source;
    Mark at;
} Part;

typedef struct {
    GPtrArray *titles;   /* interned */
    GPtrArray *boards;   /* Board* */
    GPtrArray *firmware; /* Component*; owns them (boards borrow) */
    GPtrArray *parts;    /* Part* */
} Book;

/* NULL when there is none. */
const Board *book_find_board (const Book *book, const char *name);
const Part *book_find_part (const Book *book, const char *name);
/* -1 when there is none. */
int board_find_slot (const Board *board, const char *name);
int board_find_component (const Board *board, const char *name);
int board_find_revision (const Board *board, const char *name);
/* Index in the sorted list; equal under the scheme counts (1.05 finds 1.5). -1 when there is none. */
int component_find_release (const Component *component, const char *name);
/* Slot, component, release by index. */
const Slot *board_slot (const Board *board, guint index);
const Component *board_component (const Board *board, guint index);
const Release *component_release (const Component *component, guint index);

/* All that a fitted part offers, sugar expanded: its kind, its name (= stepping), `generation G` (= stepping), and
 * `attribute value` for each stated text attribute, then what it writes out. Appends Provide by value to `out`. */
void part_each_provide (const Part *part, const char *stepping, GArray *out);
/* All that a release offers: the component's name = release, then what it writes out. */
void release_each_provide (const Component *component, const Release *release, GArray *out);
/* All that the board itself offers: `board NAME` = revision, its text attributes, what it writes out. */
void board_each_provide (const Board *board, guint revision, GArray *out);
/* Whether something offered as `have` (nullable) answers `atom`, whose name it shares. Knows the component's scheme,
 * the order of revisions, and compares anything else by the Debian rule. No version never answers a comparison. */
gboolean board_version_answers (const Board *board, const Expr *atom, const char *have);

/* Does a release state that it starts this processor? */
typedef enum { SUPPORT_YES, SUPPORT_NO, SUPPORT_NOT_STATED } SupportAnswer;
SupportAnswer release_support (const Release *release, const char *generation, const char *stepping, Mark *where);

/* ---- Rules ---- */

typedef enum {
    FORM_SAME,     /* attribute equal (lists: share a value) between parts of a kind, a part and its slot, two kinds */
    FORM_BEFORE,   /* slots of a kind are populated in the board's order */
    FORM_AT_LEAST, /* attribute of a part in an `over` slot covers an attribute of the part under it */
    FORM_SUM,      /* total of an attribute within a total of another */
    FORM_SOME,     /* at least one live part of a kind */
    FORM_WHEN,     /* requires / conflicts, when an expression holds */
    FORM_KNOWS,    /* every component that states support knows generation and stepping of each part of a kind */
    FORM_OWN,      /* each fitted part's own requires and conflicts */
    FORM_ONE_OF,   /* of a slot and the slot that it is over, exactly one is populated */
    FORM_BINDS,    /* parts that bind themselves: bound to somebody else, or lent and about to be bound */
} RuleForm;

typedef enum { BREAKING_STOPS, BREAKING_HARMS, BREAKING_WARNS, BREAKING_BARS } Breaking;
typedef enum { POWER_ON = 1, POWER_STANDBY = 2 } PowerBit;
typedef enum { LARGEST_KEPT, LARGEST_LOST, LARGEST_BY_SHOP } LargestSupply;

typedef struct {
    const char *id;
    const char *says;
    RuleForm form;
    Breaking breaking;
    guint powers;          /* PowerBit mask, with BREAKING_HARMS */
    guint methods;         /* METHOD_BIT mask, with BREAKING_BARS: the state before such a write must keep the rule */
    PartKind kind;         /* of: the parts it is about (SAME, BEFORE, AT_LEAST: the covering part, SOME, KNOWS) */
    const char *attribute; /* SAME ("model" is the part's name), AT_LEAST: of the covering part, SUM: what adds up */
    gboolean with_slot;    /* SAME: compared with the slot that holds it */
    int with_kind;         /* SAME: compared with parts of this PartKind; -1: among themselves (or the slot) */
    gboolean unless_mixed; /* SAME: allowed where the board's mixed-steppings has both; no rule where it has none */
    PartKind under_kind;   /* AT_LEAST, ONE_OF: the part under it */
    const char *under_attribute;  /* AT_LEAST: the attribute to be covered */
    guint sum_kinds;              /* SUM: mask 1u << PartKind that must state the attribute */
    guint sum_if_stated;          /* SUM: mask of kinds counted where stated */
    gboolean sum_board;           /* SUM: the board's own attribute counts where stated */
    const char *within_attribute; /* SUM: what the total must not exceed ... */
    PartKind from_kind;           /* SUM: ... added up over parts of this kind */
    LargestSupply largest;
    Expr *when, *requires, *conflicts; /* WHEN; nullable (when NULL: always) */
    gboolean binds_lent;               /* BINDS: about loaners that would be bound; else about parts bound elsewhere */
    Source source;
    Mark at;
} Rule;

/* Whether some rule (of any breaking but `warns`) compares or adds what these two slots hold, so that a change in one
 * may call for a change in the other (docs/method.md, "Tied slots"). Symmetric; FALSE for a slot and itself. */
gboolean rules_tie_kinds (const GPtrArray *rules, const Board *board, guint slot_a, guint slot_b);

/* ---- Unit, want, shop ---- */

typedef struct {
    const Part *part;     /* NULL: empty */
    const char *stepping; /* NULL when the part has none */
    const char *serial;   /* nullable */
    Owner owner;          /* OWNER_UNIT unless the file says that it is lent or from stock */
    const char *bound;    /* to whom it has bound itself; NULL: to nobody, as far as is known */
    Mark at;
} Fitted;

typedef struct {
    gboolean *may_be; /* owned; one per release of the component: which it may have */
    guint count;      /* how many are TRUE; 1: known */
    int floor;        /* release index; -1: not stated, the present release's is assumed */
    Mark at;
} UnitRelease;

/* What is known of how a unit's board left the factory. What follows from it for the releases that the unit may have
 * is worked into `releases` when the unit is read (docs/files.md, "Unit"). */
typedef struct {
    const char *made;   /* YYYY-MM-DD; NULL: not stated */
    int *label;         /* owned; per component: the release that a label names; -1: none; NULL: no label */
    gboolean unwritten; /* nobody has written firmware since */
    Mark at;
} Factory;

typedef struct {
    const char *id;
    const char *file; /* that it was read from */
    const Board *board;
    guint revision;
    UnitRelease *releases;       /* owned; one per component of the board */
    Fitted *fitted;              /* owned; one per slot of the board */
    UnitRelease *began_releases; /* owned; per component: what it had when the work began; NULL: what it has */
    Fitted *began;               /* owned; one per slot: what it held when the work began; NULL: what it holds */
    GArray *pulled;              /* Fitted; owned; the unit's own parts that lie beside it; NULL: none */
    gboolean *failed;            /* owned; per component: its last write failed; NULL: none did */
    guint *insertions;           /* owned; per slot: fittings that the socket has had; NULL: not stated for any */
    gboolean *counted;           /* owned; per slot: `insertions` is stated; NULL: for none */
    Factory factory;
    const char *note;        /* nullable */
    const char *becomes;     /* the name of its want, in a batch (docs/batch.md); NULL: the only one for its board */
    const char *due;         /* local time "2034-03-10T16:00" or date "2034-03-10"; NULL: none */
    guint priority;          /* from 1, the higher first; 1 when not stated */
    gboolean own_parts_stay; /* its own parts are lent to no other unit */
    Mark becomes_at;         /* of `becomes`; of the unit when that is not stated */
    Mark at;
} Unit;

/* For a copy of the unit: owns what it owns. */
Factory factory_copy (const Factory *factory, const Board *board);
void unit_free (Unit *unit);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Unit, unit_free)
/* Fittings that a slot may still have: G_MAXUINT where the slot states no `rated-insertions`. */
guint unit_insertions_left (const Unit *unit, guint slot);
/* What the slot held when the work began. */
const Fitted *unit_began (const Unit *unit, guint slot);

/* What a want says of one slot. */
typedef enum {
    WANT_NOTHING,
    WANT_EMPTY,
    WANT_PART,
    WANT_LIKE,
    WANT_HELD, /* exactly this part of this owner, a loaner too, or nothing; only in wants that this program makes */
    WANT_ANYTHING, /* any part but a loaner, or nothing; only in wants that this program makes */
} WantKind;

typedef struct {
    const char *attribute; /* "part", "stepping" or an attribute's name */
    VersionOp op;
    const char *text;
    double number;
    gboolean is_number;
    Mark at;
} WantTest;

typedef struct {
    WantKind kind;
    const Part *part;     /* WANT_PART */
    const char *stepping; /* WANT_PART: nullable, any */
    GArray *tests;        /* WANT_LIKE: WantTest, all of which hold; owned */
    Owner owner;          /* WANT_HELD, with part and stepping (part NULL: empty) */
    const char *bound;    /* WANT_HELD */
    Mark at;
} WantSlot;

typedef struct {
    const char *name;
    const char *file; /* that it was read from; "--want" for one made from a command line */
    const Board *board;
    WantSlot *slots;          /* owned; one per slot of the board */
    Expr **firmware;          /* owned; one per component; NULL: nothing asked */
    gboolean *keep_slot;      /* owned */
    gboolean *keep_component; /* owned */
    int *exact_release;       /* owned; per component: the release index at the end; -1: not asked; NULL: none is */
    gboolean just_starts;     /* the end has to start, and nothing else is asked of it */
    gboolean spares_apart;    /* spare images need not follow at the end; only in wants that this program makes */
    gboolean says_board;      /* its file says for which board it is */
    Mark at;
} Want;

/* A want that asks nothing yet. Transfer full. */
Want *want_new (const char *name, const Board *board, Mark at);
void want_free (Want *want);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Want, want_free)

/* Whether a part (nullable: empty) is what the want asks of this slot. WANT_NOTHING is always met. */
gboolean want_slot_is_met (const WantSlot *want, const Part *part, const char *stepping);

typedef struct {
    Owner owner; /* loan or stock */
    const Part *part;
    const char *stepping;
    guint count;
    const char *bound; /* to whom these have bound themselves; NULL: to nobody */
    Mark at;
} Lot;

/* From one time of the clock to another, in minutes of the day: 0 to 1439. */
typedef struct {
    guint from, to;
    Mark at;
} ShiftBreak;

/* When work is done on some days of the week. `to` at or below `from`: it passes midnight, and a break's time below the
 * shift's `from` is of the day after the one on which the shift begins. Shifts of a shop never overlap, nor do the breaks of a
 * shift, which lie wholly inside it. */
typedef struct {
    guint days;     /* mask: bit 0 is Monday */
    guint from, to; /* minutes of the day: 0 to 1439 */
    GArray *breaks; /* ShiftBreak, in order of time; owned; never NULL */
    Mark at;
} Shift;

typedef struct {
    const char *name;
    guint methods; /* METHOD_BIT mask */
    GArray *lots;  /* Lot */
    gboolean unverified_writes, require_recovery, redundant_supplies, lend_pulled_parts;
    double opening_minutes, start_minutes;
    double remove_minutes[KIND_COUNT], fit_minutes[KIND_COUNT];
    double dark_after_minutes;
    guint technicians, stations;
    GArray *shifts; /* Shift, as in the file; owned; NULL: work is done at any time */
    GArray *found; /* FoundCount (book/evidence.h): what kept past units dark here; NULL: not counted */
    Mark at;
} Shop;

/* How long a first start of this board may stay dark, in minutes: the board's own time, else the shop's. */
double shop_dark_after_minutes (const Shop *shop, const Board *board);

/* A copy that owns what it owns. Transfer full. */
Shop *shop_copy (const Shop *shop);

/* When to say a caution: words that docs/files.md lists ("opening", "host-write", "clip", ...). */
typedef struct {
    const char *id;
    GPtrArray *when; /* interned */
    const char *says;
    gboolean every_time; /* said in full wherever it is due, not only the first time in a route */
    Source source;
    Mark at;
} Caution;

/* The words that a caution's `when` may hold, NULL-terminated, in the order of docs/files.md. */
const char *const *caution_when_words (void);

typedef enum { STEP_REMOVE, STEP_FIT, STEP_WRITE } StepKind;

/* One step as a person or this program writes it down. */
typedef struct {
    StepKind kind;
    guint slot;       /* remove, fit */
    const Part *part; /* remove (nullable when read from a file), fit */
    const char *stepping;
    const char *bound; /* fit: as in Fitted */
    Owner owner;
    guint component; /* write */
    guint release;
    Method method;
    Mark at;
} Step;

typedef struct {
    const char *name;
    const char *file;   /* that it was read from */
    const Board *board; /* whose slots, components and releases the steps mean */
    GArray *steps;      /* Step */
    Mark at;
} WrittenRoute;

typedef enum { ENTRY_DONE, ENTRY_FAILED, ENTRY_SKIPPED } EntryOutcome;

/* As a record writes it: "failed". Static. */
const char *entry_outcome_name (EntryOutcome outcome);

/* One thing that was done at the bench. */
typedef struct {
    guint number; /* of the step in the route, from 1; 0: `step` is written out */
    Step step;    /* with number 0 */
    EntryOutcome outcome;
    const char *found;     /* nullable */
    UnitRelease *firmware; /* owned; one per component of the board; count 0: not read; NULL: none was */
    Fitted *fitted;        /* owned; one per slot of the board; NULL: none was looked at */
    gboolean *looked_at;   /* owned; per slot: `fitted` says what was found there; NULL with it */
    const char *time;      /* ISO 8601, with the offset from UTC */
    const char *initials;
    Mark at;
} RecordEntry;

typedef struct {
    const char *name;
    const char *file;   /* that it was read from */
    const char *unit;   /* its id */
    const char *route;  /* title of the route that was worked from; NULL: none */
    const Board *board; /* of that unit */
    GPtrArray *entries; /* RecordEntry*; owned */
    Mark entries_at;    /* the list's place */
    Mark at;
} Record;

/* Whether some entry names a step by its number. */
gboolean record_names_steps (const Record *record);
/* Transfer full; NULL: a day that no calendar has. */
GDateTime *record_entry_moment (const RecordEntry *entry);

/* What to look at before a part is blamed: a check that says for certain whether one of its causes is there. */
typedef struct {
    const char *id;
    guint after; /* mask 1u << PartKind: fittings after which it is worth looking; units with such parts */
    const char *says;
    double minutes;
    GPtrArray *finds;        /* Cause* (book/evidence.h); owned; never NULL */
    gboolean by_elimination; /* nothing to look at: its causes are what is left when all other looks found nothing */
    guint works_on;          /* mask 1u << PartKind: what the work on it takes out, loosens or touches */
    gboolean unit_on;        /* done with the unit still on, so before any that switches it off */
    Source source;
    Mark at;
} LookFirst;

/* A row of a table that gives no unit, for a mistake in it. */
typedef struct {
    Mark at;          /* where it begins */
    guint last_line;  /* cells may have line breaks */
    const char *unit; /* its id, interned; NULL: the row has none */
} RowLeftOut;

/* Everything that was read. */
typedef struct {
    Book book;
    GPtrArray *rules;    /* Rule* */
    GPtrArray *cautions; /* Caution* */
    GPtrArray *units;    /* Unit* */
    GPtrArray *wants;    /* Want*: resolved against the board of the unit they go with */
    GPtrArray *shops;    /* Shop* */
    GPtrArray *routes;   /* WrittenRoute* */
    GPtrArray *records;  /* Record* */
    GHashTable *records_by_unit; /* id -> GPtrArray of Record*, those of the unit in the order of `records` */
    GPtrArray *looks;    /* LookFirst* */
    GPtrArray *signs;    /* Sign* (book/evidence.h) */
    GPtrArray *seens;    /* Seen* (book/evidence.h): resolved against the board of the unit they go with */
    GArray *left_out;    /* RowLeftOut, in the order met */
} Library;

/* Reads every file, and every *.yaml and *.yml of every folder (sorted by name, folders inside folders too; names that
 * start with a dot are left out), several documents each. What a document is, its first key says. A file given twice is
 * read once. `want_items` are wants from a command line ("cpu1=elvane-14", "system>=2.1.0", "keep=logic"),
 * NULL-terminated or NULL; they add to the want read from files, or make one. Complaints about them name the file
 * "--want", the item's number as the line and its place in the item as the column.
 *
 * Wants and written routes are resolved against a board: that of the units in the same file; where that file has no
 * unit, that of the units of all files; without any unit, the book's only board. Of several boards it is the first one
 * that a written want or route suits; where it suits none, and for wants of a command line, that is complained about.
 * Callers pair units, wants and routes by `file`.
 *
 * Always returns a library; it may be used only when no complaint was added. Cost: linear in the text, plus releases
 * squared for what each release may be written over. Transfer full. */
Library *library_load (const char *const *paths, const char *const *want_items, Complaints *complaints);
/* The same, with observations from a command line ("fans=turning", "event=07/04"; docs/files.md, "Seen"), which add to the
 * one `seen` document of the files, or make one. Complaints about them name the file "--seen". */
Library *library_load_seen (const char *const *paths, const char *const *want_items, const char *const *seen_items,
                            Complaints *complaints);
/* The same, for a batch (docs/batch.md): mistakes in the rows of tables (*.csv) go to `row_complaints` (NULL: to the others), and
 * such a row gives no unit. `want_items`, where no file has a want, make one for each board of the units that they suit. Of each
 * unit it is complained about, too, that it has no want or several: afterwards library_want_for_unit() answers for each one.
 * The other two read tables as well, and complain about rows as about anything. */
Library *library_load_rows (const char *const *paths, const char *const *want_items, const char *const *seen_items,
                            Complaints *complaints, Complaints *row_complaints);
/* The same, for one unit among those of a batch: whether each of them has a want is not asked. What says of no unit or board whom it
 * is for is read for the board of `unit` (an id; NULL: none is given) where it suits that. */
Library *library_load_one_of_rows (const char *const *paths, const char *const *want_items,
                                   const char *const *seen_items, const char *unit, Complaints *complaints,
                                   Complaints *row_complaints);
/* What a unit becomes in a batch: the want that it names (for its board, where several have the name); where it names none, the
 * only one for its board. NULL, and `why` (transfer full, nullable) says it in a sentence, when there is none or several. */
const Want *library_want_for_unit (const Library *library, const Unit *unit, char **why);
/* NULL: there is none of the unit of this id. */
const GPtrArray *library_records_of (const Library *library, const char *unit);
void library_free (Library *library);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Library, library_free)

/* A shop with every method, nothing to lend and the stated default times: what holds where no shop file was given. */
Shop *shop_new_default (void);
void shop_free (Shop *shop);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Shop, shop_free)

#endif
