/* SPDX-License-Identifier: MIT */
/* The route as a picture and as a page: well-formed, complete, closed in itself, true to the walk.
 *
 * source: what a picture has to show is docs/pictures.md; starts and no-return marks are held against the checker's walk
 * and the answer's ways back, over every story of the demo shop. */
#include "reports_fixture.h"

#include <stdlib.h>
#include <string.h>

#include "reports/markup.h"
#include "reports/paper.h"
#include "reports/picture_draw.h"
#include "reports/picture_ink.h"
#include "reports/picture_model.h"

#define STORIES "data/larkfield/units"
#define HOSTILE "<script>x</script> & \"quoted\" 'so'\x01\x1b[2J ]]> \xe2\x80\xae"

/* ---- Reading markup ---- */

typedef struct {
    char *content; /* of a <text>, or of a <b class="strong"> */
    char *element;
    int x;     /* <text>: where it begins */
    int width; /* ... that it is squeezed into; 0: it is not */
    int size;  /* ... of the font */
} Piece;

typedef struct {
    GPtrArray *pieces; /* Piece* */
    GString *all;      /* every text of the document */
    Piece *open;
    int view_left, view_width; /* of the last <svg> */
    guint images;
} SeenMarkup;

static void
piece_free (gpointer data)
{
    Piece *piece = data;

    g_free (piece->content);
    g_free (piece->element);
    g_free (piece);
}

static const char *
value_of (const char *name, const char **names, const char **values)
{
    for (guint i = 0; names[i] != NULL; i++)
        if (g_str_equal (names[i], name))
            return values[i];
    return NULL;
}

static void
see_svg (SeenMarkup *seen, const char **names, const char **values)
{
    const char *box = value_of ("viewBox", names, values);
    g_auto (GStrv) numbers = NULL;

    assert_non_null (box);
    numbers = g_strsplit (box, " ", -1);
    assert_int_equal (g_strv_length (numbers), 4);
    seen->view_left = atoi (numbers[0]);
    seen->view_width = atoi (numbers[2]);
    seen->images++;
}

static void
see_start (GMarkupParseContext *context, const char *element, const char **names, const char **values, gpointer data,
           GError **error)
{
    SeenMarkup *seen = data;
    const char *class = value_of ("class", names, values);
    Piece *piece = NULL;

    (void) context, (void) error;
    assert_string_not_equal (element, "script");
    for (guint i = 0; names[i] != NULL; i++) {
        assert_false (g_str_has_prefix (names[i], "on"));
        assert_null (strstr (names[i], "href"));
        assert_string_not_equal (names[i], "src");
    }
    if (g_str_equal (element, "svg"))
        see_svg (seen, names, values);
    if (!g_str_equal (element, "text") && !(g_str_equal (element, "b") && g_strcmp0 (class, "strong") == 0))
        return;
    piece = g_new0 (Piece, 1);
    piece->element = g_strdup (element);
    if (g_str_equal (element, "text")) {
        const char *squeezed = value_of ("textLength", names, values);

        piece->x = atoi (value_of ("x", names, values)) - seen->view_left;
        piece->width = squeezed == NULL ? 0 : atoi (squeezed);
        piece->size = atoi (value_of ("font-size", names, values));
    }
    seen->open = piece;
    g_ptr_array_add (seen->pieces, piece);
}

static void
see_end (GMarkupParseContext *context, const char *element, gpointer data, GError **error)
{
    SeenMarkup *seen = data;
    Piece *piece = seen->open;

    (void) context, (void) error;
    if (piece == NULL || !g_str_equal (element, piece->element))
        return;
    /* Nothing runs out of the image, whatever font it is seen in. */
    if (g_str_equal (element, "text")) {
        int width = piece->width > 0 ? piece->width : ink_width (piece->content, piece->size, INK_PLAIN);

        if (piece->x < 0 || piece->x + width > seen->view_width)
            fail_msg ("\"%s\" at %d, %d wide, runs out of an image %d wide", piece->content, piece->x, width,
                      seen->view_width);
    }
    seen->open = NULL;
}

