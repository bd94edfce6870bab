/* SPDX-License-Identifier: MIT */
/* The explanation as one page to print: what the text says, in the same words, with boxes for the checks and room for what
 * was found. It loads nothing and runs nothing. It is HTML that is XML too. */
#include "reports/explain_sheet.h"
#include "reports/route_text.h"
#include "reports/markup.h"
#include "reports/page_style.h"

/* Beside the sheet that every page has: a block to copy keeps its lines, and a row of checks has room to write. */
static const char style[] = "pre{border:.2mm solid;padding:2mm;font:8.5pt/1.3 monospace;white-space:pre-wrap;"
                            "break-inside:avoid}\n"
                            ".checks{margin:2mm .2mm}.room{width:42mm}.short{width:13mm}\n"
                            ".i5{margin-left:8mm}.i7{margin-left:12mm}\n";

/* Adds what is on the paper, and frees it. */
static void
put_paper (Paper *paper, GString *out)
{
    g_autofree char *text = paper_finish (paper);

    g_string_append (out, text);
}

static void
put_heading (const char *heading, GString *out)
{
    g_string_append (out, "<h2>");
    markup_put (out, heading);
    g_string_append (out, "</h2>\n");
}

static void
put_top (const ExplainReport *report, GString *out)
{
    Paper *paper = paper_new_page ();

    g_string_append (out, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
                          "<meta name=\"viewport\" content=\"width=device-width\"/>\n"
                          "<meta name=\"color-scheme\" content=\"light dark\"/>\n<title>");
    markup_put (out, report->unit->id);
    g_string_append_printf (out, ": why it stays dark</title>\n<style>\n%s%s</style>\n</head>\n<body>\n<h1>",
                            page_style (), style);
    g_string_append (out, report->asked == NULL ? "Why it stays dark, " : "Would it start, ");
    markup_put (out, report->unit->id);
    g_string_append (out, "</h1>\n");
    explain_say_head (paper, report);
    put_paper (paper, out);
}

static void
put_section (const ExplainReport *report, const ExplainSection *section, GString *out)
{
    const char *heading = section->heading (report);
    Paper *paper = NULL;

    if (heading == NULL)
        return;
    paper = paper_new_page ();
    put_heading (heading, out);
    section->say (paper, report);
    put_paper (paper, out);
}

/* ---- Checks ---- */

static void
put_check (const ExplainReport *report, guint index, GString *out)
{
    const PhysicalCauses *physical = report->diagnosis->physical;
    g_autoptr (GArray) cautions = explain_check_cautions (report, index);
    const CheckDue *check = &g_array_index (physical->checks, CheckDue, index);
    g_autofree char *minutes = words_number (check->minutes);
    g_autofree char *chance = words_chance (check->probability);
    g_autofree char *finds = explain_check_finds (physical, check);
    Paper *paper = paper_new_page ();

    g_string_append_printf (out,
                            "<tr class=\"step\"><td class=\"tick\"><span class=\"box\"></span></td>"
                            "<td class=\"number\">%u</td><td>",
                            index + 1);
    paper_say (paper, 0, 0, MARK_STRONG "%s" MARK_PLAIN ": %s", check->look->id, check->look->says);
    paper_say (paper, 0, 0, "It would be %s.%s", finds,
               explain_check_is_needless (physical, index) ? " When all others found nothing it is this." : "");
    route_text_cautions (paper, 0, cautions);
    put_paper (paper, out);
    g_string_append_printf (out, "</td><td class=\"number\">%s</td><td class=\"number\">", minutes);
    markup_put (out, chance);
    g_string_append (out, "</td><td></td></tr>\n");
}

static void
put_checks (const ExplainReport *report, GString *out)
{
    const PhysicalCauses *physical = report->diagnosis->physical;
    const char *heading = explain_checks.heading (report);
    Paper *above = NULL, *below = NULL;

    if (heading == NULL)
        return;
    above = paper_new_page ();
    below = paper_new_page ();
    put_heading (heading, out);
    explain_say_before_checks (above, report);
    put_paper (above, out);
    g_string_append (out, "<table class=\"checks\"><thead><tr><th class=\"tick\">done</th><th></th><th>");
    markup_put (out, report->unit->id);
    g_string_append (out, ", check</th><th class=\"short\">minutes</th><th class=\"short\">finds it in</th>"
                          "<th class=\"room\">found, initials</th></tr></thead><tbody>\n");
    for (guint i = 0; i < physical->checks->len; i++)
        put_check (report, i, out);
    g_string_append (out, "</tbody></table>\n");
    explain_say_after_checks (below, report);
    put_paper (below, out);
}

/* ---- Returns ---- */

static void
put_returns (const ExplainReport *report, GString *out)
{
    const GPtrArray *returns = report->diagnosis->returns;

    if (returns->len == 0)
        return;
    put_heading ("For the return form", out);
    for (guint i = 0; i < returns->len; i++) {
        g_autofree char *block = explain_return_text (report, g_ptr_array_index (returns, i));
        g_auto (GStrv) lines = g_strsplit (block, "\n", -1);

        g_string_append (out, "<pre>");
        for (char **line = lines; *line != NULL; line++) {
            markup_put (out, *line);
            if (line[1] != NULL && *line[1] != '\0')
                g_string_append_c (out, '\n');
        }
        g_string_append (out, "</pre>\n");
    }
}

char *
report_explain_html (const ExplainReport *report)
{
    const ExplainSection *sections[EXPLAIN_SECTIONS];
    GString *out = g_string_new (NULL);

    explain_sections (report, sections);
    put_top (report, out);
    for (guint i = 0; i < G_N_ELEMENTS (sections); i++)
        if (sections[i] == &explain_checks && !explain_only_board_is_left (report))
            put_checks (report, out);
        else
            put_section (report, sections[i], out);
    put_returns (report, out);
    g_string_append (out, "</body>\n</html>\n");
    return g_string_free (out, FALSE);
}
