/* SPDX-License-Identifier: MIT */
/* Works out the columns and rows of a picture. */
#include "reports/picture_model.h"
#include "reports/records_text.h"

static void
column_free (gpointer data)
{
    PictureColumn *column = data;

    g_free (column->number);
    g_free (column->head);
    g_free (column->back);
    g_free (column);
}

static void
cell_clear (gpointer data)
{
    g_free (((PictureCell *) data)->text);
}

static void
row_free (gpointer data)
{
    PictureRow *row = data;

    g_array_unref (row->cells);
    g_free (row);
}

void
picture_free (Picture *picture)
{
    if (picture == NULL)
        return;
    g_ptr_array_unref (picture->columns);
    g_ptr_array_unref (picture->rows);
    g_free (picture->stays);
    g_free (picture->describes);
    g_free (picture);
}

const PictureColumn *
picture_column (const Picture *picture, guint index)
{
    return g_ptr_array_index (picture->columns, index);
}

const PictureCell *
picture_cell (const PictureRow *row, guint column)
{
    return &g_array_index (row->cells, PictureCell, column);
}

const char *
picture_sign_words (PictureSign sign)
{
    static const char *const words[SIGN_COUNT] = { "starts", "dark", "depends", "do not start", "do not plug in" };

    return words[sign];
}

char *
picture_state_words (const PictureColumn *column)
{
    const char *dash = strrchr (column->number, '-');

    return column->count == 0 ? g_strdup (column->head)
                              : g_strdup_printf ("after step %s", dash == NULL ? column->number : dash + 1);
}

/* What the stages of one picture hand to each other. */
typedef struct {
    const RouteReport *report;
    const RouteAccount *account; /* nullable */
    const Board *board;
    const GArray *steps; /* Step */
    GPtrArray *states;   /* State*: per column, in the first case; owned */
    Picture *picture;
} Making;

static const StepAccount *
step_account (const Making *making, guint index)
{
    return g_ptr_array_index (making->account->steps, index);
}

/* ---- Columns ---- */

static char *
head_of (const Making *making, const PictureColumn *column)
{
    const Step *step = &g_array_index (making->steps, Step, column->first);
    const Component *component = NULL;

    if (step->kind == STEP_WRITE) {
        component = board_component (making->board, step->component);
        return g_strdup_printf ("write %s %s by %s", component->name,
                                component_release (component, step->release)->name, method_name (step->method));
    }
    return g_strdup_printf ("%s %s",
                            column->count == 2          ? "exchange"
                            : step->kind == STEP_REMOVE ? "take out"
                                                        : "fit",
                            board_slot (making->board, step->slot)->name);
}

static PictureSign
sign_of_dark_state (const Making *making, const State *state)
{
    g_autoptr (GPtrArray) broken = check_state (making->report->library, making->report->shop, state);
    PictureSign sign = SIGN_DARK;

    for (guint i = 0; i < broken->len; i++) {
        const Broken *rule = g_ptr_array_index (broken, i);

        if (rule->breaking != BREAKING_HARMS)
            continue;
        if (rule->powers & POWER_STANDBY)
            return SIGN_NOT_PLUGGED;
        sign = SIGN_NOT_ON;
    }
    return sign;
}

static PictureSign
sign_of (const Making *making, Answer starts, const State *state)
{
    switch (starts) {
    case ANSWER_YES:
        return SIGN_STARTS;
    case ANSWER_DEPENDS:
        return SIGN_DEPENDS;
    case ANSWER_NO:
        return sign_of_dark_state (making, state);
    }
    g_assert_not_reached ();
}

static char *
back_words (const WayBack *back)
{
    switch (back->kind) {
    case BACK_NONE_BEFORE:
    case BACK_NO_RETURN: /* marked as such */
        return NULL;
    case BACK_WAY:
        return back->at_most ? g_strdup_printf ("at most %u", back->steps) : words_count (back->steps, "step", "steps");
    case BACK_OPEN:
        return g_strdup ("not settled");
    }
    g_assert_not_reached ();
}

