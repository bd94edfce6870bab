/* SPDX-License-Identifier: MIT */
/* Library: making and freeing looks, signs, and what was seen. */
#include "book/library.h"

/* ---- Looks ---- */

LookFirst *
look_new (const char *id, Mark at)
{
    LookFirst *look = g_new0 (LookFirst, 1);
    look->id = id;
    look->finds = g_ptr_array_new_with_free_func (g_free);
    look->at = at;
    return look;
}

void
look_free (gpointer data)
{
    LookFirst *look = data;
    g_ptr_array_unref (look->finds);
    g_free (look);
}

/* ---- Signs ---- */

Sign *
sign_new (const char *id, Mark at)
{
    Sign *sign = g_new0 (Sign, 1);
    sign->id = id;
    sign->event = (SeenEvent){ .sensor_type = -1, .offset = -1, .data_2 = -1, .data_3 = -1 };
    sign->data_2_to = -1;
    sign->supports = g_array_new (FALSE, TRUE, sizeof (SignSupport));
    sign->excludes = g_array_new (FALSE, TRUE, sizeof (SignTarget));
    sign->at = at;
    return sign;
}

void
sign_free (gpointer data)
{
    Sign *sign = data;
    if (sign->boards)
        g_ptr_array_unref (sign->boards);
    g_array_unref (sign->supports);
    g_array_unref (sign->excludes);
    g_free (sign);
}

/* ---- What was seen ---- */

Observation *
observation_new (SeenKind kind, Mark at)
{
    Observation *observation = g_new0 (Observation, 1);
    observation->kind = kind;
    observation->event = (SeenEvent){ .sensor_type = -1, .offset = -1, .data_2 = -1, .data_3 = -1 };
    observation->at = at;
    return observation;
}

void
observation_free (gpointer data)
{
    Observation *observation = data;
    g_free (observation->fitted);
    g_free (observation->changed);
    g_free (observation);
}

Seen *
seen_new (const char *name, const Board *board, Mark at)
{
    Seen *seen = g_new0 (Seen, 1);
    seen->name = name;
    seen->file = at.file;
    seen->board = board;
    seen->observations = g_ptr_array_new_with_free_func (observation_free);
    seen->at = at;
    return seen;
}

void
seen_free (gpointer data)
{
    Seen *seen = data;
    g_ptr_array_unref (seen->observations);
    g_free (seen);
}
