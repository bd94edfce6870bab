/* SPDX-License-Identifier: MIT */
/* The planner treats equal parts as interchangeable; a bench sheet should still name the piece that lies there. Of
 * several pulled pieces that would serve, the one that came from the same slot goes back, else the first pulled. */
#include "reports/serials.h"

typedef struct {
    const Part *part;
    const char *stepping;
    const char *bound;
    const char *serial;
    guint home; /* the slot that it was pulled from; G_MAXUINT: it lay beside the unit */
} Piece;

static const char *
take_piece (GArray *pulled, const Step *step)
{
    int found = -1;
    const char *serial = NULL;

    for (guint i = 0; i < pulled->len; i++) {
        const Piece *piece = &g_array_index (pulled, Piece, i);

        if (piece->part != step->part || piece->stepping != step->stepping || piece->bound != step->bound)
            continue;
        if (found < 0 || piece->home == step->slot)
            found = (int) i;
        if (piece->home == step->slot)
            break;
    }
    if (found < 0)
        return NULL;
    serial = g_array_index (pulled, Piece, found).serial;
    g_array_remove_index (pulled, (guint) found);
    return serial;
}

static void
add_pulled_before (const Unit *unit, GArray *pulled)
{
    for (guint i = 0; unit->pulled != NULL && i < unit->pulled->len; i++) {
        const Fitted *fitted = &g_array_index (unit->pulled, Fitted, i);
        Piece piece = { fitted->part, fitted->stepping, fitted->bound, fitted->serial, G_MAXUINT };

        g_array_append_val (pulled, piece);
    }
}

void
serials_follow (const Unit *unit, const GPtrArray *steps)
{
    g_autofree const char **in_slot = g_new0 (const char *, unit->board->slots->len);
    g_autoptr (GArray) pulled = g_array_new (FALSE, FALSE, sizeof (Piece));

    for (guint s = 0; s < unit->board->slots->len; s++)
        in_slot[s] = unit->fitted[s].serial;
    add_pulled_before (unit, pulled);
    for (guint i = 0; i < steps->len; i++) {
        StepAccount *account = g_ptr_array_index (steps, i);
        guint slot = account->step->slot;

        if (account->step->kind == STEP_WRITE || account->moved.owner != OWNER_UNIT)
            continue;
        if (account->step->kind == STEP_REMOVE) {
            Piece piece = { account->moved.part, account->moved.stepping, account->moved.bound, in_slot[slot], slot };

            account->serial = in_slot[slot];
            in_slot[slot] = NULL;
            g_array_append_val (pulled, piece);
        } else {
            in_slot[slot] = take_piece (pulled, account->step);
            account->serial = in_slot[slot];
        }
    }
}
