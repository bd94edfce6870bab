/* SPDX-License-Identifier: MIT */
/* Every edit has a number: a stage counts `turn` down and makes the edit at which it reaches zero. What is named
 * elsewhere in the job is not taken out; the edit that takes the naming out comes first or in the next round. */
#include "shrink.h"

#include <string.h>

typedef gboolean (*CondVisit) (Cond *cond, gpointer data);

static gboolean
is_turn (int *turn)
{
    return (*turn)-- == 0;
}

/* Visits every condition until a visit returns TRUE. */
static gboolean
each_cond (Job *job, CondVisit visit, gpointer data)
{
    for (int c = 0; c < job->firmware_count; c++) {
        Firmware *firmware = &job->firmware[c];
        gboolean own = firmware->spare_of < 0; /* a spare image's are its component's */
        for (int r = 0; r < firmware->count && !firmware->gone && own; r++) {
            Edition *edition = &firmware->editions[r];
            if (!edition->gone && (visit (&edition->from, data) || visit (&edition->write_requires, data) ||
                                   visit (&edition->write_conflicts, data) || visit (&edition->run_requires, data) ||
                                   visit (&edition->run_conflicts, data)))
                return TRUE;
        }
        for (int way = 0; way < WAYS && !firmware->gone && own; way++)
            if (visit (&firmware->ways[way].requires, data))
                return TRUE;
        if (!firmware->gone && visit (&job->ask_firmware[c], data))
            return TRUE;
    }
    for (int p = 0; p < job->piece_count; p++)
        if (!job->pieces[p].gone && (visit (&job->pieces[p].requires, data) || visit (&job->pieces[p].conflicts, data)))
            return TRUE;
    for (int l = 0; l < job->law_count; l++)
        if (visit (&job->laws[l].requires, data) || visit (&job->laws[l].conflicts, data))
            return TRUE;
    return FALSE;
}

typedef struct {
    NodeKind kind;
    int subject, value; /* value -1: any */
} Named;

static gboolean
cond_has (Cond *cond, gpointer data)
{
    const Named *named = data;
    for (int i = 0; i < cond->count; i++) {
        const Node *node = &cond->nodes[i];
        if (node->kind == named->kind && node->subject == named->subject &&
            (named->value < 0 || node->value == named->value))
            return TRUE;
    }
    return FALSE;
}

static gboolean
is_named (Job *job, NodeKind kind, int subject, int value)
{
    Named named = { kind, subject, value };
    for (int l = 0; l < job->law_count; l++)
        if (cond_has (&job->laws[l].when, &named))
            return TRUE;
    return each_cond (job, cond_has, &named);
}

static Cond
sub_cond (const Cond *cond, int root)
{
    const Node *node = &cond->nodes[root];
    if (node->kind < JOIN_AND)
        return cond_atom (node->kind, node->subject, node->cmp, node->value);
    Cond left = sub_cond (cond, node->left), right = sub_cond (cond, node->right);
    return cond_join (node->kind, &left, &right);
}

/* Three edits a condition: nothing of it, its left side, its right side. */
static gboolean
edit_cond (Cond *cond, gpointer data)
{
    int *turn = data;
    if (!cond->count)
        return FALSE;
    const Node root = cond->nodes[cond->count - 1];
    if (is_turn (turn)) {
        cond->count = 0;
        return TRUE;
    }
    if (root.kind < JOIN_AND)
        return FALSE;
    if (is_turn (turn)) {
        *cond = sub_cond (cond, root.left);
        return TRUE;
    }
    if (is_turn (turn)) {
        *cond = sub_cond (cond, root.right);
        return TRUE;
    }
    return FALSE;
}

static gboolean
edit_lists (Job *job, int *turn)
{
    for (int l = 0; l < job->law_count; l++) {
        if (!is_turn (turn))
            continue;
        memmove (&job->laws[l], &job->laws[l + 1], sizeof (Law) * (gsize) (job->law_count - l - 1));
        job->law_count--;
        return TRUE;
    }
    for (int s = 0; s < job->stack_count; s++) {
        if (!is_turn (turn))
            continue;
        memmove (&job->stacks[s], &job->stacks[s + 1], sizeof (Stack) * (gsize) (job->stack_count - s - 1));
        job->stack_count--;
        return TRUE;
    }
    return FALSE;
}