static void
add_return (const Making *making, PictureColumn *column)
{
    const RouteAnswer *answer = making->report->answer;

    for (guint i = column->first; i < column->first + column->count; i++) {
        if (answer->ways_back != NULL)
            column->no_return |= g_array_index (answer->ways_back, WayBack, i).kind == BACK_NO_RETURN;
        column->binds_part |= g_array_index (answer->walk->walked, WalkedStep, i).binds_part;
    }
    if (answer->ways_back != NULL && !column->no_return)
        column->back = back_words (&g_array_index (answer->ways_back, WayBack, column->first + column->count - 1));
}

static void
add_column (Making *making, guint first, guint count, State *state)
{
    PictureColumn *column = g_new0 (PictureColumn, 1);
    const StepAccount *begins = step_account (making, first);

    column->first = first;
    column->count = count;
    column->number = step_labels (making->account->labels, first, first + count - 1);
    column->head = head_of (making, column);
    column->power = begins->power;
    if (begins->opening > 0)
        making->picture->openings = begins->opening;
    column->opening = begins->power == STEP_POWER_OFF ? making->picture->openings : 0;
    column->sign = sign_of (making, step_account (making, first + count - 1)->starts_after, state);
    add_return (making, column);
    g_ptr_array_add (making->picture->columns, column);
    g_ptr_array_add (making->states, state);
}

/* The unit as it came in. */
static void
add_first_column (Making *making, State *state)
{
    PictureColumn *column = g_new0 (PictureColumn, 1);
    Answer starts = ANSWER_YES; /* without a step it starts as it is: the empty route's one condition */

    if (making->steps->len > 0)
        starts = step_account (making, 0)->starts_before;
    column->number = g_strdup ("");
    column->head = g_strdup (making->report->before != NULL                ? making->report->before
                             : records_are_there (making->report->records) ? "after the record"
                                                                           : "as it came in");
    column->sign = sign_of (making, starts, state);
    g_ptr_array_add (making->picture->columns, column);
    g_ptr_array_add (making->states, state);
}

static void
add_columns (Making *making)
{
    const AccountPart *part = making->report->part;
    g_autoptr (State) state =
        part == NULL ? state_from_unit (making->report->unit, NULL) : state_copy (part->starts->pdata[0]);
    guint index = 0;

    add_first_column (making, state_copy (state));
    while (index < making->steps->len) {
        guint count = step_account (making, index)->exchange ? 2 : 1;

        for (guint i = index; i < index + count; i++)
            state_apply (state, &g_array_index (making->steps, Step, i));
        add_column (making, index, count, state_copy (state));
        index += count;
    }
}

/* ---- Rows ---- */

static gboolean
column_touches_slot (const Making *making, const PictureColumn *column, guint slot)
{
    const Step *step = &g_array_index (making->steps, Step, column->first);

    return column->count > 0 && step->kind != STEP_WRITE && step->slot == slot;
}

static gboolean
column_touches_component (const Making *making, const PictureColumn *column, guint component)
{
    g_autoptr (GArray) own = g_array_new (FALSE, FALSE, sizeof (Step));

    if (column->count > 0)
        g_array_append_vals (own, &g_array_index (making->steps, Step, column->first), column->count);
    return steps_write_component (making->board, own, own->len, component);
}

static PictureCell
slot_cell (const Making *making, guint slot, guint column)
{
    const State *state = g_ptr_array_index (making->states, column);
    const Held *held = &state->held[slot];
    PictureCell cell = { .empty = held->part == NULL,
                         .changed = column_touches_slot (making, picture_column (making->picture, column), slot) };

    if (held->part == NULL)
        cell.text = g_strdup ("empty");
    else if (held->stepping == NULL)
        cell.text = g_strdup (held->part->name);
    else
        cell.text = g_strdup_printf ("%s %s", held->part->name, held->stepping);
    if (held->part != NULL && held->owner != OWNER_UNIT)
        cell.tag = held->owner == OWNER_LOAN ? "LENT" : "STOCK";
    return cell;
}

static PictureCell
component_cell (const Making *making, guint index, guint column)
{
    const Component *component = board_component (making->board, index);
    const UnitRelease *began = &making->report->unit->releases[index];
    const PictureColumn *at = picture_column (making->picture, column);
    const State *state = g_ptr_array_index (making->states, column);
    PictureCell cell = { .changed = column_touches_component (making, at, index) };

    if (began->count == 1 || steps_write_component (making->board, making->steps, at->first + at->count, index))
        cell.text = g_strdup (component_release (component, state->releases[index])->name);
    else
        cell.text = g_strdup_printf ("one of %u", began->count);
    if (state->failed != NULL && state->failed[index])
        cell.tag = "FAILED";
    return cell;
}

