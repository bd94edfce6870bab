/* SPDX-License-Identifier: MIT */
/* What paths stand for: folders, links, files that are empty, missing, huge, unreadable or no files at all. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include <glib/gstdio.h>
#include <sys/stat.h>
#include <unistd.h>

#include "book/book.h"

#define SOME_OTHER_ACCOUNT 65534 /* nobody, by custom */

typedef struct {
    char *folder;
} Room;

static int
set_up (void **state)
{
    Room *room = g_new0 (Room, 1);
    room->folder = g_dir_make_tmp ("rungwise-files-XXXXXX", NULL);
    *state = room;
    return room->folder ? 0 : -1;
}

static void
remove_tree (const char *path)
{
    if (!g_file_test (path, G_FILE_TEST_IS_SYMLINK) && g_file_test (path, G_FILE_TEST_IS_DIR)) {
        g_autoptr (GDir) folder = g_dir_open (path, 0, NULL);
        const char *name;
        while (folder && (name = g_dir_read_name (folder))) {
            g_autofree char *inside = g_build_filename (path, name, NULL);
            remove_tree (inside);
        }
    }
    g_remove (path);
}

static int
tear_down (void **state)
{
    Room *room = *state;
    remove_tree (room->folder);
    g_free (room->folder);
    g_free (room);
    return 0;
}

/* Writes a file in the test's folder, with the folders above it. */
static void
put (const Room *room, const char *name, const char *text, gssize length)
{
    g_autofree char *path = g_build_filename (room->folder, name, NULL);
    g_autofree char *above = g_path_get_dirname (path);
    assert_int_equal (g_mkdir_with_parents (above, 0755), 0);
    assert_true (g_file_set_contents (path, text, length, NULL));
}

/* Loads names in the test's folder ("" for the folder itself); what is complained about, the folder's name taken out.
 */
static char *
load (const Room *room, const char *const *names, Library **out)
{
    g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);
    for (guint i = 0; names[i]; i++)
        g_ptr_array_add (paths, g_build_filename (room->folder, names[i], NULL));
    g_ptr_array_add (paths, NULL);
    g_autoptr (Complaints) complaints = complaints_new ();
    Library *library = library_load ((const char *const *) paths->pdata, NULL, complaints);
    assert_non_null (library);
    if (out)
        *out = library;
    else
        library_free (library);
    g_autofree char *printed = complaints_to_string (complaints, 50);
    g_auto (GStrv) parts = g_strsplit (printed, room->folder, -1);
    return g_strjoinv ("", parts);
}

static void
assert_loads (const Room *room, const char *name, const char *expected)
{
    const char *const names[] = { name, NULL };
    g_autofree char *printed = load (room, names, NULL);
    assert_string_equal (printed, expected);
}

/* ---- Folders ---- */

static void
test_folder_in_order_of_names (void **state)
{
    const Room *room = *state;
    put (room, "b.yaml", "book: second\n", -1);
    put (room, "a.yml", "book: first\n---\nbook: and a half\n", -1);
    put (room, "c/inside.yaml", "book: third\n", -1);
    put (room, "d.yaml", "book: fourth\n", -1);
    put (room, "e.txt", "not: read\n", -1);
    put (room, ".hidden.yaml", "not: read\n", -1);
    const char *const names[] = { "", NULL };
    g_autoptr (Library) library = NULL;
    g_autofree char *printed = load (room, names, &library);
    assert_string_equal (printed, "");
    static const char *const titles[] = { "first", "and a half", "second", "third", "fourth" };
    assert_int_equal (library->book.titles->len, G_N_ELEMENTS (titles));
    for (guint i = 0; i < G_N_ELEMENTS (titles); i++)
        assert_string_equal (g_ptr_array_index (library->book.titles, i), titles[i]);
}

static void
test_each_file_once (void **state)
{
    const Room *room = *state;
    put (room, "a.yaml", "book: one\nboards: [{board: wren, revisions: [r1]}]\n", -1);
    g_autofree char *inside = g_build_filename (room->folder, "loop", NULL);
    assert_int_equal (symlink (room->folder, inside), 0); /* a folder that holds itself */
    const char *const names[] = { "a.yaml", "", "a.yaml", NULL };
    g_autoptr (Library) library = NULL;
    g_autofree char *printed = load (room, names, &library);
    assert_string_equal (printed, "");
    assert_int_equal (library->book.boards->len, 1);
}

static void
test_folder_with_nothing_to_read (void **state)
{
    const Room *room = *state;
    put (room, "notes.txt", "x\n", -1);
    assert_loads (room, "",
                  ": there is nothing to read in this folder\n  expected files whose names end in .yaml or .yml\n");
}

static void
test_folders_too_deep (void **state)
{
    const Room *room = *state;
    g_autoptr (GString) deep = g_string_new ("");
    for (int i = 0; i < 40; i++)
        g_string_append (deep, "f/");
    g_string_append (deep, "a.yaml");
    put (room, deep->str, "book: deep\n", -1);
    const char *const names[] = { "", NULL };
    g_autofree char *printed = load (room, names, NULL);
    assert_non_null (strstr (printed, "this folder lies too deep\n  expected at most 32 folders inside one another\n"));
}

/* ---- Files ---- */

static void
test_missing (void **state)
{
    assert_loads (*state, "gone.yaml", "/gone.yaml: this cannot be opened: No such file or directory\n");
}

