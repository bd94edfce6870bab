/* SPDX-License-Identifier: MIT */
#include "branch_job.h"

#include "emit.h"

#include <glib/gstdio.h>
#include <string.h>

/* More slots make too many states to go through. */
enum { MOST_SLOTS = 3 };

/* How many releases, from the oldest on, do not start the newer processors. */
static int
count_old (const Firmware *firmware)
{
    int old = 0;

    while (old < firmware->count && !firmware->editions[old].starts[1] && !firmware->editions[old].starts[2])
        old++;
    return old;
}

/* `count` neighbours among the releases; now and then all of them old, so that no first start tells them apart. */
static void
hide_release (Dice *dice, Job *job, int component, int count)
{
    int releases = job->firmware[component].count, old = count_old (&job->firmware[component]);

    if (old >= 2 && dice_percent (dice, 50))
        releases = old;
    int low = dice_below (dice, releases - MIN (count, releases) + 1);
    job->may_be[component] = 0;
    for (int r = low; r < MIN (low + count, releases); r++)
        job->may_be[component] |= 1u << r;
    job->told[component] = TOLD_LIST;
    if (bits_count (job->may_be[component]) == job->firmware[component].count && dice_percent (dice, 50))
        job->told[component] = TOLD_UNKNOWN;
    if (dice_percent (dice, 80))
        job->floor[component] = -1;
    else if (job->floor[component] >= 0)
        job->floor[component] = dice_below (dice, bits_lowest (job->may_be[component]) + 1);
}

static void
make_known (Job *job, int component)
{
    job->may_be[component] = 1u << bits_lowest (job->may_be[component]);
    job->told[component] = TOLD_KNOWN;
}

/* One component that decides starting, and perhaps a second one; a spare image has what is known. */
static void
hide_releases (Dice *dice, Job *job)
{
    int second =
        job->firmware_count > 1 && dice_percent (dice, 55) ? dice_between (dice, 1, job->firmware_count - 1) : -1;
    int first = dice_percent (dice, 85) ? 0 : dice_below (dice, job->firmware_count);

    job->spare_untold = FALSE;
    for (int c = 0; c < job->firmware_count; c++)
        make_known (job, c);
    for (int c = 0; c < job->firmware_count; c++)
        if (c == first || (c == second && second != first))
            hide_release (dice, job, c, second >= 0 ? 2 : dice_between (dice, 2, 4));
}

static void
lend_old_processor (Dice *dice, Job *job)
{
    int old = pick_piece (dice, job, PIECE_PROCESSOR);

    for (int p = 0; p < job->piece_count; p++)
        if (job->pieces[p].kind == PIECE_PROCESSOR && job->pieces[p].generation == 0)
            old = p;
    for (int s = 0; s < job->stack_count; s++)
        if (job->stacks[s].piece == old && job->stacks[s].keeper == LOAN)
            return;
    if (job->stack_count < MAX_LOTS)
        job->stacks[job->stack_count++] =
            (Stack){ old, pick_stepping (dice, &job->pieces[old]), LOAN, BOUND_NOBODY, 1 };
}

/* The usual order: a processor that only newer releases start, and one to borrow that all do. */
static void
know_processors (Dice *dice, Job *job)
{
    Firmware *firmware = &job->firmware[0];
    int first = dice_between (dice, (firmware->count - 1) / 2, firmware->count - 1);

    for (int r = 0; r < firmware->count; r++) {
        Edition *edition = &firmware->editions[r];

        edition->states_starts = TRUE;
        edition->starts[0] = job->generation_steppings[0];
        edition->never[0] = 0;
        for (int g = 1; g < GENERATIONS; g++)
            edition->starts[g] = r >= first ? job->generation_steppings[g] : 0;
        edition->never[1] &= r >= first ? 0u : ~0u;
        edition->never[2] &= r >= first ? 0u : ~0u;
    }
    if (dice_percent (dice, 75))
        lend_old_processor (dice, job);
}

/* Releases that are written one over another, so that what is there has to be known. */
static void
chain_writes (Dice *dice, Job *job, int component)
{
    Firmware *firmware = &job->firmware[component];
    Way way = component > 0 && firmware->ways[WAY_CONTROLLER].there ? WAY_CONTROLLER : WAY_HOST;
    int back = dice_between (dice, 1, 2);

    firmware->ways[way].there = TRUE;
    firmware->ways[way].recovery_only = FALSE;
    job->shop_ways |= 1u << way;
    for (int r = 0; r < firmware->count; r++) {
        Edition *edition = &firmware->editions[r];

        edition->ways |= 1u << way;
        edition->withdrawn = FALSE;
        edition->lowest = dice_percent (dice, 80) ? -1 : edition->lowest;
        if (dice_percent (dice, 75))
            edition->write_requires.count = edition->write_conflicts.count = 0;
        if (dice_percent (dice, 75))
            edition->run_requires.count = edition->run_conflicts.count = 0;
        if (r >= back && dice_percent (dice, 85))
            edition->from = cond_atom (ATOM_RELEASE, component, back == 1 ? CMP_EQ : CMP_GE, r - back);
    }
}

