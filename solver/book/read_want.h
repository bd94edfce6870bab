/* SPDX-License-Identifier: MIT */
/* The parts of a want, as documents and command lines both ask for them. */
#ifndef RUNGWISE_READ_WANT_H
#define RUNGWISE_READ_WANT_H

#include "book/loader.h"

/* What a slot shall hold: a part, `empty`, or attributes. */
void want_read_slot (Loader *loader, const Slot *slot, const Node *node, WantSlot *out);
/* Which releases a component shall have. Takes over `expr`, which may be NULL after a complaint. */
void want_read_firmware (Loader *loader, const Component *component, Expr *expr, Expr **out);
/* The name of a slot or component that no step shall touch. */
void want_read_keep (Loader *loader, const Node *node, Want *want);

#endif