static gboolean
edition_is_named (Job *job, int c, int r)
{
    int spare = job->firmware[c].spare;
    if ((job->may_be[c] >> r & 1) || job->floor[c] == r || is_named (job, ATOM_RELEASE, c, r))
        return TRUE;
    if (spare >= 0 && edition_is_named (job, spare, r))
        return TRUE;
    for (int other = 0; other < job->firmware_count; other++)
        for (int e = 0; e < job->firmware[other].count; e++) {
            const Edition *edition = &job->firmware[other].editions[e];
            if ((other == c && edition->lowest == r) || (edition->also == c && edition->also_release == r))
                return TRUE;
        }
    return FALSE;
}

static gboolean
edit_edition (Job *job, int c, int r, int *turn)
{
    Edition *edition = &job->firmware[c].editions[r];
    if (!edition_is_named (job, c, r) && is_turn (turn))
        return edition->gone = TRUE;
    if (edition->lowest >= 0 && is_turn (turn)) {
        edition->lowest = -1;
        return TRUE;
    }
    if (edition->also >= 0 && is_turn (turn)) {
        edition->also = -1;
        return TRUE;
    }
    if (edition->withdrawn && is_turn (turn)) {
        edition->withdrawn = FALSE;
        return TRUE;
    }
    if ((edition->never[0] || edition->never[1] || edition->never[2]) && is_turn (turn)) {
        memset (edition->never, 0, sizeof edition->never);
        return TRUE;
    }
    for (int t = 0; t < TABLES; t++) {
        if (edition->tables[t] && !is_named (job, ATOM_TABLE, t, -1) && is_turn (turn)) {
            edition->tables[t] = 0;
            return TRUE;
        }
    }
    return FALSE;
}

static gboolean
firmware_is_named (Job *job, int c)
{
    int left = 0;
    for (int other = 0; other < job->firmware_count; other++) {
        left += !job->firmware[other].gone;
        for (int r = 0; r < job->firmware[other].count; r++)
            if (other != c && job->firmware[other].editions[r].also == c)
                return TRUE;
    }
    Firmware *firmware = &job->firmware[c];
    firmware->gone = TRUE; /* what it says of itself does not count */
    gboolean named = left < 2 || is_named (job, ATOM_RELEASE, c, -1);
    firmware->gone = FALSE;
    named = named || firmware->spare >= 0;
    for (int r = 0; r < firmware->count; r++)
        for (int t = 0; t < TABLES; t++)
            named = named || (firmware->editions[r].tables[t] && is_named (job, ATOM_TABLE, t, -1));
    return named;
}

static gboolean
edit_ways (Firmware *firmware, int *turn)
{
    for (int way = 0; way < WAYS; way++) {
        WayEntry *entry = &firmware->ways[way];
        gboolean *flags[] = { &entry->next_start, &entry->obeys_from, &entry->obeys_to_write, &entry->obeys_floor,
                              &entry->recovery_only };
        for (guint i = 0; entry->there && i < G_N_ELEMENTS (flags); i++) {
            if (*flags[i] && is_turn (turn)) {
                *flags[i] = FALSE;
                return TRUE;
            }
        }
        unsigned only = 0;
        for (int r = 0; r < firmware->count; r++)
            only |= firmware->editions[r].ways == 1u << way;
        if (entry->there && entry->host != NEED_OFF && is_turn (turn)) {
            entry->host = NEED_OFF;
            return TRUE;
        }
        if (entry->there && !only && is_turn (turn)) {
            entry->there = FALSE;
            entry->host = NEED_OFF;
            entry->requires.count = 0;
            for (int r = 0; r < firmware->count; r++)
                firmware->editions[r].ways &= ~(1u << way);
            return TRUE;
        }
    }
    return FALSE;
}

