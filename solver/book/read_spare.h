/* SPDX-License-Identifier: MIT */
/* Spare images: a second component that the loader makes of the firmware of the first. docs/method.md, "Spare images",
 * says what it is and what it leaves out. */
#ifndef RUNGWISE_READ_SPARE_H
#define RUNGWISE_READ_SPARE_H

#include "book/loader.h"

/* The name of a component's spare image. NULL after a complaint. */
const char *read_spare_name (Loader *loader, const Node *node, const Component *component);
/* Complains of a method `spare`, or a recovery by it, in a component that has no spare image. Both nodes nullable. */
void check_no_spare (Loader *loader, const Node *methods, const Node *recovery, const Component *component);
/* Adds the spare image of a component that has one and is complete but for what speaks of other releases. */
void add_spare (Loader *loader, const Firmware *firmware, Mark at);
/* What the component's releases say of one another, said of those of its spare image as well. */
void resolve_spare (const Component *component, Component *spare);

#endif
