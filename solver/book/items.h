/* SPDX-License-Identifier: MIT */
/* Items of a command line (`--want`, `--seen`): cut into nodes, then read as if they stood in a file. */
#ifndef RUNGWISE_ITEMS_H
#define RUNGWISE_ITEMS_H

#include "book/loader.h"

/* A part of an item as a node; blanks around it are left out. Transfer full. */
Node *item_node (const char *text, gsize length, Mark at);
/* Hands the items over, a line each, so that complaints can show them. Returns the place of the first. */
Mark items_begin (Loader *loader, const char *option, const char *const *items);

#endif
