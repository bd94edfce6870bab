/* SPDX-License-Identifier: MIT */
/* A diagnosis made by hand, with something of everything that a report may have to say. */
#ifndef RUNGWISE_EXPLAIN_FIXTURE_H
#define RUNGWISE_EXPLAIN_FIXTURE_H

#include "reports_fixture.h"

#include "route/branched.h"

#define SIGN_SAYS "The fans turn <freely> & \"well\"."

typedef struct {
    Library *library; /* owned */
    LookFirst looks[3];
    Cause causes[4];
    Sign sign;
    Observation observations[3];
    Seen seen;
    Diagnosis *diagnosis; /* its lists are owned */
    ExplainReport report;
} ExplainFixture;

#define HERE ((Mark){ "bench.yaml", 7, 3 })

static inline GArray *
fixture_indices (guint first, guint second)
{
    GArray *indices = g_array_new (FALSE, FALSE, sizeof (guint));

    g_array_append_val (indices, first);
    if (second != first)
        g_array_append_val (indices, second);
    return indices;
}

/* ---- Cases ---- */

static inline void
dark_set_clear (gpointer data)
{
    DarkSet *set = data;

    g_array_unref (set->facts);
    g_ptr_array_unref (set->rules);
    g_free (set);
}

static inline void
dark_fact_clear (gpointer data)
{
    g_free (((DarkFact *) data)->says);
    g_free (data);
}

/* One release of system, the others as they are. */
static inline DarkCase *
fixture_case (const ExplainFixture *fixture, const char *release)
{
    const Unit *unit = fixture_unit (fixture->library);
    const Board *board = unit->board;
    DarkCase *one = g_new0 (DarkCase, 1);
    int system = board_find_component (board, "system");
    int index = component_find_release (board_component (board, (guint) system), release);

    one->may_be = g_new0 (gboolean *, board->components->len);
    one->releases = g_new0 (guint, board->components->len);
    for (guint c = 0; c < board->components->len; c++) {
        guint count = board_component (board, c)->releases->len;

        one->may_be[c] = g_memdup2 (unit->releases[c].may_be, count * sizeof (gboolean));
        while (one->releases[c] + 1 < count && !one->may_be[c][one->releases[c]])
            one->releases[c]++;
    }
    memset (one->may_be[system], 0, board_component (board, (guint) system)->releases->len * sizeof (gboolean));
    one->may_be[system][index] = TRUE;
    one->releases[system] = (guint) index;
    one->members = 1;
    g_autoptr (State) state = state_from_unit (unit, one->releases);
    one->broken = check_state (fixture->library, fixture_shop (fixture->library), state);
    one->starts = broken_verdict (one->broken);
    one->facts = g_ptr_array_new_with_free_func (dark_fact_clear);
    one->sets = g_ptr_array_new_with_free_func (dark_set_clear);
    one->corrections = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
    one->complete = TRUE;
    return one;
}

static inline void
fixture_case_free (gpointer data, guint n_components)
{
    DarkCase *one = data;

    for (guint c = 0; c < n_components; c++)
        g_free (one->may_be[c]);
    g_free (one->may_be);
    g_free (one->releases);
    g_ptr_array_unref (one->broken);
    g_ptr_array_unref (one->facts);
    g_ptr_array_unref (one->sets);
    g_ptr_array_unref (one->corrections);
    g_free (one);
}

static inline void
fixture_add_fact (DarkCase *one, DarkFactKind kind, guint index, const char *says)
{
    DarkFact *fact = g_new0 (DarkFact, 1);

    *fact = (DarkFact){ kind, index, g_strdup (says), HERE };
    g_ptr_array_add (one->facts, fact);
}

/* Two facts that keep it dark by the first broken rule. */
static inline void
fixture_add_set (const ExplainFixture *fixture, DarkCase *one)
{
    const Board *board = fixture_unit (fixture->library)->board;
    const Broken *broken = g_ptr_array_index (one->broken, 0);
    DarkSet *set = g_new0 (DarkSet, 1);
    DarkRule *rule = g_new0 (DarkRule, 1);

    fixture_add_fact (one, DARK_HELD, (guint) board_find_slot (board, "cpu1"), "cpu1 holds elvane-8c b1");
    fixture_add_fact (one, DARK_RELEASE, (guint) board_find_component (board, "system"), "system is at 1.4.0");
    *rule = (DarkRule){ broken->rule, broken->says, broken->source, broken->at, broken };
    *set = (DarkSet){ fixture_indices (0, 1), g_ptr_array_new_with_free_func (g_free), TRUE };
    g_ptr_array_add (set->rules, rule);
    g_ptr_array_add (one->sets, set);
    g_ptr_array_add (one->corrections, fixture_indices (0, 0));
    g_ptr_array_add (one->corrections, fixture_indices (1, 1));
}

