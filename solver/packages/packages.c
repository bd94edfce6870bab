/* SPDX-License-Identifier: MIT */
/* One pool, one repository, one root package that the job installs; everything wanted is required by the root. */
#include "packages/packages_parts.h"

#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

static Id
evr_of (Packages *packages, guint version)
{
    while (packages->evrs->len <= version) {
        char text[16];
        g_snprintf (text, sizeof text, "%u", packages->evrs->len);
        Id id = pool_str2id (packages->pool, text, 1);
        g_array_append_val (packages->evrs, id);
    }
    return g_array_index (packages->evrs, Id, version);
}

static Id
add_solvable (Packages *packages, Id name, guint version)
{
    Id id = repo_add_solvable (packages->repo);
    Solvable *solvable = pool_id2solvable (packages->pool, id);
    solvable->name = name;
    solvable->evr = evr_of (packages, version);
    solvable->arch = ARCH_NOARCH;
    Id self = pool_rel2id (packages->pool, name, solvable->evr, REL_EQ, 1);
    solvable->provides = repo_addid_dep (packages->repo, solvable->provides, self, 0);
    return id;
}

Packages *
packages_new (void)
{
    Packages *packages = g_new0 (Packages, 1);
    packages->pool = pool_create ();
    pool_setdisttype (packages->pool, DISTTYPE_DEB);
    pool_setarch (packages->pool, NULL);
    packages->repo = repo_create (packages->pool, "rungwise");
    packages->names = g_array_new (FALSE, FALSE, sizeof (Name));
    packages->evrs = g_array_new (FALSE, FALSE, sizeof (Id));
    packages->root = add_solvable (packages, pool_str2id (packages->pool, "plan", 1), 0);
    map_init (&packages->installed, 0);
    return packages;
}

void
packages_free (Packages *packages)
{
    if (packages->solver != NULL)
        solver_free (packages->solver);
    map_free (&packages->installed);
    pool_free (packages->pool);
    g_array_unref (packages->names);
    g_array_unref (packages->evrs);
    g_free (packages);
}

PackageName
packages_add_name (Packages *packages, const char *name, guint versions)
{
    Name entry = { pool_str2id (packages->pool, name, 1), versions, 0 };
    for (guint version = 0; version < versions; version++) {
        Id id = add_solvable (packages, entry.name, version);
        entry.first = version == 0 ? id : entry.first;
    }
    g_array_append_val (packages->names, entry);
    return (PackageName){ packages->names->len - 1 };
}

static const Name *
name_of (const Packages *packages, PackageName name)
{
    return &g_array_index (packages->names, Name, name.i);
}

PackageId
packages_id (const Packages *packages, PackageName name, guint version)
{
    g_assert (version < name_of (packages, name)->versions);
    return (PackageId){ name_of (packages, name)->first + (int) version };
}

/* ---- Requirements ---- */

void
packages_begin (Packages *packages)
{
    packages->requirement = 0;
}

static void
or_id (Packages *packages, Id alternative)
{
    packages->requirement = packages->requirement == 0
                                ? alternative
                                : pool_rel2id (packages->pool, packages->requirement, alternative, REL_OR, 1);
}

void
packages_or_version (Packages *packages, PackageName name, guint version)
{
    or_id (packages,
           pool_rel2id (packages->pool, name_of (packages, name)->name, evr_of (packages, version), REL_EQ, 1));
}

void
packages_or_at_least (Packages *packages, PackageName name, guint lowest)
{
    const Name *entry = name_of (packages, name);
    if (lowest == 0)
        or_id (packages, entry->name);
    else if (lowest < entry->versions)
        or_id (packages, pool_rel2id (packages->pool, entry->name, evr_of (packages, lowest), REL_GT | REL_EQ, 1));
}

void
packages_or_any (Packages *packages, PackageName name)
{
    or_id (packages, name_of (packages, name)->name);
}

/* A run of versions that begins at the first or ends at the last is one range; others are single versions. */
void
packages_or_set (Packages *packages, PackageName name, const guint8 *in)
{
    const Name entry = *name_of (packages, name);
    for (guint from = 0; from < entry.versions; from++) {
        guint to = from;
        if (!in[from])
            continue;
        while (to + 1 < entry.versions && in[to + 1])
            to++;
        if (to + 1 == entry.versions)
            packages_or_at_least (packages, name, from);
        else if (from == 0)
            or_id (packages, pool_rel2id (packages->pool, entry.name, evr_of (packages, to), REL_LT | REL_EQ, 1));
        else
            for (guint version = from; version <= to; version++)
                packages_or_version (packages, name, version);
        from = to;
    }
}

static void
end_requires (Packages *packages, Id who)
{
    /* A name that no package has: nothing meets it. */
    Id what = packages->requirement != 0 ? packages->requirement : pool_str2id (packages->pool, "nothing", 1);
    Solvable *solvable = pool_id2solvable (packages->pool, who);
    solvable->requires = repo_addid_dep (packages->repo, solvable->requires, what, 0);
}

void
packages_end_requires (Packages *packages, PackageId who)
{
    end_requires (packages, who.id);
}

