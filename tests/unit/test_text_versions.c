/* SPDX-License-Identifier: MIT */
/* Version order against published rules and against dpkg itself. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include "text/text.h"

typedef struct {
    const char *left;
    char sign; /* < = > */
    const char *right;
} Pair;

static char
sign_of (int comparison)
{
    return comparison < 0 ? '<' : comparison > 0 ? '>' : '=';
}

/* Both ways round. */
static void
check_pair (VersionScheme scheme, const Pair *pair)
{
    char mirrored = pair->sign == '<' ? '>' : pair->sign == '>' ? '<' : '=';
    char found = sign_of (version_compare (scheme, pair->left, pair->right));
    char back = sign_of (version_compare (scheme, pair->right, pair->left));
    if (found != pair->sign || back != mirrored)
        fail_msg ("%s %c %s, found %c and back %c", pair->left, pair->sign, pair->right, found, back);
}

/* ---- debian ---- */

/* Computed with dpkg --compare-versions 1.21.23. Pairs marked u are from the upstream rpmvercmp test list, which asks
 * them of RPM; the answer here is dpkg's. The last two are firmware versions of a DMTF Redfish mockup. */
static const Pair debian_pairs[] = {
    { "1.0", '=', "1.0" }, /* u */
    { "1.0", '<', "2.0" }, /* u */
    { "2.9", '<', "2.10" },
    { "1.9.0", '<', "1.10.0" },
    { "1.0", '<', "1.0.0" },
    { "1.0", '<', "1.0a" },
    { "1.0a", '<', "1.0b" },
    { "1.0a", '<', "1.0.1" },
    { "1.0aa", '>', "1.0a" }, /* u */
    { "1.05", '=', "1.5" },
    { "10.0001", '=', "10.1" }, /* u */
    { "1.010", '>', "1.9" },
    { "5.5p1", '<', "5.5p10" },  /* u */
    { "10xyz", '<', "10.1xyz" }, /* u */
    { "10b2", '>', "10a1" },     /* u */
    { "2a", '<', "2.0" },        /* u */
    { "6.0.rc1", '>', "6.0" },   /* u */
    { "1.0~rc1", '<', "1.0" },
    { "1.0~rc1", '<', "1.0~rc2" },
    { "1.0~rc1~git123", '<', "1.0~rc1" },
    { "1.0~beta1~svn1245", '<', "1.0~beta1" },
    { "1.0+b", '>', "1.0" },
    { "1.0-1", '>', "1.0" },
    { "1.0-0", '=', "1.0" },
    { "1.0-9", '<', "1.0-10" },
    { "1.0-1~bpo1", '<', "1.0-1" },
    { "0:1.0", '=', "1.0" },
    { "1:1.0", '>', "2.0" },
    { "1:0.9", '<', "1:1.0" },
    { "20101121", '<', "20101122" }, /* u */
    { "4.999.9", '<', "5.0" },       /* u */
    { "3.2b", '<', "3.2c" },
    { "1.0A", '<', "1.0a" },
    { "1.0z", '<', "1.0+" },
    { "1~~", '<', "1~~a" }, /* this chain: deb-version(7), with a digit in front */
    { "1~~a", '<', "1~" },
    { "1~", '<', "1" },
    { "1", '<', "1a" },
    { "2.30.rev1", '<', "2.50" },
    { "1.30.367a12-rev1", '<', "1.45.455b66-rev4" },
};

static void
test_debian_pairs (void **state)
{
    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (debian_pairs); i++) {
        assert_null (version_problem (VERSIONS_DEBIAN, debian_pairs[i].left));
        assert_null (version_problem (VERSIONS_DEBIAN, debian_pairs[i].right));
        check_pair (VERSIONS_DEBIAN, &debian_pairs[i]);
    }
}

/* Exit status of `dpkg --compare-versions left op right` == 0, or -1 when dpkg cannot be run. */
static int
dpkg_says (const char *left, const char *op, const char *right)
{
    const char *const arguments[] = { "dpkg", "--compare-versions", left, op, right, NULL };
    int status;
    if (!g_spawn_sync (NULL, (char **) arguments, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL,
                       NULL, NULL, &status, NULL))
        return -1;
    return g_spawn_check_wait_status (status, NULL);
}

static gboolean
dpkg_validates (const char *version)
{
    const char *const arguments[] = { "dpkg", "--validate-version", version, NULL };
    int status;
    return g_spawn_sync (NULL, (char **) arguments, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL,
                         NULL, NULL, &status, NULL) &&
           g_spawn_check_wait_status (status, NULL);
}