static void
see_text (GMarkupParseContext *context, const char *text, gsize length, gpointer data, GError **error)
{
    SeenMarkup *seen = data;

    (void) context, (void) error;
    g_string_append_len (seen->all, text, (gssize) length);
    if (seen->open != NULL) {
        g_autofree char *more = g_strndup (text, length);
        char *content = g_strconcat (seen->open->content == NULL ? "" : seen->open->content, more, NULL);

        g_free (seen->open->content);
        seen->open->content = content;
    }
}

static void
seen_markup_free (SeenMarkup *seen)
{
    g_ptr_array_unref (seen->pieces);
    g_string_free (seen->all, TRUE);
    g_free (seen);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SeenMarkup, seen_markup_free)

/* Fails where the document is not well-formed. */
static SeenMarkup *
read_markup (const char *markup)
{
    static const GMarkupParser parser = { see_start, see_end, see_text, NULL, NULL };
    SeenMarkup *seen = g_new0 (SeenMarkup, 1);
    GMarkupParseContext *context = NULL;
    g_autoptr (GError) error = NULL;

    seen->pieces = g_ptr_array_new_with_free_func (piece_free);
    seen->all = g_string_new (NULL);
    context = g_markup_parse_context_new (&parser, G_MARKUP_TREAT_CDATA_AS_TEXT, seen, NULL);
    if (!g_markup_parse_context_parse (context, markup, -1, &error) ||
        !g_markup_parse_context_end_parse (context, &error))
        fail_msg ("not well-formed: %s", error->message);
    g_markup_parse_context_free (context);
    return seen;
}

static guint
times_seen (const SeenMarkup *seen, const char *element, const char *content)
{
    guint count = 0;

    for (guint i = 0; i < seen->pieces->len; i++) {
        const Piece *piece = g_ptr_array_index (seen->pieces, i);

        if (g_str_equal (piece->element, element) && g_strcmp0 (piece->content, content) == 0)
            count++;
    }
    return count;
}

/* Step numbers over columns are the only texts of their size. */
static guint
heads_seen (const SeenMarkup *seen, const char *number)
{
    guint count = 0;

    for (guint i = 0; i < seen->pieces->len; i++) {
        const Piece *piece = g_ptr_array_index (seen->pieces, i);

        if (piece->size == 14 && g_strcmp0 (piece->content, number) == 0)
            count++;
    }
    return count;
}

static guint
times_in (const char *text, const char *piece)
{
    guint count = 0;

    for (const char *at = strstr (text, piece); at != NULL; at = strstr (at + 1, piece))
        count++;
    return count;
}

/* Nothing is fetched: the one address is the name of SVG's namespace. */
static void
assert_closed_in_itself (const char *markup, guint namespaces)
{
    assert_int_equal (times_in (markup, "http"), namespaces);
    assert_int_equal (times_in (markup, "xmlns=\"http://www.w3.org/2000/svg\""), namespaces);
    assert_null (strstr (markup, "url("));
    assert_null (strstr (markup, "@import"));
    assert_true (g_utf8_validate (markup, -1, NULL));
}

/* ---- One report ---- */

static RouteReport
report_of (const Library *library, const RouteAnswer *answer)
{
    return (RouteReport){ .library = library,
                          .shop = fixture_shop (library),
                          .unit = fixture_unit (library),
                          .want = fixture_want (library),
                          .answer = answer };
}

/* Every step's number once: as a head in the picture, and at its row of the page. */
static void
assert_every_step (const RouteReport *report, const Picture *picture, const SeenMarkup *svg, const SeenMarkup *html)
{
    guint next = 0;

    for (guint i = 0; i < picture->columns->len; i++) {
        const PictureColumn *column = picture_column (picture, i);
        g_autofree char *row = g_strconcat (column->number, ".", NULL);

        assert_int_equal (column->count > 0 ? column->first : 0, next);
        next += column->count;
        if (column->count == 0)
            continue;
        assert_int_equal (heads_seen (svg, column->number), 1);
        assert_int_equal (heads_seen (html, column->number), 1);
        assert_int_equal (times_seen (html, "b", row), 1);
    }
    assert_int_equal (next, report->answer->steps->len);
}