static gboolean
take_firmware_out (Job *job, int c)
{
    Firmware *firmware = &job->firmware[c];
    if (firmware->spare_of >= 0) {
        Firmware *active = &job->firmware[firmware->spare_of];
        active->spare = -1;
        active->recovery &= ~(1u << WAY_SPARE);
        active->ways[WAY_SPARE].there = FALSE;
        active->ways[WAY_SPARE].requires.count = 0;
        for (int r = 0; r < active->count; r++)
            active->editions[r].ways &= ~(1u << WAY_SPARE);
    }
    return firmware->gone = TRUE;
}

static gboolean
edit_firmware (Job *job, int *turn)
{
    for (int c = 0; c < job->firmware_count; c++) {
        if (job->firmware[c].gone)
            continue;
        if (!firmware_is_named (job, c) && is_turn (turn))
            return take_firmware_out (job, c);
        gboolean own = job->firmware[c].spare_of < 0;
        for (int r = 0; r < job->firmware[c].count && own; r++)
            if (!job->firmware[c].editions[r].gone && edit_edition (job, c, r, turn))
                return TRUE;
        if (own && edit_ways (&job->firmware[c], turn))
            return TRUE;
        if (job->failed[c] && is_turn (turn)) {
            job->failed[c] = FALSE;
            return TRUE;
        }
        if (bits_count (job->may_be[c]) > 1 && is_turn (turn)) {
            job->may_be[c] &= ~(1u << bits_lowest (job->may_be[c]));
            job->spare_untold = FALSE;
            job->told[c] = bits_count (job->may_be[c]) > 1 ? TOLD_LIST : TOLD_KNOWN;
            return TRUE;
        }
        if (job->floor[c] >= 0 && is_turn (turn)) {
            job->floor[c] = -1;
            return TRUE;
        }
        if (job->keep_firmware[c] && is_turn (turn)) {
            job->keep_firmware[c] = FALSE;
            return TRUE;
        }
    }
    return FALSE;
}

static gboolean
place_is_named (Job *job, int slot)
{
    int same = 0;
    for (int i = 0; i < job->place_count; i++) {
        const Place *place = &job->places[i];
        same += !place->gone && place->takes == job->places[slot].takes;
        if (!place->gone && (place->over == slot || place->served_by == slot))
            return TRUE;
    }
    return job->fits[slot].piece >= 0 || job_began (job, slot)->piece >= 0 || job->asks[slot].kind != ASK_NOTHING || is_named (job, ATOM_SLOT, slot, -1) ||
           (same < 2 && job->places[slot].takes == PIECE_PROCESSOR);
}

static gboolean
piece_is_named (Job *job, int piece)
{
    for (int i = 0; i < job->place_count; i++)
        if ((!job->places[i].gone && (job->fits[i].piece == piece || job_began (job, i)->piece == piece)) ||
            (job->asks[i].kind == ASK_MODEL && job->asks[i].piece == piece) ||
            (job->asks[i].kind == ASK_LIKE && job->places[i].takes == job->pieces[piece].kind))
            return TRUE;
    for (int p = 0; p < job->pulled_count; p++)
        if (job->pulled[p].piece == piece)
            return TRUE;
    for (int s = 0; s < job->stack_count; s++)
        if (job->stacks[s].piece == piece)
            return TRUE;
    return is_named (job, ATOM_MODEL, piece, -1) || is_named (job, ATOM_KIND, (int) job->pieces[piece].kind, -1) ||
           (job->pieces[piece].kind == PIECE_PROCESSOR &&
            is_named (job, ATOM_GENERATION, job->pieces[piece].generation, -1));
}

/* What the slot held and bears. */
static gboolean
edit_wear (Job *job, int slot, int *turn)
{
    if (job->fits[slot].piece >= 0 && job->fits[slot].keeper != OWN && is_turn (turn)) {
        job->fits[slot].keeper = OWN;
        return TRUE;
    }
    if (job->told_began[slot] && is_turn (turn)) {
        job->told_began[slot] = FALSE;
        return TRUE;
    }
    if (job->places[slot].rated && is_turn (turn)) {
        job->places[slot].rated = job->insertions[slot] = 0;
        return TRUE;
    }
    return FALSE;
}

