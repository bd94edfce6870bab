/* SPDX-License-Identifier: MIT */
/* Where a bench record leaves a unit: docs/files.md, "Record". Recording does not judge, planning does: an entry is
 * refused only when it cannot have happened. */
#include "check/resume_bench.h"

#include "check/facts.h"

typedef struct {
    Bench *bench;
    const WrittenRoute *route; /* nullable */
    gboolean *done;            /* owned; per step of the route */
    Complaints *complaints;
} Resuming;

/* One entry that is being applied. */
typedef struct {
    Resuming *resuming;
    const RecordEntry *entry;
    const Step *step;
    Mark at; /* where complaints point */
} Applying;

/* ---- The step of an entry ---- */

static void
complain_of_number (const Resuming *resuming, const RecordEntry *entry, Mark at)
{
    const WrittenRoute *route = resuming->route;

    if (route == NULL) {
        complaints_add (resuming->complaints, at, "expected the route's file among those that are read",
                        "step %u of a route, and no route is given", entry->number);
        return;
    }
    g_autofree char *expected = g_strdup_printf ("expected a number from 1 to %u", route->steps->len);
    complaints_add (resuming->complaints, at, route->steps->len == 0 ? NULL : expected,
                    "there is no step %u in the route \"%s\", which has %u", entry->number, route->name,
                    route->steps->len);
}

/* NULL after a complaint. */
static const Step *
step_of_entry (const Resuming *resuming, const RecordEntry *entry, Mark at)
{
    const WrittenRoute *route = resuming->route;

    if (entry->number == 0)
        return &entry->step;
    if (route != NULL && entry->number <= route->steps->len)
        return &g_array_index (route->steps, Step, entry->number - 1);
    complain_of_number (resuming, entry, at);
    return NULL;
}

/* ---- What cannot have happened ---- */

static gboolean
complain (const Applying *applying, const char *expected, const char *what)
{
    complaints_add (applying->resuming->complaints, applying->at, expected, "%s", what);
    return FALSE;
}

/* The entry says what was found in the slot, so what the step did to it need not be worked out. */
static gboolean
is_explained (const Applying *applying)
{
    return applying->entry->fitted != NULL && applying->entry->looked_at[applying->step->slot];
}

static const char *
slot_name (const Applying *applying)
{
    return board_slot (applying->resuming->bench->unit->board, applying->step->slot)->name;
}

static const Fitted *
in_slot (const Applying *applying)
{
    return &applying->resuming->bench->unit->fitted[applying->step->slot];
}

static gboolean
removes_what_is_there (const Applying *applying)
{
    const Fitted *held = in_slot (applying);
    const Step *step = applying->step;

    return held->part != NULL && (step->part == NULL || (step->part == held->part &&
                                                         (step->stepping == NULL || step->stepping == held->stepping)));
}

static gboolean
complain_of_removal (const Applying *applying)
{
    static const char expected[] = "expected a slot that holds it, or `fitted` with what was found in the slot";
    const Fitted *held = in_slot (applying);

    if (held->part == NULL) {
        g_autofree char *what =
            g_strdup_printf ("nothing can have been removed from %s, which is empty here", slot_name (applying));
        return complain (applying, expected, what);
    }
    g_autofree char *named = part_in_words (applying->step->part, applying->step->stepping);
    g_autofree char *there = part_in_words (held->part, held->stepping);
    g_autofree char *what = g_strdup_printf ("%s cannot have been removed from %s, which holds %s here", named,
                                             slot_name (applying), there);
    return complain (applying, expected, what);
}

static gboolean
complain_of_full_slot (const Applying *applying)
{
    const Fitted *held = in_slot (applying);
    g_autofree char *named = part_in_words (applying->step->part, applying->step->stepping);
    g_autofree char *there = part_in_words (held->part, held->stepping);
    g_autofree char *what =
        g_strdup_printf ("%s cannot have been fitted in %s, which holds %s here", named, slot_name (applying), there);

    return complain (applying, "expected an empty slot, or `fitted` with what was found in the slot", what);
}

static gboolean
complain_of_part (const Applying *applying)
{
    static const char *const whose[OWNER_COUNT] = { "of the unit's own beside it", "on the loan shelf", "in stock" };
    static const char *const expected[OWNER_COUNT] = {
        "expected a part that was taken out before, or `fitted` with what was found in the slot",
        "expected a part that the shop's file lends, or `fitted` with what was found in the slot",
        "expected a part that the shop's file has in stock, or `fitted` with what was found in the slot",
    };
    const Step *step = applying->step;
    g_autofree char *named = part_in_words (step->part, step->stepping);
    g_autofree char *what = g_strdup_printf ("there is no %s %s here that can have been fitted in %s", named,
                                             whose[step->owner], slot_name (applying));

    return complain (applying, expected[step->owner], what);
}

/* ---- What happened. Each: FALSE after a complaint. ---- */

static gboolean
apply_removal (const Applying *applying)
{
    Bench *bench = applying->resuming->bench;

    if (applying->entry->outcome == ENTRY_FAILED)
        return TRUE;
    if (!removes_what_is_there (applying) && !is_explained (applying))
        return complain_of_removal (applying);
    if (removes_what_is_there (applying))
        bench_take_out (bench, applying->step->slot);
    bench->worked_on[applying->step->slot] = TRUE;
    return TRUE;
}

