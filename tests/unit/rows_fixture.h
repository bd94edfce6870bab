/* SPDX-License-Identifier: MIT */
/* Rows: tables written to a folder of their own, read, and what was told of them. Included after cmocka.h. */
#ifndef RUNGWISE_TESTS_ROWS_FIXTURE_H
#define RUNGWISE_TESTS_ROWS_FIXTURE_H

#include <glib/gstdio.h>
#include <string.h>

#include "book/book.h"

#define BENCH "tests/malformed/base/bench.yaml" /* board wren-1s: cpu1, sink1, dimm-a1; system, controller */
#define SPARE "tests/malformed/base/spare.yaml" /* board dunnock-1s: cpu1, cover1; system with a spare, controller */

/* Two more boards: lark-2s has a slot that is called as a component of the other is, and both have a part of a name with a colon. */
G_GNUC_UNUSED static const char SECOND_BOOK[] = "book: second\n"
                                  "boards:\n"
                                  "  - board: lark-2s\n"
                                  "    revisions: [r1]\n"
                                  "    slots: [{slot: bay, takes: blank}, {slot: cpu1, takes: processor}]\n"
                                  "    components: [logic]\n"
                                  "  - {board: robin-1s, revisions: [r1], components: [bay]}\n"
                                  "firmware:\n"
                                  "  - component: logic\n"
                                  "    for: lark-2s\n"
                                  "    versions: listed\n"
                                  "    methods: {host: {minutes: 1}}\n"
                                  "    releases: [{release: p1, date: 2033-01-01}, {release: p2, date: 2034-01-01}]\n"
                                  "  - component: bay\n"
                                  "    for: robin-1s\n"
                                  "    versions: listed\n"
                                  "    methods: {host: {minutes: 1}}\n"
                                  "    releases: [{release: q1}]\n"
                                  "parts: [{blank: 'cover:x'}]\n";

typedef struct {
    char *folder, *table, *more;
    GPtrArray *paths; /* owned */
    Complaints *complaints, *rows;
    Library *library;
} Loaded;

/* What the tables are read with; NULL-terminated. */
typedef struct {
    const char *const *books;
    const char *const *wants;
    const char *yaml; /* one more file; nullable */
    gboolean together; /* no list of their own for rows */
    gboolean plain;    /* library_load(), not for a batch */
} With;

static void
write_file (const char *path, const char *text, gssize length)
{
    assert_true (g_file_set_contents (path, text, length, NULL));
}

static Loaded *
load_bytes (const char *text, gssize length, const With *with)
{
    static const char *const bench[] = { BENCH, NULL };
    Loaded *loaded = g_new0 (Loaded, 1);
    loaded->folder = g_dir_make_tmp ("rows-XXXXXX", NULL);
    assert_non_null (loaded->folder);
    loaded->table = g_build_filename (loaded->folder, "pallet.csv", NULL);
    loaded->more = g_build_filename (loaded->folder, "more.yaml", NULL);
    write_file (loaded->table, text, length);
    write_file (loaded->more, with->yaml ? with->yaml : "", -1);
    loaded->paths = g_ptr_array_new ();
    for (const char *const *book = with->books ? with->books : bench; *book; book++)
        g_ptr_array_add (loaded->paths, (gpointer) *book);
    g_ptr_array_add (loaded->paths, loaded->more);
    g_ptr_array_add (loaded->paths, loaded->table);
    g_ptr_array_add (loaded->paths, NULL);
    loaded->complaints = complaints_new ();
    loaded->rows = complaints_new ();
    const char *const *paths = (const char *const *) loaded->paths->pdata;
    loaded->library = with->plain ? library_load (paths, with->wants, loaded->complaints)
                                  : library_load_rows (paths, with->wants, NULL, loaded->complaints,
                                                       with->together ? NULL : loaded->rows);
    return loaded;
}

G_GNUC_UNUSED static Loaded *
load (const char *text)
{
    return load_bytes (text, -1, &(With){ 0 });
}

static void
loaded_free (Loaded *loaded)
{
    library_free (loaded->library);
    complaints_free (loaded->complaints);
    complaints_free (loaded->rows);
    g_ptr_array_unref (loaded->paths);
    g_remove (loaded->table);
    g_remove (loaded->more);
    g_rmdir (loaded->folder);
    g_free (loaded->table);
    g_free (loaded->more);
    g_free (loaded->folder);
    g_free (loaded);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Loaded, loaded_free)

/* "LINE:COLUMN: what | expected", a line each; other files by their name. Transfer full. */
static char *
told (const Loaded *loaded, Complaints *complaints)
{
    GString *out = g_string_new (NULL);
    for (guint i = 0; i < complaints_count (complaints); i++) {
        const Complaint *one = complaints_get (complaints, i);
        g_autofree char *name = g_path_get_basename (one->at.file);
        g_string_append_printf (out, "%s%s%u:%u: %s%s%s\n", strcmp (name, "pallet.csv") == 0 ? "" : name,
                                strcmp (name, "pallet.csv") == 0 ? "" : ":", one->at.line, one->at.column, one->what,
                                one->expected ? " | " : "", one->expected ? one->expected : "");
    }
    g_auto (GStrv) parts = g_strsplit (out->str, loaded->table, -1);
    g_string_free (out, TRUE);
    return g_strjoinv ("pallet.csv", parts);
}

G_GNUC_UNUSED static void
assert_told (const Loaded *loaded, const char *main_text, const char *row_text)
{
    g_autofree char *in_main = told (loaded, loaded->complaints);
    g_autofree char *in_rows = told (loaded, loaded->rows);
    assert_string_equal (in_main, main_text);
    assert_string_equal (in_rows, row_text);
}

G_GNUC_UNUSED static const Unit *
unit_at (const Loaded *loaded, guint index)
{
    assert_true (index < loaded->library->units->len);
    return g_ptr_array_index (loaded->library->units, index);
}

G_GNUC_UNUSED static guint
units_of (const Loaded *loaded)
{
    return loaded->library->units->len;
}

#endif
