/* SPDX-License-Identifier: MIT */
/* Version order under each scheme of docs/files.md, "Versions". */
#include "text/text.h"

#include <string.h>

/* ---- Runs of characters ---- */

static gsize
digits_length (const char *text)
{
    return strspn (text, "0123456789");
}

static int
sign (int value)
{
    return (value > 0) - (value < 0);
}

/* Compares two runs of digits as numbers of any length. */
static int
compare_numbers (const char *left, gsize left_length, const char *right, gsize right_length)
{
    for (; left_length && *left == '0'; left_length--)
        left++;
    for (; right_length && *right == '0'; right_length--)
        right++;
    if (left_length != right_length)
        return left_length < right_length ? -1 : 1;
    return sign (memcmp (left, right, left_length));
}

/* ---- dotted ---- */

static const char *
dotted_problem (const char *version)
{
    static const char problem[] = "whole numbers between dots, such as 2.10.3";
    for (;;) {
        gsize digits = digits_length (version);
        if (digits == 0)
            return problem;
        version += digits;
        if (*version == '\0')
            return NULL;
        if (*version++ != '.')
            return problem;
    }
}

static int
dotted_compare (const char *left, const char *right)
{
    while (*left && *right) {
        gsize left_length = digits_length (left), right_length = digits_length (right);
        int order = compare_numbers (left, left_length, right, right_length);
        if (order)
            return order;
        left += left_length + (left[left_length] == '.');
        right += right_length + (right[right_length] == '.');
    }
    return (*left != '\0') - (*right != '\0');
}

/* ---- semver: Semantic Versioning 2.0.0, items 2, 9, 10 and 11 ---- */

/* Length of the identifiers between dots at `text`, 0 when one is empty or a number has a leading zero where that is
 * not allowed. */
static gsize
identifiers_length (const char *text, gboolean leading_zeros)
{
    const char *at = text;
    for (;;) {
        const char *start = at;
        while (g_ascii_isalnum (*at) || *at == '-')
            at++;
        gsize length = (gsize) (at - start);
        if (length == 0)
            return 0;
        if (!leading_zeros && *start == '0' && length > 1 && digits_length (start) == length)
            return 0;
        if (*at != '.')
            return (gsize) (at - text);
        at++;
    }
}

static const char *
semver_problem (const char *version)
{
    static const char problem[] = "MAJOR.MINOR.PATCH without leading zeros, such as 2.10.3 or 2.10.3-rc.1";
    for (int i = 0; i < 3; i++) {
        gsize digits = digits_length (version);
        if (digits == 0 || (digits > 1 && *version == '0'))
            return problem;
        version += digits;
        if (i < 2 && *version++ != '.')
            return problem;
    }
    if (*version == '-') {
        gsize length = identifiers_length (version + 1, FALSE);
        if (length == 0)
            return problem;
        version += 1 + length;
    }
    if (*version == '+') {
        gsize length = identifiers_length (version + 1, TRUE);
        if (length == 0)
            return problem;
        version += 1 + length;
    }
    return *version ? problem : NULL;
}

/* One pre-release identifier against another: numbers below words, numbers by value, words in ASCII order. */
static int
compare_identifiers (const char *left, gsize left_length, const char *right, gsize right_length)
{
    gboolean left_number = digits_length (left) >= left_length, right_number = digits_length (right) >= right_length;
    if (left_number && right_number)
        return compare_numbers (left, left_length, right, right_length);
    if (left_number != right_number)
        return left_number ? -1 : 1;
    int order = memcmp (left, right, MIN (left_length, right_length));
    if (order)
        return sign (order);
    return left_length < right_length ? -1 : left_length > right_length;
}

static int
compare_prereleases (const char *left, const char *right)
{
    if (*left != '-' || *right != '-') /* none at all is the highest */
        return (*left != '-') - (*right != '-');
    do {
        left++, right++;
        gsize left_length = strcspn (left, ".+"), right_length = strcspn (right, ".+");
        int order = compare_identifiers (left, left_length, right, right_length);
        if (order)
            return order;
        left += left_length;
        right += right_length;
    } while (*left == '.' && *right == '.');
    return (*left == '.') - (*right == '.');
}

static int
semver_compare (const char *left, const char *right)
{
    gsize left_length = strcspn (left, "-+"), right_length = strcspn (right, "-+");
    g_autofree char *left_core = g_strndup (left, left_length), *right_core = g_strndup (right, right_length);
    int order = dotted_compare (left_core, right_core);
    return order ? order : compare_prereleases (left + left_length, right + right_length);
}

/* ---- debian: deb-version(7) ---- */

