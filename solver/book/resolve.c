/* SPDX-License-Identifier: MIT */
/* Resolving a book: generations, components of boards, links between releases, names that are used for two things.
 * What expressions ask for: offers.c. What rules need of parts: resolve_rules.c. */
#include "book/library.h"
#include "book/offers.h"
#include "book/read.h"
#include "book/read_spare.h"

#include <string.h>

/* ---- Generations ---- */

static void
check_stepping_use (Loader *loader, const Generation *generation, const Node *node)
{
    if (node->kind != NODE_SCALAR || names_have (generation->steppings, g_intern_string (node->text)))
        return;
    g_autoptr (GPtrArray) known = g_ptr_array_new ();
    for (guint i = 0; i < generation->steppings->len; i++)
        g_ptr_array_add (known, g_ptr_array_index (generation->steppings, i));
    g_ptr_array_add (known, NULL);
    g_autofree char *whole = g_strdup_printf ("generation %s", generation->name);
    loader_unknown (loader, node->at, "stepping", node->text, whole, (const char *const *) known->pdata);
}

static void
check_generation_uses (Loader *loader)
{
    g_autofree const char **known = sorted_keys (loader->generations);
    for (guint i = 0; i < loader->generation_uses->len; i++) {
        const GenerationUse *use = g_ptr_array_index (loader->generation_uses, i);
        const char *name = g_intern_string (use->generation->text);
        const Generation *generation = loader_find_generation (loader, name);
        if (!generation) {
            loader_unknown (loader, use->generation->at, "generation", name, NULL, known);
            continue;
        }
        if (use->steppings && use->steppings->kind == NODE_SCALAR)
            check_stepping_use (loader, generation, use->steppings);
        for (guint j = 0; use->steppings && use->steppings->items && j < use->steppings->items->len; j++)
            check_stepping_use (loader, generation, g_ptr_array_index (use->steppings->items, j));
    }
}

/* ---- Components of boards ---- */

static gboolean
listing_has (const BoardListing *listing, const char *name)
{
    for (guint i = 0; listing->listed && i < listing->listed->len; i++) {
        const Node *node = g_ptr_array_index (listing->listed, i);
        if (node->kind == NODE_SCALAR && strcmp (node->text, name) == 0)
            return TRUE;
    }
    return FALSE;
}

/* A spare image that has firmware of its own, or is one of two components. */
static void
complain_of_spare (Loader *loader, const Board *board, const Component *first, const Component *second)
{
    const Component *spare = second->spare_of ? second : first, *other = second->spare_of ? first : second;
    g_autofree char *expected = g_strdup_printf (
        "expected a spare image of one component, without firmware of its own; the other is at %s:%u:%u",
        other->at.file, other->at.line, other->at.column);
    complaints_add (loader->complaints, spare->at, expected, "%s of board %s is the spare image of %s, and more",
                    spare->name, board->name, spare->spare_of);
}

/* The board's firmware for a component, or NULL. A second one is complained about. */
static Component *
find_firmware (Loader *loader, const BoardListing *listing, const char *name)
{
    Component *found = NULL;
    for (guint i = 0; i < loader->firmware->len; i++) {
        const Firmware *firmware = g_ptr_array_index (loader->firmware, i);
        if (firmware->component->name != name || !g_ptr_array_find (firmware->boards, listing->board, NULL))
            continue;
        if (found && (found->spare_of || firmware->component->spare_of))
            complain_of_spare (loader, listing->board, found, firmware->component);
        else if (found) {
            g_autofree char *expected = g_strdup_printf ("expected firmware once per board; the first is at %s:%u:%u",
                                                         found->at.file, found->at.line, found->at.column);
            complaints_add (loader->complaints, firmware->component->at, expected, "board %s has firmware for %s twice",
                            listing->board->name, name);
        } else
            found = firmware->component;
    }
    return found;
}

