/* SPDX-License-Identifier: MIT */
/* Reader: dates and times. */
#include "book/reader.h"

#include <stdio.h>
#include <string.h>

#define MINUTE_FORM "00:00"

static const guint most_of_clock[] = { 23, 59, 59 };

/* Whether `text` has this form, `0` standing for any digit, and each pair of digits is at most what `most` lists. */
static gboolean
is_clock (const char *text, gsize length, const char *form, const guint *most)
{
    if (length != strlen (form))
        return FALSE;
    for (gsize i = 0; i < length; i++)
        if (form[i] == '0' ? !g_ascii_isdigit (text[i]) : text[i] != form[i])
            return FALSE;
    for (gsize i = 0, pair = 0; i < length; i += 3, pair++)
        if ((guint) (text[i] - '0') * 10 + (guint) (text[i + 1] - '0') > most[pair])
            return FALSE;
    return TRUE;
}

/* YYYY-MM-DD, of a day that there is. */
static gboolean
starts_with_date (const char *text)
{
    guint year, month, day;
    return strspn (text, "0123456789-") >= 10 && text[4] == '-' && text[7] == '-' &&
           sscanf (text, "%4u-%2u-%2u", &year, &month, &day) == 3 && month >= 1 && month <= 12 &&
           g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year);
}

const char *
value_date (Loader *loader, const Node *node, const char *key)
{
    static const char expected[] = "expected a date as YYYY-MM-DD";
    const char *text = value_scalar (loader, node, key, expected);
    if (!text)
        return NULL;
    if (strlen (text) == 10 && starts_with_date (text))
        return g_intern_string (text);
    loader_complain (loader, node, expected, "%s \"%s\" is not a date", key, text);
    return NULL;
}

gboolean
value_clock (Loader *loader, const Node *node, const char *key, guint *minutes)
{
    static const char expected[] = "expected a time of the day from 00:00 to 23:59, such as 07:30";
    const char *text = value_scalar (loader, node, key, expected);
    if (!text)
        return FALSE;
    if (!is_clock (text, strlen (text), MINUTE_FORM, most_of_clock)) {
        loader_complain (loader, node, expected, "%s \"%s\" is not a time", key, text);
        return FALSE;
    }
    *minutes = (guint) (g_ascii_strtoull (text, NULL, 10) * 60 + g_ascii_strtoull (text + strlen ("00:"), NULL, 10));
    return TRUE;
}

const char *
value_local_time (Loader *loader, const Node *node, const char *key)
{
    static const char expected[] = "expected a date, or a date and the shop's own time, such as 2034-03-10T16:00";
    const char *text = value_scalar (loader, node, key, expected);
    if (!text)
        return NULL;
    gboolean is_date = strlen (text) >= 10 && starts_with_date (text);
    if (is_date && (text[10] == '\0' ||
                    (text[10] == 'T' && is_clock (text + 11, strlen (text + 11), MINUTE_FORM, most_of_clock))))
        return g_intern_string (text);
    loader_complain (loader, node, expected, "%s \"%s\" is not a time", key, text);
    return NULL;
}

/* What follows the T: a time of day to the minute or second, and Z or an offset. */
static gboolean
is_time_of_day (const char *text)
{
    gsize length = strcspn (text, "Z+-");
    const char *offset = text + length;
    return (is_clock (text, length, MINUTE_FORM, most_of_clock) || is_clock (text, length, "00:00:00", most_of_clock)) &&
           (strcmp (offset, "Z") == 0 || (*offset && is_clock (offset + 1, strlen (offset + 1), MINUTE_FORM, most_of_clock)));
}

const char *
value_time (Loader *loader, const Node *node, const char *key)
{
    static const char expected[] = "expected a time with its offset from UTC, such as 2034-03-05T09:41+01:00";
    const char *text = value_scalar (loader, node, key, expected);
    if (!text)
        return NULL;
    if (strlen (text) > 11 && text[10] == 'T' && starts_with_date (text) && is_time_of_day (text + 11))
        return g_intern_string (text);
    loader_complain (loader, node, expected, "%s \"%s\" is not a time", key, text);
    return NULL;
}
