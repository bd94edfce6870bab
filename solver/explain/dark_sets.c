/* SPDX-License-Identifier: MIT */
/* Why one case does not start: all minimal sets of its facts, by asking whether any state with some of them starts. */
#include "explain/dark_parts.h"

#include "explain/none_sets.h"

/* Decisions of one search; an everyday one takes a dozen. */
#define MOST_DECISIONS 5000
#define MOST_ASKED     4000

/* A case that is asked about. Numbers below `facts->len` are facts, those from there on are makers. */
typedef struct {
    const DarkAsking *asking;
    const DarkCase *one;
    const GPtrArray *facts; /* DarkFact*; borrowed */
    GArray *makers;         /* guint; owned; those that are broken as things stand first: they are left out last */
    gboolean *keep_slot, *keep_component, *left_out; /* owned */
    gboolean not_stated_is_yes;
} CaseAsking;

static gboolean
maker_matters (const DarkAsking *asking, guint maker)
{
    for (guint i = 0; i < asking->spaces->len; i++)
        if (start_space_maker_matters (asking->spaces->pdata[i], maker))
            return TRUE;
    return FALSE;
}

static void
case_asking_init (CaseAsking *asked, const DarkAsking *asking, const DarkCase *one)
{
    guint n_makers = start_space_makers (asking->spaces->pdata[0]);

    *asked = (CaseAsking){ .asking = asking, .one = one, .facts = one->facts };
    asked->makers = g_array_new (FALSE, FALSE, sizeof (guint));
    for (int broken = TRUE; broken >= FALSE; broken--)
        for (guint m = 0; m < n_makers; m++)
            if (maker_matters (asking, m) && dark_maker_is_broken (asking, one, m) == broken)
                g_array_append_val (asked->makers, m);
    asked->keep_slot = g_new0 (gboolean, asking->unit->board->slots->len + 1);
    asked->keep_component = g_new0 (gboolean, asking->unit->board->components->len + 1);
    asked->left_out = g_new0 (gboolean, n_makers + 1);
}