static void
test_unreadable (void **state)
{
    const Room *room = *state;
    put (room, "locked.yaml", "book: x\n", -1);
    char *path = g_build_filename (room->folder, "locked.yaml", NULL);
    assert_int_equal (g_chmod (path, 0), 0);
    gboolean may_read = access (path, R_OK) == 0;
    g_free (path);
    /* An account that may read any file steps down for a moment. */
    if (may_read && (g_chmod (room->folder, 0755) != 0 || seteuid (SOME_OTHER_ACCOUNT) != 0)) {
        print_message ("this account may read any file: refusing one is not tested\n");
        skip ();
    }
    const char *const names[] = { "locked.yaml", NULL };
    g_autofree char *printed = load (room, names, NULL);
    if (may_read)
        assert_int_equal (seteuid (0), 0);
    assert_string_equal (printed, "/locked.yaml: this file cannot be opened: Permission denied\n");
}

static void
test_file_as_a_folder (void **state)
{
    const Room *room = *state;
    put (room, "a.yaml", "book: x\n", -1);
    assert_loads (room, "a.yaml/b.yaml", "/a.yaml/b.yaml: this cannot be opened: Not a directory\n");
}

static void
test_neither_file_nor_folder (void **state)
{
    (void) state;
    const char *const paths[] = { "/dev/zero", NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library = library_load (paths, NULL, complaints);
    assert_non_null (library);
    g_autofree char *printed = complaints_to_string (complaints, 50);
    assert_string_equal (printed, "/dev/zero: this is neither a file nor a folder\n  expected a file or a folder\n");
}

static void
test_empty_documents_are_skipped (void **state)
{
    const Room *room = *state;
    static const char *const texts[] = {
        "", "\n\n", "# only a comment\n", "---\n", "---\n---\n...\n---\n", "\xef\xbb\xbf"
    };
    for (guint i = 0; i < G_N_ELEMENTS (texts); i++) {
        put (room, "empty.yaml", texts[i], -1);
        assert_loads (room, "empty.yaml", "");
    }
}

/* A byte order mark, CR LF and tabs after values are all fine. */
static void
test_odd_but_right (void **state)
{
    const Room *room = *state;
    put (room, "odd.yaml",
         "\xef\xbb\xbf"
         "book: x\t# a tab\r\nboards:\r\n  - {board: wren, revisions: [r1]}\r\n",
         -1);
    const char *const names[] = { "odd.yaml", NULL };
    g_autoptr (Library) library = NULL;
    g_autofree char *printed = load (room, names, &library);
    assert_string_equal (printed, "");
    assert_int_equal (library->book.boards->len, 1);
}

/* UTF-16 is YAML, but not read here. */
static void
test_utf16_is_refused (void **state)
{
    const Room *room = *state;
    put (room, "wide.yaml",
         "\xff\xfe"
         "b\0o\0o\0k\0",
         10);
    const char *const names[] = { "wide.yaml", NULL };
    g_autofree char *printed = load (room, names, NULL);
    assert_true (g_str_has_prefix (printed, "/wide.yaml:1:1: byte 0xff is not UTF-8 text\n"));
}

static void
test_too_large (void **state)
{
    const Room *room = *state;
    g_autofree char *path = g_build_filename (room->folder, "large.yaml", NULL);
    put (room, "large.yaml", "book: x\n", -1);
    assert_int_equal (truncate (path, (off_t) 65 << 20), 0); /* a hole: takes no room on the disk */
    assert_loads (room, "large.yaml", "/large.yaml: this file is too large\n  expected at most 64 MiB\n");
}

/* A book far larger than any, and a list of mistakes far longer: both end in a moment. */
static void
test_many_mistakes (void **state)
{
    const Room *room = *state;
    g_autoptr (GString) text = g_string_new ("book: x\nparts: [");
    for (int i = 0; i < 1500; i++)
        g_string_append_printf (text, "{memory: m%d, gib: none}, ", i);
    g_string_append (text, "]\n");
    put (room, "many.yaml", text->str, -1);
    const char *const names[] = { "many.yaml", NULL };
    g_autofree char *printed = load (room, names, NULL);
    assert_true (g_str_has_suffix (printed, "\nand 1450 more\n"));
}

static void
test_deep_brackets (void **state)
{
    const Room *room = *state;
    g_autofree char *open = g_strnfill (200000, '[');
    put (room, "deep.yaml", open, -1);
    const char *const names[] = { "deep.yaml", NULL };
    g_autofree char *printed = load (room, names, NULL);
    assert_non_null (strstr (printed, ": lists and keys lie too deep\n"));
}

/* What an unreadable file may define is not called unknown. */
static void
test_names_of_unread_files_are_not_unknown (void **state)
{
    const Room *room = *state;
    put (room, "unit.yaml", "unit: u\nboard: wren\nrevision: r1\n---\nwant: w\nslots: {cpu1: empty}\n", -1);
    const char *const names[] = { "gone.yaml", "unit.yaml", NULL };
    g_autofree char *printed = load (room, names, NULL);
    assert_string_equal (printed, "/gone.yaml: this cannot be opened: No such file or directory\n");
}

int
main (void)
{
#define ROOM_TEST(function) cmocka_unit_test_setup_teardown (function, set_up, tear_down)
    const struct CMUnitTest tests[] = {
        ROOM_TEST (test_folder_in_order_of_names),
        ROOM_TEST (test_each_file_once),
        ROOM_TEST (test_folder_with_nothing_to_read),
        ROOM_TEST (test_folders_too_deep),
        ROOM_TEST (test_missing),
        ROOM_TEST (test_unreadable),
        ROOM_TEST (test_file_as_a_folder),
        ROOM_TEST (test_neither_file_nor_folder),
        ROOM_TEST (test_empty_documents_are_skipped),
        ROOM_TEST (test_odd_but_right),
        ROOM_TEST (test_utf16_is_refused),
        ROOM_TEST (test_too_large),
        ROOM_TEST (test_many_mistakes),
        ROOM_TEST (test_deep_brackets),
        ROOM_TEST (test_names_of_unread_files_are_not_unknown),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