void
packages_end_wanted (Packages *packages)
{
    end_requires (packages, packages->root);
}

/* ---- Solving ---- */

gboolean
packages_solve (Packages *packages)
{
    g_clear_pointer (&packages->solver, solver_free);
    pool_createwhatprovides (packages->pool);
    Queue job;
    queue_init (&job);
    queue_push2 (&job, SOLVER_INSTALL | SOLVER_SOLVABLE, packages->root);
    packages->solver = solver_create (packages->pool);
    packages->has_solution = solver_solve (packages->solver, &job) == 0;
    queue_free (&job);
    map_free (&packages->installed);
    map_init (&packages->installed, packages->pool->nsolvables);
    if (packages->has_solution) {
        Transaction *transaction = solver_create_transaction (packages->solver);
        Queue chosen;
        queue_init (&chosen);
        transaction_installedresult (transaction, &chosen);
        for (int i = 0; i < chosen.count; i++)
            MAPSET (&packages->installed, chosen.elements[i]);
        queue_free (&chosen);
        transaction_free (transaction);
    }
    return packages->has_solution;
}

int
packages_chosen (const Packages *packages, PackageName name)
{
    const Name *entry = name_of (packages, name);
    g_return_val_if_fail (packages->has_solution, -1);
    for (guint version = 0; version < entry->versions; version++)
        if (MAPTST (&packages->installed, entry->first + (int) version))
            return (int) version;
    return -1;
}

/* ---- In a child process ---- */

static gboolean
write_all (int fd, const void *data, gsize length)
{
    const char *at = data;
    while (length > 0) {
        ssize_t n = write (fd, at, length);
        if (n < 0 && errno == EINTR)
            continue;
        if (n <= 0)
            return FALSE;
        at += n;
        length -= (gsize) n;
    }
    return TRUE;
}

static void G_GNUC_NORETURN
child_solve (Packages *packages, int fd, const PackageName *names, guint n)
{
    char verdict = packages_solve (packages) ? 'y' : 'n';
    g_autofree gint16 *versions = g_new0 (gint16, n + 1);
    for (guint i = 0; i < n && verdict == 'y'; i++)
        versions[i] = (gint16) packages_chosen (packages, names[i]);
    gboolean sent = write_all (fd, &verdict, 1) && write_all (fd, versions, n * sizeof (gint16));
    _exit (sent ? 0 : 1);
}

#define SLICE_MILLISECONDS 100

typedef struct {
    const PackagesPatience *patience;
    gint64 deadline; /* monotonic microseconds */
} Wait;

/* Waits for something to read. FALSE: patience is over. */
static gboolean
wait_readable (int fd, const Wait *wait)
{
    for (;;) {
        gint64 left = (wait->deadline - g_get_monotonic_time ()) / 1000;
        struct pollfd ready = { fd, POLLIN, 0 };
        if (left <= 0 || (wait->patience->go_on != NULL && !wait->patience->go_on (wait->patience->data)))
            return FALSE;
        int polled = poll (&ready, 1, (int) MIN (left, SLICE_MILLISECONDS));
        if (polled > 0)
            return TRUE;
        if (polled < 0 && errno != EINTR)
            return FALSE;
    }
}

/* FALSE when patience is over or the other end closed early. */
static gboolean
read_all (int fd, void *data, gsize length, const Wait *wait)
{
    char *at = data;
    while (length > 0) {
        if (!wait_readable (fd, wait))
            return FALSE;
        ssize_t n = read (fd, at, length);
        if (n < 0 && errno == EINTR)
            continue;
        if (n <= 0)
            return FALSE;
        at += n;
        length -= (gsize) n;
    }
    return TRUE;
}

PackagesOutcome
packages_solve_within (Packages *packages, const PackagesPatience *patience, const PackageName *names, guint n,
                       gint16 *chosen)
{
    int pipe_ends[2];
    if (pipe (pipe_ends) != 0)
        return PACKAGES_OUT_OF_TIME;
    pid_t child = fork ();
    if (child == 0) {
        close (pipe_ends[0]);
        /* The terminal's interrupt is for the parent to answer; it ends this child itself. */
        signal (SIGINT, SIG_IGN);
        /* Nor does it outlive a parent that is killed. */
        prctl (PR_SET_PDEATHSIG, SIGKILL);
        child_solve (packages, pipe_ends[1], names, n);
    }
    close (pipe_ends[1]);
    Wait wait = { patience, g_get_monotonic_time () + (gint64) (patience->seconds * G_USEC_PER_SEC) };
    char verdict = 0;
    gboolean heard = child > 0 && read_all (pipe_ends[0], &verdict, 1, &wait) &&
                     read_all (pipe_ends[0], chosen, n * sizeof (gint16), &wait);
    close (pipe_ends[0]);
    if (child > 0) {
        if (!heard)
            kill (child, SIGKILL);
        while (waitpid (child, NULL, 0) < 0 && errno == EINTR)
            ;
    }
    if (!heard)
        return PACKAGES_OUT_OF_TIME;
    return verdict == 'y' ? PACKAGES_SOLVED : PACKAGES_REFUTED;
}
