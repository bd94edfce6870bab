/* SPDX-License-Identifier: MIT */
/* Conditions and rules of the model. */
#include "facts_of_job.h"

#include <stdio.h>

/* ---- Conditions ---- */

typedef struct {
    Facts *facts;
    const Job *job;
    char *term; /* owned: the comparison that is answered */
    Cmp cmp;
    int value;
} Comparison;

static void
answer (const Comparison *asked, int have, const char *version)
{
    if (cmp_holds (asked->cmp, have, asked->value))
        facts_add (asked->facts, "answers(%s,\"%s\")", asked->term, version);
}

static void
answer_steppings (const Comparison *asked, unsigned steppings)
{
    for (int s = 0; s < STEPPINGS; s++)
        if (steppings >> s & 1)
            answer (asked, s, stepping_name (s));
}

static void
answer_tables (const Comparison *asked, int table)
{
    for (int c = 0; c < asked->job->firmware_count; c++) {
        const Firmware *firmware = &asked->job->firmware[c];
        for (int r = 0; !firmware->gone && r < firmware->count; r++) {
            int version = firmware->editions[r].gone ? 0 : firmware->editions[r].tables[table];
            char text[16];
            snprintf (text, sizeof text, "%d", version);
            if (version)
                answer (asked, version, text);
        }
    }
}

static const char *
revision_name (int revision)
{
    static const char *const names[REVISIONS] = { "r1", "r2", "r3" };
    return names[revision];
}

/* The name that an atom is about, as a term, and the version that it compares with, if any. */
static char *
atom_name (const Job *job, const Node *node, const char **version, char *table_version, gsize size)
{
    *version = stepping_name (CLAMP (node->value, 0, STEPPINGS - 1));
    switch (node->kind) {
    case ATOM_RELEASE:
        *version = edition_name (&job->firmware[node->subject], node->value);
        return facts_name (firmware_name (job, node->subject));
    case ATOM_MODEL:
        return facts_name (job->pieces[node->subject].name);
    case ATOM_GENERATION:
        return g_strdup_printf ("(\"generation\",\"%s\")", generation_name (node->subject));
    case ATOM_REVISION:
        *version = revision_name (node->value);
        return g_strdup ("(\"board\",\"finch-2s\")");
    case ATOM_TABLE:
        g_snprintf (table_version, size, "%d", node->value);
        *version = table_version;
        return g_strdup_printf ("\"table-%d\"", node->subject + 1);
    case ATOM_KIND:
        return facts_name (piece_kind_name ((PieceKind) node->subject));
    default:
        return facts_name (job->places[node->subject].name);
    }
}

static void
answer_all (const Comparison *asked, const Node *node)
{
    const Job *job = asked->job;
    if (node->kind == ATOM_RELEASE) {
        const Firmware *firmware = &job->firmware[node->subject];
        for (int r = 0; r < firmware->count; r++)
            if (!firmware->editions[r].gone)
                answer (asked, r, edition_name (firmware, r));
    } else if (node->kind == ATOM_MODEL) {
        answer_steppings (asked, job->pieces[node->subject].steppings);
    } else if (node->kind == ATOM_GENERATION) {
        for (int p = 0; p < job->piece_count; p++)
            if (!job->pieces[p].gone && job->pieces[p].kind == PIECE_PROCESSOR &&
                job->pieces[p].generation == node->subject)
                answer_steppings (asked, job->pieces[p].steppings);
    } else if (node->kind == ATOM_REVISION) {
        answer (asked, job->revision, revision_name (job->revision));
    } else if (node->kind == ATOM_TABLE) {
        answer_tables (asked, node->subject);
    }
}

static char *
atom_term (Facts *facts, const Job *job, const Node *node)
{
    static const char *const ops[] = { "", "lt", "le", "eq", "ge", "gt", "ne" };
    const char *version = NULL;
    char table_version[16];
    g_autofree char *name = atom_name (job, node, &version, table_version, sizeof table_version);
    if (node->cmp == CMP_ANY)
        return g_strdup_printf ("atom(%s)", name);
    Comparison asked = { .facts = facts, .job = job, .cmp = node->cmp, .value = node->value };
    asked.term = g_strdup_printf ("atom(%s,%s,\"%s\")", name, ops[node->cmp], version);
    answer_all (&asked, node);
    return asked.term;
}

