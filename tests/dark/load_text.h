/* SPDX-License-Identifier: MIT */
/* Load text: a library of files and one more that is written for it. */
#ifndef DARK_LOAD_TEXT_H
#define DARK_LOAD_TEXT_H

#include "book/book.h"

/* `paths`: NULL-terminated; `text`: nullable. A complaint ends the test. Transfer full. */
Library *load_with_text (const char *const *paths, const char *text);
/* Transfer none; there has to be one of that name. */
const Unit *unit_named (const Library *library, const char *id);

#endif
