/* SPDX-License-Identifier: MIT */
/* print_facts FILE...: the facts of one unit and one want, for route.lp.
 *   print_facts rules book shop.yaml unit.yaml want.yaml > facts.lp
 *   clingo route.lp facts.lp -c imax=31
 * Files as for `rungwise plan`; rules are read only where they are named. */
#include "facts_of_files.h"

#include <stdio.h>

int
main (int argc, char **argv)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    if (argc < 2) {
        fprintf (stderr, "usage: print_facts FILE...\n");
        return 2;
    }
    g_autoptr (Library) library = library_load ((const char *const *) argv + 1, NULL, complaints);
    if (complaints_count (complaints)) {
        g_autofree char *text = complaints_to_string (complaints, 50);
        fputs (text, stderr);
        return 2;
    }
    if (library->units->len != 1 || library->wants->len != 1) {
        fprintf (stderr, "print_facts: expected one unit and one want, found %u and %u\n", library->units->len,
                 library->wants->len);
        return 2;
    }
    g_autoptr (Shop) usual = library->shops->len ? NULL : shop_new_default ();
    g_autofree char *facts =
        facts_of_files (library, usual ? usual : g_ptr_array_index (library->shops, 0),
                        g_ptr_array_index (library->units, 0), g_ptr_array_index (library->wants, 0));
    fputs (facts, stdout);
    return 0;
}
