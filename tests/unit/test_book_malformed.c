/* SPDX-License-Identifier: MIT */
/* One file per way of being malformed: tests/malformed/NAME.yaml, whose first lines say what it has to bring about.
 *
 *   # with: base/bench.yaml      a file that is read before it
 *   # want: cpu1=elvane-14       an item of a command line; also `seen`
 *   # expect: 12:9: ...          a complaint, in order; `nothing` for none. Another file's name stands before its line
 *   # expected-line: ...         what is said to be right, of the complaint above
 *
 * The list has to be met exactly. A last line `# schema: cannot` is for tests/schemas: only the program can see that the
 * file is wrong. `this file` stands for the file's own name. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include "book/book.h"

#define FOLDER       "tests/malformed/"
#define FEWEST_CASES 250 /* so that an empty folder does not pass */

typedef struct {
    GPtrArray *paths;  /* char*, NULL at the end */
    GPtrArray *wants;  /* char*, NULL at the end */
    GPtrArray *seens;  /* char*, NULL at the end */
    GString *expected; /* lines of the header */
} Case;

static void
case_clear (Case *one)
{
    g_ptr_array_unref (one->paths);
    g_ptr_array_unref (one->wants);
    g_ptr_array_unref (one->seens);
    g_string_free (one->expected, TRUE);
}

static void
take_header_line (Case *one, const char *line)
{
    if (g_str_has_prefix (line, "# with: "))
        g_ptr_array_add (one->paths, g_strconcat (FOLDER, line + strlen ("# with: "), NULL));
    else if (g_str_has_prefix (line, "# want: "))
        g_ptr_array_add (one->wants, g_strdup (line + strlen ("# want: ")));
    else if (g_str_has_prefix (line, "# seen: "))
        g_ptr_array_add (one->seens, g_strdup (line + strlen ("# seen: ")));
    else if (g_str_has_prefix (line, "# expect: ") || g_str_has_prefix (line, "# expected-line: "))
        g_string_append_printf (one->expected, "%s\n", line + 2);
}

static void
read_case (const char *path, Case *one)
{
    g_autofree char *text = NULL;
    gsize length;
    assert_true (g_file_get_contents (path, &text, &length, NULL));
    one->paths = g_ptr_array_new_with_free_func (g_free);
    one->wants = g_ptr_array_new_with_free_func (g_free);
    one->seens = g_ptr_array_new_with_free_func (g_free);
    one->expected = g_string_new (NULL);
    const char *at = g_str_has_prefix (text, "\xef\xbb\xbf") ? text + 3 : text;
    while (g_str_has_prefix (at, "# ")) {
        const char *end = strchr (at, '\n');
        assert_non_null (end);
        g_autofree char *line = g_strndup (at, (gsize) (end - at));
        take_header_line (one, line);
        at = end + 1;
    }
    g_ptr_array_add (one->paths, g_strdup (path));
    g_ptr_array_add (one->paths, NULL);
    g_ptr_array_add (one->wants, NULL);
    g_ptr_array_add (one->seens, NULL);
}

/* A text with the file's own name, and the folder before other names, taken out. */
static char *
shorten (const char *text, const char *path, const char *own)
{
    g_autofree char *with_colon = g_strconcat (path, ":", NULL);
    g_auto (GStrv) parts = g_strsplit (text, with_colon, -1);
    g_autofree char *joined = g_strjoinv (own, parts);
    g_auto (GStrv) others = g_strsplit (joined, FOLDER, -1);
    return g_strjoinv ("", others);
}

static char *
found_lines (Complaints *complaints, const char *path)
{
    GString *found = g_string_new (NULL);
    for (guint i = 0; i < complaints_count (complaints); i++) {
        const Complaint *complaint = complaints_get (complaints, i);
        g_autofree char *whole = g_strdup_printf ("%s:%u:%u: %s", complaint->at.file, complaint->at.line,
                                                  complaint->at.column, complaint->what);
        g_autofree char *text = shorten (whole, path, "");
        g_string_append_printf (found, "expect: %s\n", text);
        g_autofree char *expected = complaint->expected ? shorten (complaint->expected, path, "this file:") : NULL;
        if (expected)
            g_string_append_printf (found, "expected-line: %s\n", expected);
    }
    if (found->len == 0)
        g_string_append (found, "expect: nothing\n");
    return g_string_free (found, FALSE);
}

static void
test_case (void **state)
{
    const char *path = *state;
    Case one;
    read_case (path, &one);
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library =
        library_load_seen ((const char *const *) one.paths->pdata, (const char *const *) one.wants->pdata,
                           (const char *const *) one.seens->pdata, complaints);
    assert_non_null (library);
    g_autofree char *found = found_lines (complaints, path);
    assert_string_equal (found, one.expected->str);
    g_autofree char *printed = complaints_to_string (complaints, 50);
    assert_int_equal (complaints_count (complaints) == 0, *printed == '\0');
    case_clear (&one);
}

/* What the cases go wrong against is itself right. */
static void
test_base_is_right (void **state)
{
    (void) state;
    const char *const paths[] = { FOLDER "base", NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library = library_load (paths, NULL, complaints);
    g_autofree char *printed = complaints_to_string (complaints, 50);
    assert_string_equal (printed, "");
    assert_int_equal (library->units->len, 2);
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
    return strcmp (*(const char *const *) a, *(const char *const *) b);
}

static GPtrArray *
list_cases (void)
{
    GPtrArray *paths = g_ptr_array_new_with_free_func (g_free);
    g_autoptr (GDir) folder = g_dir_open (FOLDER, 0, NULL);
    const char *name;
    while (folder && (name = g_dir_read_name (folder)))
        if (g_str_has_suffix (name, ".yaml"))
            g_ptr_array_add (paths, g_strconcat (FOLDER, name, NULL));
    g_ptr_array_sort (paths, compare_names);
    return paths;
}

int
main (void)
{
    g_autoptr (GPtrArray) paths = list_cases ();
    g_autoptr (GArray) tests = g_array_new (FALSE, TRUE, sizeof (struct CMUnitTest));
    struct CMUnitTest base = cmocka_unit_test (test_base_is_right);
    g_array_append_val (tests, base);
    for (guint i = 0; i < paths->len; i++) {
        char *path = g_ptr_array_index (paths, i);
        struct CMUnitTest one = { path, test_case, NULL, NULL, path };
        g_array_append_val (tests, one);
    }
    if (paths->len < FEWEST_CASES) {
        g_printerr ("only %u cases in %s: run from the project's root\n", paths->len, FOLDER);
        return 1;
    }
    return _cmocka_run_group_tests ("malformed", (const struct CMUnitTest *) (gpointer) tests->data, tests->len, NULL,
                                    NULL);
}
