/* SPDX-License-Identifier: MIT */
/* Good files damaged on purpose: cut short, lines doubled, swapped, left out, bytes changed. The loader has to come
 * back from each, and to complain whenever libyaml, asked directly, says that what is left is not YAML. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include <glib/gstdio.h>
#include <stdio.h>
#include <yaml.h>

#include "book/book.h"

#define BASE "tests/malformed/base/"

/* A document of every other kind beside the base's book and unit, and a second board, so that every reader is reached. */
static const char further[] =
    "---\n"
    "want: newest\n"
    "slots: {cpu1: {generation: elvane, cores: \">= 12\"}}\n"
    "firmware: {system: \">= 2.1\"}\n"
    "keep: [controller]\n"
    "---\n"
    "shop: bench\n"
    "loaners: [{part: dorvan-8, stepping: a1, count: 2}]\n"
    "minutes: {opening: 6, fit: {processor: 4, other: 2.5}}\n"
    "found: {contact-bent: 3, board-damaged: 1}\n"
    "---\n"
    "rules:\n"
    "  - {rule: sink, says: \"Covers.\", breaking: harms, while: [on, standby], at-least: rating, of: heat-sink,\n"
    "     covers: watts, under: processor}\n"
    "  - {rule: two, says: \"Beside.\", breaking: warns, when: processor, requires: \"system >= 1.0 and board "
    "wren-1s\"}\n"
    "---\n"
    "cautions:\n"
    "  - {caution: isolate, when: [opening, start], says: \"Off.\", checked: 2034-01-15}\n"
    "---\n"
    "route: by hand\n"
    "steps:\n"
    "  - {do: write, component: system, release: 1.4, by: host}\n"
    "---\n"
    "book: spare images\n"
    "boards:\n"
    "  - {board: dunnock-1s, revisions: [r1], verified-boot: no, binds: alderbank, components: [system, system-2],\n"
    "     slots: [{slot: cpu1, takes: processor, rated-insertions: 30}, {slot: cpu2, takes: processor}]}\n"
    "firmware:\n"
    "  - component: system\n"
    "    for: dunnock-1s\n"
    "    versions: dotted\n"
    "    spare: system-2\n"
    "    methods: {controller: {minutes: 9, host: either}, spare: {minutes: 6, obeys: [floor]}}\n"
    "    recovery: [spare]\n"
    "    page: {minutes: 2, requires: \"system >= 1.0\"}\n"
    "    releases: [{release: 1.0}, {release: 1.4, from: \"system >= 1.0\", lowest: 1.0}]\n"
    "---\n"
    "unit: LK-0301\n"
    "board: dunnock-1s\n"
    "revision: r1\n"
    "firmware: {system: \"1.0 .. 1.4\"}\n"
    "failed: [system-2]\n"
    "insertions: {cpu1: 12}\n"
    "fitted: {cpu1: {part: dorvan-8, stepping: a1, from: loan, bound: alderbank}}\n"
    "pulled: [elvane-14]\n"
    "began: {cpu2: elvane-14}\n"
    "---\n"
    "record: by hand\n"
    "unit: LK-0301\n"
    "entries:\n"
    "  - {step: 1, outcome: failed, found: dark, firmware: {system: 1.4}, fitted: {cpu1: elvane-14},\n"
    "     time: 2034-03-05T09:41+01:00, initials: mk}\n"
    "  - {step: {do: remove, slot: cpu1}, outcome: done, time: 2034-03-05T09:52+01:00, initials: mk}\n"
    "---\n"
    "looks:\n"
    "  - {look: contacts, after: [processor], says: \"Look.\", minutes: 4,\n"
    "     finds: [{cause: contact-bent, says: \"Bent.\", share: 9, blames: [board, processor]}]}\n"
    "  - {look: the-board, after: processor, by-elimination: yes, says: \"Left.\",\n"
    "     finds: [{cause: board-damaged, says: \"Damaged.\", share: 4.5}]}\n"
    "---\n"
    "signs:\n"
    "  - {sign: code, board: [wren-1s], seen: {post-code: 0x10 .. 0x1f}, says: \"Memory.\",\n"
    "     supports: {contact-bent: 2.5}, excludes: [any-rule, board-damaged]}\n"
    "  - {sign: log, seen: {event: {sensor-type: 0x0F, offset: 0x02, data-2: 0x01, data-3: 0}}, says: \"Memory.\"}\n"
    "  - {sign: long, seen: {dark-minutes: 10 .. 30}, says: \"Long.\"}\n"
    "---\n"
    "seen: dark\n"
    "unit: LK-0301\n"
    "dark-minutes: 15\n"
    "beeps: long short\n"
    "events:\n"
    "  - {sensor-type: 0x07, offset: 0x04, deasserted: yes}\n"
    "  - raw: \"01 00 02 78 56 34 12 20 00 04 07 81 6F A5 FF FF\"\n"
    "with: [{fitted: {cpu1: elvane-14, cpu2: empty}, started: no}]\n"
    "looked: {contacts: contact-bent}\n"
    "---\n"
    "unit: LK-0302\n"
    "board: dunnock-1s\n"
    "revision: r1\n"
    "firmware: {system: unknown}\n"
    "factory: {made: 2034-01-15, label: {system: 1.0}, written-since: no}\n";

typedef struct {
    char *folder, *path; /* of the damaged copy */
    char *text;          /* undamaged */
    gsize length;
    guint loads, accepted;
} Bench;

/* ---- The outside opinion ---- */

