/* SPDX-License-Identifier: MIT */
/* The parts of a diagnosis, in the order in which each needs the last. */
#include "explain/diagnosis_parts.h"

static void
telling_free (gpointer data)
{
    Telling *telling = data;

    if (telling->steps != NULL)
        g_array_unref (telling->steps);
    g_free (telling->says);
    g_free (telling);
}

static void
return_block_free (gpointer data)
{
    ReturnBlock *block = data;

    g_free (block->says);
    g_ptr_array_unref (block->tried);
    g_ptr_array_unref (block->rules_out);
    g_ptr_array_unref (block->left);
    g_free (block);
}

/* The units are the last to go: walks of answers borrow it. */
void
diagnosis_free (Diagnosis *diagnosis)
{
    if (diagnosis == NULL)
        return;
    g_ptr_array_unref (diagnosis->returns);
    physical_free (diagnosis->physical);
    g_clear_pointer (&diagnosis->none, no_route_free);
    g_clear_pointer (&diagnosis->none_want, want_free);
    g_ptr_array_unref (diagnosis->ways);
    g_ptr_array_unref (diagnosis->tellings);
    evidence_free (diagnosis->evidence);
    dark_answer_free (diagnosis->dark);
    for (guint c = 0; diagnosis->ruled_out[c] != NULL; c++)
        g_free (diagnosis->ruled_out[c]);
    g_free (diagnosis->ruled_out);
    unit_free (diagnosis->unit);
    g_clear_pointer (&diagnosis->before, unit_free);
    g_clear_pointer (&diagnosis->before_shop, shop_free);
    g_free (diagnosis);
}

/* A part that starts there now, as like as can be: no rule is the reason then. */
static gboolean
some_like_start_refutes_rules (const DiagnosisQuestion *question, const Diagnosis *diagnosis)
{
    for (guint s = 0; s < question->unit->board->slots->len; s++)
        if (like_start_refutes_rules (question, diagnosis, s))
            return TRUE;
    return FALSE;
}

static gboolean
may_be_physical (const DiagnosisQuestion *question, const Diagnosis *diagnosis)
{
    return !question->asked_only &&
           (diagnosis->evidence->physical_first || diagnosis->starts == ALL_START || diagnosis->starts == SOME_START ||
            some_like_start_refutes_rules (question, diagnosis));
}

/* Transfer full. */
static gboolean **
find_ruled_out (const Unit *unit, const Evidence *evidence)
{
    gboolean **ruled_out = g_new0 (gboolean *, unit->board->components->len + 1);

    for (guint c = 0; c < unit->board->components->len; c++) {
        guint n_releases = board_component (unit->board, c)->releases->len;

        ruled_out[c] = g_new0 (gboolean, n_releases + 1);
        for (guint r = 0; r < n_releases; r++)
            ruled_out[c][r] = unit->releases[c].may_be[r] && !evidence->may_be[c][r];
    }
    return ruled_out;
}

/* The cases of what is left, all of which are: what was seen keeps its meaning, which it had for the unit as it was asked
 * about. */
static void
tell_cases_anew (const DiagnosisQuestion *question, Diagnosis *diagnosis)
{
    dark_answer_free (diagnosis->dark);
    diagnosis->dark = dark_find (question->library, question->shop, diagnosis->unit, 0);
    g_free (diagnosis->evidence->case_out);
    diagnosis->evidence->case_out = g_new0 (gboolean, diagnosis->dark->cases->len + 1);
}

static void
find_cases (const DiagnosisQuestion *question, Diagnosis *diagnosis)
{
    diagnosis->dark = dark_find (question->library, question->shop, question->unit, 0);
    diagnosis->evidence = evidence_find (question, diagnosis->dark);
    diagnosis->ruled_out = find_ruled_out (question->unit, diagnosis->evidence);
    diagnosis->unit = unit_with_cases_left (question->unit, diagnosis->evidence);
    if (diagnosis->evidence->narrows)
        tell_cases_anew (question, diagnosis);
    diagnosis->starts = diagnosis_starts (diagnosis->dark, diagnosis->evidence);
    if (question->before != NULL) {
        diagnosis->before = unit_with_cases_left (question->before, diagnosis->evidence);
        diagnosis->before_shop = shop_with_asked (question);
    }
}

Diagnosis *
diagnosis_find (const DiagnosisQuestion *question)
{
    Diagnosis *diagnosis = g_new0 (Diagnosis, 1);

    diagnosis->tellings = g_ptr_array_new_with_free_func (telling_free);
    diagnosis->ways = g_ptr_array_new ();
    diagnosis->returns = g_ptr_array_new_with_free_func (return_block_free);
    find_cases (question, diagnosis);
    if (may_be_physical (question, diagnosis))
        diagnosis->physical = physical_find (question, diagnosis->evidence, harm_may_be_done (question, diagnosis));
    diagnosis_find_tellings (question, diagnosis);
    diagnosis_find_ways (question, diagnosis);
    if (!question->asked_only)
        diagnosis_find_returns (question, diagnosis);
    return diagnosis;
}
