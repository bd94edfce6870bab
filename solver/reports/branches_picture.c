/* SPDX-License-Identifier: MIT */
/* The strips of a plan with branches, part by part. */
#include "reports/branches_picture.h"

#include "reports/branches_text.h"
#include "reports/picture.h"
#include "reports/picture_file.h"
#include "reports/route_text.h"

static void
put_strips (Image *image, const PlanPart *part, GString *describes)
{
    g_autoptr (Picture) picture = picture_new (&part->report, part->account);
    g_autoptr (GPtrArray) strips = picture_draw_strips (picture, PICTURE_LANDSCAPE_WIDTH);
    g_autoptr (Drawing) legend = picture_draw_legend (picture, PICTURE_LANDSCAPE_WIDTH);

    for (guint i = 0; i < strips->len; i++)
        image_put_drawing (image, strips->pdata[i]);
    if (picture->stays != NULL)
        image_put_paragraph (image, picture->stays, 12, INK_PLAIN);
    image->y += 6;
    image_put_drawing (image, legend);
    g_string_append (describes, picture->describes);
}

static void
put_nexts (Image *image, const PlanPart *part, GString *describes)
{
    for (guint i = 0; i < part->branch->next->len; i++) {
        const PlanPart *next = plan_part_of (part->all, part->branch->next->pdata[i]);
        g_autofree char *condition = plan_part_condition (next);
        g_autofree char *text = g_strdup_printf ("Where %s: part %s.", condition, next->letter);

        image_put_paragraph (image, text, 12, INK_PLAIN);
        g_string_append_printf (describes, " %s", text);
    }
}

static void
put_part (Image *image, const PlanSheet *sheet, const PlanPart *part, GString *describes)
{
    g_autofree char *title = plan_part_title (part);
    g_autofree char *then = plan_part_then (sheet, part);
    g_autofree char *line = part->account == NULL ? g_strdup_printf ("No step; %s.", then)
                                                  : g_strdup_printf ("%c%s.", g_ascii_toupper (*then), then + 1);

    image->y += 10;
    image_put_paragraph (image, title, 14, INK_BOLD);
    g_string_append_printf (describes, "%s%s. ", describes->len == 0 ? "" : " ", title);
    if (part->account != NULL)
        put_strips (image, part, describes);
    image_put_paragraph (image, line, 12, INK_PLAIN);
    put_nexts (image, part, describes);
}

char *
branches_svg (const RouteReport *report)
{
    g_autoptr (PlanSheet) sheet = plan_sheet_new (report);
    g_autoptr (GString) out = g_string_new (NULL);
    g_autoptr (GString) describes = g_string_new (NULL);
    g_autofree char *title = picture_title (report);
    Image image = { out, 0 };
    Paper *paper = paper_new (FALSE);

    route_text_head (paper, report);
    plan_text_facts (paper, sheet);
    image_put_head (&image, paper);
    for (guint i = 0; i < sheet->parts->len; i++)
        put_part (&image, sheet, plan_part (sheet, i), describes);
    return image_finish (&image, title, describes->str);
}
