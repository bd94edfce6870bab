/* SPDX-License-Identifier: MIT */
/* What the tests of solving share: small timetables, each answer checked. Include cmocka's header first. */
#ifndef RUNGWISE_TESTS_SOLVED_H
#define RUNGWISE_TESTS_SOLVED_H

#include "batch/timetable.h"

/* With seed 3; fails the test where the checker finds something. Transfer full. */
Schedule *solve (const Timetable *timetable, guint64 most_tried);

/* A job of a chain of tasks of these lengths. */
Mode *add_chain (Timetable *timetable, const gint64 *lengths, guint count);

Task *task_of (Mode *mode, guint task);

#endif
