/* SPDX-License-Identifier: MIT */
/* Every edit has a number: a stage counts `turn` down and makes the edit at which it reaches zero. What is named
 * elsewhere in the job is not taken out; the edit that takes the naming out comes first or in the next round. */
#include "shrink.h"

#include "shrink_parts.h"

#include <string.h>

typedef gboolean (*CondVisit) (Cond *cond, gpointer data);

gboolean
shrink_is_turn (int *turn)
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

gboolean
shrink_is_named (Job *job, NodeKind kind, int subject, int value)
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
    if (shrink_is_turn (turn)) {
        cond->count = 0;
        return TRUE;
    }
    if (root.kind < JOIN_AND)
        return FALSE;
    if (shrink_is_turn (turn)) {
        *cond = sub_cond (cond, root.left);
        return TRUE;
    }
    if (shrink_is_turn (turn)) {
        *cond = sub_cond (cond, root.right);
        return TRUE;
    }
    return FALSE;
}

static gboolean
edit_lists (Job *job, int *turn)
{
    for (int l = 0; l < job->law_count; l++) {
        if (!shrink_is_turn (turn))
            continue;
        memmove (&job->laws[l], &job->laws[l + 1], sizeof (Law) * (gsize) (job->law_count - l - 1));
        job->law_count--;
        return TRUE;
    }
    for (int s = 0; s < job->stack_count; s++) {
        if (!shrink_is_turn (turn))
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
    if ((job->may_be[c] >> r & 1) || job->floor[c] == r || shrink_is_named (job, ATOM_RELEASE, c, r))
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
    if (!edition_is_named (job, c, r) && shrink_is_turn (turn))
        return edition->gone = TRUE;
    if (edition->lowest >= 0 && shrink_is_turn (turn)) {
        edition->lowest = -1;
        return TRUE;
    }
    if (edition->also >= 0 && shrink_is_turn (turn)) {
        edition->also = -1;
        return TRUE;
    }
    if (edition->withdrawn && shrink_is_turn (turn)) {
        edition->withdrawn = FALSE;
        return TRUE;
    }
    if ((edition->never[0] || edition->never[1] || edition->never[2]) && shrink_is_turn (turn)) {
        memset (edition->never, 0, sizeof edition->never);
        return TRUE;
    }
    for (int t = 0; t < TABLES; t++) {
        if (edition->tables[t] && !shrink_is_named (job, ATOM_TABLE, t, -1) && shrink_is_turn (turn)) {
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
    gboolean named = left < 2 || shrink_is_named (job, ATOM_RELEASE, c, -1);
    firmware->gone = FALSE;
    named = named || firmware->spare >= 0;
    for (int r = 0; r < firmware->count; r++)
        for (int t = 0; t < TABLES; t++)
            named = named || (firmware->editions[r].tables[t] && shrink_is_named (job, ATOM_TABLE, t, -1));
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
            if (*flags[i] && shrink_is_turn (turn)) {
                *flags[i] = FALSE;
                return TRUE;
            }
        }
        unsigned only = 0;
        for (int r = 0; r < firmware->count; r++)
            only |= firmware->editions[r].ways == 1u << way;
        if (entry->there && entry->host != NEED_OFF && shrink_is_turn (turn)) {
            entry->host = NEED_OFF;
            return TRUE;
        }
        if (entry->there && !only && shrink_is_turn (turn)) {
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
        if (!firmware_is_named (job, c) && shrink_is_turn (turn))
            return take_firmware_out (job, c);
        gboolean own = job->firmware[c].spare_of < 0;
        for (int r = 0; r < job->firmware[c].count && own; r++)
            if (!job->firmware[c].editions[r].gone && edit_edition (job, c, r, turn))
                return TRUE;
        if (own && edit_ways (&job->firmware[c], turn))
            return TRUE;
        if (job->failed[c] && shrink_is_turn (turn)) {
            job->failed[c] = FALSE;
            return TRUE;
        }
        if (bits_count (job->may_be[c]) > 1 && shrink_is_turn (turn)) {
            job->may_be[c] &= ~(1u << bits_lowest (job->may_be[c]));
            job->spare_untold = FALSE;
            job->told[c] = bits_count (job->may_be[c]) > 1 ? TOLD_LIST : TOLD_KNOWN;
            return TRUE;
        }
        if (job->floor[c] >= 0 && shrink_is_turn (turn)) {
            job->floor[c] = -1;
            return TRUE;
        }
        if (job->keep_firmware[c] && shrink_is_turn (turn)) {
            job->keep_firmware[c] = FALSE;
            return TRUE;
        }
    }
    return FALSE;
}

static gboolean
edit_job (Job *job, int turn)
{
    return edit_lists (job, &turn) || each_cond (job, edit_cond, &turn) || edit_firmware (job, &turn) ||
           shrink_hardware (job, &turn) || shrink_habits (job, &turn);
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
