/* SPDX-License-Identifier: MIT */
/* Packages: a set of versioned packages with requires, handed to libsolv's satisfiability solver.
 *
 * Owns:   libsolv's pool and solver. No other room includes its headers; what leaves are this room's own words.
 * Calls:  libsolv, GLib.
 * Never:  knows what a board, a release or a step is.
 * Method: docs/method.md, "Planning as packages".
 *
 * A name has versions 0, 1, 2, ...; of one name at most one version is installed. That holds because every package also
 * provides its own name = version: without it two versions of one name could stand side by side. */
#ifndef RUNGWISE_PACKAGES_H
#define RUNGWISE_PACKAGES_H

#include <glib.h>

typedef struct Packages Packages;

typedef struct {
    guint i;
} PackageName;

typedef struct {
    int id; /* 0: none */
} PackageId;

Packages *packages_new (void);
void packages_free (Packages *packages);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Packages, packages_free)

/* A new name with `versions` versions. Of two versions that would do, the solver tries the higher one first. */
PackageName packages_add_name (Packages *packages, const char *name, guint versions);
PackageId packages_id (const Packages *packages, PackageName name, guint version);

/* A requirement is an `or`: begin, add alternatives, end. One without alternatives can never be met. */
void packages_begin (Packages *packages);
/* `in` has one byte per version. */
void packages_or_set (Packages *packages, PackageName name, const guint8 *in);
void packages_or_version (Packages *packages, PackageName name, guint version);
/* Versions from `lowest` on. */
void packages_or_at_least (Packages *packages, PackageName name, guint lowest);
void packages_or_any (Packages *packages, PackageName name);
/* `who` requires what was added since packages_begin. */
void packages_end_requires (Packages *packages, PackageId who);
/* What was added since packages_begin holds in every solution. */
void packages_end_wanted (Packages *packages);

/* Runs the solver once; packages may be added and the solver run again. TRUE: there is a solution. Its time has no
 * limit and cannot be stopped (libsolv has no hook for that), see packages_solve_within. */
gboolean packages_solve (Packages *packages);
/* After packages_solve gave TRUE: the version of a name, -1 when none is installed. */
int packages_chosen (const Packages *packages, PackageName name);

typedef enum { PACKAGES_SOLVED, PACKAGES_REFUTED, PACKAGES_OUT_OF_TIME } PackagesOutcome;

/* How long to wait: `seconds`, and as long as `go_on` (nullable; asked about ten times a second) says so. */
typedef struct {
    double seconds;
    gboolean (*go_on) (gpointer data);
    gpointer data;
} PackagesPatience;

/* The same in a child process that is ended when patience is. `names` (n of them) are those whose versions the caller
 * will ask for; `chosen` gets them. */
PackagesOutcome packages_solve_within (Packages *packages, const PackagesPatience *patience, const PackageName *names,
                                       guint n, gint16 *chosen);

/* What libsolv is given, as a case in libsolv's own text format, which replays from that one file: every package with
 * its provides and requires, and the job. `remarks` (nullable, lines) stands at its head. Transfer full. */
char *packages_to_case (Packages *packages, const char *remarks);
/* Solves a case that packages_to_case wrote. `installed` gets (GPtrArray of char*, transfer full) "name version" of
 * each package installed, sorted; empty when the case is refuted. FALSE with an error when it cannot be read. */
gboolean packages_replay (const char *path, gboolean *solved, GPtrArray **installed, GError **error);

#endif
