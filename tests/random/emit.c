/* SPDX-License-Identifier: MIT */
/* Shop and want; whole cases; and answers in words. */
#include "emit.h"

const char *
file_kind_name (FileKind kind)
{
    static const char *const names[] = { "book.yaml", "rules.yaml", "shop.yaml", "unit.yaml", "want.yaml" };
    return names[kind];
}

static void
emit_stacks (GString *out, const Job *job, Keeper keeper)
{
    const char *comma = "";
    g_string_append_printf (out, "%s: [", keeper == LOAN ? "loaners" : "stock");
    for (int s = 0; s < job->stack_count; s++) {
        const Stack *stack = &job->stacks[s];
        if (stack->keeper != keeper)
            continue;
        g_string_append_printf (out, "%s{part: %s", comma, job->pieces[stack->piece].name);
        comma = ", ";
        if (bits_count (job->pieces[stack->piece].steppings) > 1)
            g_string_append_printf (out, ", stepping: %s", stepping_name (stack->stepping));
        if (stack->bound)
            g_string_append_printf (out, ", bound: %s", bound_name (stack->bound));
        g_string_append_printf (out, ", count: %d}", stack->count);
    }
    g_string_append (out, "]\n");
}

static void
emit_minutes (GString *out, const char *key, const int *tenths)
{
    g_string_append_printf (out, ", %s: {", key);
    for (int kind = 0; kind < PIECE_KINDS; kind++) {
        g_string_append_printf (out, "%s: ", piece_kind_name ((PieceKind) kind));
        emit_tenths (out, tenths[kind]);
        g_string_append (out, ", ");
    }
    g_string_append (out, "other: 3}");
}

static void
emit_shop (GString *out, const Job *job)
{
    g_string_append (out, "shop: random bench\nmethods: ");
    emit_bits (out, job->shop_ways, WAYS, way_name_at);
    g_string_append_c (out, '\n');
    emit_stacks (out, job, LOAN);
    emit_stacks (out, job, STOCK);
    g_string_append_printf (out, "allow-unverified-writes: %s\nrequire-recovery: %s\nredundant-supplies: %s\n",
                            job->unverified ? "yes" : "no", job->need_recovery ? "yes" : "no",
                            job->redundant ? "yes" : "no");
    g_string_append (out, "minutes: {opening: ");
    emit_tenths (out, job->opening_tenths);
    g_string_append (out, ", start: ");
    emit_tenths (out, job->start_tenths);
    emit_minutes (out, "remove", job->remove_tenths);
    emit_minutes (out, "fit", job->fit_tenths);
    g_string_append (out, "}\n");
}

static void
emit_ask (GString *out, const Job *job, int slot)
{
    const Ask *ask = &job->asks[slot];
    g_string_append_printf (out, "  %s: ", job->places[slot].name);
    if (ask->kind == ASK_EMPTY) {
        g_string_append (out, "empty\n");
        return;
    }
    if (ask->kind == ASK_MODEL && ask->stepping < 0) {
        g_string_append_printf (out, "%s\n", job->pieces[ask->piece].name);
        return;
    }
    static const char *const keys[] = { "watts", "rating", "watts", "output", "watts", "watts" };
    static const char *const cmps[] = { "", "<", "<=", "=", ">=", ">", "!=" };
    const char *comma = "{";
    if (ask->kind == ASK_MODEL) {
        g_string_append_printf (out, "%spart: %s", comma, job->pieces[ask->piece].name);
        comma = ", ";
    }
    if (ask->kind == ASK_LIKE && ask->generation >= 0) {
        g_string_append_printf (out, "%sgeneration: %s", comma, generation_name (ask->generation));
        comma = ", ";
    }
    if (ask->stepping >= 0) {
        g_string_append_printf (out, "%sstepping: %s", comma, stepping_name (ask->stepping));
        comma = ", ";
    }
    if (ask->kind == ASK_LIKE && ask->cmp == CMP_EQ)
        g_string_append_printf (out, "%s%s: %d", comma, keys[job->places[slot].takes], ask->number);
    else if (ask->kind == ASK_LIKE && ask->cmp != CMP_ANY)
        g_string_append_printf (out, "%s%s: \"%s %d\"", comma, keys[job->places[slot].takes], cmps[ask->cmp],
                                ask->number);
    g_string_append (out, "}\n");
}

