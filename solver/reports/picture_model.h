/* SPDX-License-Identifier: MIT */
/* What the picture of a route shows, before anything is drawn: a column per state, a row per slot or component that the
 * route changes. docs/pictures.md says what each sign means. For picture*.c and page*.c only. */
#ifndef RUNGWISE_PICTURE_MODEL_H
#define RUNGWISE_PICTURE_MODEL_H

#include "reports/account.h"
#include "reports/reports.h"

typedef enum {
    SIGN_STARTS,
    SIGN_DARK,
    SIGN_DEPENDS,     /* on the release that it has */
    SIGN_NOT_ON,      /* something may be damaged when it is on */
    SIGN_NOT_PLUGGED, /* ... on standby power already */
    SIGN_COUNT
} PictureSign;

/* What one slot holds or one component has in one state. */
typedef struct {
    char *text;       /* owned: "elvane-14 b1", "empty", "1.4.0", "one of 3" */
    const char *tag;  /* static: "LENT", "STOCK", "FAILED"; NULL: none */
    gboolean empty;   /* a slot with nothing in it */
    gboolean changed; /* a step of this column touched it */
} PictureCell;

typedef struct {
    const char *name; /* borrowed from the board */
    gboolean is_firmware;
    GArray *cells; /* PictureCell, one per column; owned */
} PictureRow;

/* One state, and the steps that lead to it. */
typedef struct {
    guint first, count; /* which steps, from 0; count 0: the unit as it came in; 2: an exchange */
    char *number;       /* owned: "4-5"; "" as it came in */
    char *head;         /* owned: "exchange cpu1" */
    StepPower power;    /* of the steps */
    guint opening;      /* the opening that they are part of, from 1; 0: none */
    PictureSign sign;
    gboolean no_return;  /* one of the steps is a no-return step */
    gboolean binds_part; /* one of them fits a part that will be bound for good */
    char *back;          /* owned: "2 steps"; NULL: nothing to say */
} PictureColumn;

typedef struct {
    GPtrArray *columns; /* PictureColumn*; owned; never empty */
    GPtrArray *rows;    /* PictureRow*; owned; slots first, in the board's order, then components */
    guint openings;
    char *stays;     /* owned: what the route leaves alone, one sentence */
    char *describes; /* owned: the whole picture in words, for those who can't see it */
} Picture;

/* `report` has a route; `account` is its account, NULL for a route without steps. Cost: one check per column. Transfer
 * full. */
Picture *picture_new (const RouteReport *report, const RouteAccount *account);
void picture_free (Picture *picture);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Picture, picture_free)

const PictureColumn *picture_column (const Picture *picture, guint index);
const PictureCell *picture_cell (const PictureRow *row, guint column);
const char *picture_sign_words (PictureSign sign);
/* "3-4" under heads: "after step 4", "as it came in". Transfer full. */
char *picture_state_words (const PictureColumn *column);

#endif
