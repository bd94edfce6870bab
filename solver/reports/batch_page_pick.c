/* SPDX-License-Identifier: MIT */
/* What to have at hand before the batch begins: parts and files. */
#include "reports/batch_branches.h"
#include "reports/batch_sheet.h"
#include "reports/markup.h"
#include "route/branched.h"

#define MOST_IDS 12

/* ---- Parts ---- */

typedef struct {
    const BatchPart *like;
    guint count;
    guint perhaps; /* of them only by steps that depend on what is read */
} Picked;

/* Every step that fits it is one that is not made in any case. */
static gboolean
is_perhaps (const BatchView *view, const BatchPart *part)
{
    for (guint i = 0; i < part->stays->len; i++) {
        const BatchStay *stay = &g_array_index (part->stays, BatchStay, i);
        const BatchUnit *unit = view_unit (view, stay->unit);
        const BatchWords *words = view_way (view, unit)->words;

        if (!unit->open || stay->fit_step == G_MAXUINT || words->conditions->pdata[stay->fit_step] == NULL)
            return FALSE;
    }
    return TRUE;
}

static void
count_part (const BatchView *view, GArray *all, const BatchPart *part)
{
    Picked fresh = { part, 1, is_perhaps (view, part) ? 1 : 0 };

    for (guint i = 0; i < all->len; i++) {
        Picked *one = &g_array_index (all, Picked, i);

        if (one->like->part == part->part && one->like->stepping == part->stepping && one->like->bound == part->bound &&
            one->like->owner == part->owner) {
            one->count++;
            one->perhaps += fresh.perhaps;
            return;
        }
    }
    g_array_append_val (all, fresh);
}

static void
put_part_row (const Picked *one, GString *out)
{
    g_autofree char *name = words_part (one->like->part, one->like->stepping);

    g_string_append_printf (out,
                            "<tr><td class=\"tick\"><span class=\"box\"></span></td><td class=\"number\">%u</td><td>",
                            one->count);
    markup_put (out, name);
    if (one->like->bound != NULL) {
        g_string_append (out, ", bound to ");
        markup_put (out, one->like->bound);
    }
    g_string_append (out, "</td><td>");
    g_string_append (out, words_owner (one->like->owner));
    g_string_append (out, one->like->owner == OWNER_LOAN ? "; all come back" : "; they stay in their units");
    if (one->perhaps > 0)
        g_string_append_printf (out, "; %u of them only as it is read at the bench", one->perhaps);
    g_string_append (out, "</td></tr>\n");
}

/* What other parts of a plan with branches take beyond the timetable. */
static void
put_kept_row (const BatchWay *way, const Lot *lot, const GPtrArray *ids, GString *out)
{
    g_autofree char *name = words_part (lot->part, lot->stepping);
    g_autofree char *when = batch_lot_condition (way, lot);
    g_autofree char *units = batch_some_ids (ids, MOST_IDS);

    g_string_append_printf (out,
                            "<tr><td class=\"tick\"><span class=\"box\"></span></td><td class=\"number\">%u</td><td>",
                            lot->count * (guint) ids->len);
    markup_put (out, name);
    g_string_append_printf (out, "</td><td>%s; %s; taken only ", words_owner (lot->owner),
                            lot->owner == OWNER_LOAN ? "not in the timetable" : "kept for them");
    markup_put (out, when);
    g_string_append (out, ": ");
    markup_put (out, units);
    g_string_append (out, "</td></tr>\n");
}

static void
put_kept (const BatchView *view, const BatchWay *way, GString *out)
{
    const BatchBranching *branching = way->mode->branching;
    g_autoptr (GPtrArray) ids = branching == NULL ? g_ptr_array_new () : batch_open_ids (view, way);

    for (guint i = 0; ids->len > 0 && i < branching->stock->len; i++)
        put_kept_row (way, &g_array_index (branching->stock, Lot, i), ids, out);
    for (guint i = 0; ids->len > 0 && i < branching->lent->len; i++)
        put_kept_row (way, &g_array_index (branching->lent, Lot, i), ids, out);
}

static gboolean
keeps_some (const BatchView *view)
{
    for (guint i = 0; i < view->ways->len; i++) {
        const BatchBranching *branching = ((const BatchWay *) view->ways->pdata[i])->mode->branching;

        if (branching != NULL && branching->stock->len + branching->lent->len > 0)
            return TRUE;
    }
    return FALSE;
}

/* What is in its unit already, or was there and has gone back for good, is not fetched any more. */
static gboolean
is_still_to_be_fitted (const BatchView *view, const BatchPart *part)
{
    for (guint i = 0; i < part->stays->len; i++) {
        const BatchStay *stay = &g_array_index (part->stays, BatchStay, i);

        if (stay->fit_step != G_MAXUINT && !view_task (view_unit (view, stay->unit), stay->fit_step)->done)
            return TRUE;
    }
    return FALSE;
}

