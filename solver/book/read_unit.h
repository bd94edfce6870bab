/* SPDX-License-Identifier: MIT */
/* The keys of a unit, some of which a bench record has as well. Each takes a nullable node, but for read_unit_firmware(). */
#ifndef RUNGWISE_READ_UNIT_H
#define RUNGWISE_READ_UNIT_H

#include "book/loader.h"

/* `firmware` of a unit: each component of the board has to be there, but for spare images. */
void read_unit_firmware (Loader *loader, const Node *node, Unit *unit);
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