static gboolean
column_has_no_return (const RouteAnswer *answer, const PictureColumn *column)
{
    for (guint i = column->first; answer->ways_back != NULL && i < column->first + column->count; i++)
        if (g_array_index (answer->ways_back, WayBack, i).kind == BACK_NO_RETURN)
            return TRUE;
    return FALSE;
}

/* The walk is of the first case; where other cases differ the sign is "depends". */
static void
assert_true_to_the_walk (const RouteReport *report, const Picture *picture)
{
    const GArray *walked = report->answer->walk->walked;

    for (guint i = 0; i < picture->columns->len; i++) {
        const PictureColumn *column = picture_column (picture, i);
        gboolean starts = TRUE;

        if (walked->len > 0)
            starts = column->count == 0
                         ? g_array_index (walked, WalkedStep, 0).starts_before
                         : g_array_index (walked, WalkedStep, column->first + column->count - 1).starts_after;
        if (column->sign != SIGN_DEPENDS)
            assert_int_equal (column->sign == SIGN_STARTS, starts);
        assert_int_equal (column->no_return, column_has_no_return (report->answer, column));
    }
}

/* As many signs are drawn in words as columns have them, and one more where a strip repeats a state. */
static void
assert_signs_are_drawn (const Picture *picture, const SeenMarkup *svg)
{
    guint drawn = 0, repeated = 0, no_return = 0;

    for (int sign = 0; sign < SIGN_COUNT; sign++) {
        g_auto (GStrv) words = g_strsplit (picture_sign_words ((PictureSign) sign), " ", 2);

        if (words[1] == NULL)
            drawn += times_seen (svg, "text", words[0]);
    }
    drawn += times_seen (svg, "text", "do not start") + times_seen (svg, "text", "do not") +
             times_seen (svg, "text", "do not plug in");
    for (guint i = 0; i < svg->pieces->len; i++) {
        const Piece *piece = g_ptr_array_index (svg->pieces, i);

        repeated += piece->content != NULL && g_str_has_prefix (piece->content, "after step ") ? 1 : 0;
    }
    assert_int_equal (drawn, picture->columns->len + repeated);
    for (guint i = 0; i < picture->columns->len; i++)
        no_return += picture_column (picture, i)->no_return ? 1 : 0;
    /* Where a part is bound as well, the same tag says so. */
    assert_int_equal (times_seen (svg, "text", "NO RETURN") + times_seen (svg, "text", "NO RETURN;"), no_return);
}

/* In words too, controls aside. */
static void
assert_described (const Picture *picture, const SeenMarkup *svg)
{
    g_autoptr (GString) cleaned = g_string_new (NULL);

    for (const char *at = picture->describes; *at != '\0'; at = g_utf8_next_char (at))
        g_string_append_unichar (cleaned, markup_clean (g_utf8_get_char (at)));
    assert_non_null (strstr (svg->all->str, cleaned->str));
}

static void
assert_report_is_sound (const RouteReport *report)
{
    g_autofree char *image = report_route_svg (report);
    g_autofree char *page = report_route_html (report);
    g_autoptr (SeenMarkup) html = read_markup (page);
    g_autoptr (SeenMarkup) svg = NULL;
    g_autoptr (RouteAccount) account = NULL;
    g_autoptr (Picture) picture = NULL;

    assert_closed_in_itself (page, 0);
    if (report->answer->claim == CLAIM_BRANCHES) { /* strips of several parts: test_reports_branches.c looks at those */
        assert_closed_in_itself (image, 1);
        assert_true (html->images > 0);
        return;
    }
    assert_int_equal (image == NULL, report->answer->steps == NULL);
    if (image == NULL) {
        assert_int_equal (html->images, 0);
        return;
    }
    svg = read_markup (image);
    assert_closed_in_itself (image, 1);
    if (report->answer->steps->len > 0)
        account = route_account_new (report->library, report->shop, report->unit, report->want, report->answer->steps);
    picture = picture_new (report, account);
    assert_every_step (report, picture, svg, html);
    assert_true_to_the_walk (report, picture);
    assert_signs_are_drawn (picture, svg);
    assert_described (picture, svg);
}

