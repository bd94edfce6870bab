/* SPDX-License-Identifier: MIT */
/* Random rules, shops, units and wants. */
#include "generate.h"

Law *
generate_law (Job *job, LawForm form, Break breaking)
{
    g_assert (job->law_count < MAX_LAWS);
    Law *law = &job->laws[job->law_count++];
    *law = (Law){ .form = form, .breaking = breaking };
    law->powers = breaking == BREAK_HARMS ? WHILE_ON : 0;
    return law;
}

void
generate_other_breaking (Dice *dice, Law *law)
{
    law->breaking = (Break) dice_below (dice, 4);
    law->powers = law->breaking == BREAK_HARMS ? (unsigned) dice_between (dice, 1, 3) : 0;
    law->ways = law->breaking == BREAK_BARS ? (unsigned) dice_between (dice, 1, ALL_WAYS) : 0;
}

/* Mostly as a shop would have it; now and then broken in another way. */
static void
vary (Dice *dice, Law *law)
{
    if (!dice_percent (dice, 70))
        generate_other_breaking (dice, law);
}

static int
count_takes (const Job *job, PieceKind kind)
{
    int count = 0;
    for (int i = 0; i < job->place_count; i++)
        count += job->places[i].takes == kind;
    return count;
}

static void
add_processor_laws (Dice *dice, Job *job)
{
    gboolean two = count_takes (job, PIECE_PROCESSOR) > 1;
    if (dice_percent (dice, 92))
        generate_law (job, LAW_SOME, BREAK_STOPS)->kind = PIECE_PROCESSOR;
    if (dice_percent (dice, 92))
        generate_law (job, LAW_KNOWS, BREAK_STOPS)->kind = PIECE_PROCESSOR;
    if (dice_percent (dice, two ? 65 : 10)) {
        Law *law = generate_law (job, LAW_SAME, BREAK_STOPS);
        law->kind = PIECE_PROCESSOR;
        law->attr = dice_percent (dice, 70) ? ATTR_MODEL : ATTR_GENERATION;
        vary (dice, law);
    }
    if (dice_percent (dice, two ? 50 : 10)) {
        Law *law = generate_law (job, LAW_BEFORE, BREAK_STOPS);
        law->kind = PIECE_PROCESSOR;
        vary (dice, law);
    }
    if (dice_percent (dice, 60)) {
        Law *law = generate_law (job, LAW_SAME_SLOT, dice_percent (dice, 50) ? BREAK_STOPS : BREAK_HARMS);
        law->kind = PIECE_PROCESSOR;
        law->attr = ATTR_SOCKET;
    }
    gboolean sets = job->mixed[0] || job->mixed[1] || job->mixed[2];
    if (dice_percent (dice, sets ? 80 : 10))
        generate_law (job, LAW_MIXED, BREAK_STOPS)->kind = PIECE_PROCESSOR;
}

static void
add_memory_laws (Dice *dice, Job *job)
{
    if (dice_percent (dice, 70))
        generate_law (job, LAW_SOME, BREAK_STOPS)->kind = PIECE_MEMORY;
    if (dice_percent (dice, 40)) {
        Law *law = generate_law (job, LAW_SAME_KINDS, BREAK_STOPS);
        law->kind = PIECE_MEMORY;
        law->other = PIECE_PROCESSOR;
        law->attr = ATTR_MEMORY_TYPE;
        vary (dice, law);
    }
    if (dice_percent (dice, 40)) {
        Law *law = generate_law (job, dice_percent (dice, 50) ? LAW_SAME_SLOT : LAW_SAME, BREAK_STOPS);
        law->kind = PIECE_MEMORY;
        law->attr = ATTR_MEMORY_TYPE;
        vary (dice, law);
    }
}

static void
add_other_laws (Dice *dice, Job *job)
{
    if (count_takes (job, PIECE_SINK) && dice_percent (dice, 85)) {
        Law *law = generate_law (job, LAW_COVER, BREAK_HARMS);
        law->kind = PIECE_SINK;
        law->other = PIECE_PROCESSOR;
        vary (dice, law);
    }
    if (count_takes (job, PIECE_SUPPLY) && dice_percent (dice, 90)) {
        Law *law = generate_law (job, LAW_SUM, BREAK_STOPS);
        law->memory_counts = dice_percent (dice, 60);
        law->board_counts = dice_percent (dice, 60);
        law->large = (Large) dice_below (dice, 3);
        vary (dice, law);
    }
    if (count_takes (job, PIECE_SUPPLY) && dice_percent (dice, 50)) {
        Law *law = generate_law (job, LAW_SOME, BREAK_HARMS);
        law->kind = PIECE_SUPPLY;
        law->powers = WHILE_ON | WHILE_STANDBY;
    }
    if (count_takes (job, PIECE_MEDIUM) && dice_percent (dice, 80)) {
        Law *law = generate_law (job, LAW_SOME, BREAK_BARS);
        law->kind = PIECE_MEDIUM;
        law->ways = 1u << WAY_HOST;
    }
}

