/* SPDX-License-Identifier: MIT */
#include "facts_of_job.h"

/* As the files of a random job name them. */
static const char *const socket_names[] = { "S1840", "S1841" };
static const char *const memory_type_names[] = { "mk4", "mk5" };

/* The stepping of a piece as a term; none for a piece that has none. Transfer full. */
static char *
stepping_term (const Job *job, int piece, int stepping)
{
    return facts_name_or_none (job->pieces[piece].steppings ? stepping_name (stepping) : NULL);
}

/* ---- The board ---- */

static void
place_facts (Facts *facts, const Job *job, const Place *place, int position)
{
    facts_add (facts, "slot(\"%s\",\"%s\")", place->name, piece_kind_name (place->takes));
    facts_add (facts, "position(\"%s\",%d)", place->name, position);
    if (place->over >= 0)
        facts_add (facts, "over(\"%s\",\"%s\")", place->name, job->places[place->over].name);
    if (place->served_by >= 0)
        facts_add (facts, "served_by(\"%s\",\"%s\")", place->name, job->places[place->served_by].name);
    if (place->socket >= 0)
        facts_add (facts, "slot_says(\"%s\",\"socket\",\"%s\")", place->name, socket_names[place->socket ? 1 : 0]);
    if (place->memory_type >= 0)
        facts_add (facts, "slot_says(\"%s\",\"memory-type\",\"%s\")", place->name,
                   memory_type_names[place->memory_type ? 1 : 0]);
    if (place->rated)
        facts_add (facts, "slot_number(\"%s\",\"rated-insertions\",%d)", place->name, place->rated * 1000);
}

static void
board_facts (Facts *facts, const Job *job)
{
    int position = 0, set = 0;
    facts_add (facts, "board(\"finch-2s\")");
    facts_add (facts, "revision(\"r%d\")", job->revision + 1);
    if (job->board_watts >= 0)
        facts_add (facts, "board_number(\"watts\",%d)", job->board_watts * 1000);
    if (job->verified_boot)
        facts_add (facts, "verified_boot");
    if (job->board_binds)
        facts_add (facts, "board_binds(\"%s\")", bound_name (job->board_binds));
    for (int i = 0; i < job->place_count; i++)
        if (!job->places[i].gone)
            place_facts (facts, job, &job->places[i], position++);
    for (int g = 0; g < GENERATIONS; g++) {
        if (!job->mixed[g])
            continue;
        facts_add (facts, "states_mixed");
        for (int s = 0; s < STEPPINGS; s++)
            if (job->mixed[g] >> s & 1)
                facts_add (facts, "mixed(%d,\"%s\",\"%s\")", set, generation_name (g), stepping_name (s));
        set++;
    }
}

/* ---- Parts ---- */

static void
says_bits (Facts *facts, const Piece *piece, const char *attribute, unsigned bits, int count, const char *const *names)
{
    for (int i = 0; i < count; i++)
        if (bits >> i & 1)
            facts_add (facts, "part_says(\"%s\",\"%s\",\"%s\")", piece->name, attribute, names[i]);
}

static void
piece_facts (Facts *facts, const Job *job, int p)
{
    const Piece *piece = &job->pieces[p];
    g_autofree char *about = facts_name (piece->name);
    facts_add (facts, "part(%s,\"%s\")", about, piece_kind_name (piece->kind));
    if (piece->kind == PIECE_PROCESSOR)
        facts_add (facts, "part_says(%s,\"generation\",\"%s\")", about, generation_name (piece->generation));
    if (!piece->steppings)
        facts_add (facts, "stepping(%s,none)", about);
    for (int s = 0; s < STEPPINGS; s++)
        if (piece->steppings >> s & 1)
            facts_add (facts, "stepping(%s,\"%s\")", about, stepping_name (s));
    says_bits (facts, piece, "socket", piece->sockets, 2, socket_names);
    says_bits (facts, piece, "memory-type", piece->memory_types, 2, memory_type_names);
    if (piece->watts >= 0)
        facts_add (facts, "part_number(%s,\"watts\",%d)", about, piece->watts * 1000);
    if (piece->kind == PIECE_SINK)
        facts_add (facts, "part_number(%s,\"rating\",%d)", about, piece->rating * 1000);
    if (piece->kind == PIECE_SUPPLY)
        facts_add (facts, "part_number(%s,\"output\",%d)", about, piece->output * 1000);
    if (piece->binds)
        facts_add (facts, "binds_itself(%s)", about);
    facts_condition (facts, job, "part_requires", about, &piece->requires);
    facts_condition (facts, job, "part_conflicts", about, &piece->conflicts);
}

