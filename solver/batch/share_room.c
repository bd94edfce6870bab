/* SPDX-License-Identifier: MIT */
/* Making room: units that are served already change to modes that leave more of what is scarce. */
#include "batch/plan.h"

enum { MOST_TRIES = 2000 }; /* changes that are looked at for one unit */

/* A change that was made, to be taken back. */
typedef struct {
    guint class, from, to;
} Change;

typedef struct {
    Sharing *sharing;
    GArray *changes;       /* Change; owned */
    gboolean **on_the_way; /* per class and mode: being moved away from */
    guint tries;
} Room;

static gboolean cover (Room *room, const ModeDraws *draws);

static guint
lacks (const Room *room, const Draw *draw)
{
    return draw->amount - MIN (draw->amount, room->sharing->left[draw->pool]);
}

static guint
takes (const ModeDraws *draws, guint pool)
{
    for (guint i = 0; i < draws->stock->len; i++)
        if (g_array_index (draws->stock, Draw, i).pool == pool)
            return g_array_index (draws->stock, Draw, i).amount;
    return 0;
}

static void
take_back (Room *room, guint until)
{
    while (room->changes->len > until) {
        Change change = g_array_index (room->changes, Change, room->changes->len - 1);

        sharing_put_back (room->sharing, change.class, change.to);
        sharing_take (room->sharing, change.class, change.from);
        room->sharing->served[change.class][change.from]++;
        room->sharing->served[change.class][change.to]--;
        g_array_set_size (room->changes, room->changes->len - 1);
    }
}

/* One unit of a class goes over to a mode that takes less of the pool, for which others may have to go over in turn. */
static gboolean
go_over (Room *room, guint class, guint from, guint to)
{
    const ModeDraws *target = planning_draws (room->sharing->planning, class, to);

    if (!target->possible || room->on_the_way[class][from] || ++room->tries > MOST_TRIES)
        return FALSE;
    room->on_the_way[class][from] = TRUE;
    room->sharing->served[class][from]--;
    sharing_put_back (room->sharing, class, from);
    gboolean found = cover (room, target);
    room->on_the_way[class][from] = FALSE;
    if (!found) {
        sharing_take (room->sharing, class, from);
        room->sharing->served[class][from]++;
        return FALSE;
    }
    sharing_take (room->sharing, class, to);
    room->sharing->served[class][to]++;
    Change change = { class, from, to };
    g_array_append_val (room->changes, change);
    return TRUE;
}

static gboolean
free_some (Room *room, guint pool)
{
    const Planning *planning = room->sharing->planning;

    for (guint c = 0; c < planning->batch->classes->len; c++) {
        guint n_modes = planning_class (planning, c)->modes->len;

        for (guint from = 0; from < n_modes; from++) {
            guint taken = takes (planning_draws (planning, c, from), pool);

            if (room->sharing->served[c][from] == 0 || taken == 0)
                continue;
            for (guint to = 0; to < n_modes; to++)
                if (takes (planning_draws (planning, c, to), pool) < taken && go_over (room, c, from, to))
                    return TRUE;
        }
    }
    return FALSE;
}

/* Until there is enough of everything in `draws`. What was freed for one part may not be taken for another. */
static gboolean
cover (Room *room, const ModeDraws *draws)
{
    guint before = room->changes->len;

    for (guint i = 0; i < draws->stock->len; i++) {
        const Draw *draw = &g_array_index (draws->stock, Draw, i);

        for (guint lacking = lacks (room, draw); lacking > 0; lacking = lacks (room, draw))
            if (!free_some (room, draw->pool) || lacks (room, draw) >= lacking) {
                take_back (room, before);
                return FALSE;
            }
    }
    if (sharing_has (room->sharing, draws))
        return TRUE;
    take_back (room, before);
    return FALSE;
}

gboolean
sharing_make_room (Sharing *sharing, guint class, guint mode)
{
    guint n_classes = sharing->planning->batch->classes->len;
    Room room = { sharing, g_array_new (FALSE, FALSE, sizeof (Change)), g_new0 (gboolean *, n_classes + 1), 0 };

    for (guint c = 0; c < n_classes; c++)
        room.on_the_way[c] = g_new0 (gboolean, planning_class (sharing->planning, c)->modes->len + 1);
    gboolean found = cover (&room, planning_draws (sharing->planning, class, mode));
    for (guint c = 0; c < n_classes; c++)
        g_free (room.on_the_way[c]);
    g_free (room.on_the_way);
    g_array_unref (room.changes);
    return found;
}
