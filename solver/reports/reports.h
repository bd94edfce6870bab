/* SPDX-License-Identifier: MIT */
/* Reports: answers as text for a bench and as JSON for a program.
 *
 * Owns:   layout, words, the choice of cautions, the exit statuses (outcome.h). Every function returns a string.
 * Calls:  explain, route (reads their answers), check, book, jansson.
 * Never:  prints, exits, reads the environment or a clock.
 * Method: docs/route-json.md for the JSON; docs/commands.md for the rest. */
#ifndef RUNGWISE_REPORTS_H
#define RUNGWISE_REPORTS_H

#include "batch/batch.h"
#include "explain/diagnosis.h"
#include "reports/account.h"
#include "reports/outcome.h"

/* What a route report is about; all borrowed. */
typedef struct {
    const Library *library;
    const Shop *shop;
    const Unit *unit;
    const Want *want;
    const RouteAnswer *answer;
    const GPtrArray *alternatives;  /* Alternative*, the answer itself first; NULL: not asked for */
    gboolean alternatives_complete; /* there are no others */
    const GArray *fallbacks;        /* Fallback, one per step; NULL without a route */
    const NoRoute *none;            /* with CLAIM_NO_ROUTE; NULL otherwise */
    const GPtrArray *records;       /* const Record*, in the order of work: planned on from; NULL or empty: none */
    const GPtrArray *leg_fallbacks; /* GArray of Fallback per leg of a plan with branches, as `fallbacks`; NULL: none */
    const AccountPart *part;        /* the steps are a part of a plan with branches; NULL: they are all */
    gboolean in_batch;              /* units go by it that are recorded by a batch's JSON */
    const char *batch_note;         /* what a published timetable says of the unit; NULL: none is named */
    const char *before;             /* what the state before the first step is called; NULL: "as it came in" */
} RouteReport;

/* The sheet for the bench. Transfer full. */
char *report_route_text (const RouteReport *report, gboolean colour);
/* The route as a strip of states, an SVG image; NULL where there is no route. Transfer full. */
char *report_route_svg (const RouteReport *report);
/* The sheet as one page that needs nothing from elsewhere, to be printed; the strip is in it. Transfer full. */
char *report_route_html (const RouteReport *report);
/* The document of docs/schemas/printed-route.schema.json; with a route, also one that `walk` reads. Transfer full. */
char *report_route_json (const RouteReport *report);

/* Cases of a unit that fare the same: the same verdict for the same broken rules. */
typedef struct {
    Starts starts;
    GPtrArray *broken; /* Broken*, of the first of the cases; owned */
    GPtrArray *cases;  /* guint* per case, releases by component; owned */
} StartsGroup;

/* Whether a unit starts, over all releases that it may have. */
typedef struct {
    const Unit *unit;
    GPtrArray *groups; /* StartsGroup*, in the order of their first cases; owned; empty when there are too many cases */
    guint cases;
    Outcome outcome;
} StartsAnswer;

#define STARTS_MOST_CASES 20000

/* Cost: one check per case. Transfer full. */
StartsAnswer *starts_find (const Library *library, const Shop *shop, const Unit *unit);
void starts_answer_free (StartsAnswer *answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StartsAnswer, starts_answer_free)

/* `answers`: GPtrArray of StartsAnswer*. Transfer full. */
char *report_starts_text (const GPtrArray *answers, gboolean colour);
char *report_starts_json (const GPtrArray *answers);

/* A written route, walked in every case of its unit. */
typedef struct {
    const Unit *unit;
    const WrittenRoute *route;
    const Want *want; /* nullable: any end is allowed */
    Walk *walk;       /* owned; of the case that goes wrong first, or of the first case; NULL: too many cases */
    guint *releases;  /* owned; that case */
    guint cases;
    GPtrArray *needless; /* char*, one for each step that could be left out; owned; NULL: not looked at */
    Outcome outcome;
} WalkAnswer;

#define WALK_MOST_CASES 20000

/* Cost: steps times cases; and where the route is sound and there is a want, a walk without each step. Transfer full. */
WalkAnswer *walk_find (const Library *library, const Shop *shop, const Unit *unit, const Want *want,
                       const WrittenRoute *route);
void walk_answer_free (WalkAnswer *answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WalkAnswer, walk_answer_free)

char *report_walk_text (const WalkAnswer *answer, gboolean colour);
char *report_walk_json (const WalkAnswer *answer);