static void
put_parts (const BatchView *view, GString *out)
{
    g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (Picked));

    for (guint i = 0; i < view->batch->parts->len; i++) {
        const BatchPart *part = view->batch->parts->pdata[i];

        if (part->from_unit < 0 && is_still_to_be_fitted (view, part))
            count_part (view, all, part);
    }
    if (all->len == 0 && !keeps_some (view))
        return;
    g_string_append (out, "<h3>Parts</h3>\n<table><thead><tr><th class=\"tick\">taken</th><th>how many</th><th>part</th>"
                          "<th>from</th></tr></thead><tbody>\n");
    for (guint i = 0; i < all->len; i++)
        put_part_row (&g_array_index (all, Picked, i), out);
    for (guint i = 0; i < view->ways->len; i++)
        put_kept (view, view->ways->pdata[i], out);
    g_string_append (out, "</tbody></table>\n");
}

/* ---- Files ---- */

typedef struct {
    const Component *component;
    const Release *release;
    guint units;     /* that are written with it for certain */
    gboolean perhaps; /* some branch of a plan writes it */
} NeededFile;

static void
count_release (GArray *all, const Component *component, guint release, guint units)
{
    NeededFile fresh = { component, component_release (component, release), units, units == 0 };

    for (guint i = 0; i < all->len; i++) {
        NeededFile *one = &g_array_index (all, NeededFile, i);

        if (one->release == fresh.release) {
            one->units += units;
            one->perhaps |= fresh.perhaps;
            return;
        }
    }
    g_array_append_val (all, fresh);
}

static void
count_step (GArray *all, const Board *board, const Step *step, guint units)
{
    if (step->kind == STEP_WRITE && step->method != METHOD_SPARE)
        count_release (all, board_component (board, step->component), step->release, units);
}

/* How many of the way's units have each step still to do, in any case. Transfer full. */
static guint *
count_to_do (const BatchView *view, const BatchWay *way)
{
    const BatchBranching *branching = way->mode->branching;
    guint *to_do = g_new0 (guint, way->mode->steps->len + 1);

    for (guint i = 0; i < view->order->len; i++) {
        const BatchUnit *unit = view_unit (view, g_array_index (view->order, guint, i));

        for (guint k = 0; view_way (view, unit) == way && k < unit->tasks->len; k++)
            to_do[k] += !view_task (unit, k)->done && (!unit->open || k < branching->common) ? 1 : 0;
    }
    return to_do;
}

/* What other cases of a plan with branches write has to be at hand too. */
static void
count_branches (GArray *all, const BatchWay *way)
{
    const BranchAnswer *branches = way->mode->answer->branches;

    for (guint i = 0; i < branches->legs->len; i++) {
        const BranchLeg *leg = branches->legs->pdata[i];

        for (guint k = 0; leg->depth > 0 && k < leg->branch->steps->len; k++)
            count_step (all, way->of->unit->board, &g_array_index (leg->branch->steps, Step, k), 0);
    }
}

static void
put_file_row (const NeededFile *one, GString *out)
{
    const Release *release = one->release;

    g_string_append (out, "<tr><td class=\"tick\"><span class=\"box\"></span></td><td>");
    markup_put (out, one->component->name);
    g_string_append_c (out, ' ');
    markup_put (out, release->name);
    g_string_append_printf (out, "</td><td class=\"number\">%u%s</td><td>", one->units,
                            one->perhaps ? ", perhaps more" : "");
    markup_put (out, release->file_name == NULL ? "(name not stated)" : release->file_name);
    g_string_append (out, "<br/><span class=\"digest\">");
    markup_put (out, release->sha256 == NULL ? "(SHA-256 not stated)" : release->sha256);
    g_string_append (out, "</span></td><td class=\"number\">");
    if (release->bytes >= 0)
        g_string_append_printf (out, "%" G_GINT64_FORMAT, release->bytes);
    g_string_append (out, "</td></tr>\n");
}

static void
put_files (const BatchView *view, GString *out)
{
    g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (NeededFile));

    for (guint i = 0; i < view->ways->len; i++) {
        const BatchWay *way = view->ways->pdata[i];
        g_autoptr (GPtrArray) open = batch_open_ids (view, way);
        g_autofree guint *to_do = count_to_do (view, way);

        for (guint k = 0; k < way->mode->steps->len; k++)
            if (to_do[k] > 0)
                count_step (all, way->of->unit->board, &g_array_index (way->mode->steps, Step, k), to_do[k]);
        if (open->len > 0)
            count_branches (all, way);
    }
    if (all->len == 0)
        return;
    g_string_append (out, "<h3>Files</h3>\n<table><thead><tr><th class=\"tick\">there</th><th>release</th>"
                          "<th>written</th><th>file, SHA-256</th><th>bytes</th></tr></thead><tbody>\n");
    for (guint i = 0; i < all->len; i++)
        put_file_row (&g_array_index (all, NeededFile, i), out);
    g_string_append (out, "</tbody></table>\n");
}

void
batch_page_put_pick_list (const BatchView *view, GString *out)
{
    if (view->planned == 0)
        return;
    g_string_append (out, view->batch->replan == NULL ? "<h2>To have at hand</h2>\n"
                                                      : "<h2>To have at hand, for what is left to do</h2>\n");
    put_parts (view, out);
    put_files (view, out);
}
