/* SPDX-License-Identifier: MIT */
/* Text: places in files, complaints about them, version order.
 *
 * Owns:   Mark (a place), Complaints (every error of a run, in file order), the version schemes.
 * Calls:  GLib only.
 * Never:  opens a file, prints, or knows what a board is.
 * Method: docs/files.md, "Errors" and "Versions". */
#ifndef RUNGWISE_TEXT_H
#define RUNGWISE_TEXT_H

#include <glib.h>

/* A place in a file. line and column count from 1; line 0 means "no place" (a command line option, say). */
typedef struct {
    const char *file; /* interned; NULL when there is no file */
    guint line;
    guint column;
} Mark;

#define MARK_NONE ((Mark){ NULL, 0, 0 })

/* One thing wrong with an input: what was found there, and what would be right. */
typedef struct {
    Mark at;
    char *what;     /* owned: "release 1.4.0 sets lowest to 1.6.0, above itself" */
    char *expected; /* owned, nullable: "expected a release at or below 1.4.0" */
    char *line;     /* owned, nullable: the line of the file, for the caret */
} Complaint;

typedef struct Complaints Complaints;

Complaints *complaints_new (void);
void complaints_free (Complaints *list);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Complaints, complaints_free)

/* Hands the text of a file over so that complaints about it can show their line. Copies it. */
void complaints_add_text (Complaints *list, const char *file, const char *text, gsize length);

/* Adds one complaint. `expected` may be NULL. Exact repeats at one place are kept once. */
void complaints_add (Complaints *list, Mark at, const char *expected, const char *format, ...) G_GNUC_PRINTF (4, 5);

guint complaints_count (const Complaints *list);

/* The complaint at `index` in file order (file, line, column). Transfer none. */
const Complaint *complaints_get (Complaints *list, guint index);

/* Takes the complaint at `index` of another list, with its line, into this one. */
void complaints_copy (Complaints *list, Complaints *from, guint index);

/* All complaints as text, up to `most` of them, each as
 *     file:line:column: what is wrong
 *         the line itself
 *             ^
 *       expected ...
 * followed by a line that counts what was left out. Transfer full. */
char *complaints_to_string (Complaints *list, guint most);

/* Of `known` (NULL-terminated), the name nearest to `found` by edit distance, or NULL when none is near. */
const char *text_nearest (const char *found, const char *const *known);

/* "a, b and c" of GPtrArray of char*, with last = "and"; "" for none. Transfer full. */
char *text_join (const GPtrArray *words, const char *last);

/* A part of `mark`'s line, `characters` further right. */
Mark mark_right_of (Mark mark, guint characters);

/* NULL when `text` can be a name (docs/files.md): letters, digits and `. _ - + ~ :`, a letter or a digit first.
 * Else what would be right. Static text. */
const char *text_name_problem (const char *text);
gboolean text_is_name_character (char character);

/* How the releases of a component are ordered. */
typedef enum {
    VERSIONS_DOTTED, /* numbers between dots, leading zeros ignored, a missing number is lower: 1.0 < 1.0.0 */
    VERSIONS_SEMVER, /* Semantic Versioning 2.0.0, item 11 */
    VERSIONS_DEBIAN, /* deb-version(7) */
    VERSIONS_LISTED, /* the order in which the book lists them */
} VersionScheme;

/* NULL when `version` is well formed under `scheme`, else what would be ("numbers between dots"). Static text. */
const char *version_problem (VersionScheme scheme, const char *version);

/* <0, 0, >0. Both must be well formed; VERSIONS_LISTED is not handled here (the book knows the list). */
int version_compare (VersionScheme scheme, const char *left, const char *right);

typedef enum { OP_ANY, OP_LT, OP_LE, OP_EQ, OP_GE, OP_GT, OP_NE } VersionOp;

/* Whether a comparison result (<0, 0, >0) satisfies `op`. OP_ANY is always satisfied. */
gboolean version_op_holds (VersionOp op, int comparison);
const char *version_op_text (VersionOp op);

#endif
