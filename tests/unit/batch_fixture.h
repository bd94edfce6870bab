/* SPDX-License-Identifier: MIT */
/* Plans a small batch of the demo shop for tests of its reports. */
#ifndef RUNGWISE_BATCH_FIXTURE_H
#define RUNGWISE_BATCH_FIXTURE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "reports/batch_view.h"

#define SMALL "tests/cases/files/batch-units.csv"

typedef struct {
    Library *library;
    GPtrArray *wants;
    RouteOptions route;
    BatchQuestion question;
    Batch *batch;
    BatchReport report;
    BatchView *view;
} Fixture;

/* `table`: the file of the units; `begin`: a date in UTC, NULL: none. Transfer full. */
static inline Fixture *
fixture_new (const char *table, GDateTime *begin)
{
    const char *paths[] = { "rules", "data/larkfield/book", "data/larkfield/batch/order.yaml",
                            "data/larkfield/batch/shop-batch.yaml", table, NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    Fixture *fixture = g_new0 (Fixture, 1);

    fixture->library = library_load_rows (paths, NULL, NULL, complaints, NULL);
    if (complaints_count (complaints) > 0) {
        g_autofree char *text = complaints_to_string (complaints, 50);

        fail_msg ("%s", text);
    }
    fixture->wants = g_ptr_array_new ();
    for (guint i = 0; i < fixture->library->units->len; i++)
        g_ptr_array_add (fixture->wants,
                         (gpointer) library_want_for_unit (fixture->library, fixture->library->units->pdata[i], NULL));
    fixture->question = (BatchQuestion){ .library = fixture->library,
                                         .shop = fixture->library->shops->pdata[0],
                                         .units = fixture->library->units,
                                         .wants = fixture->wants,
                                         .route = &fixture->route,
                                         .schedule = { .seed = 1, .most_tried = 20 },
                                         .clock = { begin, 7 * 60 * 10 } };
    fixture->batch = batch_plan (&fixture->question);
    assert_null (fixture->batch->wrong);
    fixture->report = (BatchReport){ &fixture->question, fixture->batch, 0 };
    fixture->view = batch_view_new (&fixture->report);
    return fixture;
}

static inline void
fixture_free (Fixture *fixture)
{
    batch_view_free (fixture->view);
    batch_free (fixture->batch);
    g_ptr_array_unref (fixture->wants);
    library_free (fixture->library);
    g_free (fixture);
}

#endif