/* ---- Evidence, causes ---- */

static inline void
fixture_fill_seen (ExplainFixture *fixture)
{
    fixture->sign = (Sign){ .id = "fans-turn",
                            .kind = SEEN_FANS,
                            .word = g_intern_string ("turning"),
                            .says = SIGN_SAYS,
                            .source = { .text = "common practice, no source" },
                            .at = HERE };
    fixture->observations[0] = (Observation){ .kind = SEEN_FANS, .word = g_intern_string ("turning"), .at = HERE };
    fixture->observations[1] = (Observation){ .kind = SEEN_DARK_MINUTES, .number = 15, .at = HERE };
    fixture->observations[2] = (Observation){ .kind = SEEN_POST_CODE, .number = 0x15, .at = HERE };
    fixture->seen = (Seen){ .name = "at the bench", .file = "bench.yaml", .at = HERE };
    fixture->seen.observations = g_ptr_array_new ();
    for (guint i = 0; i < G_N_ELEMENTS (fixture->observations); i++)
        g_ptr_array_add (fixture->seen.observations, &fixture->observations[i]);
    fixture->looks[0] =
        (LookFirst){ .id = "leads", .after = 1u << KIND_PROCESSOR, .says = "Look at the leads.", .minutes = 2 };
    fixture->looks[1] =
        (LookFirst){ .id = "pads", .after = 1u << KIND_PROCESSOR, .says = "Look at the pads.", .minutes = 8 };
    fixture->looks[2] = (LookFirst){ .id = "what-is-left",
                                     .after = 1u << KIND_PROCESSOR,
                                     .says = "What is left is the board.",
                                     .by_elimination = TRUE };
    fixture->causes[0] = (Cause){ .id = "lead-loose",
                                  .says = "a loose lead",
                                  .share = 3,
                                  .blames_board = FALSE,
                                  .look = &fixture->looks[0],
                                  .at = HERE };
    fixture->causes[1] = (Cause){ .id = "pad-dirty",
                                  .says = "dirt on a pad",
                                  .share = 5,
                                  .blames_board = FALSE,
                                  .look = &fixture->looks[1],
                                  .at = HERE };
    fixture->causes[2] = (Cause){ .id = "board-damaged",
                                  .says = "a damaged board",
                                  .share = 1,
                                  .blames_board = TRUE,
                                  .look = &fixture->looks[2],
                                  .at = HERE };
    fixture->causes[3] = (Cause){ .id = "fan-dead",
                                  .says = "a dead fan",
                                  .share = 1,
                                  .blames_board = FALSE,
                                  .look = &fixture->looks[0],
                                  .at = HERE };
}

static inline void
sign_given_clear (gpointer data)
{
    g_free (((SignGiven *) data)->says);
    g_free (data);
}

static inline void
conflict_clear (gpointer data)
{
    g_array_unref (((Conflict *) data)->given);
    g_free (data);
}

static inline Evidence *
fixture_evidence (ExplainFixture *fixture)
{
    Evidence *evidence = g_new0 (Evidence, 1);
    SignGiven *by_sign = g_new0 (SignGiven, 1), *by_method = g_new0 (SignGiven, 1);
    Conflict *conflict = g_new0 (Conflict, 1);

    *by_sign = (SignGiven){ .observation = &fixture->observations[0],
                            .sign = &fixture->sign,
                            .says = g_strdup (SIGN_SAYS),
                            .source = fixture->sign.source };
    *by_method =
        (SignGiven){ .observation = &fixture->observations[1], .says = g_strdup ("It is not training memory.") };
    evidence->given = g_ptr_array_new_with_free_func (sign_given_clear);
    g_ptr_array_add (evidence->given, by_sign);
    g_ptr_array_add (evidence->given, by_method);
    evidence->without_sign = g_ptr_array_new ();
    g_ptr_array_add (evidence->without_sign, &fixture->observations[2]);
    evidence->case_out = g_new0 (gboolean, 2);
    evidence->conflicts = g_ptr_array_new_with_free_func (conflict_clear);
    *conflict = (Conflict){ fixture_indices (0, 1), FALSE };
    g_ptr_array_add (evidence->conflicts, conflict);
    evidence->waited = TRUE;
    return evidence;
}

