/* SPDX-License-Identifier: MIT */
/* Plans one job given as text, for tests that only care for its length. */
#ifndef PLAN_TEXT_H
#define PLAN_TEXT_H

#include <glib.h>

/* Fails the cmocka test unless the files are accepted, the claim is `proved shortest` and the checker finds the route
 * sound. Returns the number of steps; with `insertions`, the fittings of processors too. */
guint plan_text_shortest (const char *text, guint *insertions);

#endif
