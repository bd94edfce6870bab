/* SPDX-License-Identifier: MIT */
/* Whether a condition or a rule holds in one case of a world. docs/files.md, "Expressions" and "Rules". */
#include "world.h"

static const Triple *
held_in (const Play *play, const World *world, int slot)
{
    return world->held[slot] ? &play->triples[world->held[slot] - 1] : NULL;
}

static gboolean
is_live (const Play *play, const World *world, int slot)
{
    for (int at = play->job->places[slot].served_by; at >= 0; at = play->job->places[at].served_by)
        if (!world->held[at])
            return FALSE;
    return TRUE;
}

/* The part in a slot that takes part in rules; NULL when the slot is empty or dead. */
static const Triple *
live_in (const Play *play, const World *world, int slot)
{
    return is_live (play, world, slot) ? held_in (play, world, slot) : NULL;
}

static const Piece *
piece_of (const Play *play, const Triple *triple)
{
    return &play->job->pieces[triple->piece];
}

static gboolean
part_answers (const Play *play, const Triple *triple, const Node *node)
{
    const Piece *piece = piece_of (play, triple);
    switch (node->kind) {
    case ATOM_MODEL:
        return triple->piece == node->subject && cmp_holds (node->cmp, triple->stepping, node->value);
    case ATOM_GENERATION:
        return piece->kind == PIECE_PROCESSOR && piece->generation == node->subject &&
               cmp_holds (node->cmp, triple->stepping, node->value);
    case ATOM_KIND:
        return (int) piece->kind == node->subject;
    default:
        return FALSE;
    }
}

static gboolean
some_part_answers (const Play *play, const World *world, const Node *node)
{
    for (int slot = 0; slot < play->job->place_count; slot++) {
        const Triple *triple = live_in (play, world, slot);
        if (triple && part_answers (play, triple, node))
            return TRUE;
    }
    return FALSE;
}

static gboolean
some_table_answers (const Play *play, const World *world, int at_case, const Node *node)
{
    for (int c = 0; c < play->job->firmware_count; c++) {
        if (play->job->firmware[c].gone || (world->failed >> c & 1))
            continue;
        int version = play->job->firmware[c].editions[world->release[at_case][c]].tables[node->subject];
        if (version && cmp_holds (node->cmp, version, node->value))
            return TRUE;
    }
    return FALSE;
}

static gboolean
node_holds (const Play *play, const World *world, int at_case, const Cond *cond, int index)
{
    const Node *node = &cond->nodes[index];
    switch (node->kind) {
    case ATOM_RELEASE:
        /* "A component whose write failed offers nothing" */
        return !(world->failed >> node->subject & 1) &&
               cmp_holds (node->cmp, world->release[at_case][node->subject], node->value);
    case ATOM_REVISION:
        return cmp_holds (node->cmp, play->job->revision, node->value);
    case ATOM_TABLE:
        return some_table_answers (play, world, at_case, node);
    case ATOM_SLOT:
        return live_in (play, world, node->subject) != NULL;
    case ATOM_MODEL:
    case ATOM_GENERATION:
    case ATOM_KIND:
        return some_part_answers (play, world, node);
    case JOIN_AND:
        return node_holds (play, world, at_case, cond, node->left) &&
               node_holds (play, world, at_case, cond, node->right);
    case JOIN_OR:
        return node_holds (play, world, at_case, cond, node->left) ||
               node_holds (play, world, at_case, cond, node->right);
    case JOIN_IF:
        return node_holds (play, world, at_case, cond, node->left) ||
               !node_holds (play, world, at_case, cond, node->right);
    }
    g_assert_not_reached ();
}

gboolean
cond_holds (const Play *play, const World *world, int at_case, const Cond *cond)
{
    g_assert (cond->count);
    return node_holds (play, world, at_case, cond, cond->count - 1);
}

static gboolean
requires_and_conflicts (const Play *play, const World *world, int at_case, const Cond *requires, const Cond *conflicts)
{
    return (!requires->count || cond_holds (play, world, at_case, requires)) &&
           !(conflicts->count && cond_holds (play, world, at_case, conflicts));
}

static gboolean
agree (const Play *play, Attr attr, const Triple *a, const Triple *b)
{
    const Piece *left = piece_of (play, a), *right = piece_of (play, b);
    switch (attr) {
    case ATTR_MODEL:
        return a->piece == b->piece;
    case ATTR_GENERATION:
        return left->generation == right->generation;
    case ATTR_SOCKET:
        return (left->sockets & right->sockets) != 0;
    case ATTR_MEMORY_TYPE:
        return (left->memory_types & right->memory_types) != 0;
    }
    g_assert_not_reached ();
}