/* ---- Firmware ---- */

static void
supports (Facts *facts, const Job *job, const Edition *edition, const char *about)
{
    for (int g = 0; edition->states_starts && g < GENERATIONS; g++) {
        if (edition->starts[g] && edition->starts[g] == job->generation_steppings[g]) {
            facts_add (facts, "starts(%s,\"%s\",any)", about, generation_name (g));
            continue;
        }
        for (int s = 0; s < STEPPINGS; s++)
            if (edition->starts[g] >> s & 1)
                facts_add (facts, "starts(%s,\"%s\",\"%s\")", about, generation_name (g), stepping_name (s));
    }
}

static void
edition_conditions (Facts *facts, const Job *job, const Edition *edition, const char *about)
{
    facts_condition (facts, job, "from", about, &edition->from);
    facts_condition (facts, job, "to_write_requires", about, &edition->write_requires);
    facts_condition (facts, job, "to_write_conflicts", about, &edition->write_conflicts);
    facts_condition (facts, job, "running_requires", about, &edition->run_requires);
    facts_condition (facts, job, "running_conflicts", about, &edition->run_conflicts);
}

/* `number`: its place among the releases that are left, from 1. */
static void
edition_facts (Facts *facts, const Job *job, int c, int r, int number)
{
    const Firmware *firmware = &job->firmware[c];
    const Edition *edition = &firmware->editions[r];
    g_autofree char *about = g_strdup_printf ("\"%s\",\"%s\"", firmware_name (job, c), edition_name (firmware, r));
    facts_add (facts, "release(%s,%d)", about, number);
    for (Way way = WAY_HOST; way < WAYS; way++)
        if (firmware->ways[way].there && edition->ways >> way & 1)
            facts_add (facts, "may_write(%s,%s)", about, way_name (way));
    if (edition->withdrawn)
        facts_add (facts, "withdrawn(%s)", about);
    if (edition->lowest >= 0)
        facts_add (facts, "lowest(%s,\"%s\")", about, edition_name (firmware, edition->lowest));
    if (edition->also >= 0)
        facts_add (facts, "also_writes(%s,\"%s\",\"%s\")", about, firmware_name (job, edition->also),
                   edition_name (&job->firmware[edition->also], edition->also_release));
    for (int t = 0; t < TABLES; t++)
        if (edition->tables[t])
            facts_add (facts, "release_provides(%s,\"table-%d\",\"%d\")", about, t + 1, edition->tables[t]);
    /* Support is stated by either list, however empty (docs/files.md, "Book"). */
    if (edition->states_starts || edition->never[0] || edition->never[1] || edition->never[2])
        facts_add (facts, "states_support(\"%s\")", firmware_name (job, c));
    supports (facts, job, edition, about);
    edition_conditions (facts, job, edition, about);
    if (job->may_be[c] >> r & 1)
        facts_add (facts, "may_be(%s)", about);
}

static void
way_facts (Facts *facts, const Job *job, int c, Way way)
{
    static const char *const host_words[] = { "off", "on", "either" };
    const WayEntry *entry = &job->firmware[c].ways[way];
    g_autofree char *about = g_strdup_printf ("\"%s\",%s", firmware_name (job, c), way_name (way));
    if (job->firmware[c].recovery >> way & 1)
        facts_add (facts, "recovery(%s)", about);
    if (!entry->there)
        return;
    facts_add (facts, "method(%s,%d)", about, entry->tenths);
    if (way == WAY_HOST && entry->next_start)
        facts_add (facts, "next_start(\"%s\")", firmware_name (job, c));
    if (way == WAY_CONTROLLER)
        facts_add (facts, "host_power(\"%s\",%s)", firmware_name (job, c), host_words[entry->host]);
    if (entry->recovery_only)
        facts_add (facts, "recovery_only(%s)", about);
    gboolean picks = way != WAY_HOST && way != WAY_CONTROLLER;
    if (picks && entry->obeys_from)
        facts_add (facts, "obeys(%s,from)", about);
    if (picks && entry->obeys_to_write)
        facts_add (facts, "obeys(%s,to_write)", about);
    if (picks && entry->obeys_floor)
        facts_add (facts, "obeys(%s,floor)", about);
    facts_condition (facts, job, "method_requires", about, &entry->requires);
}