static void
resolve_component (Loader *loader, const BoardListing *listing, const Node *node)
{
    Board *board = listing->board;
    const char *name = value_name (loader, node, "components");
    if (!name)
        return;
    if (board_find_component (board, name) >= 0) {
        loader_complain (loader, node, "expected each component once", "components lists %s twice", name);
        return;
    }
    Component *component = find_firmware (loader, listing, name);
    if (component)
        g_ptr_array_add (board->components, component);
    else if (!loader_has_lost (loader, name))
        loader_complain (loader, node, "expected firmware for it and this board under \"firmware:\"",
                         "board %s has no firmware for %s in the book", board->name, name);
}

static void
resolve_components (Loader *loader)
{
    for (guint i = 0; i < loader->listings->len; i++) {
        const BoardListing *listing = g_ptr_array_index (loader->listings, i);
        for (guint j = 0; listing->listed && j < listing->listed->len; j++)
            resolve_component (loader, listing, g_ptr_array_index (listing->listed, j));
    }
    for (guint i = 0; i < loader->listings->len; i++) {
        const BoardListing *listing = g_ptr_array_index (loader->listings, i);
        for (guint j = 0; j < loader->firmware->len; j++) {
            const Firmware *firmware = g_ptr_array_index (loader->firmware, j);
            const char *name = firmware->component->name;
            if (g_ptr_array_find (firmware->boards, listing->board, NULL) && !listing_has (listing, name) &&
                !loader_has_lost (loader, name))
                complaints_add (loader->complaints, firmware->component->at,
                                "expected a component that the board lists under \"components:\"",
                                "board %s has no component %s", listing->board->name, name);
        }
    }
}

/* ---- One name, one thing ---- */

static void
check_name_within_board (Loader *loader, const BoardListing *listing, const Node *node, const char *what)
{
    if (node->kind != NODE_SCALAR)
        return;
    const char *name = g_intern_string (node->text);
    g_autofree char *taken = loader_definition_text (loader, name);
    int slot = board_find_slot (listing->board, name);
    if (!taken && slot >= 0 && board_slot (listing->board, (guint) slot)->at.line &&
        !g_ptr_array_find (listing->slot_nodes, node, NULL)) {
        Mark first = board_slot (listing->board, (guint) slot)->at;
        taken = g_strdup_printf ("slot %s at %s:%u:%u", name, first.file, first.line, first.column);
    }
    if (!taken)
        return;
    g_autofree char *expected = g_strdup_printf ("expected a name that is not taken; there is %s", taken);
    complaints_add (loader->complaints, node->at, expected, "the name of %s %s is taken", what, name);
}

static void
check_names_within_boards (Loader *loader)
{
    for (guint i = 0; i < loader->listings->len; i++) {
        const BoardListing *listing = g_ptr_array_index (loader->listings, i);
        for (guint j = 0; j < listing->slot_nodes->len; j++)
            check_name_within_board (loader, listing, g_ptr_array_index (listing->slot_nodes, j), "slot");
        for (guint j = 0; listing->listed && j < listing->listed->len; j++)
            check_name_within_board (loader, listing, g_ptr_array_index (listing->listed, j), "component");
    }
}

/* ---- Releases ---- */

static void
resolve_lowest (Loader *loader, const Component *component, Release *release, const Node *node)
{
    if (!node)
        return;
    /* Above itself first: a version beyond the newest release is above it as well. */
    if (node->kind == NODE_SCALAR && !version_problem (component->scheme, node->text)) {
        int index = component_find_release (component, node->text);
        gboolean above = component->scheme == VERSIONS_LISTED
                             ? index > (int) release->index
                             : version_compare (component->scheme, node->text, release->name) > 0;
        if (above) {
            g_autofree char *expected = g_strdup_printf ("expected a release at or below %s", release->name);
            loader_complain (loader, node, expected, "release %s sets lowest to %s, above itself", release->name,
                             node->text);
            return;
        }
    }
    release->lowest = read_release_at_or_above (loader, component, node);
}

/* A component of every board that the firmware is for; NULL after a complaint. */
static const Component *
also_written (Loader *loader, const Firmware *firmware, const Node *key)
{
    const Component *found = NULL;
    for (guint i = 0; i < firmware->boards->len; i++) {
        const Board *board = g_ptr_array_index (firmware->boards, i);
        int index = read_component_name (loader, board, key);
        if (index < 0)
            return NULL;
        found = board_component (board, (guint) index);
    }
    return found;
}

