/* SPDX-License-Identifier: MIT */
/* The demo shop's stories, planned, recorded up to every step, and planned on from there.
 *
 * source: what is left of a shortest route is a shortest route from where it has got to (Bellman 1957, "principle of
 * optimality"), and as long as nothing went otherwise, the plan is not to change under the technician's hands. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <string.h>

#include "route/route.h"

#define SHOP        "data/larkfield"
#define MOST_STATES 20000 /* enough for all but two of the stories; a longer look would show nothing new here */

typedef struct {
    char *path;         /* owned */
    Library *library;   /* owned */
    RouteAnswer *plan;  /* owned; of the whole */
    WrittenRoute route; /* the same, as a route to record by; borrows its steps */
} Story;

static const Shop *
shop_of (const Story *story)
{
    return story->library->shops->pdata[0];
}

static RouteAnswer *
plan (const Story *story, const Shop *shop, const Unit *unit, const GArray *familiar)
{
    RouteOptions options = { .familiar = familiar, .no_ways_back = TRUE, .search_states = MOST_STATES };

    return route_find (story->library, shop, unit, story->library->wants->pdata[0], &options);
}

static void
story_free (gpointer data)
{
    Story *story = data;

    route_answer_free (story->plan);
    library_free (story->library);
    g_free (story->path);
    g_free (story);
}

static Story *
story_new (const char *name)
{
    Story *story = g_new0 (Story, 1);
    g_autoptr (Complaints) complaints = complaints_new ();
    story->path = g_build_filename (SHOP, "units", name, NULL);
    const char *paths[] = { "rules", SHOP "/book", SHOP "/shop.yaml", story->path, NULL };

    story->library = library_load (paths, NULL, complaints);
    assert_int_equal (complaints_count (complaints), 0);
    story->plan = plan (story, shop_of (story), story->library->units->pdata[0], NULL);
    story->route = (WrittenRoute){ .name = "as planned",
                                   .board = ((const Unit *) story->library->units->pdata[0])->board,
                                   .steps = story->plan->steps };
    return story;
}

/* Those with a route that is proved shortest. */
static GPtrArray *
stories (void)
{
    GPtrArray *all = g_ptr_array_new_with_free_func (story_free);
    g_autoptr (GDir) folder = g_dir_open (SHOP "/units", 0, NULL);

    assert_non_null (folder);
    for (const char *name; (name = g_dir_read_name (folder)) != NULL;) {
        Story *story = g_str_has_suffix (name, ".yaml") ? story_new (name) : NULL;

        if (story != NULL && story->plan->claim == CLAIM_PROVED_SHORTEST)
            g_ptr_array_add (all, story);
        else if (story != NULL)
            story_free (story);
    }
    return all;
}

/* The first `count` steps done and, with `failed`, the next one not. Transfer full. */
static Resumed *
resume_after (const Story *story, guint count, gboolean failed)
{
    const Unit *unit = story->library->units->pdata[0];
    g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func (g_free);
    g_autoptr (Complaints) complaints = complaints_new ();
    Record record = { .unit = unit->id, .board = unit->board, .entries = entries };

    for (guint i = 0; i < count + (failed ? 1 : 0); i++) {
        RecordEntry *entry = g_new0 (RecordEntry, 1);

        entry->number = i + 1;
        entry->outcome = i < count ? ENTRY_DONE : ENTRY_FAILED;
        g_ptr_array_add (entries, entry);
    }
    Resumed *resumed = resume_from_record (shop_of (story), unit, &story->route, &record, complaints);
    if (resumed == NULL)
        fail_msg ("%s, %u steps: %s", story->path, count, complaints_get (complaints, 0)->what);
    return resumed;
}

/* To whom a part is bound is not known before it is fitted, and is after. */
static gboolean
same_step (const Step *left, const Step *right)
{
    if (left->kind != right->kind)
        return FALSE;
    if (left->kind == STEP_WRITE)
        return left->component == right->component && left->release == right->release && left->method == right->method;
    return left->slot == right->slot && left->part == right->part && left->stepping == right->stepping &&
           (left->kind == STEP_REMOVE || left->owner == right->owner);
}

/* The same steps, each as often. Not in the same order: steps that may change places without a difference may do so. */
static void
check_same_steps (const Story *story, guint count, const GArray *left, const GArray *again)
{
    g_autofree gboolean *taken = g_new0 (gboolean, left->len + 1);
    gboolean same = left->len == again->len;

    for (guint i = 0; same && i < again->len; i++) {
        guint at = 0;

        while (at < left->len &&
               (taken[at] || !same_step (&g_array_index (left, Step, at), &g_array_index (again, Step, i))))
            at++;
        same = at < left->len;
        taken[at] = TRUE;
    }
    if (!same)
        fail_msg ("%s: after %u of %u steps the plan is another one", story->path, count, story->plan->steps->len);
}

static void
check_prefix (const Story *story, guint count)
{
    g_autoptr (Resumed) resumed = resume_after (story, count, FALSE);
    g_autoptr (RouteAnswer) again = plan (story, resumed->shop, resumed->unit, resumed->left);
    g_autoptr (Walk) walk =
        check_walk (story->library, resumed->shop, story->library->wants->pdata[0], resumed->state, resumed->left);

    assert_int_equal (resumed->left->len, story->plan->steps->len - count);
    if (!walk->sound)
        fail_msg ("%s: after %u steps, what is left is refused: %s", story->path, count, walk->why);
    if (again->claim != CLAIM_PROVED_SHORTEST)
        fail_msg ("%s: after %u steps: %s", story->path, count, again->reason != NULL ? again->reason : again->proof);
    assert_int_equal (again->walk->steps, walk->steps);
    assert_int_equal (again->walk->insertions, walk->insertions);
    assert_true (again->walk->minutes == walk->minutes);
    check_same_steps (story, count, resumed->left, again->steps);
}

static void
what_is_left_is_planned_again (void **state)
{
    (void) state;
    g_autoptr (GPtrArray) all = stories ();
    guint prefixes = 0;

    for (guint i = 0; i < all->len; i++) {
        const Story *story = all->pdata[i];

        /* Every other prefix, and all over the stories both the even and the odd ones: each is a plan of its own. */
        for (guint count = i % 2; count <= story->plan->steps->len; count += 2, prefixes++)
            check_prefix (story, count);
    }
    assert_true (prefixes >= 60);
}

/* After a step that failed there may be no way on; what is said is never this program's own fault, and a route that is
 * shown begins where the unit stands. */
static void
after_a_failed_step_there_is_an_answer (void **state)
{
    (void) state;
    g_autoptr (GPtrArray) all = stories ();
    guint routes = 0;

    for (guint i = 0; i < all->len; i++) {
        const Story *story = all->pdata[i];

        for (guint count = i % 3; count < story->plan->steps->len; count += 3) {
            g_autoptr (Resumed) resumed = resume_after (story, count, TRUE);
            g_autoptr (RouteAnswer) answer = plan (story, resumed->shop, resumed->unit, resumed->left);

            assert_int_not_equal (answer->claim, CLAIM_FAULT);
            if (answer->claim != CLAIM_PROVED_SHORTEST)
                continue;
            g_autoptr (Walk) walk = check_walk (story->library, resumed->shop, story->library->wants->pdata[0],
                                                resumed->state, answer->steps);
            assert_true (walk->sound);
            assert_true (walk->steps > 0);
            routes++;
        }
    }
    assert_true (routes >= 20);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (what_is_left_is_planned_again),
        cmocka_unit_test (after_a_failed_step_there_is_an_answer),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