static void
firmware_facts (Facts *facts, const Job *job)
{
    int position = 0;
    for (int c = 0; c < job->firmware_count; c++) {
        const Firmware *firmware = &job->firmware[c];
        int number = 0;
        if (firmware->gone)
            continue;
        facts_add (facts, "component(\"%s\",%d)", firmware_name (job, c), ++position);
        if (firmware->spare >= 0)
            facts_add (facts, "spare(\"%s\",\"%s\")", firmware_name (job, c), firmware_name (job, firmware->spare));
        if (job->failed[c])
            facts_add (facts, "failed(\"%s\")", firmware_name (job, c));
        for (Way way = WAY_HOST; way < WAYS; way++)
            way_facts (facts, job, c, way);
        for (int r = 0; r < firmware->count; r++)
            if (!firmware->editions[r].gone)
                edition_facts (facts, job, c, r, ++number);
        if (job->floor[c] >= 0)
            facts_add (facts, "floor_given(\"%s\",\"%s\")", firmware_name (job, c),
                       edition_name (firmware, job->floor[c]));
    }
}

/* ---- Unit, shop and want ---- */

/* What a slot holds, as the arguments of a fact. Transfer full. */
static char *
fit_term (const Job *job, const Fit *fit)
{
    g_autofree char *stepping = stepping_term (job, fit->piece, fit->stepping);
    g_autofree char *bound = facts_name_or_none (bound_name (fit->bound));
    return g_strdup_printf ("\"%s\",%s,%s,%s", job->pieces[fit->piece].name, stepping, keeper_name (fit->keeper),
                            bound);
}

static void
pulled_facts (Facts *facts, const Job *job)
{
    for (int p = 0; p < job->pulled_count; p++) {
        const Fit *pulled = &job->pulled[p];
        int count = 0;
        for (int other = 0; other < job->pulled_count; other++) {
            const Fit *like = &job->pulled[other];
            count += like->piece == pulled->piece && like->stepping == pulled->stepping && like->bound == pulled->bound;
        }
        g_autofree char *stepping = stepping_term (job, pulled->piece, pulled->stepping);
        g_autofree char *bound = facts_name_or_none (bound_name (pulled->bound));
        facts_add (facts, "pulled(\"%s\",%s,%s,%d)", job->pieces[pulled->piece].name, stepping, bound, count);
    }
}

static void
unit_facts (Facts *facts, const Job *job)
{
    for (int i = 0; i < job->place_count; i++) {
        const Fit *fit = &job->fits[i], *began = job_began (job, i);
        if (job->places[i].gone)
            continue;
        g_autofree char *held = fit->piece >= 0 ? fit_term (job, fit) : NULL;
        g_autofree char *had = began->piece >= 0 ? fit_term (job, began) : NULL;
        if (held)
            facts_add (facts, "fitted(\"%s\",%s)", job->places[i].name, held);
        facts_add (facts, had ? "began(\"%s\",(%s))" : "began(\"%s\",%s)", job->places[i].name, had ? had : "empty");
        if (job->insertions[i])
            facts_add (facts, "had(\"%s\",%d)", job->places[i].name, job->insertions[i]);
    }
    pulled_facts (facts, job);
}