static void
emit_keep (GString *out, const Job *job)
{
    const char *comma = "keep: [";
    for (int i = 0; i < job->place_count; i++) {
        if (job->places[i].gone || !job->keep_place[i])
            continue;
        g_string_append_printf (out, "%s%s", comma, job->places[i].name);
        comma = ", ";
    }
    for (int c = 0; c < job->firmware_count; c++) {
        if (job->firmware[c].gone || !job->keep_firmware[c])
            continue;
        g_string_append_printf (out, "%s%s", comma, firmware_name (job, c));
        comma = ", ";
    }
    g_string_append (out, comma[0] == ',' ? "]\n" : "");
}

static void
emit_want (GString *out, const Job *job)
{
    g_string_append (out, "want: random order\n");
    const char *head = "slots:\n";
    for (int i = 0; i < job->place_count; i++) {
        if (job->places[i].gone || job->asks[i].kind == ASK_NOTHING)
            continue;
        g_string_append (out, head);
        head = "";
        emit_ask (out, job, i);
    }
    head = "firmware:\n";
    for (int c = 0; c < job->firmware_count; c++) {
        if (job->firmware[c].gone || !job->ask_firmware[c].count)
            continue;
        g_autofree char *text = emit_cond (job, &job->ask_firmware[c]);
        g_string_append_printf (out, "%s  %s: \"%s\"\n", head, firmware_name (job, c), text);
        head = "";
    }
    emit_keep (out, job);
}

char *
emit_file (const Job *job, FileKind kind)
{
    static void (*const emitters[]) (GString *, const Job *) = { emit_book, emit_rules, emit_shop, emit_unit,
                                                                 emit_want };
    GString *out = g_string_new (NULL);
    emitters[kind](out, job);
    return g_string_free (out, FALSE);
}

char *
emit_expectation (const Answer *answer)
{
    GString *out = g_string_new (NULL);
    if (answer->kind != ANSWER_ROUTE)
        return g_string_free (g_string_assign (out, "claim no route"), FALSE);
    g_string_append_printf (out, "claim proved shortest, steps %d, insertions %d, minutes ", answer->counts.steps,
                            answer->counts.insertions);
    emit_tenths (out, answer->counts.tenths);
    return g_string_free (out, FALSE);
}

char *
emit_case (const Job *job, const Answer *answer, guint64 seed)
{
    g_autofree char *expectation = emit_expectation (answer);
    GString *out = g_string_new (NULL);
    g_string_append_printf (out,
                            "# expect: %s\n# source: exhaustive search (tests/random), seed %" G_GUINT64_FORMAT "\n",
                            expectation, seed);
    for (FileKind kind = FILE_BOOK; kind < FILE_COUNT; kind++) {
        g_autofree char *text = emit_file (job, kind);
        g_string_append_printf (out, "---\n%s", text);
    }
    return g_string_free (out, FALSE);
}

char *
emit_move (const Play *play, const Move *move)
{
    const Job *job = play->job;
    if (move->kind == MOVE_WRITE)
        return g_strdup_printf ("write %s %s by %s", firmware_name (job, move->component),
                                edition_name (&job->firmware[move->component], move->release),
                                way_name ((Way) move->way));
    const Triple *triple = &play->triples[move->triple];
    return g_strdup_printf ("%s %s: %s %s (%s%s%s)", move->kind == MOVE_FIT ? "fit" : "remove",
                            job->places[move->slot].name, job->pieces[triple->piece].name,
                            job->pieces[triple->piece].steppings ? stepping_name (triple->stepping) : "",
                            keeper_name (triple->keeper), triple->bound ? ", bound to " : "",
                            triple->bound ? bound_name (triple->bound) : "");
}
