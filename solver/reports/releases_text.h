/* SPDX-License-Identifier: MIT */
/* Saying for which of a unit's possible releases something holds. */
#ifndef RUNGWISE_RELEASES_TEXT_H
#define RUNGWISE_RELEASES_TEXT_H

#include "reports/words.h"

/* "system 1.0.2, 1.4.0; any controller", or the combinations one by one where they are no plain product.
 * `cases`: guint* per case, distinct. Transfer full. */
char *releases_in_words (const Unit *unit, const GPtrArray *cases);

/* "system 1.0.2, 1.4.0 or 1.6.0": the releases of one component that are flagged. Transfer full. */
char *releases_of_component (const Component *component, const gboolean *may_be);

#endif
