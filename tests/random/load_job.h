/* SPDX-License-Identifier: MIT */
/* Load a job: writes its files into a new folder, has the program read the folder, takes the folder away. */
#ifndef RANDOM_LOAD_JOB_H
#define RANDOM_LOAD_JOB_H

#include "model.h"

#include "book/book.h"

typedef struct {
    Library *library; /* owned */
    Shop *usual;      /* owned; NULL where the files have a shop */
    const Shop *shop; /* borrowed from one of the two */
    const Unit *unit; /* borrowed from the library */
    const Want *want; /* borrowed from the library */
} LoadedJob;

/* FALSE, with `why` (transfer full), when the files are refused or do not hold one unit and one want. */
gboolean load_path (const char *path, LoadedJob *loaded, char **why);
gboolean load_paths (const char *const *paths, LoadedJob *loaded, char **why); /* NULL-terminated */
gboolean load_job (const Job *job, LoadedJob *loaded, char **why);
void loaded_job_clear (LoadedJob *loaded);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (LoadedJob, loaded_job_clear)

#endif
