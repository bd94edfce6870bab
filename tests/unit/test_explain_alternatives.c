/* SPDX-License-Identifier: MIT */
/* Alternatives against planning with every set of needs ruled out.
 *
 * source: docs/method.md, "Explaining": of any route there is an alternative that needs no more than it. So with any set
 * ruled out there is a route exactly when some alternative needs nothing of that set. The shops with a set ruled out are
 * made here by hand, not by the code under test. */
#include "reports_fixture.h"

#include "explain/explain.h"

#define STORIES     "data/larkfield/units"
#define MOST_NEEDS  8
#define MOST_STATES 5000

/* One thing that some alternative needs. */
typedef struct {
    gboolean is_lot, is_opening;
    Lot lot;
    Method method;
} Need;

static gboolean
same_need (const Need *left, const Need *right)
{
    if (left->is_lot != right->is_lot || left->is_opening != right->is_opening)
        return FALSE;
    return left->is_lot ? left->lot.part == right->lot.part && left->lot.stepping == right->lot.stepping &&
                              left->lot.owner == right->lot.owner && left->lot.bound == right->lot.bound
                        : left->is_opening || left->method == right->method;
}

static gboolean
needs (const Needed *needed, const Need *need)
{
    if (need->is_opening)
        return needed->opens;
    if (!need->is_lot)
        return (needed->methods & METHOD_BIT (need->method)) != 0;
    for (guint i = 0; i < needed->lots->len; i++) {
        Need other = { .is_lot = TRUE, .lot = g_array_index (needed->lots, Lot, i) };

        if (same_need (&other, need))
            return TRUE;
    }
    return FALSE;
}

static void
add_need (GArray *all, Need need)
{
    for (guint i = 0; i < all->len; i++)
        if (same_need (&g_array_index (all, Need, i), &need))
            return;
    g_array_append_val (all, need);
}

/* Everything that some alternative needs, each once. */
static GArray *
all_needs (const GPtrArray *found)
{
    GArray *all = g_array_new (FALSE, FALSE, sizeof (Need));

    for (guint i = 0; i < found->len; i++) {
        const Needed *needed = &((const Alternative *) found->pdata[i])->needed;

        for (guint l = 0; l < needed->lots->len; l++)
            add_need (all, (Need){ .is_lot = TRUE, .lot = g_array_index (needed->lots, Lot, l) });
        for (int method = 0; method < METHOD_COUNT; method++)
            if (needed->methods & METHOD_BIT (method))
                add_need (all, (Need){ .method = (Method) method });
        if (needed->opens)
            add_need (all, (Need){ .is_opening = TRUE });
    }
    return all;
}

static void
rule_out (const Need *need, Shop *shop, gboolean *keep, guint n_slots)
{
    for (guint i = shop->lots->len; need->is_lot && i-- > 0;) {
        Need other = { .is_lot = TRUE, .lot = g_array_index (shop->lots, Lot, i) };

        if (same_need (&other, need))
            g_array_remove_index (shop->lots, i);
    }
    if (need->is_opening) {
        shop->methods &= ~(METHOD_BIT (METHOD_CLIP) | METHOD_BIT (METHOD_JUMPER));
        for (guint s = 0; s < n_slots; s++)
            keep[s] = TRUE;
    }
    if (!need->is_lot && !need->is_opening)
        shop->methods &= ~METHOD_BIT (need->method);
}

static gboolean
has_route_without (const Question *question, const GArray *all, guint set)
{
    guint n_slots = question->unit->board->slots->len;
    g_autofree gboolean *keep = g_memdup2 (question->want->keep_slot, n_slots * sizeof (gboolean));
    g_autoptr (Shop) shop = shop_copy (question->shop);
    RouteOptions options = { .any_route = TRUE, .no_ways_back = TRUE, .search_states = MOST_STATES };
    Want want = *question->want;

    want.keep_slot = keep;
    for (guint i = 0; i < all->len; i++)
        if (set & (1u << i))
            rule_out (&g_array_index (all, Need, i), shop, keep, n_slots);
    g_autoptr (RouteAnswer) answer = route_find (question->library, shop, question->unit, &want, &options);
    return answer->steps != NULL;
}