/* ---- Stories ---- */

static gboolean
story_is_sound (const char *path)
{
    const char *paths[] = { "rules", BOOK, SHOP, path, NULL };
    const RouteOptions options = { 0 };
    g_autoptr (Library) library = fixture_load (paths);
    g_autoptr (RouteAnswer) answer =
        route_find (library, fixture_shop (library), fixture_unit (library), fixture_want (library), &options);
    const RouteReport report = report_of (library, answer);

    assert_report_is_sound (&report);
    return answer->steps != NULL;
}

static void
test_every_story (void **state)
{
    g_autoptr (GDir) folder = g_dir_open (STORIES, 0, NULL);
    guint with_route = 0, without = 0;

    (void) state;
    assert_non_null (folder);
    for (const char *name; (name = g_dir_read_name (folder)) != NULL;) {
        g_autofree char *path = g_build_filename (STORIES, name, NULL);

        if (!g_str_has_suffix (name, ".yaml"))
            continue;
        if (story_is_sound (path))
            with_route++;
        else
            without++;
    }
    assert_true (with_route >= 18);
    assert_true (without >= 3);
}

/* ---- Marks ---- */

/* Step 3 of 5 is a write; the two before it and the two after are exchanges, a column each. */
static void
test_ways_back (void **state)
{
    static const WayBack ways[] = { { BACK_NONE_BEFORE, 0, FALSE },
                                    { BACK_NONE_BEFORE, 0, FALSE },
                                    { BACK_NO_RETURN, 0, TRUE },
                                    { BACK_WAY, 7, FALSE },
                                    { BACK_OPEN, 0, FALSE } };
    g_autoptr (Library) library = fixture_library ("reports-loaner");
    g_autoptr (RouteAnswer) answer = fixture_answer (library);
    const RouteReport report = report_of (library, answer);
    g_autofree char *image = NULL;
    g_autoptr (SeenMarkup) svg = NULL;

    (void) state;
    answer->ways_back = g_array_new (FALSE, FALSE, sizeof (WayBack));
    g_array_append_vals (answer->ways_back, ways, G_N_ELEMENTS (ways));
    g_array_index (answer->walk->walked, WalkedStep, 4).binds_part = TRUE;
    assert_report_is_sound (&report);
    image = report_route_svg (&report);
    svg = read_markup (image);
    assert_int_equal (times_seen (svg, "text", "NO RETURN"), 1);
    assert_non_null (strstr (svg->all->str, "PART BOUND"));
    assert_non_null (strstr (svg->all->str, "settled"));
    g_array_index (answer->ways_back, WayBack, 4) = (WayBack){ BACK_WAY, 7, FALSE };
    g_array_index (answer->walk->walked, WalkedStep, 4).binds_part = FALSE;
    g_free (image);
    image = report_route_svg (&report);
    assert_non_null (strstr (image, "7 steps"));
}

static void
test_loaners_are_marked_and_given_back (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-loaner");
    g_autoptr (RouteAnswer) answer = fixture_answer (library);
    const RouteReport report = report_of (library, answer);
    g_autofree char *image = report_route_svg (&report);
    g_autofree char *page = report_route_html (&report);
    g_autoptr (SeenMarkup) svg = read_markup (image);

    (void) state;
    assert_int_equal (times_seen (svg, "text", "LENT"), 1);
    assert_int_equal (times_seen (svg, "text", "STOCK"), 0);
    assert_non_null (strstr (page, "<td class=\"number\">1</td><td>dorvan-4c (stepping a1)</td>"
                                   "<td>from the loan shelf</td><td>step 2</td>"
                                   "<td><span class=\"box\"></span> back after step 4</td>"));
}

