/* SPDX-License-Identifier: MIT */
/* Fallbacks: every one starts from the state that the failed write leaves, ends at a state that starts, and is the
 * shortest there is.
 *
 * source: docs/method.md, "When a write fails"; shorter routes are looked for by trying every one of so few steps. */
#include "reports_fixture.h"

#include "explain/explain.h"

#define STORIES    "data/larkfield/units"
#define MOST_TRIED 1 /* steps of routes that are all tried; tests/random has more */

static gboolean
is_sound (const Question *question, const Want *want, const State *failed, const GArray *steps)
{
    g_autoptr (Walk) walk = check_walk (question->library, question->shop, want, failed, steps);

    return walk->sound;
}

/* Every step that can be written down for the board: a removal and every at-hand fitting per slot, every write. */
static GArray *
all_steps (const Question *question, const State *failed)
{
    const Board *board = failed->board;
    GArray *steps = g_array_new (FALSE, FALSE, sizeof (Step));

    for (guint s = 0; s < board->slots->len; s++) {
        Step removal = { .kind = STEP_REMOVE, .slot = s };

        g_array_append_val (steps, removal);
        for (guint i = 0; i < question->shop->lots->len; i++) {
            const Lot *lot = &g_array_index (question->shop->lots, Lot, i);
            Step fitting = { .kind = STEP_FIT,
                             .slot = s,
                             .part = lot->part,
                             .stepping = lot->stepping,
                             .owner = lot->owner,
                             .bound = lot->bound };

            if (lot->part->kind == board_slot (board, s)->takes)
                g_array_append_val (steps, fitting);
        }
    }
    for (guint c = 0; c < board->components->len; c++)
        for (guint r = 0; r < board_component (board, c)->releases->len; r++)
            for (int method = 0; method < METHOD_COUNT; method++) {
                Step write = { .kind = STEP_WRITE, .component = c, .release = r, .method = (Method) method };

                if (board_component (board, c)->methods[method].there)
                    g_array_append_val (steps, write);
            }
    return steps;
}

/* Whether some route of exactly `left` more steps is sound. */
static gboolean
some_route (const Question *question, const Want *want, const State *failed, const GArray *choices, GArray *steps,
            guint left)
{
    if (left == 0)
        return is_sound (question, want, failed, steps);
    for (guint i = 0; i < choices->len; i++) {
        g_array_append_val (steps, g_array_index (choices, Step, i));
        gboolean found = is_sound (question, NULL, failed, steps) && /* any end: the steps are allowed */
                         some_route (question, want, failed, choices, steps, left - 1);
        g_array_set_size (steps, steps->len - 1);
        if (found)
            return TRUE;
    }
    return FALSE;
}

/* No route of fewer steps, nor of up to MOST_TRIED where there is said to be none. */
static void
assert_shortest (const Question *question, const Want *want, const State *failed, const Fallback *fallback)
{
    g_autoptr (GArray) choices = all_steps (question, failed);
    g_autoptr (GArray) steps = g_array_new (FALSE, FALSE, sizeof (Step));
    guint shorter = fallback->kind == FALLBACK_ROUTE ? fallback->steps->len : MOST_TRIED + 1;

    for (guint length = 0; length < MIN (shorter, MOST_TRIED + 1); length++)
        assert_false (some_route (question, want, failed, choices, steps, length));
}

static void
check_fallback (const Question *question, const State *before, const Step *step, const Fallback *fallback)
{
    g_autoptr (State) failed = state_copy (before);
    g_autoptr (State) after = state_copy (before);
    g_autoptr (Want) want = want_new ("any", before->board, (Mark){ 0 });

    want->just_starts = TRUE;
    state_fail (failed, step);
    state_apply (after, step);
    if (state_starts (question->library, question->shop, failed)) /* a spare image that failed keeps nothing from it */
        assert_non_null (board_component (before->board, step->component)->spare_of);
    assert_int_not_equal (fallback->kind, FALLBACK_OPEN);
    assert_shortest (question, want, failed, fallback);
    if (fallback->kind == FALLBACK_NONE)
        return;
    g_autoptr (Walk) walk = check_walk (question->library, question->shop, want, failed, fallback->steps);
    assert_true (walk->sound);
    assert_true (state_starts (question->library, question->shop, walk->last));
    assert_int_equal (fallback->reaches_after, state_equal (walk->last, after));
}

/* Adds how many writes have a way on, and how many of these end where the write was to lead. */
static void
check_route (const Library *library, guint *routes, guint *reach)
{
    RouteOptions options = { .no_ways_back = TRUE };
    Question question = { library, fixture_shop (library), fixture_unit (library), fixture_want (library), &options };
    g_autoptr (RouteAnswer) answer = route_find (library, question.shop, question.unit, question.want, &options);
    g_autoptr (State) state = state_from_unit (question.unit, NULL);

    if (answer->steps == NULL)
        return;
    g_autoptr (GArray) fallbacks = fallbacks_find (&question, answer->steps);
    assert_int_equal (fallbacks->len, answer->steps->len);
    for (guint i = 0; i < answer->steps->len; i++) {
        const Step *step = &g_array_index (answer->steps, Step, i);
        const Fallback *fallback = &g_array_index (fallbacks, Fallback, i);

        if (step->kind == STEP_WRITE)
            check_fallback (&question, state, step, fallback);
        else
            assert_null (fallback->steps);
        *routes += fallback->kind == FALLBACK_ROUTE;
        *reach += fallback->reaches_after;
        state_apply (state, step);
    }
}

static void
test_every_story (void **state)
{
    g_autoptr (GDir) dir = g_dir_open (STORIES, 0, NULL);
    guint routes = 0, reach = 0;

    (void) state;
    assert_non_null (dir);
    for (const char *name; (name = g_dir_read_name (dir)) != NULL;) {
        g_autofree char *path = g_build_filename (STORIES, name, NULL);
        const char *paths[] = { "rules", BOOK, SHOP, path, NULL };

        if (!g_str_has_suffix (name, ".yaml"))
            continue;
        g_autoptr (Library) library = fixture_load (paths);
        check_route (library, &routes, &reach);
    }
    assert_true (routes > 0 && reach > 0);
}

static void
check_siskin (const char *unit, guint expected_routes, guint expected_reach)
{
    const char *paths[] = { "rules", "tests/cases/files/siskin.yaml", unit, NULL };
    g_autoptr (Library) library = fixture_load (paths);
    guint routes = 0, reach = 0;

    check_route (library, &routes, &reach);
    assert_int_equal (routes, expected_routes);
    assert_int_equal (reach, expected_reach);
}

/* source: by hand in tests/cases/plan-fallback.case and plan-fallback-json.case. */
static void
test_two_images (void **state)
{
    (void) state;
    check_siskin ("tests/cases/files/siskin-new-processor.yaml", 2, 1);
    check_siskin ("tests/cases/files/siskin-last-release.yaml", 2, 0);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_every_story),
        cmocka_unit_test (test_two_images),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
