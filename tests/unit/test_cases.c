/* SPDX-License-Identifier: MIT */
/* Runs every tests/cases/(name).case: a command line, its exit status, and what its output must hold.
 *
 *     source: where the expectation comes from
 *     command: arguments of rungwise, quoted as in a shell
 *     environment: NAME=value             (optional)
 *     expect-exit: 0
 *     expect: text that must appear in what is printed (several lines of this kind; blanks and line ends count as one
 * blank) expect-not: text that must not appear
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <string.h>

#include "reports/outcome.h"

#define CASES_FOLDER "tests/cases"

typedef struct {
    char *file;    /* owned */
    char *source;  /* owned */
    char *command; /* owned */
    int expect_exit;
    GPtrArray *environment; /* char*; owned */
    GPtrArray *expect;      /* char*; owned */
    GPtrArray *expect_not;  /* char*; owned */
} Case;

static void
case_free (gpointer data)
{
    Case *one = data;

    g_free (one->file);
    g_free (one->source);
    g_free (one->command);
    g_ptr_array_unref (one->environment);
    g_ptr_array_unref (one->expect);
    g_ptr_array_unref (one->expect_not);
    g_free (one);
}

/* Runs of blanks and line ends become one blank, so that wrapping plays no part. */
static char *
squeeze (const char *text)
{
    GString *out = g_string_new (NULL);
    gboolean blank = FALSE;

    for (const char *at = text; *at != '\0'; at++) {
        if (g_ascii_isspace (*at)) {
            blank = TRUE;
            continue;
        }
        if (blank && out->len > 0)
            g_string_append_c (out, ' ');
        blank = FALSE;
        g_string_append_c (out, *at);
    }
    return g_string_free (out, FALSE);
}

static void
read_line (Case *one, const char *line)
{
    const char *colon = strchr (line, ':');
    g_autofree char *key = NULL;
    char *value = NULL;

    if (*line == '\0')
        return;
    if (colon == NULL)
        fail_msg ("%s: no key in line: %s", one->file, line);
    key = g_strndup (line, (gsize) (colon - line));
    value = g_strstrip (g_strdup (colon + 1));
    if (g_str_equal (key, "source") && one->source == NULL) {
        one->source = value;
    } else if (g_str_equal (key, "command") && one->command == NULL) {
        one->command = value;
    } else if (g_str_equal (key, "environment")) {
        g_ptr_array_add (one->environment, value);
    } else if (g_str_equal (key, "expect")) {
        g_ptr_array_add (one->expect, squeeze (value));
        g_free (value);
    } else if (g_str_equal (key, "expect-not")) {
        g_ptr_array_add (one->expect_not, squeeze (value));
        g_free (value);
    } else if (g_str_equal (key, "expect-exit")) {
        one->expect_exit = (int) g_ascii_strtoll (value, NULL, 10);
        g_free (value);
    } else {
        fail_msg ("%s: unknown or repeated key: %s", one->file, key);
    }
}

static Case *
read_case (const char *name)
{
    Case *one = g_new0 (Case, 1);
    g_autofree char *text = NULL;
    g_auto (GStrv) lines = NULL;

    one->file = g_build_filename (CASES_FOLDER, name, NULL);
    one->expect_exit = -1;
    one->environment = g_ptr_array_new_with_free_func (g_free);
    one->expect = g_ptr_array_new_with_free_func (g_free);
    one->expect_not = g_ptr_array_new_with_free_func (g_free);
    assert_true (g_file_get_contents (one->file, &text, NULL, NULL));
    lines = g_strsplit (text, "\n", -1);
    for (char **line = lines; *line != NULL; line++)
        read_line (one, *line);
    if (one->source == NULL || one->command == NULL || one->expect_exit < 0 || one->expect->len == 0)
        fail_msg ("%s: source, command, expect-exit and one expect are needed", one->file);
    return one;
}

static gint
by_name (gconstpointer left, gconstpointer right)
{
    return strcmp (*(const char *const *) left, *(const char *const *) right);
}

/* Case*, by file name. */
static GPtrArray *
read_cases (void)
{
    GPtrArray *cases = g_ptr_array_new_with_free_func (case_free);
    g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
    g_autoptr (GDir) folder = g_dir_open (CASES_FOLDER, 0, NULL);

    assert_non_null (folder);
    for (const char *name = g_dir_read_name (folder); name != NULL; name = g_dir_read_name (folder))
        if (g_str_has_suffix (name, ".case"))
            g_ptr_array_add (names, g_strdup (name));
    g_ptr_array_sort (names, by_name);
    for (guint i = 0; i < names->len; i++)
        g_ptr_array_add (cases, read_case (g_ptr_array_index (names, i)));
    return cases;
}

