/* SPDX-License-Identifier: MIT */
/* Firmware: a component's methods and the list of its releases. One release: read_release.c. */
#include "book/library.h"
#include "book/read.h"
#include "book/read_release.h"
#include "book/read_spare.h"

#include <string.h>

static const char *const scheme_words[] = { "dotted", "semver", "debian", "listed", NULL };

/* ---- Methods ---- */

/* One bit per word of `obeys`. */
enum { OBEYS_FROM = 1, OBEYS_TO_WRITE = 2, OBEYS_FLOOR = 4 };

/* A jumper's run and a copy of the spare image go by the boot block's own floor; a programmer asks nobody. */
static void
read_obeys (Loader *loader, MapReader *reader, Method method, MethodEntry *entry)
{
    static const char *const words[] = { "from", "to-write", "floor", NULL };
    guint obeys = method == METHOD_CLIP ? 0 : OBEYS_FLOOR;
    value_words (loader, map_take (reader, "obeys", KEY_OPTIONAL), "obeys", words, &obeys);
    entry->obeys_from = (obeys & OBEYS_FROM) != 0;
    entry->obeys_to_write = (obeys & OBEYS_TO_WRITE) != 0;
    entry->obeys_floor = (obeys & OBEYS_FLOOR) != 0;
}

static void
read_method (Loader *loader, const Node *node, Method method, MethodEntry *entry)
{
    static const char *const verify_words[] = { "at-once", "next-start", NULL };
    static const char *const host_words[] = { "off", "on", "either", NULL }; /* in the order of HostPower */
    MapReader reader;
    g_autofree char *what = g_strdup_printf ("method %s", method_name (method));
    if (!map_begin (&reader, loader, node, what))
        return;
    entry->there = TRUE;
    entry->at = node->at;
    entry->obeys_from = entry->obeys_to_write = entry->obeys_floor = TRUE;
    gboolean has_minutes =
        value_minutes (loader, map_take (&reader, "minutes", KEY_REQUIRED), "minutes", &entry->minutes);
    entry->attended = entry->minutes;
    const Node *attended = map_take (&reader, "attended", KEY_OPTIONAL);
    if (value_minutes (loader, attended, "attended", &entry->attended) && has_minutes &&
        entry->attended > entry->minutes)
        loader_complain (loader, attended, "expected at most its minutes", "attended %s is more than minutes %s",
                         attended->text, map_take (&reader, "minutes", KEY_OPTIONAL)->text);
    entry->requires = value_expression (loader, map_take (&reader, "requires", KEY_OPTIONAL), "requires", NULL);
    if (method == METHOD_HOST)
        entry->verify_next_start =
            value_word (loader, map_take (&reader, "verify", KEY_OPTIONAL), "verify", verify_words) == 1;
    if (method == METHOD_CONTROLLER) {
        int host = value_word (loader, map_take (&reader, "host", KEY_OPTIONAL), "host", host_words);
        entry->host = (HostPower) MAX (host, HOST_OFF);
    }
    if (method == METHOD_CLIP || method == METHOD_JUMPER || method == METHOD_SPARE)
        read_obeys (loader, &reader, method, entry);
    value_yes (loader, map_take (&reader, "recovery-only", KEY_OPTIONAL), "recovery-only", &entry->recovery_only);
    map_end (&reader);
}

static void
read_methods (Loader *loader, const Node *node, Component *component)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "methods"))
        return;
    for (int method = 0; method < METHOD_COUNT; method++)
        read_method (loader, map_take (&reader, method_name ((Method) method), KEY_OPTIONAL), (Method) method,
                     &component->methods[method]);
    map_end (&reader);
    if (node->keys->len == 0)
        loader_complain (loader, node, "expected at least one of host, controller, clip, jumper, spare",
                         "methods is empty");
}

/* ---- The controller's page ---- */

static void
read_page (Loader *loader, const Node *node, ReadPage *page)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "page"))
        return;
    page->there = TRUE;
    page->at = node->at;
    value_minutes (loader, map_take (&reader, "minutes", KEY_REQUIRED), "minutes", &page->minutes);
    page->requires = value_expression (loader, map_take (&reader, "requires", KEY_OPTIONAL), "requires", NULL);
    map_end (&reader);
}

/* ---- The boards that it is for ---- */

static void
read_for (Loader *loader, const Node *node, Firmware *firmware)
{
    const GPtrArray *boards = loader->library->book.boards;
    g_autoptr (GPtrArray) nodes = value_list_or_one (loader, node, "for");
    for (guint i = 0; nodes && i < nodes->len; i++) {
        const Node *item = g_ptr_array_index (nodes, i);
        const char *name = value_name (loader, item, "for");
        const Board *board = name ? book_find_board (&loader->library->book, name) : NULL;
        if (board && g_ptr_array_find (firmware->boards, board, NULL))
            loader_complain (loader, item, "expected each board once", "for lists %s twice", name);
        else if (board)
            g_ptr_array_add (firmware->boards, (gpointer) board);
        else if (name) {
            g_autofree const char **known = names_of (boards);
            loader_unknown (loader, item->at, "board", name, NULL, known);
        }
    }
}

/* ---- Releases ---- */