/* The order came with the unit: what is sold is fitted already, and keeps it dark with old firmware. */
static void
fit_what_is_sold (Dice *dice, Job *job)
{
    int sold = -1;

    for (int p = 0; p < job->piece_count; p++)
        if (job->pieces[p].kind == PIECE_PROCESSOR && job->pieces[p].generation > 0)
            sold = p;
    const Fit fit = { .piece = sold, .stepping = sold >= 0 ? pick_stepping (dice, &job->pieces[sold]) : 0 };
    for (int i = 0; i < job->place_count && sold >= 0; i++) {
        if (job->places[i].takes != PIECE_PROCESSOR)
            continue;
        job->fits[i] = fit;
        job->told_began[i] = FALSE;
        job->keep_place[i] = FALSE;
        job->asks[i] = (Ask){ .kind = ASK_MODEL, .piece = sold, .stepping = -1, .generation = -1 };
    }
    for (int i = 0; i < job->place_count; i++)
        if (job->places[i].takes == PIECE_BLANK && job->places[job->places[i].over].takes == PIECE_PROCESSOR)
            job->fits[i] = (Fit){ .piece = -1 };
}

/* Most of the rules about other things; those that are left still meet every feature somewhere in the run of seeds. */
static void
drop_laws (Dice *dice, Job *job)
{
    int kept = 0;

    for (int i = 0; i < job->law_count; i++) {
        const Law *law = &job->laws[i];
        gboolean usual = law->form == LAW_KNOWS || (law->form == LAW_SOME && law->kind == PIECE_PROCESSOR);

        if (usual || dice_percent (dice, 45))
            job->laws[kept++] = *law;
    }
    job->law_count = kept;
}

/* Nothing that would have been in the way before the first step. */
static void
clear_the_way (Dice *dice, Job *job)
{
    job->need_recovery = job->need_recovery && dice_percent (dice, 30);
    for (int c = 0; c < job->firmware_count; c++) {
        job->failed[c] = job->failed[c] && dice_percent (dice, 20);
        job->keep_firmware[c] = job->keep_firmware[c] && dice_percent (dice, 30);
    }
    if (dice_percent (dice, 60))
        job->shop_ways &= ~(1u << WAY_CLIP);
    if (!job->ask_firmware[0].count && dice_percent (dice, 50))
        job->ask_firmware[0] = cond_atom (ATOM_RELEASE, 0, CMP_GE, job->firmware[0].count - 1);
}

static void
add_pages (Dice *dice, BranchJob *branch_job)
{
    const Job *job = &branch_job->job;
    int percent = dice_percent (dice, 50) ? 0 : 60;

    for (int c = 0; c < job->firmware_count; c++) {
        Page *page = &branch_job->pages[c];

        page->there = job->firmware[c].spare_of < 0 && dice_percent (dice, percent);
        page->tenths = 5 * dice_between (dice, 2, 10);
        if (page->there && dice_percent (dice, 35))
        page->requires = generate_requires (dice, job, dice_percent (dice, 70) ? c : -1);
    }
}

void
branch_job_draw (guint64 seed, BranchJob *branch_job)
{
    Dice dice = { .state = seed ^ 0xB1A2C3D4u };
    Job *job = &branch_job->job;

    do {
        memset (branch_job, 0, sizeof *branch_job);
        generate_job (dice_next (&dice), job);
    } while (job->place_count > MOST_SLOTS);
    if (dice_percent (&dice, 80))
        know_processors (&dice, job);
    for (int c = 0; c < job->firmware_count; c++)
        if (job->firmware[c].spare_of < 0 && dice_percent (&dice, c > 0 ? 40 : 80))
            chain_writes (&dice, job, c);
    if (dice_percent (&dice, 60))
        fit_what_is_sold (&dice, job);
    drop_laws (&dice, job);
    clear_the_way (&dice, job);
    job_mirror_spares (job);
    hide_releases (&dice, job);
    add_pages (&dice, branch_job);
}

/* The pages that the job itself has no words for, each put behind the line that begins its component. */
static char *
book_text (const BranchJob *branch_job)
{
    const Job *job = &branch_job->job;
    g_autofree char *plain = emit_file (job, FILE_BOOK);
    GString *text = g_string_new (plain);

    for (int c = 0; c < job->firmware_count; c++) {
        const Page *page = &branch_job->pages[c];
        g_autofree char *line = g_strdup_printf ("  - component: %s\n", firmware_name (job, c));
        const char *begins = strstr (text->str, line);

        if (!page->there)
            continue;
        g_assert (begins != NULL);
        g_autoptr (GString) key = g_string_new ("    page: {minutes: ");
        emit_tenths (key, page->tenths);
        if (page->requires.count) {
            g_autofree char *requires = emit_cond (job, &page->requires);
            g_string_append_printf (key, ", requires: \"%s\"", requires);
        }
        g_string_append (key, "}\n");
        g_string_insert (text, begins - text->str + (gssize) strlen (line), key->str);
    }
    return g_string_free (text, FALSE);
}

char *
branch_job_text (const BranchJob *branch_job, guint64 seed)
{
    GString *text = g_string_new (NULL);

    g_string_append_printf (text, "# seed %" G_GUINT64_FORMAT "\n", seed);
    for (FileKind kind = FILE_BOOK; kind < FILE_COUNT; kind++) {
        g_autofree char *file = kind == FILE_BOOK ? book_text (branch_job) : emit_file (&branch_job->job, kind);
        g_string_append_printf (text, "---\n%s", file);
    }
    return g_string_free (text, FALSE);
}

gboolean
branch_job_load (const BranchJob *branch_job, LoadedJob *loaded, char **why)
{
    g_autofree char *folder = g_dir_make_tmp ("branches-XXXXXX", NULL);
    if (folder == NULL)
        g_error ("no folder for temporary files");
    g_autofree char *path = g_build_filename (folder, "job.yaml", NULL);
    g_autofree char *text = branch_job_text (branch_job, 0);
    if (!g_file_set_contents (path, text, -1, NULL))
        g_error ("%s cannot be written", path);
    gboolean read = load_path (path, loaded, why);
    g_unlink (path);
    g_rmdir (folder);
    return read;
}