static void
bind_nobody (Job *job)
{
    for (int i = 0; i < MAX_SLOTS; i++)
        job->fits[i].bound = job->began[i].bound = BOUND_NOBODY;
    for (int p = 0; p < job->pulled_count; p++)
        job->pulled[p].bound = BOUND_NOBODY;
    for (int s = 0; s < job->stack_count; s++)
        job->stacks[s].bound = BOUND_NOBODY;
    for (int p = 0; p < job->piece_count; p++)
        job->pieces[p].binds = FALSE;
}

static gboolean
binds_any (const Job *job)
{
    for (int p = 0; p < job->piece_count; p++)
        if (job->pieces[p].binds)
            return TRUE;
    return FALSE;
}

static gboolean
edit_hardware (Job *job, int *turn)
{
    for (int i = 0; i < job->place_count; i++) {
        if (job->places[i].gone)
            continue;
        if (!place_is_named (job, i) && is_turn (turn))
            return job->places[i].gone = TRUE;
        if (job->fits[i].piece >= 0 && is_turn (turn)) {
            job->fits[i] = (Fit){ .piece = -1 };
            return TRUE;
        }
        if (edit_wear (job, i, turn))
            return TRUE;
        if (job->asks[i].kind != ASK_NOTHING && is_turn (turn)) {
            job->asks[i] = (Ask){ .kind = ASK_NOTHING, .piece = -1, .stepping = -1, .generation = -1 };
            return TRUE;
        }
        if (job->keep_place[i] && is_turn (turn)) {
            job->keep_place[i] = FALSE;
            return TRUE;
        }
        if (job->places[i].served_by >= 0 && is_turn (turn)) {
            job->places[i].served_by = -1;
            return TRUE;
        }
    }
    for (int p = 0; p < job->pulled_count; p++) {
        if (!is_turn (turn))
            continue;
        memmove (&job->pulled[p], &job->pulled[p + 1], sizeof (Fit) * (gsize) (job->pulled_count - p - 1));
        job->pulled_count--;
        return TRUE;
    }
    for (int p = 0; p < job->piece_count; p++)
        if (!job->pieces[p].gone && !piece_is_named (job, p) && is_turn (turn))
            return job->pieces[p].gone = TRUE;
    return FALSE;
}

static gboolean
edit_habits (Job *job, int *turn)
{
    gboolean *flags[] = { &job->unverified, &job->need_recovery, &job->redundant, &job->verified_boot };
    for (guint i = 0; i < G_N_ELEMENTS (flags); i++) {
        if (*flags[i] && is_turn (turn)) {
            *flags[i] = FALSE;
            return TRUE;
        }
    }
    if (binds_any (job) && is_turn (turn)) {
        bind_nobody (job);
        return TRUE;
    }
    if (job->board_binds && is_turn (turn)) {
        job->board_binds = BOUND_NOBODY;
        return TRUE;
    }
    if (job->shop_ways != ALL_WAYS && is_turn (turn)) {
        job->shop_ways = ALL_WAYS;
        return TRUE;
    }
    if (job->look && is_turn (turn)) {
        job->look = 0;
        return TRUE;
    }
    for (int g = 0; g < GENERATIONS; g++) {
        if (job->mixed[g] && is_turn (turn)) {
            job->mixed[g] = 0;
            return TRUE;
        }
    }
    return FALSE;
}

static gboolean
edit_job (Job *job, int turn)
{
    return edit_lists (job, &turn) || each_cond (job, edit_cond, &turn) || edit_firmware (job, &turn) ||
           edit_hardware (job, &turn) || edit_habits (job, &turn);
}

void
shrink_job (Job *job, StillFails still_fails, gpointer data)
{
    gboolean smaller = TRUE;
    while (smaller) {
        smaller = FALSE;
        for (int turn = 0;;) {
            Job edited = *job;
            if (!edit_job (&edited, turn))
                break;
            job_mirror_spares (&edited);
            if (!still_fails (&edited, data)) {
                turn++;
                continue;
            }
            *job = edited;
            smaller = TRUE;
        }
    }
}
