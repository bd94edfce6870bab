/* SPDX-License-Identifier: MIT */
/* Jobs that are the same in everything. */
#include "batch/flat.h"

static gboolean
same_task (const Flat *flat, guint left, guint right, guint shift)
{
    const FlatTask *a = &flat->task[left], *b = &flat->task[right];
    guint uses = (guint) a->needs + a->holds + a->closes + a->gains;
    if (a->duration != b->duration || a->attended != b->attended || a->not_before != b->not_before || a->fixed >= 0 ||
        b->fixed >= 0 || a->needs != b->needs || a->holds != b->holds || a->closes != b->closes ||
        a->gains != b->gains || a->befores != b->befores)
        return FALSE;
    for (guint i = 0; i < uses; i++) {
        const FlatUse *one = flat_needs (flat, a) + i, *other = flat_needs (flat, b) + i;
        if (one->resource != other->resource || one->amount != other->amount || one->lead != other->lead ||
            one->length != other->length)
            return FALSE;
    }
    for (guint i = 0; i < a->befores; i++) {
        if (flat_befores (flat, a)[i] + shift != flat_befores (flat, b)[i])
            return FALSE;
    }
    return TRUE;
}

static gboolean
same_job (const Flat *flat, const FlatJob *left, const FlatJob *right)
{
    if (left->modes != right->modes || left->due != right->due || left->weight != right->weight)
        return FALSE;
    for (guint m = 0; m < left->modes; m++) {
        const FlatMode *a = &flat->mode[left->first + m], *b = &flat->mode[right->first + m];
        if (a->tasks != b->tasks || a->insertions != b->insertions)
            return FALSE;
        for (guint k = 0; k < a->tasks; k++) {
            if (!same_task (flat, a->first + k, b->first + k, b->first - a->first))
                return FALSE;
        }
    }
    return TRUE;
}

void
flat_fill_twins (const Flat *flat, const gboolean *never, guint *twin)
{
    for (guint i = 0; i < flat->jobs; i++) {
        twin[i] = G_MAXUINT;
        for (guint k = i; k-- > 0 && twin[i] == G_MAXUINT;) {
            if (!never[k] && same_job (flat, &flat->job[k], &flat->job[i]))
                twin[i] = k;
        }
    }
}
