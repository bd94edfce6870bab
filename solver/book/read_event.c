/* SPDX-License-Identifier: MIT */
/* Events: typed out key by key, or as the 16 bytes that a controller hands over.
 *
 * Source: IPMI 2.0 (revision 1.1), section 32 (record formats) and table 42-3 (sensor types). The specification was not at
 * hand; tests/unit/data/ipmi-events.tsv says on what basis each field is known. */
#include "book/read_event.h"

#include <string.h>

#define LARGEST_BYTE   0xFF
#define LARGEST_OFFSET 0x0F

/* Of the record, from 0. People count its bytes from 1, and so do complaints. */
enum { RECORD_TYPE = 2, SENSOR_TYPE = 10, EVENT_TYPE = 12, DATA_1 = 13, DATA_2 = 14, DATA_3 = 15, RECORD_BYTES = 16 };

#define SYSTEM_EVENT_RECORD 0x02
#define SENSOR_SPECIFIC     0x6F
#define DEASSERTED_BIT      0x80
#define EXTENSION_CODE      3 /* in bits 7:6 (data 2) and 5:4 (data 3) of data 1: they hold what the table lists */

/* ---- Bytes ---- */

/* One decimal digit is the same in both; two could be meant either way, and displays show hexadecimal. */
static gboolean
parse_byte (const char *text, int *out)
{
    gsize length = strlen (text);
    if (length == 1 && g_ascii_isdigit (*text)) {
        *out = *text - '0';
        return TRUE;
    }
    if (!g_str_has_prefix (text, "0x") || length < 3 || length > 4 ||
        strspn (text + 2, "0123456789abcdefABCDEF") != length - 2)
        return FALSE;
    *out = (int) g_ascii_strtoull (text + 2, NULL, 16);
    return TRUE;
}

gboolean
value_byte (Loader *loader, const Node *node, const char *key, int most, int *out)
{
    g_autofree char *expected = most == LARGEST_BYTE
                                    ? g_strdup ("expected 0x and one or two hexadecimal digits, such as 0x1F")
                                    : g_strdup_printf ("expected 0x and hexadecimal digits, from 0x00 to 0x%02X", most);
    const char *text = value_scalar (loader, node, key, expected);
    int byte = 0;
    if (!text)
        return FALSE;
    if (!parse_byte (text, &byte)) {
        loader_complain (loader, node, expected, "%s \"%s\" is not a byte in hexadecimal", key, text);
        return FALSE;
    }
    if (byte > most) {
        loader_complain (loader, node, expected, "%s %s is out of range", key, text);
        return FALSE;
    }
    *out = byte;
    return TRUE;
}

gboolean
value_bytes (Loader *loader, const Node *node, const char *key, int *from, int *to)
{
    static const char expected[] = "expected two bytes in hexadecimal, the lower one first, such as 0x10 .. 0x1F";
    g_autofree char *first = NULL, *last = NULL;
    int lower, upper;
    if (!node || node->kind != NODE_SCALAR || !value_split_range (node->text, &first, &last)) {
        if (!value_byte (loader, node, key, LARGEST_BYTE, from))
            return FALSE;
        *to = *from;
        return TRUE;
    }
    if (!parse_byte (first, &lower) || !parse_byte (last, &upper) || lower > upper) {
        loader_complain (loader, node, expected, "%s \"%s\" is not a range of bytes", key, node->text);
        return FALSE;
    }
    *from = lower;
    *to = upper;
    return TRUE;
}

/* ---- Raw records ---- */

static Mark
mark_in_text (const Node *node, gsize offset)
{
    guint characters = (guint) g_utf8_strlen (node->text, (gssize) offset);
    return node->spelled ? mark_right_of (node->at, node->quote + characters) : node->at;
}

static void
lose_at (Loader *loader, const Node *node, gsize offset, const char *expected, const char *what)
{
    complaints_add (loader->complaints, mark_in_text (node, offset), expected, "%s", what);
    loader_lose_node (loader, node);
}

/* The record's bytes and where each stands in the text. FALSE after a complaint. */
static gboolean
split_record (Loader *loader, const Node *node, guint8 *bytes, gsize *places)
{
    static const char expected[] =
        "expected the 16 bytes of a record, two hexadecimal digits each, with blanks between";
    const char *text = node->text;
    gsize at = strspn (text, " ");
    guint count = 0;
    for (; text[at] != '\0'; at += strspn (text + at, " "), count++) {
        gsize length = strcspn (text + at, " ");
        if (length != 2 || !g_ascii_isxdigit (text[at]) || !g_ascii_isxdigit (text[at + 1])) {
            g_autofree char *what =
                g_strdup_printf ("byte %u of the record, \"%.*s\", is no byte", count + 1, (int) length, text + at);
            lose_at (loader, node, at, expected, what);
            return FALSE;
        }
        if (count < RECORD_BYTES) {
            bytes[count] = (guint8) (g_ascii_xdigit_value (text[at]) * 16 + g_ascii_xdigit_value (text[at + 1]));
            places[count] = at;
        }
        at += length;
    }
    if (count == RECORD_BYTES)
        return TRUE;
    g_autofree char *what = g_strdup_printf ("this record has %u byte%s", count, count == 1 ? "" : "s");
    lose_at (loader, node, 0, expected, what);
    return FALSE;
}