static char
dpkg_sign (const char *left, const char *right)
{
    return dpkg_says (left, "lt", right) == 1 ? '<' : dpkg_says (left, "gt", right) == 1 ? '>' : '=';
}

/* A well-formed Debian version of a few characters, so that near ties are common. */
static char *
random_debian (GRand *random)
{
    static const char letters[] = "0011259abZ.+~-";
    for (;;) {
        GString *text = g_string_new (NULL);
        if (g_rand_int_range (random, 0, 6) == 0)
            g_string_append_printf (text, "%d:", g_rand_int_range (random, 0, 3));
        int length = g_rand_int_range (random, 1, 8);
        for (int i = 0; i < length; i++)
            g_string_append_c (text, letters[g_rand_int_range (random, 0, (int) strlen (letters))]);
        if (!version_problem (VERSIONS_DEBIAN, text->str))
            return g_string_free (text, FALSE);
        g_string_free (text, TRUE);
    }
}

/* Outside check: dpkg itself, for the table and for random versions of a fixed seed. */
static void
test_debian_against_dpkg (void **state)
{
    (void) state;
    if (dpkg_says ("1", "lt", "2") != 1) {
        print_message ("dpkg cannot be run here: its answers are not compared\n");
        skip ();
    }
    for (guint i = 0; i < G_N_ELEMENTS (debian_pairs); i++)
        assert_int_equal (dpkg_sign (debian_pairs[i].left, debian_pairs[i].right), debian_pairs[i].sign);
    g_autoptr (GRand) random = g_rand_new_with_seed (1840);
    for (int i = 0; i < 300; i++) {
        g_autofree char *left = random_debian (random), *right = random_debian (random);
        Pair pair = { left, dpkg_sign (left, right), right };
        check_pair (VERSIONS_DEBIAN, &pair);
    }
}

/* deb-version(7); where dpkg is at hand, it is asked as well. */
static void
test_debian_well_formed (void **state)
{
    (void) state;
    static const struct {
        const char *version;
        gboolean right;
    } table[] = {
        { "1", TRUE },    { "1.0-1", TRUE }, { "0:1", TRUE },  { "1:2:3", TRUE }, { "2.1~rc1-3", TRUE },
        { "", FALSE },    { "a1", FALSE },   { "1_0", FALSE }, { "1.0-", FALSE }, { ":1", FALSE },
        { "a:1", FALSE }, { "1:", FALSE },   { "1 0", FALSE }, { "1^2", FALSE },  { "~1", FALSE },
    };
    gboolean has_dpkg = dpkg_says ("1", "lt", "2") == 1;
    for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
        if ((version_problem (VERSIONS_DEBIAN, table[i].version) == NULL) != table[i].right)
            fail_msg ("\"%s\" should be %s", table[i].version, table[i].right ? "well formed" : "refused");
        if (has_dpkg && dpkg_validates (table[i].version) != table[i].right)
            fail_msg ("dpkg says otherwise of \"%s\"", table[i].version);
    }
}

/* ---- semver ---- */

/* Semantic Versioning 2.0.0, item 11: its own chains. */
static void
test_semver_published_order (void **state)
{
    (void) state;
    static const char *const chains[][9] = {
        { "1.0.0", "2.0.0", "2.1.0", "2.1.1", NULL },
        { "1.0.0-alpha", "1.0.0-alpha.1", "1.0.0-alpha.beta", "1.0.0-beta", "1.0.0-beta.2", "1.0.0-beta.11",
          "1.0.0-rc.1", "1.0.0", NULL },
    };
    for (guint chain = 0; chain < G_N_ELEMENTS (chains); chain++)
        for (guint i = 0; chains[chain][i]; i++)
            for (guint j = 0; chains[chain][j]; j++) {
                Pair pair = { chains[chain][i], i < j ? '<' : i > j ? '>' : '=', chains[chain][j] };
                check_pair (VERSIONS_SEMVER, &pair);
            }
}

