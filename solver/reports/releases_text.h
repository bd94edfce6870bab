/* SPDX-License-Identifier: MIT */
/* Saying for which of a unit's possible releases something holds. */
#ifndef RUNGWISE_RELEASES_TEXT_H
#define RUNGWISE_RELEASES_TEXT_H

#include "reports/words.h"

/* "system 1.0.2 or 1.4.0 and any controller that it may have"; where they are no plain product, several: "system 1.0.2 with controller 1.2
 * or 1.4; or system 2.1.0 with any controller that it may have". Always all of them. `cases`: guint* per case, distinct. Transfer full. */
char *releases_in_words (const Unit *unit, const GPtrArray *cases);

/* "system 1.0.2, 1.4.0 or 1.6.0": the releases of one component that are flagged. Transfer full. */
char *releases_of_component (const Component *component, const gboolean *may_be);

#endif