static void
test_unknown_release_is_counted (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-unknown");
    g_autoptr (RouteAnswer) answer = fixture_answer (library);
    const RouteReport report = report_of (library, answer);
    g_autofree char *image = report_route_svg (&report);
    g_autoptr (SeenMarkup) svg = read_markup (image);

    (void) state;
    assert_report_is_sound (&report);
    assert_int_equal (times_seen (svg, "text", "one of 2"), 1);
    assert_int_equal (times_seen (svg, "text", "2.1.0"), 1);
}

/* ---- Long and hostile ---- */

static Step
fit_own (const Library *library, const Step *removed)
{
    const Fitted *own = &fixture_unit (library)->fitted[removed->slot];

    return (Step){ .kind = STEP_FIT, .slot = removed->slot, .part = own->part, .stepping = own->stepping };
}

/* The loaner in and out again, `times` times, before the route of the fixture. Transfer full. */
static RouteAnswer *
long_answer (const Library *library, guint times)
{
    RouteAnswer *answer = fixture_answer (library);
    g_autoptr (State) start = state_from_unit (fixture_unit (library), NULL);
    const Step *steps = (const Step *) (gconstpointer) fixture_steps (library)->data;

    for (guint i = 0; i < times; i++) {
        Step more[] = { steps[0], steps[1], steps[0], fit_own (library, &steps[0]) };

        g_array_prepend_vals (answer->steps, more, G_N_ELEMENTS (more));
    }
    walk_free (answer->walk);
    answer->walk = check_walk (library, fixture_shop (library), fixture_want (library), start, answer->steps);
    assert_true (answer->walk->sound);
    return answer;
}

static void
test_long_route_breaks_into_strips (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-loaner");
    g_autoptr (RouteAnswer) answer = long_answer (library, 8);
    const RouteReport report = report_of (library, answer);
    g_autoptr (RouteAccount) account =
        route_account_new (library, report.shop, report.unit, report.want, answer->steps);
    g_autoptr (Picture) picture = picture_new (&report, account);
    g_autoptr (GPtrArray) strips = picture_draw_strips (picture, PICTURE_LANDSCAPE_WIDTH);
    g_autofree char *page = report_route_html (&report);
    g_autoptr (SeenMarkup) html = read_markup (page);

    (void) state;
    assert_int_equal (answer->steps->len, 37);
    assert_report_is_sound (&report);
    assert_true (strips->len >= 2);
    for (guint i = 0; i < strips->len; i++)
        assert_true (((const Drawing *) g_ptr_array_index (strips, i))->height < 700);
    assert_true (html->images > strips->len); /* narrower strips, and the legend */
}

static void
rename_all (Library *library, const char *name)
{
    Unit *unit = g_ptr_array_index (library->units, 0);
    Want *want = g_ptr_array_index (library->wants, 0);
    const GArray *steps = fixture_steps (library);

    unit->id = unit->note = want->name = g_intern_string (name);
    ((Part *) g_array_index (steps, Step, 1).part)->name = g_intern_string (name);
    ((Slot *) board_slot (unit->board, g_array_index (steps, Step, 1).slot))->name = g_intern_string (name);
    for (guint i = 0; i < library->cautions->len; i++)
        ((Caution *) g_ptr_array_index (library->cautions, i))->says = g_intern_string (name);
    for (guint c = 0; c < unit->board->components->len; c++)
        for (guint r = 0; r < board_component (unit->board, c)->releases->len; r++)
            ((Release *) component_release (board_component (unit->board, c), r))->file_name = g_intern_string (name);
}

