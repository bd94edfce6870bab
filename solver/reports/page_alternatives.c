/* SPDX-License-Identifier: MIT */
/* The table of alternatives. */
#include "reports/markup.h"
#include "reports/page_parts.h"
#include "reports/route_text.h"

static void
put_row (guint number, const Alternative *alternative, GString *out)
{
    const Walk *walk = alternative->answer->walk;
    g_autofree char *minutes = words_number (walk->minutes);
    g_autofree char *loaners = needed_loaners_in_words (&alternative->needed);
    g_autofree char *without = text_join (alternative->without, "and");

    g_string_append_printf (out,
                            "<tr><td class=\"number\">%u</td><td class=\"number\">%u</td><td class=\"number\">%u</td>"
                            "<td class=\"number\">%u</td><td class=\"number\">%s</td><td>",
                            number, walk->steps, walk->insertions, walk->openings, minutes);
    markup_put (out, loaners);
    g_string_append (out, "</td><td>");
    markup_put (out, alternative->without->len == 0 ? "the route above" : without);
    if (alternative->answer->claim != CLAIM_PROVED_SHORTEST)
        g_string_append (out, " (best found, not proved)");
    g_string_append (out, "</td></tr>\n");
}

static void
put_steps (const Board *board, guint number, const Alternative *alternative, GString *out)
{
    const GArray *steps = alternative->answer->steps;

    g_string_append_printf (out, "<p class=\"gap\">Steps of %u:</p>\n<ol>\n", number);
    for (guint i = 0; i < steps->len; i++) {
        g_autofree char *sentence = words_step (board, &g_array_index (steps, Step, i));

        g_string_append (out, "<li>");
        markup_put (out, sentence);
        g_string_append (out, "</li>\n");
    }
    g_string_append (out, "</ol>\n");
}

void
page_put_alternatives (const RouteReport *report, GString *out)
{
    const GPtrArray *all = report->alternatives;

    if (all == NULL)
        return;
    g_string_append_printf (out,
                            "<h2>Alternatives</h2>\n<p>Each does without something that those above it need; %s.</p>\n"
                            "<table><thead><tr><th>route</th><th>steps</th><th>insertions</th><th>openings</th>"
                            "<th>minutes</th><th>loaners needed</th><th>without</th></tr></thead><tbody>\n",
                            report->alternatives_complete ? "there are no others" : "there may be others");
    for (guint i = 0; i < all->len; i++)
        put_row (i + 1, all->pdata[i], out);
    g_string_append (out, "</tbody></table>\n");
    for (guint i = 1; i < all->len; i++)
        put_steps (report->unit->board, i + 1, all->pdata[i], out);
}
