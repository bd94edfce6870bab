/* SPDX-License-Identifier: MIT */
/* Layers: the route as a package problem for libsolv, unrolled over layers of work.
 *
 * Owns:   the encoding and its reading back; each solve is one package problem.
 * Calls:  problem, packages, moves (to replay what came back).
 * Method: docs/method.md, "Planning as packages". */
#ifndef RUNGWISE_ROUTE_LAYERS_H
#define RUNGWISE_ROUTE_LAYERS_H

#include "packages/packages.h"
#include "route/moves.h"

typedef struct Layers Layers;

Layers *layers_new (const Problem *problem);
void layers_free (Layers *layers);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Layers, layers_free)

/* A route over at most `n_layers` layers, of at most `most_steps` steps (G_MAXUINT: any number). Totals and counts of
 * parts enter only as they are broken: each round adds what the last one broke. With PACKAGES_SOLVED, `*moves` (GArray
 * of Move, transfer full) is sound. PACKAGES_REFUTED is a proof for this number of layers only. */
PackagesOutcome layers_solve (Layers *layers, guint n_layers, guint most_steps, const PackagesPatience *patience,
                              GArray **moves);
/* The package problem itself, as a case that replays. Transfer full. */
char *layers_to_case (Layers *layers, guint n_layers, guint most_steps);
/* About how many packages that takes: what decides how long libsolv needs, roughly. */
guint layers_packages (const Layers *layers, guint n_layers);
/* Package problems solved so far. */
guint layers_runs (const Layers *layers);

#endif