/* Adds the row, or nothing when the route leaves it alone. */
static gboolean
add_row (Making *making, const char *name, gboolean is_firmware, guint index,
         PictureCell (*cell_of) (const Making *, guint, guint))
{
    PictureRow *row = g_new0 (PictureRow, 1);
    gboolean changes = FALSE;

    row->name = name;
    row->is_firmware = is_firmware;
    row->cells = g_array_new (FALSE, FALSE, sizeof (PictureCell));
    g_array_set_clear_func (row->cells, cell_clear);
    for (guint i = 0; i < making->picture->columns->len; i++) {
        PictureCell cell = cell_of (making, index, i);

        changes |= cell.changed;
        g_array_append_val (row->cells, cell);
    }
    if (changes)
        g_ptr_array_add (making->picture->rows, row);
    else
        row_free (row);
    return changes;
}

/* What stays is counted; firmware and processors, which decide what starts, are named. */
static void
add_rows (Making *making)
{
    g_autoptr (GPtrArray) stays = g_ptr_array_new_with_free_func (g_free);
    g_autofree char *joined = NULL;
    guint others = 0;

    for (guint s = 0; s < making->board->slots->len; s++) {
        const Slot *slot = board_slot (making->board, s);

        if (add_row (making, slot->name, FALSE, s, slot_cell))
            continue;
        if (slot->takes == KIND_PROCESSOR) {
            PictureCell cell = slot_cell (making, s, 0);

            g_ptr_array_add (stays, g_strdup_printf ("%s %s", slot->name, cell.text));
            cell_clear (&cell);
        } else {
            others++;
        }
    }
    for (guint c = 0; c < making->board->components->len; c++) {
        const char *name = board_component (making->board, c)->name;
        PictureCell cell = { 0 };

        if (add_row (making, name, TRUE, c, component_cell))
            continue;
        cell = component_cell (making, c, 0);
        g_ptr_array_add (stays, g_strdup_printf ("%s %s", name, cell.text));
        cell_clear (&cell);
    }
    if (others > 0)
        g_ptr_array_add (stays, words_count (others, "other slot", "other slots"));
    joined = text_join (stays, "and");
    if (stays->len > 0)
        making->picture->stays = g_strdup_printf ("Left as it is: %s.", joined);
}

/* ---- In words ---- */

static void
describe_column (const Picture *picture, guint index, GString *text)
{
    const PictureColumn *column = picture_column (picture, index);

    if (column->count == 0)
        g_string_append_printf (text, "%c%s", g_ascii_toupper (*column->head), column->head + 1);
    else
        g_string_append_printf (text, " Step %s, %s", column->number, column->head);
    g_string_append_printf (text, ": %s", picture_sign_words (column->sign));
    if (column->no_return)
        g_string_append (text, ", no return");
    if (column->binds_part)
        g_string_append (text, ", part bound for good");
    for (guint i = 0; i < picture->rows->len; i++) {
        const PictureRow *row = g_ptr_array_index (picture->rows, i);
        const PictureCell *cell = picture_cell (row, index);

        if (column->count == 0 || cell->changed)
            g_string_append_printf (text, "; %s %s%s%s", row->name, cell->text, cell->tag == NULL ? "" : ", ",
                                    cell->tag == NULL ? "" : cell->tag);
    }
    g_string_append_c (text, '.');
}

Picture *
picture_new (const RouteReport *report, const RouteAccount *account)
{
    Picture *picture = g_new0 (Picture, 1);
    Making making = { report, account, report->unit->board, report->answer->steps, NULL, picture };
    GString *text = g_string_new (NULL);

    g_assert (account != NULL || report->answer->steps->len == 0);
    picture->columns = g_ptr_array_new_with_free_func (column_free);
    picture->rows = g_ptr_array_new_with_free_func (row_free);
    making.states = g_ptr_array_new_with_free_func ((GDestroyNotify) state_free);
    add_columns (&making);
    add_rows (&making);
    for (guint i = 0; i < picture->columns->len; i++)
        describe_column (picture, i, text);
    picture->describes = g_string_free (text, FALSE);
    g_ptr_array_unref (making.states);
    return picture;
}