static inline PhysicalCauses *
fixture_physical (ExplainFixture *fixture)
{
    static const double probabilities[] = { 0.3, 0.5, 0.1, 0 };
    PhysicalCauses *physical = g_new0 (PhysicalCauses, 1);

    physical->causes = g_ptr_array_new_with_free_func (g_free);
    for (guint i = 0; i < G_N_ELEMENTS (probabilities); i++) {
        CauseWeight *weight = g_new0 (CauseWeight, 1);

        *weight = (CauseWeight){ &fixture->causes[i], 0.25, probabilities[i], i, i == 3 ? 0 : -1 };
        g_ptr_array_add (physical->causes, weight);
    }
    physical->checks = g_array_new (FALSE, FALSE, sizeof (CheckDue));
    for (guint i = 0; i < 3; i++) {
        CheckDue check = { &fixture->looks[i], probabilities[i], fixture->looks[i].minutes };

        g_array_append_val (physical->checks, check);
    }
    physical->expected_minutes = 9.4;
    physical->likeliest_first_minutes = 9.8;
    physical->left_over = 0.1;
    physical->counted = 6;
    return physical;
}

/* ---- Ways, returns ---- */

static inline void
telling_clear (gpointer data)
{
    Telling *telling = data;

    g_clear_pointer (&telling->steps, g_array_unref);
    g_free (telling->says);
    g_free (telling);
}

static inline void
way_clear (gpointer data)
{
    WayOut *way = data;

    route_answer_free (way->answer);
    g_free (way);
}

static inline GPtrArray *
fixture_tellings (const ExplainFixture *fixture)
{
    GPtrArray *tellings = g_ptr_array_new_with_free_func (telling_clear);
    Telling *page = g_new0 (Telling, 1), *start = g_new0 (Telling, 1);

    *page = (Telling){ TELL_PAGE, 0, 2, NULL, TRUE, g_strdup ("Read system on the controller's page.") };
    *start = (Telling){ TELL_START, 0,
                        21,         g_array_copy ((GArray *) fixture_steps (fixture->library)),
                        FALSE,      g_strdup ("Start it with a part that starts with either.") };
    g_ptr_array_add (tellings, page);
    g_ptr_array_add (tellings, start);
    return tellings;
}

/* A start is tried at once; where it stays dark, the route is gone. */
static inline RouteAnswer *
fixture_branched (const ExplainFixture *fixture, const GPtrArray *cases)
{
    RouteAnswer *answer = g_new0 (RouteAnswer, 1);
    const Board *board = fixture_unit (fixture->library)->board;
    const GArray *steps = fixture_steps (fixture->library);
    Branch *root = branch_new (), *ends[2] = { branch_new (), branch_new () };

    root->then = THEN_TRY;
    for (guint i = 0; i < 2; i++) {
        const DarkCase *one = g_ptr_array_index (cases, i);

        ends[i]->dark = i == 0;
        g_ptr_array_add (root->cases, branch_case_copy (one->releases, board->components->len));
        g_ptr_array_add (ends[i]->cases, branch_case_copy (one->releases, board->components->len));
        g_ptr_array_add (root->next, ends[i]);
    }
    g_array_append_vals (ends[0]->steps, steps->data, steps->len);
    answer->claim = CLAIM_BRANCHES;
    answer->branches = g_new0 (BranchAnswer, 1);
    answer->branches->claim = CLAIM_PROVED_SHORTEST;
    answer->branches->plan = root;
    answer->branches->check = g_new0 (BranchCheck, 1);
    *answer->branches->check = (BranchCheck){ .sound = TRUE,
                                              .worst_steps = 5,
                                              .expected_steps = 2.5,
                                              .worst_minutes = 58,
                                              .expected_minutes = 31.5,
                                              .costs = g_array_new (FALSE, FALSE, sizeof (BranchCost)) };
    return answer;
}

static inline void
return_block_clear (gpointer data)
{
    ReturnBlock *block = data;

    g_free (block->says);
    g_ptr_array_unref (block->tried);
    g_ptr_array_unref (block->rules_out);
    g_ptr_array_unref (block->left);
    g_free (block);
}

static inline GPtrArray *
fixture_sentences (const char *first, const char *second)
{
    GPtrArray *sentences = g_ptr_array_new_with_free_func (g_free);

    g_ptr_array_add (sentences, g_strdup (first));
    g_ptr_array_add (sentences, g_strdup (second));
    return sentences;
}

