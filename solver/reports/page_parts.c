/* SPDX-License-Identifier: MIT */
/* Parts to fetch and to give back. */
#include "reports/page_parts.h"

#include "reports/markup.h"

/* Equal parts that the shop lends or has in stock. */
typedef struct {
    Held held;
    guint out;    /* in the unit now */
    guint begins; /* ... when the work begins */
    guint most;   /* ... at one time */
    guint first;  /* the step that fits the first one, from 1; 0: none does */
    guint last;   /* the last step that takes one out; 0: none does */
} Borrowed;

static Borrowed *
borrowed_of (GArray *all, const Held *held)
{
    Borrowed fresh = { .held = *held };

    for (guint i = 0; i < all->len; i++) {
        Borrowed *one = &g_array_index (all, Borrowed, i);

        if (one->held.part == held->part && one->held.stepping == held->stepping && one->held.owner == held->owner &&
            one->held.bound == held->bound)
            return one;
    }
    g_array_append_val (all, fresh);
    return &g_array_index (all, Borrowed, all->len - 1);
}

static void
count_what_is_in (const Unit *unit, GArray *all)
{
    for (guint s = 0; s < unit->board->slots->len; s++) {
        const Fitted *fitted = &unit->fitted[s];
        Held held = { fitted->part, fitted->stepping, fitted->owner, fitted->bound };

        if (held.part == NULL || held.owner == OWNER_UNIT)
            continue;
        Borrowed *one = borrowed_of (all, &held);
        one->out = one->begins = one->most = one->out + 1;
    }
}

static void
count_step (const StepAccount *step, guint number, GArray *all)
{
    Borrowed *one = NULL;

    if (step->step->kind == STEP_WRITE || step->moved.owner == OWNER_UNIT)
        return;
    one = borrowed_of (all, &step->moved);
    if (step->step->kind == STEP_FIT) {
        one->out++;
        one->most = MAX (one->most, one->out);
        one->first = one->first == 0 ? number : one->first;
    } else {
        one->out -= one->out > 0 ? 1 : 0;
        one->last = number;
    }
}

/* With `goes_on`, what is still in when the part ends may come out in a later one. */
static void
put_back (const Borrowed *one, const RouteAccount *account, gboolean goes_on, GString *out)
{
    g_autofree char *last = one->last == 0 ? NULL : step_label (account->labels, one->last - 1);

    if (last == NULL)
        g_string_append (out, goes_on ? "<td>still in when this part ends</td>" : "<td>stays in the unit</td>");
    else if (one->out > 0)
        g_string_append_printf (out, "<td><span class=\"box\"></span> %u back after step %s, %u %s</td>",
                                one->most - one->out, last, one->out, goes_on ? "still in" : "stay");
    else
        g_string_append_printf (out, "<td><span class=\"box\"></span> back after step %s</td>", last);
}

static void
put_row (const Borrowed *one, const RouteAccount *account, gboolean goes_on, GString *out)
{
    g_autofree char *first = one->first == 0 ? NULL : step_label (account->labels, one->first - 1);
    g_autofree char *part = words_part (one->held.part, one->held.stepping);
    guint fetch = one->most - one->begins;

    g_string_append (out, "<tr>");
    if (fetch > 0)
        g_string_append_printf (out, "<td class=\"tick\"><span class=\"box\"></span></td><td class=\"number\">%u</td>",
                                fetch);
    else
        g_string_append (out, "<td>in it</td><td class=\"number\"></td>");
    g_string_append (out, "<td>");
    markup_put (out, part);
    g_string_append (out, "</td><td>");
    markup_put (out, words_owner (one->held.owner));
    g_string_append (out, "</td>");
    if (first != NULL)
        g_string_append_printf (out, "<td>step %s</td>", first);
    else
        g_string_append (out, "<td></td>");
    put_back (one, account, goes_on, out);
    g_string_append (out, "<td></td></tr>\n");
}

void
page_put_parts (const RouteReport *report, const RouteAccount *account, GString *out)
{
    g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (Borrowed));
    gboolean goes_on = report->part != NULL && report->part->then != THEN_END;
    const char *heading = report->part == NULL ? "h2" : "h3";

    count_what_is_in (report->unit, all);
    for (guint i = 0; i < account->steps->len; i++)
        count_step (g_ptr_array_index (account->steps, i), i + 1, all);
    for (guint i = all->len; i-- > 0;)
        if (g_array_index (all, Borrowed, i).first == 0 && g_array_index (all, Borrowed, i).last == 0)
            g_array_remove_index (all, i);
    if (all->len == 0)
        return;
    g_string_append_printf (out, "<%s>Parts to fetch, and what goes back</%s>\n", heading, heading);
    g_string_append (out, "<table><thead><tr><th>fetched</th><th>how many</th><th>part</th><th>from</th>"
                          "<th>first needed</th><th>afterwards</th><th>serial</th></tr></thead><tbody>\n");
    for (guint i = 0; i < all->len; i++)
        put_row (&g_array_index (all, Borrowed, i), account, goes_on, out);
    g_string_append (out, "</tbody></table>\n");
}