static void
case_asking_clear (CaseAsking *asked)
{
    g_array_unref (asked->makers);
    g_free (asked->keep_slot);
    g_free (asked->keep_component);
    g_free (asked->left_out);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (CaseAsking, case_asking_clear)

/* ---- Asking ---- */

typedef struct {
    gboolean stopped; /* a failed write is kept, which stops it by itself */
    gboolean any_revision, redundant;
} Kept;

static Kept
keep_facts (CaseAsking *asked, const FactSet *kept)
{
    Kept answer = { .any_revision = TRUE };

    for (guint i = 0; i < asked->facts->len; i++) {
        const DarkFact *fact = asked->facts->pdata[i];
        gboolean has = fact_set_has (kept, i);

        switch (fact->kind) {
        case DARK_HELD:
        case DARK_EMPTY:
            asked->keep_slot[fact->index] = has;
            break;
        case DARK_FAILED:
            answer.stopped = answer.stopped || (has && dark_failure_stops (asked->asking->unit, fact->index));
            asked->keep_component[fact->index] = has && !dark_failure_stops (asked->asking->unit, fact->index);
            break;
        case DARK_RELEASE:
            asked->keep_component[fact->index] = has;
            break;
        case DARK_REVISION:
            answer.any_revision = !has;
            break;
        case DARK_REDUNDANT:
            answer.redundant = has;
            break;
        }
    }
    for (guint i = 0; i < asked->makers->len; i++)
        asked->left_out[g_array_index (asked->makers, guint, i)] = !fact_set_has (kept, asked->facts->len + i);
    return answer;
}

/* Whether a state with these facts starts; `data` is a CaseAsking. */
static WayAnswer
ask_case (const FactSet *set, gpointer data)
{
    CaseAsking *asked = data;
    const DarkAsking *asking = asked->asking;
    Kept kept = keep_facts (asked, set);
    const StartQuestion question = { asked->keep_slot, asked->keep_component,    asked->one->releases,
                                     kept.redundant,   asked->not_stated_is_yes, asked->left_out,
                                     MOST_DECISIONS };
    WayAnswer answer = WAY_NONE;

    for (guint revision = 0; revision < asking->spaces->len && !kept.stopped; revision++) {
        if (!kept.any_revision && revision != asking->unit->revision)
            continue;
        StartAnswer one = start_space_ask (asking->spaces->pdata[revision], &question);

        if (one == START_POSSIBLE)
            return WAY_OPEN;
        if (one == START_UNDECIDED)
            answer = WAY_UNDECIDED;
    }
    return answer;
}

/* ---- What was found ---- */

void
dark_set_free (gpointer data)
{
    DarkSet *set = data;

    g_array_unref (set->facts);
    g_ptr_array_unref (set->rules);
    g_free (set);
}

static GArray *
indices_of (const FactSet *set, guint n_facts)
{
    GArray *indices = g_array_new (FALSE, FALSE, sizeof (guint));

    for (guint i = 0; i < n_facts; i++)
        if (fact_set_has (set, i))
            g_array_append_val (indices, i);
    return indices;
}

/* None of its facts can be left out, for certain. */
static gboolean
is_minimal (CaseAsking *asked, const FactSet *set)
{
    for (guint i = 0; i < asked->facts->len; i++) {
        FactSet fewer = *set;

        if (!fact_set_has (set, i))
            continue;
        fact_set_remove (&fewer, i);
        /* With every rule: those that it was freed of might stop it otherwise. */
        for (guint m = 0; m < asked->makers->len; m++)
            fact_set_add (&fewer, asked->facts->len + m);
        if (ask_case (&fewer, asked) != WAY_OPEN)
            return FALSE;
    }
    return TRUE;
}

static void
add_set (CaseAsking *asked, DarkCase *one, const FactSet *found)
{
    DarkSet *set = g_new0 (DarkSet, 1);

    set->facts = indices_of (found, asked->facts->len);
    set->rules = g_ptr_array_new_with_free_func (g_free);
    for (guint i = 0; i < asked->makers->len; i++)
        if (fact_set_has (found, asked->facts->len + i))
            g_ptr_array_add (set->rules,
                             dark_rule_new (asked->asking, one, set->facts, g_array_index (asked->makers, guint, i)));
    asked->not_stated_is_yes = TRUE;
    set->stated = ask_case (found, asked) == WAY_NONE;
    asked->not_stated_is_yes = FALSE;
    g_ptr_array_add (one->sets, set);
}

static int
by_facts (gconstpointer left, gconstpointer right)
{
    const GArray *one = (*(DarkSet *const *) left)->facts, *other = (*(DarkSet *const *) right)->facts;

    if (one->len != other->len)
        return one->len < other->len ? -1 : 1;
    for (guint i = 0; i < one->len; i++)
        if (g_array_index (one, guint, i) != g_array_index (other, guint, i))
            return g_array_index (one, guint, i) < g_array_index (other, guint, i) ? -1 : 1;
    return 0;
}

static void
take_sets (CaseAsking *asked, DarkCase *one, const NoneSets *sets)
{
    for (guint i = 0; i < sets->forbidding->len; i++) {
        const FactSet *found = &g_array_index (sets->forbidding, FactSet, i);

        if (sets->minimal || is_minimal (asked, found))
            add_set (asked, one, found);
    }
    g_ptr_array_sort (one->sets, by_facts);
    for (guint i = 0; i < sets->corrections->len; i++)
        g_ptr_array_add (one->corrections,
                         indices_of (&g_array_index (sets->corrections, FactSet, i), asked->facts->len));
    one->complete = sets->complete && sets->minimal;
}

void
dark_case_explain (const DarkAsking *asking, DarkCase *one)
{
    one->complete = FALSE;
    if (asking->spaces == NULL)
        return;
    g_ptr_array_unref (one->facts);
    one->facts = dark_facts_collect (asking, one);
    g_auto (CaseAsking) asked;
    case_asking_init (&asked, asking, one);
    guint n_all = one->facts->len + asked.makers->len;
    if (n_all > FACTS_MOST)
        return;
    FactSet all = fact_set_all (n_all), facts = fact_set_all (one->facts->len);
    FactSet makers = fact_set_without (&all, &facts);
    if (ask_case (&all, &asked) != WAY_NONE)
        return;
    g_autoptr (NoneSets) sets = none_sets_find (n_all, &makers, ask_case, &asked, MOST_ASKED, asking->most_sets);
    take_sets (&asked, one, sets);
}