/* Scheme that releases are sorted by, for sorting through a plain function. */
static int
compare_releases (gconstpointer a, gconstpointer b, gpointer data)
{
    const Release *left = *(Release *const *) a, *right = *(Release *const *) b;
    return version_compare (((const Component *) data)->scheme, left->name, right->name);
}

static void
complain_of_twin (Loader *loader, const Release *first, const Release *second)
{
    if (first->name == second->name) {
        loader_twice (loader, second->at, "release", second->name, first->at);
        return;
    }
    g_autofree char *expected = g_strdup_printf ("expected each version once; release %s is at %s:%u:%u", first->name,
                                                 first->at.file, first->at.line, first->at.column);
    complaints_add (loader->complaints, second->at, expected, "release %s is the same version as release %s",
                    second->name, first->name);
}

/* Drops the later one, in the order of the file, of two equal neighbours. */
static void
drop_equal_releases (Loader *loader, Component *component)
{
    GPtrArray *releases = component->releases;
    for (guint i = 1; i < releases->len;) {
        const Release *kept = g_ptr_array_index (releases, i - 1), *other = g_ptr_array_index (releases, i);
        if (version_compare (component->scheme, kept->name, other->name) != 0) {
            i++;
            continue;
        }
        complain_of_twin (loader, kept, other); /* the sort is stable: `other` came later */
        g_ptr_array_remove_index (releases, i);
    }
}

static void
drop_repeated_names (Loader *loader, Component *component)
{
    GPtrArray *releases = component->releases;
    g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
    for (guint i = 0; i < releases->len;) {
        const Release *release = g_ptr_array_index (releases, i);
        const Release *first = g_hash_table_lookup (seen, release->name);
        if (!first) {
            g_hash_table_insert (seen, (gpointer) release->name, (gpointer) release);
            i++;
            continue;
        }
        complain_of_twin (loader, first, release);
        g_ptr_array_remove_index (releases, i);
    }
}

/* Sorted, unique, indexed. */
static void
order_releases (Loader *loader, Component *component)
{
    if (component->scheme == VERSIONS_LISTED)
        drop_repeated_names (loader, component);
    else {
        g_ptr_array_sort_with_data (component->releases, compare_releases, component);
        drop_equal_releases (loader, component);
    }
    for (guint i = 0; i < component->releases->len; i++) {
        Release *release = g_ptr_array_index (component->releases, i);
        release->index = i;
        component->states_starts |= release->starts || release->never_starts;
    }
}

static void
read_releases (Loader *loader, const Node *node, Component *component)
{
    const GPtrArray *items = value_list (loader, node, "releases");
    if (!items)
        return;
    if (items->len == 0)
        loader_complain (loader, node, "expected at least one release", "releases is empty");
    for (guint i = 0; i < items->len; i++) {
        Release *release = read_release (loader, component, g_ptr_array_index (items, i));
        if (release)
            g_ptr_array_add (component->releases, release);
    }
    order_releases (loader, component);
}

/* ---- A component ---- */

static void
read_component (Loader *loader, const Node *node)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this firmware"))
        return;
    guint before = complaints_count (loader->complaints);
    const Node *name_node = map_take (&reader, "component", KEY_REQUIRED);
    const char *name = value_name (loader, name_node, "component");
    Component *component = component_new (name, name_node ? name_node->at : node->at);
    Firmware *firmware = g_new0 (Firmware, 1);
    firmware->component = component;
    firmware->boards = g_ptr_array_new ();
    read_for (loader, map_take (&reader, "for", KEY_REQUIRED), firmware);
    int scheme = value_word (loader, map_take (&reader, "versions", KEY_REQUIRED), "versions", scheme_words);
    /* Releases without a scheme are taken as listed: that knows any name, so nothing follows from the one mistake. */
    component->scheme = scheme < 0 ? VERSIONS_LISTED : (VersionScheme) scheme;
    const Node *spare = map_take (&reader, "spare", KEY_OPTIONAL),
               *methods = map_take (&reader, "methods", KEY_REQUIRED),
               *recovery = map_take (&reader, "recovery", KEY_OPTIONAL);
    read_methods (loader, methods, component);
    value_words (loader, recovery, "recovery", method_words (), &component->recovery);
    if (spare)
        component->spare = read_spare_name (loader, spare, component);
    else
        check_no_spare (loader, methods, recovery, component);
    read_page (loader, map_take (&reader, "page", KEY_OPTIONAL), &component->page);
    read_releases (loader, map_take (&reader, "releases", KEY_REQUIRED), component);
    map_end (&reader);
    if (complaints_count (loader->complaints) > before)
        g_hash_table_add (loader->damaged, component);
    if (name) {
        g_ptr_array_add (loader->library->book.firmware, component);
        g_ptr_array_add (loader->firmware, firmware);
        if (component->spare)
            add_spare (loader, firmware, spare->at);
        return;
    }
    loader_lose_node (loader, node);
    component_free (component);
    firmware_free (firmware);
}

void
read_firmware (Loader *loader, const Node *list)
{
    const GPtrArray *items = value_list (loader, list, "firmware");
    for (guint i = 0; items && i < items->len; i++)
        read_component (loader, g_ptr_array_index (items, i));
}