static gboolean
may_run_mixed (const Play *play, const Triple *a, const Triple *b)
{
    const Job *job = play->job;
    unsigned any = 0;
    for (int g = 0; g < GENERATIONS; g++)
        any |= job->mixed[g];
    if (!any || a->stepping == b->stepping)
        return TRUE;
    int g = piece_of (play, a)->generation;
    return g == piece_of (play, b)->generation && (job->mixed[g] >> a->stepping & 1) &&
           (job->mixed[g] >> b->stepping & 1);
}

static gboolean
node_holds_of (const Cond *cond, int index, int release)
{
    const Node *node = &cond->nodes[index];
    if (node->kind == ATOM_RELEASE)
        return cmp_holds (node->cmp, release, node->value);
    g_assert (node->kind >= JOIN_AND);
    gboolean left = node_holds_of (cond, node->left, release), right = node_holds_of (cond, node->right, release);
    return node->kind == JOIN_AND ? left && right : node->kind == JOIN_OR ? left || right : left || !right;
}

gboolean
cond_holds_of (const Cond *cond, int release)
{
    g_assert (cond->count);
    return node_holds_of (cond, cond->count - 1, release);
}

/* LAW_SAME, LAW_MIXED and LAW_SAME_KINDS: every pair of a live part of `kind` and one of `other`. */
static gboolean
pairs_hold (const Play *play, const World *world, const Law *law)
{
    PieceKind second = law->form == LAW_SAME_KINDS ? law->other : law->kind;
    for (int i = 0; i < play->job->place_count; i++) {
        const Triple *a = live_in (play, world, i);
        if (!a || piece_of (play, a)->kind != law->kind)
            continue;
        for (int j = 0; j < play->job->place_count; j++) {
            const Triple *b = live_in (play, world, j);
            if (!b || i == j || piece_of (play, b)->kind != second)
                continue;
            if (!(law->form == LAW_MIXED ? may_run_mixed (play, a, b) : agree (play, law->attr, a, b)))
                return FALSE;
        }
    }
    return TRUE;
}

static gboolean
slots_agree (const Play *play, const World *world, const Law *law)
{
    for (int i = 0; i < play->job->place_count; i++) {
        const Place *place = &play->job->places[i];
        const Triple *held = held_in (play, world, i);
        if (!held || piece_of (play, held)->kind != law->kind)
            continue;
        int stated = law->attr == ATTR_SOCKET ? place->socket : place->memory_type;
        unsigned has = law->attr == ATTR_SOCKET ? piece_of (play, held)->sockets : piece_of (play, held)->memory_types;
        if (stated >= 0 && !(has >> stated & 1))
            return FALSE;
    }
    return TRUE;
}

static gboolean
populated_in_order (const Play *play, const World *world, PieceKind kind)
{
    gboolean gap = FALSE;
    for (int i = 0; i < play->job->place_count; i++) {
        if (play->job->places[i].gone || play->job->places[i].takes != kind)
            continue;
        if (world->held[i] && gap)
            return FALSE;
        gap = gap || !world->held[i];
    }
    return TRUE;
}

static gboolean
covers_hold (const Play *play, const World *world, const Law *law)
{
    for (int i = 0; i < play->job->place_count; i++) {
        const Place *place = &play->job->places[i];
        if (place->gone || place->over < 0 || place->takes != law->kind ||
            play->job->places[place->over].takes != law->other)
            continue;
        const Triple *under = live_in (play, world, place->over), *cover = live_in (play, world, i);
        if (under && (!cover || piece_of (play, cover)->rating < piece_of (play, under)->watts))
            return FALSE;
    }
    return TRUE;
}

static gboolean
board_has (const Job *job, PieceKind kind)
{
    for (int i = 0; i < job->place_count; i++)
        if (!job->places[i].gone && job->places[i].takes == kind)
            return TRUE;
    return FALSE;
}