static const char *
debian_problem (const char *version)
{
    static const char problem[] = "a digit first, then letters, digits and . + - ~, such as 2.1~rc1-3";
    const char *upstream = version, *colon = strchr (version, ':');
    if (colon) {
        if (digits_length (version) != (gsize) (colon - version) || colon == version)
            return "a whole number before the colon, such as 1:2.1";
        upstream = colon + 1;
    }
    if (!g_ascii_isdigit (*upstream))
        return problem;
    for (const char *at = upstream; *at; at++)
        if (!g_ascii_isalnum (*at) && !strchr (".+-~:", *at))
            return problem;
    const char *hyphen = strrchr (upstream, '-');
    if (hyphen && (hyphen[1] == '\0' || strchr (hyphen, ':')))
        return "something after the last hyphen, such as 2.1-3";
    return NULL;
}

/* Rank of a character of a non-digit run: ~ before the end, the end before letters, letters before the rest. */
static int
debian_rank (const char *at, const char *end)
{
    if (at >= end || g_ascii_isdigit (*at))
        return 0;
    if (*at == '~')
        return -1;
    return g_ascii_isalpha (*at) ? (guchar) *at : (guchar) *at + 256;
}

static int
debian_compare_parts (const char *left, const char *left_end, const char *right, const char *right_end)
{
    while (left < left_end || right < right_end) {
        while ((left < left_end && !g_ascii_isdigit (*left)) || (right < right_end && !g_ascii_isdigit (*right))) {
            int order = debian_rank (left, left_end) - debian_rank (right, right_end);
            if (order)
                return sign (order);
            left += left < left_end;
            right += right < right_end;
        }
        gsize left_length = MIN (digits_length (left), (gsize) (left_end - left));
        gsize right_length = MIN (digits_length (right), (gsize) (right_end - right));
        int order = compare_numbers (left, left_length, right, right_length);
        if (order)
            return order;
        left += left_length;
        right += right_length;
    }
    return 0;
}

/* Where epoch, upstream part and revision of a version lie. */
typedef struct {
    const char *epoch, *epoch_end, *upstream, *upstream_end, *revision, *revision_end;
} DebianParts;

static DebianParts
debian_split (const char *version)
{
    DebianParts parts = { version, version, version, NULL, NULL, version + strlen (version) };
    gsize digits = digits_length (version);
    if (digits && version[digits] == ':') {
        parts.epoch_end = version + digits;
        parts.upstream = version + digits + 1;
    }
    const char *hyphen = strrchr (parts.upstream, '-');
    parts.upstream_end = hyphen ? hyphen : parts.revision_end;
    parts.revision = hyphen ? hyphen + 1 : parts.revision_end;
    return parts;
}

static int
debian_compare (const char *left, const char *right)
{
    DebianParts a = debian_split (left), b = debian_split (right);
    int order = debian_compare_parts (a.epoch, a.epoch_end, b.epoch, b.epoch_end);
    if (order == 0)
        order = debian_compare_parts (a.upstream, a.upstream_end, b.upstream, b.upstream_end);
    if (order == 0)
        order = debian_compare_parts (a.revision, a.revision_end, b.revision, b.revision_end);
    return order;
}

/* ---- All schemes ---- */

const char *
version_problem (VersionScheme scheme, const char *version)
{
    switch (scheme) {
    case VERSIONS_DOTTED:
        return dotted_problem (version);
    case VERSIONS_SEMVER:
        return semver_problem (version);
    case VERSIONS_DEBIAN:
        return debian_problem (version);
    case VERSIONS_LISTED:
        return text_name_problem (version);
    }
    g_assert_not_reached ();
}

int
version_compare (VersionScheme scheme, const char *left, const char *right)
{
    switch (scheme) {
    case VERSIONS_DOTTED:
        return dotted_compare (left, right);
    case VERSIONS_SEMVER:
        return semver_compare (left, right);
    case VERSIONS_DEBIAN:
        return debian_compare (left, right);
    case VERSIONS_LISTED:
        break;
    }
    g_return_val_if_reached (0);
}

gboolean
version_op_holds (VersionOp op, int comparison)
{
    switch (op) {
    case OP_ANY:
        return TRUE;
    case OP_LT:
        return comparison < 0;
    case OP_LE:
        return comparison <= 0;
    case OP_EQ:
        return comparison == 0;
    case OP_GE:
        return comparison >= 0;
    case OP_GT:
        return comparison > 0;
    case OP_NE:
        return comparison != 0;
    }
    g_assert_not_reached ();
}

const char *
version_op_text (VersionOp op)
{
    static const char *const texts[] = { "", "<", "<=", "=", ">=", ">", "!=" };
    return texts[op];
}