static inline GPtrArray *
fixture_returns (const ExplainFixture *fixture)
{
    GPtrArray *returns = g_ptr_array_new_with_free_func (return_block_clear);
    ReturnBlock *block = g_new0 (ReturnBlock, 1);

    block->slot = (guint) board_find_slot (fixture_unit (fixture->library)->board, "cpu1");
    block->verdict = RETURN_NOT_READ;
    block->says = g_strdup ("Not shown faulty: with one of the releases that the unit may have it stays dark anyway, "
                            "whatever the part is like.");
    block->tried = fixture_sentences ("left on, dark, for 15 minutes", "the fans turn");
    block->rules_out = fixture_sentences ("memory training", "a dead fan");
    block->left = fixture_sentences ("leads", "pads");
    block->probability = 0.125;
    g_ptr_array_add (returns, block);
    return returns;
}

/* ---- The whole ---- */

static inline void
fixture_fill_diagnosis (ExplainFixture *fixture)
{
    Diagnosis *diagnosis = g_new0 (Diagnosis, 1);
    WayOut *straight = g_new0 (WayOut, 1), *branched = g_new0 (WayOut, 1);

    fixture->diagnosis = diagnosis;
    diagnosis->dark = g_new0 (DarkAnswer, 1);
    diagnosis->dark->combinations = 2;
    diagnosis->dark->cases = g_ptr_array_new ();
    g_ptr_array_add (diagnosis->dark->cases, fixture_case (fixture, "1.4.0"));
    g_ptr_array_add (diagnosis->dark->cases, fixture_case (fixture, "2.1.0"));
    fixture_add_set (fixture, g_ptr_array_index (diagnosis->dark->cases, 0));
    diagnosis->starts = SOME_START;
    diagnosis->evidence = fixture_evidence (fixture);
    diagnosis->tellings = fixture_tellings (fixture);
    *straight = (WayOut){ WAY_WANTED, fixture_answer (fixture->library), NULL };
    *branched = (WayOut){ WAY_OTHER_PARTS, fixture_branched (fixture, diagnosis->dark->cases), NULL };
    diagnosis->ways = g_ptr_array_new_with_free_func (way_clear);
    g_ptr_array_add (diagnosis->ways, straight);
    g_ptr_array_add (diagnosis->ways, branched);
    diagnosis->physical = fixture_physical (fixture);
    diagnosis->returns = fixture_returns (fixture);
}

static inline ExplainFixture *
explain_fixture_new (void)
{
    ExplainFixture *fixture = g_new0 (ExplainFixture, 1);
    static const char *const again[] = { "data/larkfield/book", "data/larkfield/shop.yaml", "--want cpu1=elvane-8c",
                                         NULL };

    fixture->library = fixture_library ("reports-unknown");
    fixture_fill_seen (fixture);
    fixture_fill_diagnosis (fixture);
    fixture->report = (ExplainReport){
        .library = fixture->library,
        .shop = fixture_shop (fixture->library),
        .unit = fixture_unit (fixture->library),
        .want = fixture_want (fixture->library),
        .seen = &fixture->seen,
        .again = again,
        .diagnosis = fixture->diagnosis,
    };
    return fixture;
}

static inline void
explain_fixture_free (ExplainFixture *fixture)
{
    Diagnosis *diagnosis = fixture->diagnosis;
    guint n_components = fixture_unit (fixture->library)->board->components->len;

    for (guint i = 0; i < diagnosis->dark->cases->len; i++)
        fixture_case_free (diagnosis->dark->cases->pdata[i], n_components);
    g_ptr_array_unref (diagnosis->dark->cases);
    g_free (diagnosis->dark);
    g_ptr_array_unref (diagnosis->evidence->given);
    g_ptr_array_unref (diagnosis->evidence->without_sign);
    g_ptr_array_unref (diagnosis->evidence->conflicts);
    g_free (diagnosis->evidence->case_out);
    g_free (diagnosis->evidence);
    g_ptr_array_unref (diagnosis->tellings);
    g_ptr_array_unref (diagnosis->ways);
    g_ptr_array_unref (diagnosis->physical->causes);
    g_array_unref (diagnosis->physical->checks);
    g_free (diagnosis->physical);
    g_ptr_array_unref (diagnosis->returns);
    g_free (diagnosis);
    g_ptr_array_unref (fixture->seen.observations);
    library_free (fixture->library);
    g_free (fixture);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExplainFixture, explain_fixture_free)

#endif