/* A rule of the form `when`, of any breaking. */
static void
add_when_law (Dice *dice, Job *job)
{
    Law *law = generate_law (job, LAW_WHEN, (Break) dice_below (dice, 4));
    law->powers = law->breaking == BREAK_HARMS ? (unsigned) dice_between (dice, 1, 3) : 0;
    law->ways = law->breaking == BREAK_BARS ? (unsigned) dice_between (dice, 1, ALL_WAYS) : 0;
    law->when = generate_requires (dice, job, -1);
    if (dice_percent (dice, 60))
    law->requires = generate_requires (dice, job, -1);
    else law->conflicts = generate_conflicts (dice, job, -1);
}

void
generate_laws (Dice *dice, Job *job)
{
    add_processor_laws (dice, job);
    if (count_takes (job, PIECE_MEMORY))
        add_memory_laws (dice, job);
    add_other_laws (dice, job);
    feature_laws (dice, job);
    if (dice_percent (dice, 75))
        generate_law (job, LAW_OWN, dice_percent (dice, 70) ? BREAK_STOPS : BREAK_HARMS);
    if (dice_percent (dice, 20))
        add_when_law (dice, job);
    for (int i = job->law_count - 1; i > 0; i--) {
        int other = dice_below (dice, i + 1);
        Law law = job->laws[i];
        job->laws[i] = job->laws[other];
        job->laws[other] = law;
    }
}

static void
add_stack (Dice *dice, Job *job, int piece, Keeper keeper, int count)
{
    if (piece < 0 || job->stack_count == MAX_LOTS)
        return;
    int stepping = pick_stepping (dice, &job->pieces[piece]);
    Bound bound = feature_bound (dice, job, piece);
    for (int s = 0; s < job->stack_count; s++) {
        const Stack *has = &job->stacks[s];
        if (has->piece == piece && has->stepping == stepping && has->keeper == keeper && has->bound == bound)
            return;
    }
    job->stacks[job->stack_count++] = (Stack){ piece, stepping, keeper, bound, count };
}

void
generate_shop (Dice *dice, Job *job)
{
    job->shop_ways = dice_percent (dice, 70) ? (unsigned) ALL_WAYS : (unsigned) dice_between (dice, 1, ALL_WAYS);
    job->unverified = dice_percent (dice, 20);
    job->need_recovery = dice_percent (dice, 20);
    job->redundant = dice_percent (dice, 20);
    job->opening_tenths = generate_tenths (dice, 0, 60);
    job->start_tenths = generate_tenths (dice, 0, 50);
    for (int kind = 0; kind < PIECE_KINDS; kind++) {
        job->remove_tenths[kind] = generate_tenths (dice, 10, 30);
        job->fit_tenths[kind] = generate_tenths (dice, 10, 40);
    }
    int sockets = count_takes (job, PIECE_PROCESSOR);
    for (int p = 0; p < job->piece_count; p++) {
        PieceKind kind = job->pieces[p].kind;
        gboolean processor = kind == PIECE_PROCESSOR;
        gboolean old = processor && job->pieces[p].generation == 0;
        if (dice_percent (dice, old ? 60 : processor ? 12 : 15))
            add_stack (dice, job, p, LOAN, dice_between (dice, 1, 2));
        if (dice_percent (dice, old && !job->board_binds ? 10 : 45))
            add_stack (dice, job, p, STOCK, dice_between (dice, 1, processor ? sockets : 2));
    }
}

/* The part that the order is about: of the newest generation, mostly. */
static int
sold_piece (Dice *dice, const Job *job)
{
    int newest = 0;
    for (int p = 0; p < job->piece_count; p++)
        if (job->pieces[p].kind == PIECE_PROCESSOR)
            newest = p;
    return dice_percent (dice, 85) ? newest : pick_piece (dice, job, PIECE_PROCESSOR);
}

static void
fit_random (Dice *dice, Job *job, int slot, int piece)
{
    job->fits[slot].piece = piece;
    job->fits[slot].stepping = piece >= 0 ? pick_stepping (dice, &job->pieces[piece]) : 0;
    job->fits[slot].bound = feature_bound (dice, job, piece);
}

static void
tell_releases (Dice *dice, Job *job, int component)
{
    int count = job->firmware[component].count;
    int low = dice_below (dice, count), wide = dice_between (dice, 1, 2);
    int high = MIN (count - 1, low + wide);
    job->may_be[component] = 0;
    for (int r = low; r <= high; r++)
        job->may_be[component] |= 1u << r;
    job->told[component] = (Told) dice_between (dice, TOLD_RANGE, TOLD_LIST);
    if (dice_percent (dice, 35)) {
        job->told[component] = TOLD_UNKNOWN;
        job->may_be[component] = (1u << count) - 1;
    }
}

