/* SPDX-License-Identifier: MIT */
/* What tells cases that start from cases that do not: the controller's page, a start with parts at hand, a label. */
#include "explain/diagnosis_parts.h"

#include "check/branches.h"
#include "explain/asking.h"
#include "explain/explain_words.h"

typedef struct {
    const DiagnosisQuestion *question;
    Diagnosis *diagnosis;
} Finding;

static void
telling_add (const Finding *finding, Telling telling)
{
    g_ptr_array_add (finding->diagnosis->tellings, g_memdup2 (&telling, sizeof telling));
}

static const Component *
component_of (const Finding *finding, guint component)
{
    return board_component (finding->question->unit->board, component);
}

/* ---- What one component says ---- */

/* With this release of the component, in the cases that are left. */
typedef enum { NO_CASE = 0, DARK = 1, STARTS = 2, EITHER = 3 } Says;

static guint
release_says (const Finding *finding, guint component, guint release)
{
    const DarkAnswer *dark = finding->diagnosis->dark;
    guint says = NO_CASE;

    if (!finding->diagnosis->unit->releases[component].may_be[release])
        return NO_CASE;
    for (guint i = 0; i < dark->cases->len; i++)
        if (case_is_left (finding->diagnosis->evidence, i) && dark_case (dark, i)->may_be[component][release])
            says |= dark_case (dark, i)->starts == STARTS_YES ? STARTS : DARK;
    return says;
}

/* Its release alone decides. */
static gboolean
component_decides (const Finding *finding, guint component)
{
    for (guint r = 0; r < component_of (finding, component)->releases->len; r++)
        if (release_says (finding, component, r) == EITHER)
            return FALSE;
    return TRUE;
}

/* Some release that it may have, as the least it can be, decides. */
static gboolean
label_may_decide (const Finding *finding, guint component)
{
    guint says = NO_CASE;

    for (guint r = component_of (finding, component)->releases->len; r-- > 0;) {
        says |= release_says (finding, component, r);
        if (says == DARK || says == STARTS)
            return TRUE;
        if (says == EITHER)
            return FALSE;
    }
    return FALSE;
}

/* "with 2.1.0 or 2.3.1". Transfer full. */
static char *
releases_that_say (const Finding *finding, guint component, guint says)
{
    const Component *entry = component_of (finding, component);
    g_autofree gboolean *mask = g_new0 (gboolean, entry->releases->len + 1);

    for (guint r = 0; r < entry->releases->len; r++)
        mask[r] = release_says (finding, component, r) == says;
    g_autofree char *names = explain_releases (entry, mask);
    return g_strdup_printf ("with %s", names);
}

/* ---- The page ---- */

static gboolean
page_is_there_always (const Finding *finding, guint component)
{
    const DiagnosisQuestion *question = finding->question;
    g_autoptr (GPtrArray) cases = unit_cases (finding->diagnosis->unit, DIAGNOSIS_MOST_COMBINATIONS);

    for (guint i = 0; cases != NULL && i < cases->len; i++) {
        g_autoptr (State) state = state_from_unit (diagnosis_from (finding->diagnosis), cases->pdata[i]);

        if (!page_can_be_read (question->library, question->shop, state, component))
            return FALSE;
    }
    return cases != NULL;
}

static void
add_page (const Finding *finding, guint component)
{
    const Component *entry = component_of (finding, component);
    Telling telling = {
        .kind = TELL_PAGE, .component = component, .minutes = entry->page.minutes, .for_certain = TRUE
    };

    if (!entry->page.there || !component_decides (finding, component) || !page_is_there_always (finding, component))
        return;
    g_autofree char *starting = releases_that_say (finding, component, STARTS);
    g_autofree char *dark = releases_that_say (finding, component, DARK);
    telling.says =
        g_strdup_printf ("On standby the controller's page shows the release of %s: %s no rule keeps the unit dark, "
                         "%s one does.",
                         entry->name, starting, dark);
    telling_add (finding, telling);
}

/* ---- The label ---- */

static void
add_label (const Finding *finding, guint component)
{
    const Unit *unit = finding->diagnosis->unit;
    Telling telling = { .kind = TELL_LABEL,
                        .component = component,
                        .minutes = finding->question->shop->opening_minutes };

    if (unit->releases[component].count < 2 || !label_may_decide (finding, component))
        return;
    if (unit->factory.label != NULL && unit->factory.label[component] >= 0)
        return;
    telling.says =
        g_strdup_printf ("A label on the board or its box may name a release of %s: it is then at that one or "
                         "above, which may settle it.",
                         component_of (finding, component)->name);
    telling_add (finding, telling);
}

/* ---- A start ---- */

/* Removing and fitting alone, to anything that starts whichever of the releases it has, lent parts too. */
static void
add_start (const Finding *finding)
{
    const DiagnosisQuestion *question = finding->question;
    g_autoptr (Shop) shop = shop_copy (question->shop);
    g_autoptr (Want) want = want_new ("a start with any of the releases", question->unit->board, (Mark){ 0 });
    RouteOptions options = { 0 };
    Telling telling = { .kind = TELL_START, .for_certain = TRUE };

    if (question->options != NULL)
        options = *question->options;
    options.no_ways_back = options.no_branches = options.search_only = TRUE;
    shop->methods = 0;
    want->just_starts = TRUE;
    g_autoptr (RouteAnswer) answer =
        route_find (question->library, shop, diagnosis_from (finding->diagnosis), want, &options);
    if (!answer_has_route (answer) || answer->steps->len == 0)
        return;
    telling.minutes = answer->walk->minutes;
    telling.steps = g_array_ref (answer->steps);
    telling.says =
        g_strdup ("A start with parts at hand that start with any of the releases it may have: the host then shows "
                  "them all.");
    telling_add (finding, telling);
}

static int
certain_then_quick (gconstpointer left, gconstpointer right)
{
    const Telling *a = *(Telling *const *) left, *b = *(Telling *const *) right;

    if (a->for_certain != b->for_certain)
        return a->for_certain ? -1 : 1;
    if (a->minutes != b->minutes)
        return a->minutes < b->minutes ? -1 : 1;
    if (a->kind != b->kind)
        return a->kind < b->kind ? -1 : 1;
    return a->component < b->component ? -1 : a->component > b->component;
}

void
diagnosis_find_tellings (const DiagnosisQuestion *question, Diagnosis *diagnosis)
{
    Finding finding = { question, diagnosis };

    if (diagnosis->starts != SOME_START)
        return;
    for (guint c = 0; c < question->unit->board->components->len; c++) {
        add_page (&finding, c);
        add_label (&finding, c);
    }
    add_start (&finding);
    g_ptr_array_sort (diagnosis->tellings, certain_then_quick);
}
