/* SPDX-License-Identifier: MIT */
/* How what is read at a unit is recorded: a line on its sheet, where it is read. */
#include "reports/batch_sheet.h"

/* The step that the reading is recorded with: the one before it; where that says it already, or there is none, the next one as skipped.
 * NULL: neither is there. Transfer full. */
static char *
step_words (const BatchBranching *branching, guint steps, guint index)
{
    guint before = g_array_index (branching->readings, BatchReading, index).before;
    gboolean taken =
        before == 0 || (index > 0 && g_array_index (branching->readings, BatchReading, index - 1).before == before);

    if (!taken)
        return g_strdup_printf ("--step %u", before);
    return before == steps ? NULL : g_strdup_printf ("--step %u --outcome skipped", before + 1);
}

/* " --firmware 'system=1.0.0|1.2.0'" for each component of which that part has less than the unit may have. */
static void
append_left (GString *words, const Unit *unit, const PlanPart *part)
{
    for (guint c = 0; c < unit->board->components->len; c++) {
        const Component *component = board_component (unit->board, c);
        g_autofree gboolean *may_be = g_new0 (gboolean, component->releases->len + 1);
        guint count = 0;

        for (guint i = 0; i < part->starts->len; i++) {
            guint release = ((const State *) part->starts->pdata[i])->releases[c];

            count += may_be[release] ? 0 : 1;
            may_be[release] = TRUE;
        }
        if (count >= unit->releases[c].count)
            continue;
        g_string_append_printf (words, " --firmware '%s=", component->name);
        for (guint r = 0, said = 0; r < component->releases->len; r++)
            if (may_be[r])
                g_string_append_printf (words, "%s%s", said++ > 0 ? "|" : "",
                                        ((const Release *) component->releases->pdata[r])->name);
        g_string_append_c (words, '\'');
    }
}

/* What is said where it stays dark; empty where it can't. Transfer full. */
static char *
dark_words (const ModeSheet *sheet, const BatchReading *reading)
{
    GString *words = g_string_new (NULL);

    for (guint i = 0; i < reading->after->next->len; i++) {
        const Branch *next = reading->after->next->pdata[i];

        if (!next->dark)
            continue;
        g_string_append (words, " Where it stays dark, what may be on it then:");
        append_left (words, sheet->report.unit, plan_part_of (sheet->plan->parts, next));
        g_string_append (words, " --found dark.");
    }
    return g_string_free (words, FALSE);
}

void
batch_say_record_reading (Paper *paper, const BatchUnit *unit, const ModeSheet *sheet, guint index)
{
    const BatchBranching *branching = sheet->way->mode->branching;
    const BatchReading *reading = &g_array_index (branching->readings, BatchReading, index);
    g_autofree char *step = step_words (branching, sheet->way->mode->steps->len, index);
    g_autofree char *dark = dark_words (sheet, reading);
    const char *component = reading->after->then == THEN_READ
                                ? board_component (unit->unit->board, reading->after->component)->name
                                : "COMPONENT";

    paper_say (paper, 0, 2, "Read.");
    if (step == NULL)
        paper_say (paper, 0, 2, "Put what was read into the unit's row or file, and plan the batch anew.");
    else
        paper_say (paper, 0, 2,
                   "Record it: `rungwise record RECORD --unit %s %s --firmware %s=RELEASE --initials XX --published "
                   "batch.json PATHS`.%s Then plan the batch anew.",
                   unit->unit->id, step, component, dark);
}
