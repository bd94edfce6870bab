/* SPDX-License-Identifier: MIT */
/* Batches of Larkfield units that are written out in a test, and what is asked of them. */
#ifndef RUNGWISE_BATCH_UNITS_H
#define RUNGWISE_BATCH_UNITS_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <glib/gstdio.h>
#include <string.h>

#include "batch/batch.h"

#define DUNNOCK_REST                                                                                                   \
    "  dimm-a1: mem-mk4-32\n  dimm-a2: mem-mk4-32\n  drive1: start-stick\n  supply1: supply-400\n  supply2: "          \
    "supply-400\n"                                                                                                     \
    "  fan1: fan-60\n  fan2: fan-60\n---\n"
/* A dunnock-1s that is dark: elvane-8c is in, and system 1.4.0 does not know it (data/larkfield, story 01). Its only way at this
 * shop borrows dorvan-4c, of which the unit itself has none. */
#define DARK(id, more)                                                                                                 \
    "unit: " id "\nboard: dunnock-1s\nrevision: r1\nfirmware: {system: 1.4.0, controller: 1.4, logic: k2}\n" more      \
    "becomes: runs\nfitted:\n  cpu1: {part: elvane-8c, stepping: b1}\n  sink1: sink-70c\n" DUNNOCK_REST
/* A dunnock-1s that gets a larger processor and heat sink, and gives its dorvan-4c (story 06). */
#define LARGER(id, more)                                                                                               \
    "unit: " id "\nboard: dunnock-1s\nrevision: r2\nfirmware: {system: 2.1.0, controller: 1.8, logic: k2}\n" more      \
    "becomes: larger\nfitted:\n  cpu1: {part: dorvan-4c, serial: \"S-" id "\"}\n  sink1: sink-70c\n" DUNNOCK_REST
/* A wren-2s whose firmware knows elvane-14 in both steppings already: two processors out, two in. */
#define PAIR(id, becomes, more)                                                                                        \
    "unit: " id "\nboard: wren-2s\nrevision: r2\nfirmware: {system: 2.1.0, controller: 1.20-1, logic: p3}\n" more      \
    "becomes: " becomes "\nfitted: {cpu1: {part: dorvan-8, stepping: a1}, cpu2: {part: dorvan-8, stepping: a1},\n"     \
    "  sink1: sink-160, sink2: sink-160, dimm-a1: mem-mk4-16, dimm-b1: mem-mk4-16, riser1: riser-wide,\n"              \
    "  drive1: start-stick, supply1: supply-750, supply2: supply-750, fan1: fan-60, fan2: fan-60,\n"                   \
    "  fan3: fan-60, fan4: fan-60, duct1: duct-2s, bay2: bay-cover}\n---\n"
#define DUNNOCK_WANTS                                                                                                  \
    "want: runs\nboard: dunnock-1s\nslots: {cpu1: elvane-8c}\n---\n"                                                   \
    "want: larger\nboard: dunnock-1s\nslots: {cpu1: elvane-12c}\n---\n"
#define WREN_WANTS     "want: pair\nboard: wren-2s\nslots: {cpu1: elvane-14, cpu2: elvane-14}\n---\n"
#define SHOP_TIMES     "minutes: {opening: 6, start: 5, remove: 2, fit: {processor: 4, memory: 1, other: 2}}\n"
#define LOANERS(count) "shop: lends\nloaners: [{part: dorvan-4c, count: " count "}]\ntechnicians: 2\nstations: 4\n"

typedef struct {
    Library *library; /* owned */
    GPtrArray *units, *wants;
    BatchQuestion question;
    Batch *batch; /* owned; NULL until it is planned */
} SmallBatch;