static gboolean
is_yaml (const char *text, gsize length)
{
    yaml_parser_t parser;
    yaml_event_t event;
    gboolean right = TRUE, ended = FALSE;
    yaml_parser_initialize (&parser);
    yaml_parser_set_input_string (&parser, (const yaml_char_t *) text, length);
    while (right && !ended) {
        right = yaml_parser_parse (&parser, &event);
        ended = right && event.type == YAML_STREAM_END_EVENT;
        if (right)
            yaml_event_delete (&event);
    }
    yaml_parser_delete (&parser);
    return right;
}

/* ---- One damaged copy ---- */

static void
load (Bench *bench, const char *text, gsize length)
{
    FILE *file = g_fopen (bench->path, "wb"); /* g_file_set_contents() would wait for the disk each time */
    assert_non_null (file);
    assert_int_equal (fwrite (text, 1, length, file), length);
    fclose (file);
    const char *const paths[] = { bench->path, NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library = library_load (paths, NULL, complaints);
    assert_non_null (library);
    bench->loads++;
    if (complaints_count (complaints) == 0) {
        bench->accepted++;
        if (!is_yaml (text, length))
            fail_msg ("accepted, though it is not YAML:\n%.*s", (int) length, text);
        return;
    }
    g_autofree char *printed = complaints_to_string (complaints, 50);
    assert_true (g_str_has_prefix (printed, bench->path));
    for (guint i = 0; i < complaints_count (complaints); i++)
        assert_true (complaints_get (complaints, i)->at.line > 0);
}

static int
set_up (void **state)
{
    Bench *bench = g_new0 (Bench, 1);
    g_autofree char *book = NULL, *unit = NULL;
    if (!g_file_get_contents (BASE "bench.yaml", &book, NULL, NULL) ||
        !g_file_get_contents (BASE "unit.yaml", &unit, NULL, NULL))
        return -1;
    bench->text = g_strconcat (book, "---\n", unit, further, NULL);
    bench->length = strlen (bench->text);
    bench->folder = g_dir_make_tmp ("rungwise-damaged-XXXXXX", NULL);
    bench->path = g_build_filename (bench->folder, "damaged.yaml", NULL);
    *state = bench;
    return 0;
}

static int
tear_down (void **state)
{
    Bench *bench = *state;
    g_unlink (bench->path);
    g_rmdir (bench->folder);
    g_free (bench->folder);
    g_free (bench->path);
    g_free (bench->text);
    g_free (bench);
    return 0;
}

/* ---- Ways of damaging ---- */

static void
test_undamaged (void **state)
{
    Bench *bench = *state;
    load (bench, bench->text, bench->length);
    assert_int_equal (bench->accepted, 1);
}

static void
test_cut_short_at_every_byte (void **state)
{
    Bench *bench = *state;
    for (gsize length = 0; length < bench->length; length++)
        load (bench, bench->text, length);
    /* Most cuts leave something unfinished. */
    assert_true (bench->accepted < bench->loads / 2);
}

/* The lines of the text with some of them in another order, or left out. */
static void
load_lines (Bench *bench, char **lines, const guint *order, guint count)
{
    g_autoptr (GString) text = g_string_new (NULL);
    for (guint i = 0; i < count; i++)
        g_string_append_printf (text, "%s\n", lines[order[i]]);
    load (bench, text->str, text->len);
}

static void
test_lines_doubled_left_out_swapped (void **state)
{
    Bench *bench = *state;
    g_auto (GStrv) lines = g_strsplit (bench->text, "\n", -1);
    guint count = g_strv_length (lines) - 1; /* the last one is empty */
    g_autofree guint *order = g_new0 (guint, count + 1);
    for (guint line = 0; line < count; line++) {
        for (guint i = 0; i <= count; i++)
            order[i] = i <= line ? i : i - 1;
        load_lines (bench, lines, order, count + 1);
        for (guint i = 0; i < count - 1; i++)
            order[i] = i < line ? i : i + 1;
        load_lines (bench, lines, order, count - 1);
        for (guint i = 0; i < count; i++)
            order[i] = i;
        if (line + 1 < count) {
            order[line] = line + 1;
            order[line + 1] = line;
        }
        load_lines (bench, lines, order, count);
    }
    assert_int_equal (bench->loads, 3 * count);
    assert_true (bench->accepted < bench->loads);
}

/* Any byte in place of any other, from a fixed seed. */
static void
test_bytes_changed (void **state)
{
    Bench *bench = *state;
    g_autoptr (GRand) random = g_rand_new_with_seed (20340115);
    g_autofree char *text = g_strdup (bench->text);
    static const char likely[] = "\t\n :-[]{},\"'#&*!|>%@`\xff\x00";
    for (int i = 0; i < 1500; i++) {
        gsize at = (gsize) g_rand_int_range (random, 0, (int) bench->length);
        text[at] = g_rand_boolean (random) ? likely[g_rand_int_range (random, 0, (int) sizeof likely - 1)]
                                           : (char) g_rand_int_range (random, 0, 256);
        load (bench, text, bench->length);
        text[at] = bench->text[at];
    }
    assert_int_equal (bench->loads, 1500);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown (test_undamaged, set_up, tear_down),
        cmocka_unit_test_setup_teardown (test_cut_short_at_every_byte, set_up, tear_down),
        cmocka_unit_test_setup_teardown (test_lines_doubled_left_out_swapped, set_up, tear_down),
        cmocka_unit_test_setup_teardown (test_bytes_changed, set_up, tear_down),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
