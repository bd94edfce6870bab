/* SPDX-License-Identifier: MIT */
/* Patience: how long work may go on. A limit in seconds, an interrupt from the terminal (Ctrl-C, or SIGTERM), and a
 * line of progress on standard error while it takes long and somebody is looking. */
#ifndef RUNGWISE_PATIENCE_H
#define RUNGWISE_PATIENCE_H

#include "route/route.h"

typedef struct {
    gint64 began, deadline, told; /* monotonic microseconds; deadline 0: none */
    gboolean shows;               /* progress is shown */
    gboolean begun;
} Patience;

/* From here on an interrupt is noted instead of ending the program; a second one ends it. `seconds` 0: no limit. */
void patience_begin (Patience *patience, double seconds);
/* Ends the work so many seconds from now. 0: no limit. */
void patience_limit (Patience *patience, double seconds);
/* For RouteOptions.go_on; `data` is a Patience. */
gboolean patience_goes_on (const RouteProgress *progress, gpointer data);
/* The same for any work: `say` (transfer full) makes the line of progress out of `work`, and is asked only when one is shown. */
gboolean patience_goes_on_with (Patience *patience, char *(*say) (gconstpointer work), gconstpointer work);
/* Wipes the line of progress and gives interrupts back. TRUE: one came. */
gboolean patience_end (Patience *patience);
void patience_clear (Patience *patience);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Patience, patience_clear)

#endif
