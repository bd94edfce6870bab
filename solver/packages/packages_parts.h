/* SPDX-License-Identifier: MIT */
/* libsolv's side of a set of packages; for this room only. */
#ifndef RUNGWISE_PACKAGES_PARTS_H
#define RUNGWISE_PACKAGES_PARTS_H

#include "packages/packages.h"

#include <solv/pool.h>
#include <solv/repo.h>
#include <solv/solver.h>

typedef struct {
    Id name;
    guint versions;
    Id first; /* solvables of one name stand together */
} Name;

struct Packages {
    Pool *pool;     /* owned */
    Repo *repo;     /* borrowed from pool */
    Solver *solver; /* owned; of the last run */
    GArray *names;  /* Name */
    GArray *evrs;   /* Id per version number, made once */
    Id root;
    Id requirement; /* being built; 0: nothing yet */
    Map installed;  /* of the last solution */
    gboolean has_solution;
};

#endif
