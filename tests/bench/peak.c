/* SPDX-License-Identifier: MIT */
/* peak TIMES COMMAND ARGUMENT...: runs a command several times with its output thrown away, and prints
 *     MEDIAN-MS MAX-MS PEAK-KIB EXIT-STATUS CPU-MS
 * Times are of whole processes: the first two by the monotonic clock, the last is the median processor time, which other work
 * on the same cores hardly moves. That and the peak are those of wait4(2), which on Linux take in the children that the
 * command waited for. The exit status is that of the last run. */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { MOST_TIMES = 1000 };

typedef struct {
    double wall_ms, cpu_ms;
} Spent;

static double
timeval_ms (struct timeval time)
{
    return (double) time.tv_sec * 1e3 + (double) time.tv_usec / 1e3;
}

static double
now_ms (void)
{
    struct timespec at;
    clock_gettime (CLOCK_MONOTONIC, &at);
    return (double) at.tv_sec * 1e3 + (double) at.tv_nsec / 1e6;
}

static void
become (char **command)
{
    int nowhere = open ("/dev/null", O_WRONLY);
    if (nowhere >= 0) {
        dup2 (nowhere, STDOUT_FILENO);
        dup2 (nowhere, STDERR_FILENO);
    }
    execvp (command[0], command);
    _exit (127);
}

/* Runs the command once. Returns 0 when no process could be made. */
static int
run_once (char **command, Spent *spent, long *peak_kib, int *exit_status)
{
    struct rusage usage;
    int status;
    double begin = now_ms ();
    pid_t child = fork ();
    if (child < 0)
        return 0;
    if (child == 0)
        become (command);
    if (wait4 (child, &status, 0, &usage) < 0)
        return 0;
    if (usage.ru_maxrss > *peak_kib)
        *peak_kib = usage.ru_maxrss;
    *exit_status = WIFEXITED (status) ? WEXITSTATUS (status) : 128 + WTERMSIG (status);
    *spent = (Spent){ now_ms () - begin, timeval_ms (usage.ru_utime) + timeval_ms (usage.ru_stime) };
    return 1;
}

static int
compare_doubles (const void *a, const void *b)
{
    double left = *(const double *) a, right = *(const double *) b;
    return (left > right) - (left < right);
}

int
main (int argc, char **argv)
{
    static double times[MOST_TIMES], cpu[MOST_TIMES];
    int count = argc > 2 ? atoi (argv[1]) : 0, exit_status = 0;
    long peak_kib = 0;
    if (count < 1 || count > MOST_TIMES) {
        fprintf (stderr, "usage: peak TIMES COMMAND ARGUMENT...   (1 to %d times)\n", MOST_TIMES);
        return 2;
    }
    for (int i = 0; i < count; i++) {
        Spent spent;

        if (!run_once (argv + 2, &spent, &peak_kib, &exit_status)) {
            perror ("peak");
            return 1;
        }
        times[i] = spent.wall_ms;
        cpu[i] = spent.cpu_ms;
    }
    qsort (times, (size_t) count, sizeof times[0], compare_doubles);
    qsort (cpu, (size_t) count, sizeof cpu[0], compare_doubles);
    printf ("%.1f %.1f %ld %d %.1f\n", times[count / 2], times[count - 1], peak_kib, exit_status, cpu[count / 2]);
    return exit_status == 127;
}
