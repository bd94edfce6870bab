/* SPDX-License-Identifier: MIT */
#include "drop_job.h"

#include <string.h>

enum { MOST_TRIED_WORLDS = 12000 };

typedef struct {
    Job job;
    const Asked *asked;
    unsigned free_slots; /* bits: what they end with is nobody's business */
    gboolean too_large;
} Dropping;

static int
model_component (const Job *job, const char *name)
{
    for (int c = 0; c < job->firmware_count; c++)
        if (!job->firmware[c].gone && strcmp (firmware_name (job, c), name) == 0)
            return c;
    g_assert_not_reached ();
}

static int
model_slot (const Job *job, const char *name)
{
    for (int i = 0; i < job->place_count; i++)
        if (!job->places[i].gone && strcmp (job->places[i].name, name) == 0)
            return i;
    g_assert_not_reached ();
}

static int
model_piece (const Job *job, const char *name)
{
    for (int p = 0; p < job->piece_count; p++)
        if (!job->pieces[p].gone && strcmp (job->pieces[p].name, name) == 0)
            return p;
    g_assert_not_reached ();
}

static int
model_stepping (const char *name)
{
    for (int s = 0; name != NULL && s < STEPPINGS; s++)
        if (strcmp (stepping_name (s), name) == 0)
            return s;
    return 0;
}

static int
component_of (const Dropping *dropping, const BlockingFact *fact)
{
    return model_component (&dropping->job, board_component (dropping->asked->unit->board, fact->index)->name);
}

static int
slot_of (const Dropping *dropping, const BlockingFact *fact)
{
    return model_slot (&dropping->job, board_slot (dropping->asked->unit->board, fact->index)->name);
}

static Edition *
edition_of (Dropping *dropping, const BlockingFact *fact)
{
    Firmware *firmware = &dropping->job.firmware[component_of (dropping, fact)];
    const char *name =
        component_release (board_component (dropping->asked->unit->board, fact->index), fact->index2)->name;

    for (int r = 0; r < firmware->count; r++)
        if (!firmware->editions[r].gone && strcmp (edition_name (firmware, r), name) == 0)
            return &firmware->editions[r];
    g_assert_not_reached ();
}

static void
drop_support (Dropping *dropping, const BlockingFact *fact)
{
    Firmware *firmware = &dropping->job.firmware[component_of (dropping, fact)];
    unsigned bit = 1u << model_stepping (fact->stepping);

    for (int g = 0; g < GENERATIONS; g++)
        for (int r = 0; r < firmware->count && strcmp (generation_name (g), fact->generation) == 0; r++) {
            firmware->editions[r].starts[g] |= bit;
            firmware->editions[r].never[g] &= ~bit;
            firmware->editions[r].states_starts = TRUE;
        }
}

static void
any_release (Dropping *dropping, int component)
{
    dropping->job.ask_firmware[component] = cond_atom (ATOM_RELEASE, component, CMP_GE, 0);
}

/* The slot is asked for, so that what is tied to it stays tied, and nothing is asked of it. */
static void
any_part (Dropping *dropping, int slot)
{
    dropping->job.asks[slot] = (Ask){ .kind = ASK_LIKE, .piece = -1, .stepping = -1, .generation = -1 };
    dropping->free_slots |= 1u << slot;
}

typedef struct {
    Dropping *dropping;
    Keeper keeper;
} Filling;

static void
fill_stack (const Filling *filling, const Part *part, const char *stepping, Bound bound)
{
    Job *job = &filling->dropping->job;
    int count = (int) asked_slots_of (filling->dropping->asked, part->kind);
    Stack stack = { .piece = model_piece (job, part->name),
                    .stepping = model_stepping (stepping),
                    .keeper = filling->keeper,
                    .bound = bound,
                    .count = count };

    for (int s = 0; s < job->stack_count; s++)
        if (job->stacks[s].piece == stack.piece && job->stacks[s].stepping == stack.stepping &&
            job->stacks[s].keeper == stack.keeper && job->stacks[s].bound == bound) {
            job->stacks[s].count += count;
            return;
        }
    if (job->stack_count == MAX_LOTS || job->stack_count + job->place_count + job->pulled_count >= MAX_TRIPLES - 1)
        filling->dropping->too_large = TRUE;
    else
        job->stacks[job->stack_count++] = stack;
}

static void
fill_one (const Part *part, const char *stepping, gpointer data)
{
    const Filling *filling = data;
    fill_stack (filling, part, stepping, BOUND_NOBODY);
    if (filling->keeper == LOAN && part->binds && filling->dropping->job.board_binds != BOUND_NOBODY)
        fill_stack (filling, part, stepping, filling->dropping->job.board_binds);
}

static void
drop_lots (Dropping *dropping, const BlockingFact *fact, Keeper keeper)
{
    Filling filling = { dropping, keeper };

    asked_each_part (dropping->asked, (PartKind) fact->index, fill_one, &filling);
}

static void
drop_keep (Dropping *dropping, const BlockingFact *fact)
{
    if (fact->index2 == 0) {
        dropping->job.keep_place[slot_of (dropping, fact)] = FALSE;
        return;
    }
    int component = component_of (dropping, fact);
    dropping->job.keep_firmware[component] = FALSE;
    if (dropping->job.ask_firmware[component].count == 0)
        any_release (dropping, component);
}

