/* SPDX-License-Identifier: MIT */
/* The words and small sums of the model. */
#include "model.h"

#include <string.h>

guint64
dice_next (Dice *dice)
{
    guint64 z = (dice->state += 0x9E3779B97F4A7C15u);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    return z ^ (z >> 31);
}

int
dice_below (Dice *dice, int n)
{
    g_assert (n > 0);
    return (int) (dice_next (dice) % (guint64) n);
}

int
dice_between (Dice *dice, int low, int high)
{
    return high <= low ? low : low + dice_below (dice, high - low + 1);
}

gboolean
dice_percent (Dice *dice, int percent)
{
    return dice_below (dice, 100) < percent;
}

const char *
firmware_name (const Job *job, int component)
{
    static const char *const names[] = { "system", "controller", "logic" };
    static const char *const spares[] = { "system-2", "controller-2", "logic-2" };
    int active = job->firmware[component].spare_of;
    return active >= 0 ? spares[active] : names[component];
}

/* Each row ascends under its scheme, by the rules in docs/files.md, "Versions". */
const char *
edition_name (const Firmware *firmware, int release)
{
    static const char *const names[][MAX_RELEASES] = {
        [ORDER_DOTTED] = { "1.0", "1.0.0", "1.2", "1.10", "2.0.1" },
        [ORDER_SEMVER] = { "1.0.0-rc.1", "1.0.0-rc.11", "1.0.0", "1.2.0", "1.10.0" },
        [ORDER_DEBIAN] = { "1.0~rc2", "1.0", "1.0-1", "1.0+b-1", "1:0.5" },
        [ORDER_LISTED] = { "hazel", "birch", "alder", "rowan", "cedar" },
    };
    return names[firmware->order][release];
}

const char *
generation_name (int generation)
{
    static const char *const names[GENERATIONS] = { "dorvan", "elvane", "fenric" };
    return names[generation];
}

const char *
stepping_name (int stepping)
{
    static const char *const names[STEPPINGS] = { "a0", "a1", "b0", "b1" };
    return names[stepping];
}

const char *
piece_kind_name (PieceKind kind)
{
    static const char *const names[PIECE_KINDS] = { "processor", "heat-sink", "memory", "supply", "medium", "blank" };
    return names[kind];
}

const char *
way_name (Way way)
{
    static const char *const names[WAYS] = { "host", "controller", "clip", "jumper", "spare" };
    return names[way];
}

const char *
keeper_name (Keeper keeper)
{
    static const char *const names[] = { "own", "loan", "stock" };
    return names[keeper];
}

const char *
bound_name (Bound bound)
{
    static const char *const names[BOUND_COUNT] = { NULL, "alderbank", "tarnbeck" };
    return names[bound];
}

/* A condition on releases of `from`, as one on those of `to`. */
static Cond
cond_renamed (const Cond *cond, int from, int to)
{
    Cond renamed = *cond;
    for (int i = 0; i < renamed.count; i++)
        if (renamed.nodes[i].kind == ATOM_RELEASE && renamed.nodes[i].subject == from)
            renamed.nodes[i].subject = to;
    return renamed;
}

/* "the same releases, with `from`, `to-write`, `lowest` and `withdrawn`, but stating no support, no `while-running`, offering
 * nothing but its own name = release, and writing nothing else along" */
static Edition
mirrored_edition (const Edition *edition, int active, int spare)
{
    const unsigned not_of_spares = 1u << WAY_JUMPER | 1u << WAY_SPARE;
    Edition copy = { .also = -1, .lowest = edition->lowest, .withdrawn = edition->withdrawn, .gone = edition->gone };
    copy.from = cond_renamed (&edition->from, active, spare);
    copy.write_requires = edition->write_requires;
    copy.write_conflicts = edition->write_conflicts;
    copy.ways = edition->ways & ~not_of_spares;
    return copy;
}

void
job_mirror_spares (Job *job)
{
    for (int c = 0; c < job->firmware_count; c++) {
        const Firmware *active = &job->firmware[c];
        if (active->spare < 0)
            continue;
        Firmware *spare = &job->firmware[active->spare];
        *spare = (Firmware){ .order = active->order, .count = active->count, .spare = -1, .spare_of = c };
        spare->gone = active->gone;
        spare->recovery = active->recovery & ~(1u << WAY_JUMPER | 1u << WAY_SPARE);
        for (int r = 0; r < active->count; r++)
            spare->editions[r] = mirrored_edition (&active->editions[r], c, active->spare);
        for (int way = WAY_HOST; way <= WAY_CLIP; way++)
            spare->ways[way] = active->ways[way];
    }
}

Job
job_that_keeps_nothing (const Job *job)
{
    Job free_job = *job;
    memset (free_job.keep_place, 0, sizeof free_job.keep_place);
    memset (free_job.keep_firmware, 0, sizeof free_job.keep_firmware);
    return free_job;
}

const Fit *
job_began (const Job *job, int slot)
{
    return job->told_began[slot] ? &job->began[slot] : &job->fits[slot];
}

int
bits_count (unsigned bits)
{
    int count = 0;
    for (; bits; bits &= bits - 1)
        count++;
    return count;
}

int
bits_lowest (unsigned bits)
{
    for (int i = 0; i < 32; i++)
        if (bits >> i & 1)
            return i;
    return -1;
}

gboolean
cmp_holds (Cmp cmp, int left, int right)
{
    switch (cmp) {
    case CMP_ANY:
        return TRUE;
    case CMP_LT:
        return left < right;
    case CMP_LE:
        return left <= right;
    case CMP_EQ:
        return left == right;
    case CMP_GE:
        return left >= right;
    case CMP_GT:
        return left > right;
    case CMP_NE:
        return left != right;
    }
    g_assert_not_reached ();
}

gboolean
cond_names (const Cond *cond, NodeKind kind, int subject)
{
    for (int i = 0; i < cond->count; i++)
        if (cond->nodes[i].kind == kind && cond->nodes[i].subject == subject)
            return TRUE;
    return FALSE;
}

Cond
cond_atom (NodeKind kind, int subject, Cmp cmp, int value)
{
    Cond cond = { .count = 1 };
    cond.nodes[0] = (Node){ .kind = kind, .subject = subject, .cmp = cmp, .value = value, .left = -1, .right = -1 };
    return cond;
}

Cond
cond_join (NodeKind join, const Cond *left, const Cond *right)
{
    g_assert (left->count && right->count && left->count + right->count < MAX_NODES);
    Cond cond = *left;
    for (int i = 0; i < right->count; i++) {
        Node node = right->nodes[i];
        if (node.kind >= JOIN_AND) {
            node.left += left->count;
            node.right += left->count;
        }
        cond.nodes[cond.count++] = node;
    }
    Node root = { .kind = join, .left = left->count - 1, .right = cond.count - 1 };
    cond.nodes[cond.count++] = root;
    return cond;
}
