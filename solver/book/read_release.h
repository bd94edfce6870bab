/* SPDX-License-Identifier: MIT */
/* One release of a component. */
#ifndef RUNGWISE_READ_RELEASE_H
#define RUNGWISE_READ_RELEASE_H

#include "book/loader.h"

/* The component has its scheme and methods. What speaks of other releases goes to loader->release_links.
 * NULL after a complaint that leaves it without a name. Transfer full. */
Release *read_release (Loader *loader, const Component *component, const Node *node);

#endif
