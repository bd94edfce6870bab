/* SPDX-License-Identifier: MIT */
/* Entries of a controller's event log, and other bytes that are read off a display, in hexadecimal. */
#ifndef RUNGWISE_READ_EVENT_H
#define RUNGWISE_READ_EVENT_H

#include "book/evidence.h"
#include "book/reader.h"

/* A byte from 0 to `most`: 0x and one or two hexadecimal digits, or one decimal digit alone. */
gboolean value_byte (Loader *loader, const Node *node, const char *key, int most, int *out);
/* A byte or a range of them, ends included. */
gboolean value_bytes (Loader *loader, const Node *node, const char *key, int *from, int *to);

/* `sensor-type` and `offset` of an event. */
void take_event_type (MapReader *reader, KeyNeed need, SeenEvent *out);
/* An entry of `events`: keys, or a raw record. FALSE after a complaint. */
gboolean read_event (Loader *loader, const Node *node, SeenEvent *out);
/* "07/04", "0F/00/01", or the 16 bytes of a record. FALSE after a complaint. */
gboolean read_event_item (Loader *loader, const Node *node, SeenEvent *out);

#endif