/* What an explanation is about; all borrowed. */
typedef struct {
    const Library *library;
    const Shop *shop;
    const Unit *unit;         /* as it stands, with the parts that are only asked about in it */
    const Want *want;         /* nullable */
    const Seen *seen;         /* nullable */
    const GPtrArray *records; /* const Record*, in the order of work, that lead here; NULL or empty: none */
    const Unit *before;       /* without the parts that are only asked about; NULL: none are */
    const char *const *asked; /* NULL-terminated: "cpu1=elvane-8c", parts that are only asked about; NULL: none */
    const char *const *again; /* NULL-terminated: what asks `plan` about the same files, word by word as a shell takes
                                 it; NULL: not said */
    const Diagnosis *diagnosis;
} ExplainReport;

/* What `explain` ends with. */
Outcome explain_outcome (const Diagnosis *diagnosis);

/* Transfer full. */
char *report_explain_text (const ExplainReport *report, gboolean colour);
/* The same as one page that needs nothing from elsewhere, to be printed and filled in. Transfer full. */
char *report_explain_html (const ExplainReport *report);
/* The document of docs/schemas/printed-explain.schema.json. Transfer full. */
char *report_explain_json (const ExplainReport *report);

/* What a batch report is about; all borrowed. The batch is one that its check let through: `wrong` is NULL. */
typedef struct {
    const BatchQuestion *question;
    const Batch *batch;
    const GPtrArray *left_out; /* BatchLeftRow*: rows of tables with a mistake; NULL: none */
} BatchReport;

/* A row of a table that is no unit of the batch. */
typedef struct {
    guint line;       /* where it begins */
    const char *unit; /* its id; NULL: the row has none */
    Mark at;          /* of its first mistake */
    char *what;       /* owned: that mistake */
    char *expected;   /* owned, nullable */
    guint further;    /* mistakes in it */
} BatchLeftRow;

/* The rows that were left out when the library was read, in the order of the files, by the complaints about rows. Transfer full
 * (GPtrArray of BatchLeftRow*). */
GPtrArray *batch_rows_left_out (const Library *library, Complaints *in_rows);
guint batch_count_rows (const BatchReport *report);

/* What all reports of a batch share, looked up once. Cost: tasks times their logarithm. Transfer full. */
typedef struct BatchView BatchView;
BatchView *batch_view_new (const BatchReport *report);
void batch_view_free (BatchView *view);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BatchView, batch_view_free)

/* Sheets of units on one page: more than that would be slow to open. */
#define BATCH_MOST_SHEETS 250
/* What the second page and later ones are called, by their number from 1. */
#define BATCH_LATER_PAGES "batch-%u.html"

/* What `batch` ends with. `by_hand`: it was stopped so. */
Outcome batch_outcome (const Batch *batch, guint rows_left_out, gboolean by_hand);

/* The overview. Transfer full. */
char *report_batch_text (const BatchView *view, gboolean colour);
/* Pages that need nothing from elsewhere, so many that none holds more than BATCH_MOST_SHEETS sheets: on the first, 0, timetable
 * and lists too. Plans ways back from failed writes, once for each route. Transfer full. */
guint batch_pages (const BatchView *view);
char *report_batch_html (BatchView *view, guint page);
/* Whether a file that begins so (NUL-terminated) was written as such a page, of whichever batch. */
gboolean batch_page_begins_so (const char *text);
/* A row a task (docs/batch.md). Transfer none. */
const char *report_batch_csv (const BatchView *view);
/* The document of docs/schemas/printed-batch.schema.json. Transfer full. */
char *report_batch_json (const BatchView *view);

/* Reads what report_batch_json() has written, `file` being what it is called. The tasks are resolved against the boards of
 * `units` (Unit*); published units that are none of these are left out. NULL
 * after complaints with file, line and column: no such document, another beginning than `clock`'s, a step that the
 * book no longer has. Transfer full. */
BatchPublished *batch_published_read (const char *file, const char *text, const Book *book, const GPtrArray *units,
                                      const BatchClock *clock, Complaints *complaints);
/* The time at which such a document's batch begins, "2034-03-06T07:00"; `*begin` stays as it was where it names no date. FALSE after
 * a complaint: it is no such document. Transfer full. */
gboolean batch_published_begin (const char *file, const char *text, char **begin, Complaints *complaints);
/* Where a unit stands in it, or where its units do that it is none of. `text` is one that batch_published_read() has read. */
Mark batch_published_place (const char *file, const char *text, const char *unit);
/* What a plan of this unit alone has to be told with: that the batch's sheet is what counts, or why the unit was set aside, or that
 * it is not there; a sentence or two. `text` as above. Transfer full. */
char *batch_published_note (const char *text, const char *unit);
/* The number of the step that a unit's sheet calls so, "C1"; 0: none. `text` as above. */
guint batch_published_step (const char *text, const char *unit, const char *label);
/* The eight digits that its pages bear; NULL: it says none. Transfer full. */
char *batch_published_mark (const char *text);

/* One line that counts what was read. Transfer full. */
char *report_files_text (const Library *library);

#endif
