/* SPDX-License-Identifier: MIT */
/* The unit. */
#include "emit.h"

static int
bits_highest (unsigned bits)
{
    int highest = -1;
    for (; bits; bits >>= 1)
        highest++;
    return highest;
}

static void
emit_told (GString *out, const Job *job, int c)
{
    const Firmware *firmware = &job->firmware[c];
    const char *low = edition_name (firmware, bits_lowest (job->may_be[c]));
    const char *high = edition_name (firmware, bits_highest (job->may_be[c]));
    g_string_append_printf (out, "  %s: ", firmware_name (job, c));
    switch (job->told[c]) {
    case TOLD_KNOWN:
        g_string_append_printf (out, "\"%s\"\n", low);
        return;
    case TOLD_UNKNOWN:
        g_string_append (out, "unknown\n");
        return;
    case TOLD_RANGE:
        g_string_append_printf (out, "\"%s .. %s\"\n", low, high);
        return;
    case TOLD_BOUNDS:
        g_string_append_printf (out, "\">= %s, <= %s\"\n", low, high);
        return;
    case TOLD_LIST:
        break;
    }
    const char *comma = "";
    g_string_append_c (out, '[');
    for (int r = 0; r < firmware->count; r++) {
        if (!(job->may_be[c] >> r & 1))
            continue;
        g_string_append_printf (out, "%s\"%s\"", comma, edition_name (firmware, r));
        comma = ", ";
    }
    g_string_append (out, "]\n");
}

/* A part as a slot's value: its name alone where that says all. */
static void
emit_fit (GString *out, const Job *job, const Fit *fit)
{
    gboolean several = fit->piece >= 0 && bits_count (job->pieces[fit->piece].steppings) > 1;
    if (fit->piece < 0) {
        g_string_append (out, "empty");
        return;
    }
    if (!several && !fit->bound && fit->keeper == OWN && !(job->look & 64)) {
        g_string_append (out, job->pieces[fit->piece].name);
        return;
    }
    g_string_append_printf (out, "{part: %s", job->pieces[fit->piece].name);
    if (several)
        g_string_append_printf (out, ", stepping: %s", stepping_name (fit->stepping));
    if (fit->keeper != OWN)
        g_string_append_printf (out, ", from: %s", keeper_name (fit->keeper));
    if (fit->bound)
        g_string_append_printf (out, ", bound: %s", bound_name (fit->bound));
    g_string_append_c (out, '}');
}

static void
emit_floors (GString *out, const Job *job)
{
    const char *comma = "floor: {";
    for (int c = 0; c < job->firmware_count; c++) {
        if (job->firmware[c].gone || job->floor[c] < 0)
            continue;
        g_string_append_printf (out, "%s%s: \"%s\"", comma, firmware_name (job, c),
                                edition_name (&job->firmware[c], job->floor[c]));
        comma = ", ";
    }
    g_string_append (out, comma[0] == ',' ? "}\n" : "");
}

static void
emit_failed (GString *out, const Job *job)
{
    const char *comma = "failed: [";
    for (int c = 0; c < job->firmware_count; c++) {
        if (job->firmware[c].gone || !job->failed[c])
            continue;
        g_string_append_printf (out, "%s%s", comma, firmware_name (job, c));
        comma = ", ";
    }
    g_string_append (out, comma[0] == ',' ? "]\n" : "");
}

static void
emit_insertions (GString *out, const Job *job)
{
    const char *comma = "insertions: {";
    for (int i = 0; i < job->place_count; i++) {
        /* Not stated means none. */
        if (job->places[i].gone || (!job->insertions[i] && !(job->look >> i & 1)))
            continue;
        g_string_append_printf (out, "%s%s: %d", comma, job->places[i].name, job->insertions[i]);
        comma = ", ";
    }
    g_string_append (out, comma[0] == ',' ? "}\n" : "");
}

static void
emit_pulled (GString *out, const Job *job)
{
    for (int p = 0; p < job->pulled_count; p++) {
        g_string_append (out, p ? ", " : "pulled: [");
        if (job->look & 64 || bits_count (job->pieces[job->pulled[p].piece].steppings) > 1 || job->pulled[p].bound)
            emit_fit (out, job, &job->pulled[p]);
        else
            g_string_append_printf (out, "{part: %s}", job->pieces[job->pulled[p].piece].name);
    }
    g_string_append (out, job->pulled_count ? "]\n" : "");
}

static void
emit_began (GString *out, const Job *job)
{
    const char *comma = "began: {";
    for (int i = 0; i < job->place_count; i++) {
        if (job->places[i].gone || !job->told_began[i])
            continue;
        g_string_append_printf (out, "%s%s: ", comma, job->places[i].name);
        emit_fit (out, job, &job->began[i]);
        comma = ", ";
    }
    g_string_append (out, comma[0] == ',' ? "}\n" : "");
}

void
emit_unit (GString *out, const Job *job)
{
    g_string_append_printf (out, "unit: LK-0001\nboard: finch-2s\nrevision: r%d\nfirmware:\n", job->revision + 1);
    for (int c = 0; c < job->firmware_count; c++)
        if (!job->firmware[c].gone && !(job->spare_untold && job->firmware[c].spare_of >= 0))
            emit_told (out, job, c);
    emit_floors (out, job);
    emit_failed (out, job);
    emit_insertions (out, job);
    emit_pulled (out, job);
    emit_began (out, job);
    g_string_append (out, "fitted:\n");
    for (int i = 0; i < job->place_count; i++) {
        if (job->places[i].gone)
            continue;
        g_string_append_printf (out, "  %s: ", job->places[i].name);
        emit_fit (out, job, &job->fits[i]);
        g_string_append_c (out, '\n');
    }
}