static void
test_semver_further_pairs (void **state)
{
    (void) state;
    static const Pair pairs[] = {
        { "1.0.0+a", '=', "1.0.0+b" },            /* item 10: build metadata plays no part */
        { "1.0.0-rc.1+x", '=', "1.0.0-rc.1" },    /* item 10 */
        { "1.0.0-alpha11", '<', "1.0.0-alpha2" }, /* item 11: not digits only, so in ASCII order */
        { "1.0.0-1", '<', "1.0.0-a" },            /* item 11.4.3 */
        { "1.9.0", '<', "1.10.0" },
        { "1.0.0-2", '<', "1.0.0-11" },
        { "1.0.0--", '<', "1.0.0-a" },
        { "99999999999999999999.0.0", '>', "9999999999999999999.9.9" },
    };
    for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
        check_pair (VERSIONS_SEMVER, &pairs[i]);
}

/* Items 2, 9 and 10. */
static void
test_semver_well_formed (void **state)
{
    (void) state;
    static const struct {
        const char *version;
        gboolean right;
    } table[] = {
        { "0.0.0", TRUE },       { "1.2.3-rc.1+build.05", TRUE },
        { "1.0.0-0a", TRUE },    { "1.0.0-a--b", TRUE },
        { "1.0.0+001", TRUE },   { "1.0", FALSE },
        { "1.0.0.0", FALSE },    { "01.2.3", FALSE },
        { "1.2.3-01", FALSE },   { "1.2.3-", FALSE },
        { "1.2.3-a..b", FALSE }, { "1.2.3+", FALSE },
        { "v1.2.3", FALSE },     { "1.2.3-a_b", FALSE },
        { "1.2.3+a+b", FALSE },  { "", FALSE },
    };
    for (guint i = 0; i < G_N_ELEMENTS (table); i++)
        if ((version_problem (VERSIONS_SEMVER, table[i].version) == NULL) != table[i].right)
            fail_msg ("\"%s\" should be %s", table[i].version, table[i].right ? "well formed" : "refused");
}

/* ---- dotted, listed ---- */

/* Common practice, no source. Redfish calls numbers between dots DotIntegerNotation and ignores leading zeros as well.
 */
static void
test_dotted (void **state)
{
    (void) state;
    static const Pair pairs[] = {
        { "1.0", '<', "1.0.0" },
        { "1.05", '=', "1.5" },
        { "2.9", '<', "2.10" },
        { "0", '=', "000" },
        { "1", '<', "1.0" },
        { "1.0.1", '>', "1.0" },
        { "12345678901234567890123", '>', "9" },
    };
    for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
        check_pair (VERSIONS_DOTTED, &pairs[i]);
    static const char *const wrong[] = { "", ".", "1.", ".1", "1..2", "1.a", "v1", "1-2", " 1" };
    for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
        assert_non_null (version_problem (VERSIONS_DOTTED, wrong[i]));
    assert_null (version_problem (VERSIONS_DOTTED, "10.0.007"));
}

static void
test_listed_takes_any_name (void **state)
{
    (void) state;
    assert_null (version_problem (VERSIONS_LISTED, "amber_2"));
    assert_non_null (version_problem (VERSIONS_LISTED, "amber 2"));
    assert_non_null (version_problem (VERSIONS_LISTED, "unknown"));
}

/* ---- Comparisons ---- */

static void
test_operators (void **state)
{
    (void) state;
    static const struct {
        VersionOp op;
        const char *text;
        gboolean below, equal, above;
    } table[] = {
        { OP_ANY, "", TRUE, TRUE, TRUE },   { OP_LT, "<", TRUE, FALSE, FALSE }, { OP_LE, "<=", TRUE, TRUE, FALSE },
        { OP_EQ, "=", FALSE, TRUE, FALSE }, { OP_GE, ">=", FALSE, TRUE, TRUE }, { OP_GT, ">", FALSE, FALSE, TRUE },
        { OP_NE, "!=", TRUE, FALSE, TRUE },
    };
    for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
        assert_string_equal (version_op_text (table[i].op), table[i].text);
        assert_int_equal (version_op_holds (table[i].op, -3), table[i].below);
        assert_int_equal (version_op_holds (table[i].op, 0), table[i].equal);
        assert_int_equal (version_op_holds (table[i].op, 7), table[i].above);
    }
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_debian_pairs),
        cmocka_unit_test (test_debian_against_dpkg),
        cmocka_unit_test (test_debian_well_formed),
        cmocka_unit_test (test_semver_published_order),
        cmocka_unit_test (test_semver_further_pairs),
        cmocka_unit_test (test_semver_well_formed),
        cmocka_unit_test (test_dotted),
        cmocka_unit_test (test_listed_takes_any_name),
        cmocka_unit_test (test_operators),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
