/* SPDX-License-Identifier: MIT */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "solved.h"

Schedule *
solve (const Timetable *timetable, guint64 most_tried)
{
    ScheduleOptions options = { .seed = 3, .most_tried = most_tried };
    Schedule *schedule = timetable_solve (timetable, &options);
    g_autofree char *wrong = timetable_check (timetable, schedule);
    assert_null (wrong);
    return schedule;
}

Mode *
add_chain (Timetable *timetable, const gint64 *lengths, guint count)
{
    Mode *mode = timetable_add_mode (timetable_add_job (timetable));
    for (guint i = 0; i < count; i++) {
        guint task = timetable_add_task (mode, lengths[i], 0);
        if (task > 0)
            timetable_add_after (mode, task, task - 1);
    }
    return mode;
}

Task *
task_of (Mode *mode, guint task)
{
    return &g_array_index (mode->tasks, Task, task);
}