static gboolean
sum_holds (const Play *play, const World *world, const Law *law)
{
    const Job *job = play->job;
    if (!board_has (job, PIECE_SUPPLY))
        return TRUE;
    int need = law->board_counts && job->board_watts > 0 ? job->board_watts : 0;
    int given = 0, largest = 0;
    for (int i = 0; i < job->place_count; i++) {
        const Triple *live = live_in (play, world, i);
        if (!live)
            continue;
        const Piece *piece = piece_of (play, live);
        if (piece->kind == PIECE_PROCESSOR || (piece->kind == PIECE_MEMORY && law->memory_counts && piece->watts >= 0))
            need += piece->watts;
        if (piece->kind == PIECE_SUPPLY) {
            given += piece->output;
            largest = MAX (largest, piece->output);
        }
    }
    if (law->large == LARGE_LOST || (law->large == LARGE_BY_SHOP && job->redundant))
        given -= largest;
    return need <= given;
}

static gboolean
some_holds (const Play *play, const World *world, PieceKind kind)
{
    Node node = { .kind = ATOM_KIND, .subject = (int) kind };
    return !board_has (play->job, kind) || some_part_answers (play, world, &node);
}

static gboolean
firmware_knows (const Firmware *firmware, int release, const Piece *piece, int stepping, gboolean failed)
{
    gboolean states_support = FALSE;
    for (int r = 0; r < firmware->count; r++) {
        const Edition *edition = &firmware->editions[r];
        if (edition->gone)
            continue;
        states_support = states_support || edition->states_starts;
        for (int g = 0; g < GENERATIONS; g++)
            states_support = states_support || edition->never[g];
    }
    return !states_support || (!failed && (firmware->editions[release].starts[piece->generation] >> stepping & 1));
}

static gboolean
knows_holds (const Play *play, const World *world, int at_case)
{
    for (int i = 0; i < play->job->place_count; i++) {
        const Triple *live = live_in (play, world, i);
        if (!live || piece_of (play, live)->kind != PIECE_PROCESSOR)
            continue;
        for (int c = 0; c < play->job->firmware_count; c++) {
            const Firmware *firmware = &play->job->firmware[c];
            if (!firmware->gone && !firmware_knows (firmware, world->release[at_case][c], piece_of (play, live),
                                                    live->stepping, world->failed >> c & 1))
                return FALSE;
        }
    }
    return TRUE;
}

static gboolean
own_holds (const Play *play, const World *world, int at_case)
{
    for (int i = 0; i < play->job->place_count; i++) {
        const Triple *live = live_in (play, world, i);
        if (live && !requires_and_conflicts (play, world, at_case, &piece_of (play, live)->requires,
                                             &piece_of (play, live)->conflicts))
            return FALSE;
    }
    return TRUE;
}

static gboolean
one_of_two_holds (const Play *play, const World *world, const Law *law)
{
    for (int i = 0; i < play->job->place_count; i++) {
        const Place *place = &play->job->places[i];
        if (place->gone || place->over < 0 || place->takes != law->kind ||
            play->job->places[place->over].takes != law->other)
            continue;
        if (!world->held[i] == !world->held[place->over])
            return FALSE;
    }
    return TRUE;
}

static gboolean
binds_hold (const Play *play, const World *world, const Law *law)
{
    Bound here = play->job->board_binds;
    for (int i = 0; i < play->job->place_count; i++) {
        const Triple *live = live_in (play, world, i);
        if (!live || piece_of (play, live)->kind != law->kind)
            continue;
        gboolean bad = law->lent ? here && live->keeper == LOAN && piece_of (play, live)->binds && !live->bound
                                 : live->bound && live->bound != here;
        if (bad)
            return FALSE;
    }
    return TRUE;
}

gboolean
law_holds (const Play *play, const World *world, int at_case, const Law *law)
{
    switch (law->form) {
    case LAW_SAME:
    case LAW_SAME_KINDS:
    case LAW_MIXED:
        return pairs_hold (play, world, law);
    case LAW_SAME_SLOT:
        return slots_agree (play, world, law);
    case LAW_BEFORE:
        return populated_in_order (play, world, law->kind);
    case LAW_COVER:
        return covers_hold (play, world, law);
    case LAW_SUM:
        return sum_holds (play, world, law);
    case LAW_SOME:
        return some_holds (play, world, law->kind);
    case LAW_WHEN:
        return (law->when.count && !cond_holds (play, world, at_case, &law->when)) ||
               requires_and_conflicts (play, world, at_case, &law->requires, &law->conflicts);
    case LAW_KNOWS:
        return knows_holds (play, world, at_case);
    case LAW_OWN:
        return own_holds (play, world, at_case);
    case LAW_ONE_OF:
        return one_of_two_holds (play, world, law);
    case LAW_BINDS:
        return binds_hold (play, world, law);
    }
    g_assert_not_reached ();
}