static void
test_hostile_names (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-loaner");
    g_autoptr (RouteAnswer) answer = fixture_answer (library);
    const RouteReport report = report_of (library, answer);
    g_autofree char *image = NULL;
    g_autofree char *page = NULL;

    (void) state;
    rename_all (library, HOSTILE);
    assert_report_is_sound (&report);
    image = report_route_svg (&report);
    page = report_route_html (&report);
    assert_null (strstr (image, "<script"));
    assert_null (strstr (page, "<script"));
    assert_non_null (strstr (page, "&lt;script&gt;x&lt;/script&gt; &amp; &quot;quoted&quot; &#39;so&#39;"));
    assert_non_null (strstr (image, "&lt;script&gt;"));
    for (const char *at = page; *at != '\0'; at++)
        assert_true ((guchar) *at >= ' ' || *at == '\n');
    assert_null (strstr (page, "\xe2\x80\xae"));
}

static void
test_long_names (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-loaner");
    g_autoptr (RouteAnswer) answer = long_answer (library, 2);
    const RouteReport report = report_of (library, answer);

    (void) state;
    rename_all (library,
                "MMMMMMMM-a-part-with-a-name-that-somebody-made-from-every-word-there-is-WWWWWWWWWWWWWWWWWWWWWW");
    assert_report_is_sound (&report);
}

/* ---- Ink, paper ---- */

static void
assert_wraps (const char *text, int width, guint most, const char *expected)
{
    g_autoptr (GPtrArray) lines = ink_wrap (text, width, 10, INK_PLAIN, most);
    g_autofree char *joined = NULL;

    for (guint i = 0; i < lines->len; i++)
        assert_true (ink_width (g_ptr_array_index (lines, i), 10, INK_PLAIN) <= width);
    g_ptr_array_add (lines, NULL);
    joined = g_strjoinv ("|", (char **) lines->pdata);
    assert_string_equal (joined, expected);
    g_ptr_array_set_size (lines, (int) lines->len - 1);
}

/* By hand: letters of "nnnn" are 65 hundredths of the size each, blanks 34, hyphens 42. */
static void
test_wrapping (void **state)
{
    (void) state;
    assert_int_equal (ink_width ("nnnn", 10, INK_PLAIN), 26);
    assert_wraps ("nnnn nnnn", 60, 3, "nnnn nnnn");
    assert_wraps ("nnnn nnnn", 50, 3, "nnnn|nnnn");
    assert_wraps ("nnnn-nnnn", 50, 3, "nnnn-|nnnn");
    assert_wraps ("nnnnnnnnn", 30, 3, "nnnn|nnnn|n");
    assert_wraps ("nnnn nnnn nnnn", 36, 2, "nnnn|nnnn…");
    assert_wraps ("", 30, 3, "");
}

static void
test_paper_for_a_page (void **state)
{
    Paper *paper = paper_new_page ();
    g_autofree char *text = NULL;

    (void) state;
    paper_blank (paper); /* none at the top */
    paper_say (paper, 0, 2, MARK_STRONG "a <b>" MARK_BAD "c" MARK_PLAIN "%s", MARK_PLAIN " & d");
    paper_blank (paper);
    paper_label (paper, 2, 9, MARK_STRONG "1." MARK_PLAIN, "%s", MARK_CAUTION "left open\n\x01");
    paper_say (paper, 4, 6, "e");
    text = paper_finish (paper);
    assert_string_equal (text,
                         "<p class=\"i0\"><b class=\"strong\">a &lt;b&gt;</b><b class=\"bad\">c</b> &amp; d</p>\n"
                         "<p class=\"i2 gap\"><b class=\"strong\">1.</b> <b class=\"caution\">left open ?</b></p>\n"
                         "<p class=\"i4\">e</p>\n");
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_every_story),
        cmocka_unit_test (test_ways_back),
        cmocka_unit_test (test_loaners_are_marked_and_given_back),
        cmocka_unit_test (test_unknown_release_is_counted),
        cmocka_unit_test (test_long_route_breaks_into_strips),
        cmocka_unit_test (test_hostile_names),
        cmocka_unit_test (test_long_names),
        cmocka_unit_test (test_wrapping),
        cmocka_unit_test (test_paper_for_a_page),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