static void
drop_fact (Dropping *dropping, const BlockingFact *fact)
{
    Job *job = &dropping->job;

    switch (fact->kind) {
    case FACT_RULE:
        job->laws[fact->index].breaking = BREAK_BARS;
        job->laws[fact->index].ways = 0;
        return;
    case FACT_SUPPORT:
        drop_support (dropping, fact);
        return;
    case FACT_FROM:
        edition_of (dropping, fact)->from.count = 0;
        return;
    case FACT_TO_WRITE:
        edition_of (dropping, fact)->write_requires.count = 0;
        edition_of (dropping, fact)->write_conflicts.count = 0;
        return;
    case FACT_RUNNING:
        edition_of (dropping, fact)->run_requires.count = 0;
        edition_of (dropping, fact)->run_conflicts.count = 0;
        return;
    case FACT_LOWEST:
        edition_of (dropping, fact)->lowest = -1;
        return;
    case FACT_WITHDRAWN:
        edition_of (dropping, fact)->withdrawn = FALSE;
        return;
    case FACT_METHOD:
        job->firmware[component_of (dropping, fact)].ways[fact->index2].requires
        .count = 0;
        return;
    case FACT_PART:
        job->pieces[model_piece (job, fact->part->name)].requires
        .count = 0;
        job->pieces[model_piece (job, fact->part->name)].conflicts.count = 0;
        return;
    case FACT_BINDS:
        job->pieces[model_piece (job, fact->part->name)].binds = FALSE;
        return;
    case FACT_NO_METHOD:
        job->shop_ways |= 1u << fact->index;
        return;
    case FACT_LOANERS:
        drop_lots (dropping, fact, LOAN);
        return;
    case FACT_STOCK:
        drop_lots (dropping, fact, STOCK);
        return;
    case FACT_RECOVERY:
        job->need_recovery = FALSE;
        return;
    case FACT_VERIFIED:
        job->unverified = TRUE;
        return;
    case FACT_REDUNDANT:
        job->redundant = FALSE;
        return;
    case FACT_WANT_SLOT:
    case FACT_STAYS:
        any_part (dropping, slot_of (dropping, fact));
        return;
    case FACT_WANT_RELEASE:
    case FACT_SPARE:
        any_release (dropping, component_of (dropping, fact));
        return;
    case FACT_KEEP:
        drop_keep (dropping, fact);
        return;
    case FACT_FLOOR:
        job->floor[component_of (dropping, fact)] = -1;
        return;
    case FACT_FAILED:
        job->failed[component_of (dropping, fact)] = FALSE;
        for (int way = 0; way < WAYS; way++)
            job->firmware[component_of (dropping, fact)].ways[way].recovery_only = FALSE;
        return;
    case FACT_INSERTIONS:
        job->places[slot_of (dropping, fact)].rated = 0;
        return;
    }
    g_assert_not_reached ();
}

/* Stacks of parts that no slot of the board takes are left aside. */
static void
leave_useless_stacks (Dropping *dropping)
{
    Job *job = &dropping->job;
    int kept = 0;

    for (int s = 0; s < job->stack_count; s++) {
        const char *name = g_intern_string (job->pieces[job->stacks[s].piece].name);

        if (asked_has_use (dropping->asked, book_find_part (&dropping->asked->library->book, name)))
            job->stacks[kept++] = job->stacks[s];
    }
    job->stack_count = kept;
}

static WayAnswer
case_way (const Dropping *dropping, int at_case)
{
    g_autofree Play *play = g_new0 (Play, 1);

    g_assert_true (play_setup (play, &dropping->job, at_case));
    for (int i = 0; i < dropping->job.place_count; i++)
        for (int held = 0; (dropping->free_slots & 1u << i) != 0 && held <= play->triple_count; held++)
            play->may_end[i][held] = held == 0 || play->triples[held - 1].keeper != LOAN;
    Answer answer = exhaustive_answer (play, GOAL_STEPS, MOST_TRIED_WORLDS);
    AnswerKind kind = answer.kind;
    answer_clear (&answer);
    return kind == ANSWER_ROUTE ? WAY_OPEN : kind == ANSWER_NONE ? WAY_NONE : WAY_UNDECIDED;
}

WayAnswer
model_way (const Job *job, const Asked *asked, const GPtrArray *facts, const FactSet *kept)
{
    g_autofree Dropping *dropping = g_new0 (Dropping, 1);
    WayAnswer answer = WAY_NONE;

    dropping->job = *job;
    dropping->asked = asked;
    leave_useless_stacks (dropping);
    for (guint i = facts->len; i > 0; i--)
        if (!fact_set_has (kept, i - 1))
            drop_fact (dropping, g_ptr_array_index (facts, i - 1));
    if (dropping->too_large)
        return WAY_UNDECIDED;
    for (int k = 0; k < job_case_count (job) && answer != WAY_OPEN; k++) {
        WayAnswer one = case_way (dropping, k);

        answer = one == WAY_NONE ? answer : one;
    }
    return answer;
}
