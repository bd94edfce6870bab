/* SPDX-License-Identifier: MIT */
/* Rules. */
#include "emit.h"

static const char *
attr_name (Attr attr)
{
    static const char *const names[] = { "model", "generation", "socket", "memory-type" };
    return names[attr];
}

static void
emit_breaking (GString *out, const Law *law)
{
    static const char *const breaking[] = { "stops", "harms", "warns", "bars" };
    g_string_append_printf (out, "    breaking: %s\n", breaking[law->breaking]);
    if (law->breaking == BREAK_HARMS)
        g_string_append_printf (out, "    while: %s\n",
                                law->powers == WHILE_ON        ? "on"
                                : law->powers == WHILE_STANDBY ? "standby"
                                                               : "[on, standby]");
    if (law->breaking == BREAK_BARS) {
        g_string_append (out, "    methods: ");
        emit_bits (out, law->ways, WAYS, way_name_at);
        g_string_append_c (out, '\n');
    }
}

static void
emit_sum (GString *out, const Law *law)
{
    static const char *const large[] = { "kept", "lost", "by-shop" };
    g_string_append (out, "    sum: watts\n    of: [processor]\n");
    if (law->memory_counts || law->board_counts)
        g_string_append_printf (out, "    if-stated: [%s%s%s]\n", law->memory_counts ? "memory" : "",
                                law->memory_counts && law->board_counts ? ", " : "", law->board_counts ? "board" : "");
    g_string_append_printf (out, "    within: output\n    from: supply\n    largest: %s\n", large[law->large]);
}

static void
emit_when (GString *out, const Job *job, const Law *law)
{
    const Cond *conds[] = { &law->when, &law->requires, &law->conflicts };
    static const char *const keys[] = { "when", "requires", "conflicts" };
    for (int i = 0; i < 3; i++) {
        if (!conds[i]->count)
            continue;
        g_autofree char *text = emit_cond (job, conds[i]);
        g_string_append_printf (out, "    %s: \"%s\"\n", keys[i], text);
    }
}

static void
emit_form (GString *out, const Job *job, const Law *law)
{
    const char *kind = piece_kind_name (law->kind), *other = piece_kind_name (law->other);
    switch (law->form) {
    case LAW_SAME:
        g_string_append_printf (out, "    same: %s\n    of: %s\n", attr_name (law->attr), kind);
        return;
    case LAW_SAME_SLOT:
        g_string_append_printf (out, "    same: %s\n    of: %s\n    with: slot\n", attr_name (law->attr), kind);
        return;
    case LAW_SAME_KINDS:
        g_string_append_printf (out, "    same: %s\n    of: %s\n    with: %s\n", attr_name (law->attr), kind, other);
        return;
    case LAW_MIXED:
        g_string_append_printf (out, "    same: stepping\n    of: %s\n    unless: mixed-steppings\n", kind);
        return;
    case LAW_BEFORE:
        g_string_append_printf (out, "    before: %s\n", kind);
        return;
    case LAW_COVER:
        g_string_append_printf (out, "    at-least: rating\n    of: %s\n    covers: watts\n    under: %s\n", kind,
                                other);
        return;
    case LAW_SUM:
        emit_sum (out, law);
        return;
    case LAW_SOME:
        g_string_append_printf (out, "    some: %s\n", kind);
        return;
    case LAW_WHEN:
        emit_when (out, job, law);
        return;
    case LAW_KNOWS:
        g_string_append_printf (out, "    knows: %s\n", kind);
        return;
    case LAW_OWN:
        g_string_append (out, "    own: part\n");
        return;
    case LAW_ONE_OF:
        g_string_append_printf (out, "    one-of: %s\n    with: %s\n", kind, other);
        return;
    case LAW_BINDS:
        g_string_append_printf (out, "    binds: %s\n    whose: %s\n", kind, law->lent ? "lent" : "elsewhere");
        return;
    }
}

void
emit_rules (GString *out, const Job *job)
{
    if (!job->law_count) {
        g_string_append (out, "rules: []\n");
        return;
    }
    g_string_append (out, "rules:\n");
    for (int l = 0; l < job->law_count; l++) {
        g_string_append_printf (
            out, "  - rule: rule-%d\n    says: \"Rule %d holds.\"\n    source: common practice, no source\n", l + 1,
            l + 1);
        emit_breaking (out, &job->laws[l]);
        emit_form (out, job, &job->laws[l]);
    }
}
