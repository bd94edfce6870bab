/* SPDX-License-Identifier: MIT */
/* The keys of a unit, some of which a bench record has as well. Each takes a nullable node, but for read_unit_firmware(). */
#ifndef RUNGWISE_READ_UNIT_H
#define RUNGWISE_READ_UNIT_H

#include "book/loader.h"

/* `firmware` of a unit: each component of the board has to be there, but for spare images. */
void read_unit_firmware (Loader *loader, const Node *node, Unit *unit);
/* A spare image that is not told of has what the active image has, or may have. */
void fill_untold_spares (Unit *unit);
/* Keys of `factory`, for complaints. */
typedef struct {
    const Node *made, *label; /* nullable */
} FactoryKeys;
/* What is known of how the board left the factory. */
FactoryKeys read_factory (Loader *loader, const Node *node, Unit *unit);
/* Takes out of the releases that the unit may have those that do not go with it: of spare images alone, or of all others.
 * Complains where none would be left. */
void narrow_by_factory (Loader *loader, Unit *unit, const FactoryKeys *keys, gboolean spares);
/* `firmware` of a record's entry: any of them; count 0 for the others. Transfer full, nullable. */
UnitRelease *read_releases_found (Loader *loader, const Node *node, const Board *board);
void read_floors (Loader *loader, const Node *node, Unit *unit);
void read_failed (Loader *loader, const Node *node, Unit *unit);

/* A map of slots with what they hold; `key` names it. `named` (nullable): per slot, whether it is there. */
void read_fitted (Loader *loader, const Node *node, const char *key, const Board *board, Fitted *out, gboolean *named);
void read_pulled (Loader *loader, const Node *node, Unit *unit);
/* After `fitted`: what is not named began as it stands. */
void read_began (Loader *loader, const Node *node, Unit *unit);
void read_insertions (Loader *loader, const Node *node, Unit *unit);
/* Complains where the unit holds more of a loan or stock part than the shop, if one was read, has. */
void check_lent_parts (Loader *loader, const Unit *unit);

#endif