/* The book and rules with what the text says. Transfer full. */
static inline Library *
batch_library (const char *text)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autofree char *path = NULL;
    int file = g_file_open_tmp ("batch-XXXXXX.yaml", &path, NULL);
    const char *paths[] = { "rules/every-machine.yaml", "rules/cautions.yaml", "data/larkfield/book", path, NULL };
    Library *library = NULL;

    assert_true (file >= 0 && g_close (file, NULL) && g_file_set_contents (path, text, -1, NULL));
    library = library_load (paths, NULL, complaints);
    g_remove (path);
    if (complaints_count (complaints) > 0) {
        g_autofree char *said = complaints_to_string (complaints, 5);

        fail_msg ("%s", said);
    }
    return library;
}

/* Begins on Monday 2034-03-06 at 07:00. */
static inline SmallBatch *
small_batch (const char *shop, const char *units)
{
    SmallBatch *small = g_new0 (SmallBatch, 1);
    /* A want is only for boards of which there is a unit. */
    g_autofree char *text =
        g_strconcat (units, strstr (units, "board: dunnock-1s") != NULL ? DUNNOCK_WANTS : "",
                     strstr (units, "board: wren-2s") != NULL ? WREN_WANTS : "", shop, SHOP_TIMES, NULL);

    small->library = batch_library (text);
    small->units = g_ptr_array_new ();
    small->wants = g_ptr_array_new ();
    for (guint i = 0; i < small->library->units->len; i++) {
        Unit *unit = small->library->units->pdata[i];
        const Want *want = library_want_for_unit (small->library, unit, NULL);

        assert_non_null (want);
        g_ptr_array_add (small->units, unit);
        g_ptr_array_add (small->wants, (gpointer) want);
    }
    small->question = (BatchQuestion){ .library = small->library,
                                       .shop = small->library->shops->pdata[0],
                                       .units = small->units,
                                       .wants = small->wants,
                                       .schedule = { .seed = 1, .most_tried = 400 },
                                       .clock = { g_date_time_new_utc (2034, 3, 6, 7, 0, 0), 7 * 600 } };
    return small;
}

/* The batch, which has to have passed its check. */
static inline Batch *
small_batch_plan (SmallBatch *small)
{
    batch_free (small->batch);
    small->batch = batch_plan (&small->question);
    if (small->batch->wrong != NULL)
        fail_msg ("%s", small->batch->wrong);
    return small->batch;
}

static inline void
small_batch_free (SmallBatch *small)
{
    batch_free (small->batch);
    g_ptr_array_unref (small->units);
    g_ptr_array_unref (small->wants);
    g_date_time_unref (small->question.clock.begin);
    library_free (small->library);
    g_free (small);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SmallBatch, small_batch_free)

static inline BatchUnit *
unit_of (const Batch *batch, const char *id)
{
    for (guint i = 0; i < batch->units->len; i++) {
        BatchUnit *unit = batch->units->pdata[i];

        if (strcmp (unit->unit->id, id) == 0)
            return unit;
    }
    fail_msg ("there is no unit %s", id);
    return NULL;
}

static inline const BatchMode *
mode_of (const Batch *batch, const BatchUnit *unit)
{
    return ((const BatchClass *) batch->classes->pdata[unit->class])->modes->pdata[unit->mode];
}

static inline BatchTask *
task_of (const BatchUnit *unit, guint step)
{
    assert_true (unit->aside == ASIDE_NOT && step < unit->tasks->len);
    return &g_array_index (unit->tasks, BatchTask, step);
}

/* The first step that fits a loaner; G_MAXUINT: none does. */
static inline guint
loaner_step (const BatchMode *mode)
{
    for (guint i = 0; i < mode->steps->len; i++)
        if (g_array_index (mode->steps, Step, i).kind == STEP_FIT &&
            g_array_index (mode->steps, Step, i).owner == OWNER_LOAN)
            return i;
    return G_MAXUINT;
}

/* The part that a unit's first fitting of a loaner moves. */
static inline BatchPart *
loaner_of (const Batch *batch, const BatchUnit *unit)
{
    guint step = loaner_step (mode_of (batch, unit));

    assert_true (step != G_MAXUINT);
    assert_true (task_of (unit, step)->part >= 0);
    return batch->parts->pdata[task_of (unit, step)->part];
}

#endif
