/* SPDX-License-Identifier: MIT */
/* A unit of diagnosis.yaml, or a story, with what was seen as --seen items, diagnosed. */
#ifndef RUNGWISE_DIAGNOSIS_FIXTURE_H
#define RUNGWISE_DIAGNOSIS_FIXTURE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "explain/diagnosis.h"

#include <math.h>
#include <string.h>

#define MOST_SEEN 12

typedef struct {
    Library *library; /* owned */
    RouteOptions options;
    DiagnosisQuestion question;
    Diagnosis *diagnosis; /* owned */
} Diagnosed;

static inline Unit *
diagnosed_unit (const Library *library, const char *id)
{
    for (guint i = 0; i < library->units->len; i++)
        if (id == NULL || g_str_equal (((const Unit *) library->units->pdata[i])->id, id))
            return library->units->pdata[i];
    fail_msg ("no unit %s", id != NULL ? id : "at all");
    return NULL;
}

/* `id` NULL: the only unit. The objective is the fewest steps. */
static inline void
diagnosed_load (Diagnosed *diagnosed, const char *const *paths, const char *id, const char *const *seen)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    Library *library = library_load_seen (paths, NULL, seen, complaints);

    if (complaints_count (complaints) > 0) {
        g_autofree char *text = complaints_to_string (complaints, 50);

        fail_msg ("%s", text);
    }
    diagnosed->library = library;
    diagnosed->question = (DiagnosisQuestion){ .library = library,
                                               .shop = library->shops->pdata[0],
                                               .unit = diagnosed_unit (library, id),
                                               .want = library->wants->len > 0 ? library->wants->pdata[0] : NULL,
                                               .seen = library->seens->len > 0 ? library->seens->pdata[0] : NULL,
                                               .suspect = -1,
                                               .options = &diagnosed->options };
}

/* `seen`: items with blanks between them; "": none. */
static inline void
diagnosed_set_up (Diagnosed *diagnosed, const char *id, const char *seen)
{
    const char *paths[] = { "tests/unit/data/diagnosis.yaml", NULL };
    g_auto (GStrv) items = g_strsplit (seen, " ", MOST_SEEN);

    *diagnosed = (Diagnosed){ .options = { .no_ways_back = TRUE } };
    diagnosed_load (diagnosed, paths, id, (const char *const *) items);
    diagnosed->diagnosis = diagnosis_find (&diagnosed->question);
}

static inline void
diagnosed_clear (Diagnosed *diagnosed)
{
    diagnosis_free (diagnosed->diagnosis);
    library_free (diagnosed->library);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Diagnosed, diagnosed_clear)

/* ---- Returns ---- */

static inline const ReturnBlock *
block_at (const Diagnosed *diagnosed, guint index)
{
    assert_true (index < diagnosed->diagnosis->returns->len);
    return diagnosed->diagnosis->returns->pdata[index];
}

static inline void
check_verdict (const char *unit, const char *seen, ReturnVerdict verdict)
{
    g_auto (Diagnosed) diagnosed = { NULL };

    diagnosed_set_up (&diagnosed, unit, seen);
    const ReturnBlock *block = block_at (&diagnosed, 0);
    if (block->verdict != verdict)
        fail_msg ("%s, %s: verdict %d, expected %d", unit, seen, (int) block->verdict, (int) verdict);
    assert_string_equal (board_slot (diagnosed.question.unit->board, block->slot)->name, "cpu1");
    assert_non_null (block->says);
    assert_int_equal (g_str_has_prefix (block->says, "Not shown faulty"),
                      verdict != RETURN_CHECKS_LEFT && verdict != RETURN_LIKE_STARTS && verdict != RETURN_LEFT_OVER &&
                          verdict != RETURN_STARTS && verdict != RETURN_FOUND);
    assert_int_equal (block->tried->len,
                      diagnosed.question.seen == NULL ? 0 : diagnosed.question.seen->observations->len);
}

#define LIKE      "cpu1=stint-8:a0"
#define ALL_LOOKS "dark-minutes=30 looked=leads looked=contacts looked=module"

static inline gboolean
list_has (const GPtrArray *list, const char *part)
{
    for (guint i = 0; i < list->len; i++)
        if (strstr (list->pdata[i], part) != NULL)
            return TRUE;
    return FALSE;
}

static inline const ReturnBlock *
block_of_slot (Diagnosed *diagnosed, const char *unit, const char *seen, int slot)
{
    diagnosed_set_up (diagnosed, unit, seen);
    diagnosis_free (diagnosed->diagnosis);
    diagnosed->question.suspect = slot;
    diagnosed->diagnosis = diagnosis_find (&diagnosed->question);
    return block_at (diagnosed, 0);
}

static inline const ReturnBlock *
block_of (Diagnosed *diagnosed, const char *unit, const char *seen)
{
    diagnosed_set_up (diagnosed, unit, seen);
    return block_at (diagnosed, 0);
}

/* ---- Numbers ---- */

static inline void
assert_close (double got, double expected)
{
    if (fabs (got - expected) > 1e-9)
        fail_msg ("%.12f is not %.12f", got, expected);
}

#endif