static char **
case_environment (const Case *one)
{
    char **environment = g_get_environ ();

    environment = g_environ_unsetenv (environment, "RUNGWISE_RULES");
    environment = g_environ_unsetenv (environment, "NO_COLOR");
    for (guint i = 0; i < one->environment->len; i++) {
        g_auto (GStrv) pair = g_strsplit (g_ptr_array_index (one->environment, i), "=", 2);

        assert_int_equal (g_strv_length (pair), 2);
        environment = g_environ_setenv (environment, pair[0], pair[1], TRUE);
    }
    return environment;
}

/* Runs the case. `printed`: standard output and error, one after the other. Transfer full. */
static int
run_case (const Case *one, char **printed)
{
    g_autofree char *line = g_strdup_printf ("%s %s", RUNGWISE_BINARY, one->command);
    g_auto (GStrv) arguments = NULL;
    g_auto (GStrv) environment = case_environment (one);
    g_autofree char *output = NULL;
    g_autofree char *complaints = NULL;
    g_autoptr (GError) error = NULL;
    int status = 0;

    if (!g_shell_parse_argv (line, NULL, &arguments, &error) ||
        !g_spawn_sync (NULL, arguments, environment, G_SPAWN_DEFAULT, NULL, NULL, &output, &complaints, &status,
                       &error))
        fail_msg ("%s: %s", one->file, error->message);
    *printed = g_strconcat (output, "\n", complaints, NULL);
    if (g_spawn_check_wait_status (status, &error))
        return 0;
    if (error->domain != G_SPAWN_EXIT_ERROR)
        fail_msg ("%s: %s\n%s", one->file, error->message, *printed);
    return error->code;
}

/* Complaints about what is missing; "" when the case holds. */
static char *
judge_case (const Case *one)
{
    GString *wrong = g_string_new (NULL);
    g_autofree char *printed = NULL;
    int status = run_case (one, &printed);
    g_autofree char *squeezed = squeeze (printed);

    if (status != one->expect_exit)
        g_string_append_printf (wrong, "  exit status %d, expected %d\n", status, one->expect_exit);
    for (guint i = 0; i < one->expect->len; i++)
        if (strstr (squeezed, g_ptr_array_index (one->expect, i)) == NULL)
            g_string_append_printf (wrong, "  missing: %s\n", (char *) g_ptr_array_index (one->expect, i));
    for (guint i = 0; i < one->expect_not->len; i++)
        if (strstr (squeezed, g_ptr_array_index (one->expect_not, i)) != NULL)
            g_string_append_printf (wrong, "  must not be there: %s\n",
                                    (char *) g_ptr_array_index (one->expect_not, i));
    if (wrong->len > 0)
        g_string_append_printf (wrong, "---- printed:\n%s----\n", printed);
    return g_string_free (wrong, FALSE);
}

static void
test_every_case_holds (void **state)
{
    g_autoptr (GPtrArray) cases = read_cases ();
    guint failed = 0;

    (void) state;
    assert_true (cases->len > 0);
    for (guint i = 0; i < cases->len; i++) {
        const Case *one = g_ptr_array_index (cases, i);
        g_autofree char *wrong = judge_case (one);

        if (*wrong == '\0')
            continue;
        failed++;
        print_error ("%s: rungwise %s\n%s", one->file, one->command, wrong);
    }
    if (failed > 0)
        fail_msg ("%u of %u cases do not hold", failed, cases->len);
}

/* Every exit status is reached by some case. The program's own fault has no known input that brings it about; what plan
 * would end with then is in test_reports_outcome.c. */
static void
test_every_exit_status_has_a_case (void **state)
{
    g_autoptr (GPtrArray) cases = read_cases ();
    guint count = 0;
    const OutcomeRow *rows = outcome_each (&count);

    (void) state;
    for (guint i = 0; i < count; i++) {
        gboolean reached = rows[i].outcome == OUTCOME_OWN_FAULT || rows[i].outcome == OUTCOME_STOPPED;

        for (guint c = 0; c < cases->len; c++)
            reached |= ((const Case *) g_ptr_array_index (cases, c))->expect_exit == (int) rows[i].outcome;
        if (!reached)
            fail_msg ("no case reaches exit status %d", (int) rows[i].outcome);
    }
    for (guint c = 0; c < cases->len; c++) {
        const Case *one = g_ptr_array_index (cases, c);
        gboolean listed = FALSE;

        for (guint i = 0; i < count; i++)
            listed |= one->expect_exit == (int) rows[i].outcome;
        if (!listed)
            fail_msg ("%s: exit status %d is not in the table", one->file, one->expect_exit);
    }
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_every_case_holds),
        cmocka_unit_test (test_every_exit_status_has_a_case),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
