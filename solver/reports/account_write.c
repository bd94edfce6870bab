/* SPDX-License-Identifier: MIT */
/* The account of a write. */
#include "reports/account_parts.h"

int
step_writes_release (const Board *board, const Step *step, guint component)
{
    const Component *of = board_component (board, component);
    const Release *release = NULL;

    if (step->kind != STEP_WRITE)
        return -1;
    if (step->component == component)
        return (int) step->release;
    if (step->method == METHOD_SPARE)
        return -1;
    release = component_release (board_component (board, step->component), step->release);
    for (guint i = 0; i < release->also_writes->len; i++) {
        const AlsoWrites *also = g_ptr_array_index (release->also_writes, i);

        if (also->component == of->name)
            return component_find_release (of, also->release);
    }
    return -1;
}

gboolean
steps_write_component (const Board *board, const GArray *steps, guint count, guint component)
{
    for (guint i = 0; i < count; i++)
        if (step_writes_release (board, &g_array_index (steps, Step, i), component) >= 0)
            return TRUE;
    return FALSE;
}

/* Whether some method that serves recovers each component that the step writes. */
static gboolean
one_method_recovers_all (const Making *making, const State *before, const StepAccount *step)
{
    guint shared = step->recovery;

    for (guint c = 0; c < before->board->components->len; c++)
        if (step_writes_release (before->board, step->step, c) >= 0)
            shared &= recovery_methods (making->shop, before, c);
    return shared != 0;
}

static void
add_floor_rises (const State *before, StepAccount *step)
{
    for (guint c = 0; c < before->board->components->len; c++) {
        int release = step_writes_release (before->board, step->step, c);
        int lowest = release < 0 ? -1 : component_release (board_component (before->board, c), (guint) release)->lowest;

        if (lowest > before->floors[c] && lowest > 0) {
            FloorRise rise = { c, (guint) lowest };

            g_array_append_val (step->floor_rises, rise);
        }
    }
}

void
account_write (const Making *making, guint index, gboolean raises_floor, StepAccount *step)
{
    const State *before = g_ptr_array_index (making->states, index);
    guint component = step->step->component;

    if (making->unit->releases[component].count == 1 ||
        steps_write_component (before->board, making->steps, index, component))
        step->replaces = (int) before->releases[component];
    step->replaces_failed = before->failed[component];
    step->recovery_takes_all = step->recovery != 0 && !one_method_recovers_all (making, before, step);
    if (raises_floor)
        add_floor_rises (before, step);
}
