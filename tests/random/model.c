/* SPDX-License-Identifier: MIT */
/* The words and small sums of the model. */
#include "model.h"

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
firmware_name (int component)
{
    static const char *const names[MAX_FIRMWARE] = { "system", "controller", "logic" };
    return names[component];
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
    static const char *const names[PIECE_KINDS] = { "processor", "heat-sink", "memory", "supply", "medium" };
    return names[kind];
}

const char *
way_name (Way way)
{
    static const char *const names[WAYS] = { "host", "controller", "clip" };
    return names[way];
}

const char *
keeper_name (Keeper keeper)
{
    static const char *const names[] = { "own", "loan", "stock" };
    return names[keeper];
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
