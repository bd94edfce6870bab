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

/* The unit is the last to go: walks of answers borrow it. */
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
    unit_free (diagnosis->unit);
    g_free (diagnosis);
}

static gboolean
may_be_physical (const DiagnosisQuestion *question, const Diagnosis *diagnosis)
{
    return !question->asked_only && (diagnosis->starts == ALL_START || diagnosis->starts == SOME_START);
}

Diagnosis *
diagnosis_find (const DiagnosisQuestion *question)
{
    Diagnosis *diagnosis = g_new0 (Diagnosis, 1);

    diagnosis->tellings = g_ptr_array_new_with_free_func (telling_free);
    diagnosis->ways = g_ptr_array_new ();
    diagnosis->returns = g_ptr_array_new_with_free_func (return_block_free);
    diagnosis->dark = dark_find (question->library, question->shop, question->unit, 0);
    diagnosis->evidence = evidence_find (question, diagnosis->dark);
    diagnosis->starts = diagnosis_starts (diagnosis->dark, diagnosis->evidence);
    diagnosis->unit = unit_with_cases_left (question->unit, diagnosis->evidence);
    if (may_be_physical (question, diagnosis))
        diagnosis->physical = physical_find (question, diagnosis->evidence);
    diagnosis_find_tellings (question, diagnosis);
    diagnosis_find_ways (question, diagnosis);
    if (!question->asked_only)
        diagnosis_find_returns (question, diagnosis);
    return diagnosis;
}