static void
resolve_also_writes (Loader *loader, const Firmware *firmware, Release *release, const Node *node)
{
    if (!node)
        return;
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, "also-writes", "expected a component with a release");
        return;
    }
    for (guint i = 0; i < node->keys->len; i++) {
        const Node *key = g_ptr_array_index (node->keys, i), *value = g_ptr_array_index (node->items, i);
        if (strcmp (key->text, firmware->component->name) == 0) {
            loader_complain (loader, key, "expected another component", "release %s also-writes its own component %s",
                             release->name, key->text);
            continue;
        }
        const Component *component = also_written (loader, firmware, key);
        int index = component ? read_release_name (loader, component, value) : -1;
        if (index < 0)
            continue;
        AlsoWrites *also = g_new0 (AlsoWrites, 1);
        also->component = component->name;
        also->release = component_release (component, (guint) index)->name;
        also->at = key->at;
        g_ptr_array_add (release->also_writes, also);
    }
}

/* `from` has to match some other release, where there is one. */
static void
check_from (Loader *loader, const Component *component, const Release *release)
{
    if (!release->from || !check_release_expression (loader, component, release->from) ||
        g_hash_table_contains (loader->damaged, component) || component->releases->len < 2)
        return;
    for (guint i = 0; i < component->releases->len; i++)
        if (i != release->index && release_answers (component, release->from, i))
            return;
    g_autofree char *text = expression_to_string (release->from);
    complaints_add (loader->complaints, release->from->at, "expected a from that some other release answers",
                    "release %s cannot be written over any other: none is %s", release->name, text);
}

/* The component that a spare image belongs to comes just before it. */
static void
resolve_releases (Loader *loader)
{
    for (guint i = 0; i < loader->firmware->len; i++) {
        const Firmware *firmware = g_ptr_array_index (loader->firmware, i);
        const Component *component = firmware->component;
        if (component->spare_of) {
            const Firmware *active = g_ptr_array_index (loader->firmware, i - 1);
            resolve_spare (active->component, firmware->component);
            continue;
        }
        for (guint j = 0; j < component->releases->len; j++) {
            Release *release = g_ptr_array_index (component->releases, j);
            const ReleaseLinks *links = g_hash_table_lookup (loader->release_links, release);
            resolve_lowest (loader, component, release, links->lowest);
            resolve_also_writes (loader, firmware, release, links->also_writes);
            check_from (loader, component, release);
        }
    }
}

/* A component's name stands for its release; were anything else offered under it, two releases would be there at once. */
static void
check_provides (Loader *loader, const GPtrArray *provides)
{
    for (guint i = 0; provides && i < provides->len; i++) {
        const Provide *provide = g_ptr_array_index (provides, i);
        for (guint f = 0; f < loader->firmware->len; f++) {
            const Firmware *firmware = g_ptr_array_index (loader->firmware, f);
            if (firmware->component->name != provide->name)
                continue;
            complaints_add (loader->complaints, provide->at, "expected a name that is not a component's",
                            "%s is a component: only its own releases offer that name", provide->name);
            break;
        }
    }
}

static void
check_all_provides (Loader *loader)
{
    const Book *book = &loader->library->book;
    for (guint i = 0; i < book->boards->len; i++)
        check_provides (loader, ((const Board *) g_ptr_array_index (book->boards, i))->provides);
    for (guint i = 0; i < book->parts->len; i++)
        check_provides (loader, ((const Part *) g_ptr_array_index (book->parts, i))->provides);
    for (guint i = 0; i < book->firmware->len; i++) {
        const Component *component = g_ptr_array_index (book->firmware, i);
        for (guint r = 0; r < component->releases->len; r++)
            check_provides (loader, component_release (component, r)->provides);
    }
}

void
resolve_book (Loader *loader)
{
    check_all_provides (loader);
    check_generation_uses (loader);
    resolve_components (loader);
    check_names_within_boards (loader);
    resolve_releases (loader);
}