static gboolean
some_needs_none_of (const GPtrArray *found, const GArray *all, guint set)
{
    for (guint i = 0; i < found->len; i++) {
        gboolean free_of_it = TRUE;

        for (guint n = 0; n < all->len; n++)
            free_of_it &= (set & (1u << n)) == 0 ||
                          !needs (&((const Alternative *) found->pdata[i])->needed, &g_array_index (all, Need, n));
        if (free_of_it)
            return TRUE;
    }
    return FALSE;
}

static void
assert_complete (const char *name, const Question *question, const GPtrArray *found)
{
    g_autoptr (GArray) all = all_needs (found);

    assert_true (all->len <= MOST_NEEDS);
    for (guint set = 0; set < 1u << all->len; set++)
        if (has_route_without (question, all, set) != some_needs_none_of (found, all, set))
            fail_msg ("%s: with set %#x ruled out", name, set);
}

static void
assert_in_order (const GPtrArray *found)
{
    for (guint i = 0; i < found->len; i++) {
        const Alternative *one = found->pdata[i];

        assert_true (one->answer->walk->sound);
        assert_int_equal (one->without->len == 0, i == 0);
        for (guint before = 0; before < i; before++)
            assert_true (((const Alternative *) found->pdata[before])->answer->walk->steps <= one->answer->walk->steps);
    }
}

/* Each is without something that each earlier one needs. */
static void
assert_each_adds_something (const GPtrArray *found)
{
    g_autoptr (GArray) all = all_needs (found);

    for (guint i = 0; i < found->len; i++)
        for (guint before = 0; before < i; before++) {
            gboolean without = FALSE;

            for (guint n = 0; n < all->len; n++) {
                const Need *need = &g_array_index (all, Need, n);

                without |= needs (&((const Alternative *) found->pdata[before])->needed, need) &&
                           !needs (&((const Alternative *) found->pdata[i])->needed, need);
            }
            assert_true (without);
        }
}

/* How many alternatives beside the best route. `*settled` counts the questions that there was effort enough for. */
static guint
check_question (const char *name, const Library *library, guint *settled)
{
    RouteOptions options = { .no_ways_back = TRUE, .search_states = MOST_STATES };
    Question question = { library, fixture_shop (library), fixture_unit (library), fixture_want (library), &options };
    gboolean complete = FALSE;
    g_autoptr (GPtrArray) found = alternatives_find (&question, G_MAXUINT, &complete);
    g_autoptr (RouteAnswer) best = route_find (library, question.shop, question.unit, question.want, question.options);

    if (!complete || best->claim == CLAIM_BEST_FOUND)
        return 0;
    (*settled)++;
    assert_int_equal (best->steps != NULL, found->len > 0);
    if (found->len > 0)
        assert_int_equal (best->walk->steps, ((const Alternative *) found->pdata[0])->answer->walk->steps);
    assert_in_order (found);
    assert_each_adds_something (found);
    assert_complete (name, &question, found);
    return found->len > 0 ? found->len - 1 : 0;
}

static void
test_every_story (void **state)
{
    g_autoptr (GDir) dir = g_dir_open (STORIES, 0, NULL);
    guint beside_the_best = 0, settled = 0;

    (void) state;
    assert_non_null (dir);
    for (const char *name; (name = g_dir_read_name (dir)) != NULL;) {
        g_autofree char *path = g_build_filename (STORIES, name, NULL);
        const char *paths[] = { "rules", BOOK, SHOP, path, NULL };

        if (!g_str_has_suffix (name, ".yaml"))
            continue;
        g_autoptr (Library) library = fixture_load (paths);
        beside_the_best += check_question (name, library, &settled);
    }
    assert_true (settled >= 20);
    assert_true (beside_the_best >= 3);
}

static void
test_one_with_several (void **state)
{
    const char *paths[] = { "rules", "tests/cases/files/siskin.yaml", "tests/cases/files/siskin-new-processor.yaml",
                            NULL };
    g_autoptr (Library) library = fixture_load (paths);

    guint settled = 0;

    (void) state;
    assert_int_equal (check_question ("siskin", library, &settled), 3);
    assert_int_equal (settled, 1);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_every_story),
        cmocka_unit_test (test_one_with_several),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