static gboolean
read_record_bytes (Loader *loader, const Node *node, SeenEvent *out)
{
    guint8 bytes[RECORD_BYTES];
    gsize places[RECORD_BYTES];
    if (!split_record (loader, node, bytes, places))
        return FALSE;
    if (bytes[RECORD_TYPE] != SYSTEM_EVENT_RECORD) {
        g_autofree char *what = g_strdup_printf ("byte 3, the record type, is %02Xh", bytes[RECORD_TYPE]);
        lose_at (loader, node, places[RECORD_TYPE],
                 "expected 02h, a system event record: what is in others is their maker's own", what);
        return FALSE;
    }
    if ((bytes[EVENT_TYPE] & ~DEASSERTED_BIT) != SENSOR_SPECIFIC) {
        g_autofree char *what =
            g_strdup_printf ("byte 13, the event type, is %02Xh", bytes[EVENT_TYPE] & ~DEASSERTED_BIT);
        lose_at (loader, node, places[EVENT_TYPE],
                 "expected 6Fh (EFh where the event ended): only there does an offset mean what the table of sensor "
                 "types says",
                 what);
        return FALSE;
    }
    *out = (SeenEvent){
        .sensor_type = bytes[SENSOR_TYPE],
        .offset = bytes[DATA_1] & 0x0F,
        .data_2 = bytes[DATA_1] >> 6 == EXTENSION_CODE ? bytes[DATA_2] : -1,
        .data_3 = (bytes[DATA_1] >> 4 & 3) == EXTENSION_CODE ? bytes[DATA_3] : -1,
        .deasserted = (bytes[EVENT_TYPE] & DEASSERTED_BIT) != 0,
    };
    return TRUE;
}

/* ---- Typed out ---- */

void
take_event_type (MapReader *reader, KeyNeed need, SeenEvent *out)
{
    value_byte (reader->loader, map_take (reader, "sensor-type", need), "sensor-type", LARGEST_BYTE, &out->sensor_type);
    value_byte (reader->loader, map_take (reader, "offset", need), "offset", LARGEST_OFFSET, &out->offset);
}

static void
read_event_keys (MapReader *reader, KeyNeed need, SeenEvent *event)
{
    Loader *loader = reader->loader;
    take_event_type (reader, need, event);
    value_byte (loader, map_take (reader, "data-2", KEY_OPTIONAL), "data-2", LARGEST_BYTE, &event->data_2);
    value_byte (loader, map_take (reader, "data-3", KEY_OPTIONAL), "data-3", LARGEST_BYTE, &event->data_3);
    value_yes (loader, map_take (reader, "deasserted", KEY_OPTIONAL), "deasserted", &event->deasserted);
}

gboolean
read_event (Loader *loader, const Node *node, SeenEvent *out)
{
    MapReader reader;
    guint before = complaints_count (loader->complaints);
    SeenEvent event = { .sensor_type = -1, .offset = -1, .data_2 = -1, .data_3 = -1 };
    if (!map_begin (&reader, loader, node, "this event"))
        return FALSE;
    const Node *raw = map_take (&reader, "raw", KEY_OPTIONAL);
    read_event_keys (&reader, raw ? KEY_OPTIONAL : KEY_REQUIRED, &event);
    map_end (&reader);
    if (raw && node->keys->len > 1)
        loader_complain (loader, raw, "expected raw alone: it says all that the other keys could",
                         "raw beside other keys");
    else if (value_scalar (loader, raw, "raw", "expected the 16 bytes of a record"))
        read_record_bytes (loader, raw, &event);
    *out = event;
    return complaints_count (loader->complaints) == before;
}

/* ---- On a command line ---- */

/* Two hexadecimal digits, as it stands in a log. */
static gboolean
is_bare_byte (const char *text, int most, int *out)
{
    gsize length = strlen (text);
    if (length == 0 || length > 2 || strspn (text, "0123456789abcdefABCDEF") != length)
        return FALSE;
    *out = (int) g_ascii_strtoull (text, NULL, 16);
    return *out <= most;
}

gboolean
read_event_item (Loader *loader, const Node *node, SeenEvent *out)
{
    if (strchr (node->text, ' '))
        return read_record_bytes (loader, node, out);
    g_auto (GStrv) fields = g_strsplit (node->text, "/", -1);
    guint count = g_strv_length (fields);
    SeenEvent event = { .sensor_type = -1, .offset = -1, .data_2 = -1, .data_3 = -1 };
    if ((count == 2 || count == 3) && is_bare_byte (fields[0], LARGEST_BYTE, &event.sensor_type) &&
        is_bare_byte (fields[1], LARGEST_OFFSET, &event.offset) &&
        (count == 2 || is_bare_byte (fields[2], LARGEST_BYTE, &event.data_2))) {
        *out = event;
        return TRUE;
    }
    loader_complain (
        loader, node,
        "expected sensor type, offset and perhaps data 2 in hexadecimal, such as 07/04 or 0F/00/01, or the 16 "
        "bytes of a record",
        "\"%s\" is no event", node->text);
    return FALSE;
}
