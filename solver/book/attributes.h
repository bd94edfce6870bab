/* SPDX-License-Identifier: MIT */
/* Attributes: which keys state a fact that rules may look at, and of what type each is. */
#ifndef RUNGWISE_ATTRIBUTES_H
#define RUNGWISE_ATTRIBUTES_H

#include "book/reader.h"

/* Makes the attributes of docs/files.md, "Book", known. */
void attributes_know_usual (Loader *loader);
/* Makes one more known. FALSE when it is known as the other type; then nothing changes. */
gboolean attributes_know (Loader *loader, const char *name, AttributeType type);
/* 0 when it is not known. */
AttributeType attributes_type (const Loader *loader, const char *name);
/* Takes every key of the map that is a known attribute, and appends an Attribute for each. */
void attributes_read (MapReader *reader, GPtrArray *out);

#endif
