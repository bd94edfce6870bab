/* SPDX-License-Identifier: MIT */
/* Spent: processor time, and the middle and the end of many measurements.
 *
 * Processor time rather than time on the wall: other work on the same cores hardly moves it. A plan waits for nothing but
 * its own children, so on an idle machine the two are nearly the same. */
#ifndef BENCH_SPENT_H
#define BENCH_SPENT_H

#include <glib.h>

/* Microseconds of processor time of this process and of those children that it has waited for. */
gint64 spent_now (void);

/* Measurements, in microseconds. */
typedef GArray Spent;

Spent *spent_new (void);
void spent_add (Spent *times, gint64 microseconds);
/* The measurement below which `part` of `of` lie, in milliseconds: part 50 of 100 is the median, part `of` the longest. Sorts
 * them. There is at least one. */
double spent_ms (Spent *times, guint part, guint of);

#endif