static char *
node_term (Facts *facts, const Job *job, const Cond *cond, int index)
{
    const Node *node = &cond->nodes[index];
    if (node->kind < JOIN_AND)
        return atom_term (facts, job, node);
    g_autofree char *left = node_term (facts, job, cond, node->left);
    g_autofree char *right = node_term (facts, job, cond, node->right);
    return g_strdup_printf ("%s(%s,%s)",
                            node->kind == JOIN_AND  ? "and"
                            : node->kind == JOIN_OR ? "or"
                                                    : "if",
                            left, right);
}

void
facts_condition (Facts *facts, const Job *job, const char *fact, const char *about, const Cond *cond)
{
    if (!cond->count)
        return;
    g_autofree char *term = node_term (facts, job, cond, cond->count - 1);
    facts_add (facts, "%s(%s,%s)", fact, about, term);
}

/* ---- Rules ---- */

static void
breaking (Facts *facts, const Law *law, const char *id)
{
    static const char *const words[] = { "stops", "harms", "warns", "bars" };
    facts_add (facts, "breaking(%s,%s)", id, words[law->breaking]);
    if (law->breaking == BREAK_HARMS && law->powers & WHILE_ON)
        facts_add (facts, "harms(%s,on)", id);
    if (law->breaking == BREAK_HARMS && law->powers & WHILE_STANDBY)
        facts_add (facts, "harms(%s,standby)", id);
    for (Way way = WAY_HOST; law->breaking == BREAK_BARS && way < WAYS; way++)
        if (law->ways >> way & 1)
            facts_add (facts, "bars(%s,%s)", id, way_name (way));
}

static void
sum (Facts *facts, const Law *law, const char *id)
{
    static const char *const largest[] = { "kept", "lost", "by_shop" };
    facts_add (facts, "sum(%s,\"watts\")", id);
    facts_add (facts, "sum_of(%s,\"processor\")", id);
    if (law->memory_counts)
        facts_add (facts, "sum_if_stated(%s,\"memory\")", id);
    if (law->board_counts)
        facts_add (facts, "sum_board(%s)", id);
    facts_add (facts, "sum_within(%s,\"output\",\"supply\")", id);
    facts_add (facts, "largest(%s,%s)", id, largest[law->large]);
}

static void
form (Facts *facts, const Job *job, const Law *law, const char *id)
{
    static const char *const attributes[] = { "model", "generation", "socket", "memory-type" };
    const char *kind = piece_kind_name (law->kind), *other = piece_kind_name (law->other);
    switch (law->form) {
    case LAW_SAME:
    case LAW_SAME_SLOT:
    case LAW_SAME_KINDS:
        facts_add (facts, "same(%s,\"%s\",\"%s\")", id, attributes[law->attr], kind);
        if (law->form == LAW_SAME_SLOT)
            facts_add (facts, "with_slot(%s)", id);
        if (law->form == LAW_SAME_KINDS)
            facts_add (facts, "with_kind(%s,\"%s\")", id, other);
        return;
    case LAW_MIXED:
        facts_add (facts, "same(%s,\"stepping\",\"%s\")", id, kind);
        facts_add (facts, "unless_mixed(%s)", id);
        return;
    case LAW_BEFORE:
        facts_add (facts, "before(%s,\"%s\")", id, kind);
        return;
    case LAW_COVER:
        facts_add (facts, "at_least(%s,\"rating\",\"%s\",\"watts\",\"%s\")", id, kind, other);
        return;
    case LAW_SUM:
        sum (facts, law, id);
        return;
    case LAW_SOME:
        facts_add (facts, "some(%s,\"%s\")", id, kind);
        return;
    case LAW_WHEN:
        if (!law->when.count)
            facts_add (facts, "always(%s)", id);
        facts_condition (facts, job, "when", id, &law->when);
        facts_condition (facts, job, "rule_requires", id, &law->requires);
        facts_condition (facts, job, "rule_conflicts", id, &law->conflicts);
        return;
    case LAW_KNOWS:
        facts_add (facts, "knows(%s,\"%s\")", id, kind);
        return;
    case LAW_OWN:
        facts_add (facts, "own(%s)", id);
        return;
    case LAW_ONE_OF:
        facts_add (facts, "one_of(%s,\"%s\",\"%s\")", id, kind, other);
        return;
    case LAW_BINDS:
        facts_add (facts, "binds(%s,\"%s\",%s)", id, kind, law->lent ? "lent" : "elsewhere");
        return;
    }
}

void
facts_of_laws (Facts *facts, const Job *job)
{
    for (int l = 0; l < job->law_count; l++) {
        g_autofree char *id = g_strdup_printf ("\"rule-%d\"", l + 1);
        breaking (facts, &job->laws[l], id);
        form (facts, job, &job->laws[l], id);
    }
}