static void
shop_facts (Facts *facts, const Job *job)
{
    for (Way way = WAY_HOST; way < WAYS; way++)
        if (job->shop_ways >> way & 1)
            facts_add (facts, "shop_method(%s)", way_name (way));
    for (int s = 0; s < job->stack_count; s++) {
        const Stack *stack = &job->stacks[s];
        g_autofree char *stepping = stepping_term (job, stack->piece, stack->stepping);
        g_autofree char *bound = facts_name_or_none (bound_name (stack->bound));
        facts_add (facts, "lot(%s,\"%s\",%s,%s,%d)", keeper_name (stack->keeper), job->pieces[stack->piece].name,
                   stepping, bound, stack->count);
    }
    if (job->unverified)
        facts_add (facts, "unverified");
    if (job->need_recovery)
        facts_add (facts, "need_recovery");
    if (job->redundant)
        facts_add (facts, "redundant");
    facts_add (facts, "opening_tenths(%d)", job->opening_tenths);
    facts_add (facts, "start_tenths(%d)", job->start_tenths);
    for (int i = 0; i < job->place_count; i++) {
        PieceKind kind = job->places[i].takes;
        if (job->places[i].gone)
            continue;
        facts_add (facts, "remove_tenths(\"%s\",%d)", piece_kind_name (kind), job->remove_tenths[kind]);
        facts_add (facts, "fit_tenths(\"%s\",%d)", piece_kind_name (kind), job->fit_tenths[kind]);
    }
}

/* "any part that is so": all that is asked holds; a number that is not stated answers no comparison. */
static gboolean
is_so (const Ask *ask, const Piece *piece, int stepping)
{
    int number = piece->kind == PIECE_SINK ? piece->rating : piece->kind == PIECE_SUPPLY ? piece->output : piece->watts;
    if (ask->stepping >= 0 && (!piece->steppings || stepping != ask->stepping))
        return FALSE;
    if (ask->kind == ASK_MODEL)
        return TRUE; /* its model is the caller's to compare */
    if (ask->generation >= 0 && (piece->kind != PIECE_PROCESSOR || piece->generation != ask->generation))
        return FALSE;
    return ask->cmp == CMP_ANY || (number >= 0 && cmp_holds (ask->cmp, number, ask->number));
}

static void
ask_facts (Facts *facts, const Job *job, int i)
{
    const Place *place = &job->places[i];
    const Ask *ask = &job->asks[i];
    facts_add (facts, "asks(\"%s\")", place->name);
    if (ask->kind == ASK_EMPTY) {
        facts_add (facts, "suits(\"%s\",empty)", place->name);
        return;
    }
    for (int p = 0; p < job->piece_count; p++) {
        const Piece *piece = &job->pieces[p];
        if (piece->gone || piece->kind != place->takes || (ask->kind == ASK_MODEL && p != ask->piece))
            continue;
        for (int s = 0; s < STEPPINGS; s++) {
            g_autofree char *stepping = stepping_term (job, p, s);
            if ((piece->steppings ? piece->steppings >> s & 1 : s == 0) && is_so (ask, piece, s))
                facts_add (facts, "suits(\"%s\",\"%s\",%s)", place->name, piece->name, stepping);
        }
    }
}

static void
want_facts (Facts *facts, const Job *job)
{
    for (int i = 0; i < job->place_count; i++) {
        if (job->places[i].gone)
            continue;
        if (job->asks[i].kind != ASK_NOTHING)
            ask_facts (facts, job, i);
        if (job->keep_place[i])
            facts_add (facts, "keep_slot(\"%s\")", job->places[i].name);
    }
    for (int c = 0; c < job->firmware_count; c++) {
        g_autofree char *about = facts_name (firmware_name (job, c));
        if (job->firmware[c].gone)
            continue;
        facts_condition (facts, job, "want_firmware", about, &job->ask_firmware[c]);
        if (job->keep_firmware[c])
            facts_add (facts, "keep_component(%s)", about);
    }
}

char *
facts_of_job (const Job *job)
{
    g_autoptr (GPtrArray) facts = facts_new ();
    board_facts (facts, job);
    for (int p = 0; p < job->piece_count; p++)
        if (!job->pieces[p].gone)
            piece_facts (facts, job, p);
    firmware_facts (facts, job);
    facts_of_laws (facts, job);
    unit_facts (facts, job);
    shop_facts (facts, job);
    want_facts (facts, job);
    return facts_to_text (facts);
}
