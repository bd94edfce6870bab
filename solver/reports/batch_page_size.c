/* SPDX-License-Identifier: MIT */
/* The size of type that a unit's sheet is set in, from how tall it gets.
 *
 * Measured in a browser on A4 with 277 mm between the margins: 165 sheets of nine batches, the demo's pallet and shops with
 * other shifts among them, in every size, and fitted by least squares. Of sheets about as tall as a page none was more than
 * 6 mm taller than that, or 8 mm shorter; the 6 mm are in the first number of each size. A type that is wider than that
 * browser's makes a sheet taller. */
#include "reports/batch_sheet.h"

#include <math.h>
#include <string.h>

#define PAGE_MM      277.0
#define SECOND_PAGE  0.93 /* so much of two pages is used: no row is cut at the end of the first */
#define FULL_LINE    120  /* characters of the usual type across the page */
#define STEP_LINE    80   /* ... in the column of the steps */
#define USUAL_POINTS 8.6

/* Largest first; a sheet is read at arm's length, so that there is none below 6.9 points. */
static const struct {
    const char *class;
    double points;
    double base, line, row; /* mm: of a sheet; for each line; for each row of its table */
} sizes[] = {
    { "", USUAL_POINTS, 9, 4.09, 3.22 }, { " near", 8.2, 17.5, 3.25, 4.9 }, { " close", 7.8, 22, 2.8, 4.64 },
    { " dense", 7.3, 20.5, 2.42, 4.82 }, { " tight", 6.9, 13.5, 2.4, 3.6 },
};

typedef struct {
    guint characters;
    gboolean in_step;
    gboolean runs_on; /* a caution, which goes on in the line of the one before */
} Paragraph;

typedef struct {
    GArray *paragraphs; /* Paragraph; owned */
    guint rows;
} Text;

/* Characters up to the end of the paragraph that a browser shows: tags are left out, what is escaped is one. */
static guint
shown_characters (const char *from, const char *end)
{
    guint count = 0;
    gboolean in_tag = FALSE, in_escape = FALSE;

    for (const char *at = from; at < end; at = g_utf8_next_char (at)) {
        if (*at == '<')
            in_tag = TRUE;
        count += !in_tag && !in_escape;
        in_escape = !in_tag && (*at == '&' || (in_escape && *at != ';'));
        if (*at == '>')
            in_tag = FALSE;
    }
    return count;
}

static const char *
end_of_paragraph (const char *at)
{
    const char *end = strstr (at, "</p>");

    return end != NULL ? end : at + strlen (at);
}

static Text
text_of (const char *markup)
{
    Text text = { g_array_new (FALSE, FALSE, sizeof (Paragraph)), 0 };
    gboolean in_step = FALSE;

    for (const char *at = strchr (markup, '<'); at != NULL; at = strchr (at + 1, '<')) {
        if (g_str_has_prefix (at, "<tr")) {
            text.rows++;
            in_step = g_str_has_prefix (at, "<tr class=\"step\"");
        } else if (g_str_has_prefix (at, "</tr"))
            in_step = FALSE;
        else if (g_str_has_prefix (at, "<p>") || g_str_has_prefix (at, "<p ")) {
            const char *end = end_of_paragraph (at);
            gboolean caution = g_strstr_len (at, end - at, "class=\"caution\"") != NULL;
            Paragraph one = { shown_characters (at, end), in_step, caution };

            g_array_append_val (text.paragraphs, one);
        }
    }
    return text;
}

static double
height_of (const Text *text, guint size)
{
    double wider = USUAL_POINTS / sizes[size].points, lines = 0;

    for (guint i = 0; i < text->paragraphs->len; i++) {
        const Paragraph *one = &g_array_index (text->paragraphs, Paragraph, i);
        double of_line = one->characters / ((one->in_step ? STEP_LINE : FULL_LINE) * wider);

        lines += one->runs_on ? of_line : ceil (of_line);
    }
    return sizes[size].base + lines * sizes[size].line + text->rows * sizes[size].row;
}

const char *
batch_page_size (const char *markup)
{
    Text text = text_of (markup);
    guint size = 0;

    for (guint pages = 1; pages <= 2; pages++) {
        double most = pages == 1 ? PAGE_MM : pages * PAGE_MM * SECOND_PAGE;

        for (size = 0; size < G_N_ELEMENTS (sizes) && height_of (&text, size) > most; size++)
            ;
        if (size < G_N_ELEMENTS (sizes))
            break;
    }
    g_array_unref (text.paragraphs);
    return sizes[MIN (size, G_N_ELEMENTS (sizes) - 1)].class;
}