static gboolean
apply_fitting (const Applying *applying)
{
    Bench *bench = applying->resuming->bench;
    guint slot = applying->step->slot;
    gboolean full = in_slot (applying)->part != NULL;
    Fitted part;

    bench->worked_on[slot] = TRUE;
    if (full && !is_explained (applying))
        return complain_of_full_slot (applying);
    if (full || !bench_pick_up (bench, applying->step, &part)) {
        bench->unit->insertions[slot]++;
        return is_explained (applying) || complain_of_part (applying);
    }
    if (applying->entry->outcome == ENTRY_DONE) {
        bench_put_in (bench, slot, &part);
        return TRUE;
    }
    bench->unit->insertions[slot]++;
    bench_set_aside (bench, &part);
    return TRUE;
}

static gboolean
apply_write (const Applying *applying)
{
    const Step *step = applying->step;
    Bench *bench = applying->resuming->bench;
    const Component *component = board_component (bench->unit->board, step->component);

    if (method_powered (&component->methods[step->method], step->method) == POWERED_ON)
        bench_note_running (bench);
    if (applying->entry->outcome == ENTRY_DONE)
        bench_write (bench, step);
    else
        bench_fail_write (bench, step);
    return TRUE;
}

static gboolean
apply_step (const Applying *applying)
{
    if (applying->entry->outcome == ENTRY_SKIPPED)
        return TRUE;
    switch (applying->step->kind) {
    case STEP_REMOVE:
        return apply_removal (applying);
    case STEP_FIT:
        return apply_fitting (applying);
    case STEP_WRITE:
        return apply_write (applying);
    }
    g_assert_not_reached ();
}

static void
apply_findings (Bench *bench, const RecordEntry *entry)
{
    for (guint i = 0; entry->fitted != NULL && i < bench->unit->board->slots->len; i++)
        if (entry->looked_at[i])
            bench_find_part (bench, i, &entry->fitted[i]);
    for (guint i = 0; entry->firmware != NULL && i < bench->unit->board->components->len; i++)
        if (entry->firmware[i].count > 0)
            bench_find_release (bench, i, &entry->firmware[i]);
}

static gboolean
apply_entry (Resuming *resuming, const RecordEntry *entry)
{
    Mark at = entry->step.at.line > 0 ? entry->step.at : entry->at;
    Applying applying = { resuming, entry, step_of_entry (resuming, entry, at), at };

    if (applying.step == NULL || !apply_step (&applying))
        return FALSE;
    apply_findings (resuming->bench, entry);
    if (entry->number > 0 && entry->outcome == ENTRY_DONE)
        resuming->done[entry->number - 1] = TRUE;
    return TRUE;
}

/* ---- The whole record ---- */

/* What goes with what is not this room's to choose; that it goes together is. */
static gboolean
belong_together (const Unit *unit, const WrittenRoute *route, const Record *record, Complaints *complaints)
{
    guint before = complaints_count (complaints);

    if (g_strcmp0 (record->unit, unit->id) != 0) {
        g_autofree char *expected = g_strdup_printf ("expected a record of unit %s", unit->id);
        complaints_add (complaints, record->at, expected, "this record is of unit %s", record->unit);
    }
    if (route != NULL && route->board != unit->board) {
        g_autofree char *expected = g_strdup_printf ("expected a route for board %s", unit->board->name);
        complaints_add (complaints, route->at, expected, "this route is for board %s", route->board->name);
    }
    return complaints_count (complaints) == before;
}

static GArray *
steps_left (const Resuming *resuming)
{
    GArray *left = g_array_new (FALSE, TRUE, sizeof (Step));

    for (guint i = 0; resuming->route != NULL && i < resuming->route->steps->len; i++)
        if (!resuming->done[i])
            g_array_append_val (left, g_array_index (resuming->route->steps, Step, i));
    return left;
}

static Resumed *
resumed_from (const Resuming *resuming)
{
    Resumed *resumed = g_new0 (Resumed, 1);

    bench_state_floors (resuming->bench);
    resumed->unit = g_steal_pointer (&resuming->bench->unit);
    resumed->shop = g_steal_pointer (&resuming->bench->shop);
    resumed->left = steps_left (resuming);
    resumed->state = state_from_unit (resumed->unit, NULL);
    return resumed;
}

Resumed *
resume_from_record (const Shop *shop, const Unit *unit, const WrittenRoute *route, const Record *record,
                    Complaints *complaints)
{
    if (!belong_together (unit, route, record, complaints))
        return NULL;
    g_autoptr (Bench) bench = bench_new (unit, shop);
    g_autofree gboolean *done = g_new0 (gboolean, route == NULL ? 0 : route->steps->len);
    Resuming resuming = { bench, route, done, complaints };

    /* Each entry stands on those before it, so the first one that cannot have happened ends it. */
    for (guint i = 0; i < record->entries->len; i++)
        if (!apply_entry (&resuming, g_ptr_array_index (record->entries, i)))
            return NULL;
    return resumed_from (&resuming);
}

void
resumed_free (Resumed *resumed)
{
    if (resumed == NULL)
        return;
    state_free (resumed->state);
    g_array_unref (resumed->left);
    shop_free (resumed->shop);
    unit_free (resumed->unit);
    g_free (resumed);
}