void
generate_unit (Dice *dice, Job *job)
{
    for (int c = 0; c < job->firmware_count; c++) {
        int count = job->firmware[c].count;
        int release = dice_percent (dice, 75) ? dice_below (dice, (count + 1) / 2) : dice_below (dice, count);
        job->may_be[c] = 1u << release;
        job->told[c] = TOLD_KNOWN;
        job->floor[c] = dice_percent (dice, 15) ? dice_below (dice, release + 1) : -1;
    }
    if (dice_percent (dice, 17)) {
        tell_releases (dice, job, dice_below (dice, job->firmware_count));
        if (dice_percent (dice, 25))
            tell_releases (dice, job, dice_below (dice, job->firmware_count));
    }
    int sold = sold_piece (dice, job), old = 0, story = dice_below (dice, 100);
    for (int i = 0; i < job->place_count; i++) {
        PieceKind kind = job->places[i].takes;
        int piece = pick_piece (dice, job, kind);
        if (kind == PIECE_PROCESSOR)
            piece = story < 50 ? sold : story < 85 ? old : piece;
        fit_random (dice, job, i, dice_percent (dice, kind == PIECE_PROCESSOR ? 90 : 80) ? piece : -1);
        if (kind == PIECE_PROCESSOR && i > 0 && piece == job->fits[0].piece && dice_percent (dice, 80))
            job->fits[i] = job->fits[0];
    }
    feature_unit (dice, job);
}

static void
ask_like (Dice *dice, Job *job, int slot, int piece)
{
    Ask *ask = &job->asks[slot];
    const Piece *like = &job->pieces[piece];
    ask->kind = ASK_LIKE;
    if (like->kind == PIECE_PROCESSOR && dice_percent (dice, 80))
        ask->generation = like->generation;
    if (like->kind == PIECE_PROCESSOR && dice_percent (dice, 20))
        ask->stepping = pick_stepping (dice, like);
    int number = like->kind == PIECE_SINK ? like->rating : like->kind == PIECE_SUPPLY ? like->output : like->watts;
    if (number >= 0 && (ask->generation < 0 || dice_percent (dice, 30))) {
        static const Cmp cmps[] = { CMP_GE, CMP_LE, CMP_EQ };
        ask->cmp = cmps[dice_below (dice, G_N_ELEMENTS (cmps))];
        ask->number = number;
    }
    if (ask->generation < 0 && ask->stepping < 0 && ask->cmp == CMP_ANY) {
        ask->kind = ASK_MODEL;
        ask->piece = piece;
    }
}

static void
ask_slot (Dice *dice, Job *job, int slot, int piece)
{
    Ask *ask = &job->asks[slot];
    if (piece < 0)
        return;
    if (dice_percent (dice, 30)) {
        ask_like (dice, job, slot, piece);
        return;
    }
    ask->kind = ASK_MODEL;
    ask->piece = piece;
    if (job->pieces[piece].steppings && dice_percent (dice, 25))
        ask->stepping = pick_stepping (dice, &job->pieces[piece]);
}

static void
ask_firmware (Dice *dice, Job *job, int component)
{
    int last = job->firmware[component].count - 1;
    Cond low = cond_atom (ATOM_RELEASE, component, CMP_GE, dice_between (dice, last / 2, last));
    Cond high = cond_atom (ATOM_RELEASE, component, CMP_LE, dice_between (dice, low.nodes[0].value, last));
    if (dice_percent (dice, 25))
        low.nodes[0].cmp = CMP_EQ;
    job->ask_firmware[component] = dice_percent (dice, 20) ? cond_join (JOIN_AND, &low, &high) : low;
}

void
generate_want (Dice *dice, Job *job)
{
    int sold = sold_piece (dice, job);
    gboolean hardware = dice_percent (dice, 85);
    for (int i = 0; i < job->place_count; i++) {
        job->asks[i] = (Ask){ .kind = ASK_NOTHING, .piece = -1, .stepping = -1, .generation = -1 };
        PieceKind kind = job->places[i].takes;
        if (kind == PIECE_PROCESSOR && hardware && dice_percent (dice, 88))
            ask_slot (dice, job, i, sold);
        else if (dice_percent (dice, 5))
            job->asks[i].kind = ASK_EMPTY;
        else if (dice_percent (dice, 8))
            ask_slot (dice, job, i, pick_piece (dice, job, kind));
        else if (job->asks[i].kind == ASK_NOTHING)
            job->keep_place[i] = dice_percent (dice, 6);
    }
    for (int c = 0; c < job->firmware_count; c++) {
        if (dice_percent (dice, job->firmware[c].spare_of >= 0 ? 12 : hardware ? 30 : 60))
            ask_firmware (dice, job, c);
        else
            job->keep_firmware[c] = dice_percent (dice, 5);
    }
    feature_want (dice, job);
}
