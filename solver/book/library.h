/* SPDX-License-Identifier: MIT */
/* Library: making and freeing the structs of book.h, for the files of this room that fill them. */
#ifndef RUNGWISE_LIBRARY_H
#define RUNGWISE_LIBRARY_H

#include "book/evidence.h"

Library *library_new (void);

Attribute *attribute_new (const char *name, Mark at);
Board *board_new (const char *name, Mark at);
Slot *slot_new (const char *name, Mark at);
Component *component_new (const char *name, Mark at);
Release *release_new (const char *name, Mark at);
Part *part_new (const char *name, Mark at);
Rule *rule_new (const char *id, Mark at);
/* A unit of which nothing is known yet: no release may be there, every slot is empty. */
Unit *unit_new (const char *id, const Board *board, Mark at);
/* One per component of the board: no release, no floor. */
UnitRelease *unit_releases_new (const Board *board);
/* Its entries count by the board. */
Record *record_new (const char *name, const Board *board, Mark at);
RecordEntry *record_entry_new (Mark at);
/* The library takes it over. */
void library_add_record (Library *library, Record *record);

LookFirst *look_new (const char *id, Mark at);
Sign *sign_new (const char *id, Mark at);
/* Its observations count by the board. */
Seen *seen_new (const char *name, const Board *board, Mark at);
Observation *observation_new (SeenKind kind, Mark at);

/* For GPtrArray; NULL is fine. */
void attribute_free (gpointer data);
void board_free (gpointer data);
void slot_free (gpointer data);
void component_free (gpointer data);
void release_free (gpointer data);
void part_free (gpointer data);
void rule_free (gpointer data);
void caution_free (gpointer data);
void route_free (gpointer data);
void record_free (gpointer data);
void look_free (gpointer data);
void sign_free (gpointer data);
void seen_free (gpointer data);
void observation_free (gpointer data);

/* Both take over `steppings`. */
Support *support_new (const char *generation, GPtrArray *steppings, Mark at);
void support_free (gpointer data);
SteppingSet *stepping_set_new (const char *generation, GPtrArray *steppings, Mark at);
void stepping_set_free (gpointer data);

#endif
