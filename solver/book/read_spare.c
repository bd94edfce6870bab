/* SPDX-License-Identifier: MIT */
/* Spare images: read as a name, made from the component that they are the second image of. */
#include "book/read_spare.h"

#include "book/library.h"
#include "book/reader.h"

#include <string.h>

/* A spare image is not written over itself, and no jumper puts it in the place of the active one. */
#define NOT_OF_SPARES (METHOD_BIT (METHOD_JUMPER) | METHOD_BIT (METHOD_SPARE))

const char *
read_spare_name (Loader *loader, const Node *node, const Component *component)
{
    const char *name = value_name (loader, node, "spare");
    if (!name || name != component->name)
        return name;
    loader_complain (loader, node, "expected another component of the board", "component %s cannot be its own spare",
                     name);
    return NULL;
}

void
check_no_spare (Loader *loader, const Node *methods, const Node *recovery, const Component *component)
{
    static const char expected[] = "expected \"spare:\" beside it, with the component that is the spare image";
    const MethodEntry *entry = &component->methods[METHOD_SPARE];
    const char *name = component->name ? component->name : "the component";
    if (methods && entry->there)
        complaints_add (loader->complaints, entry->at, expected, "method spare, and %s has no spare image", name);
    if (recovery && component->recovery & METHOD_BIT (METHOD_SPARE))
        complaints_add (loader->complaints, recovery->at, expected, "recovery by spare, and %s has no spare image",
                        name);
}

/* ---- Making one ---- */

static Release *
spare_release (const Release *release, const Component *component, const Component *spare)
{
    Release *copy = release_new (release->name, release->at);
    copy->index = release->index;
    copy->date = release->date;
    copy->from = expression_copy (release->from, component->name, spare->name);
    copy->to_write_requires = expression_copy (release->to_write_requires, NULL, NULL);
    copy->to_write_conflicts = expression_copy (release->to_write_conflicts, NULL, NULL);
    copy->methods = release->methods & ~NOT_OF_SPARES;
    copy->takes_effect = release->takes_effect;
    copy->file_name = release->file_name;
    copy->sha256 = release->sha256;
    copy->bytes = release->bytes;
    copy->withdrawn = release->withdrawn;
    copy->source = release->source;
    return copy;
}

static Component *
spare_component (const Component *component, Mark at)
{
    Component *spare = component_new (component->spare, at);
    spare->scheme = component->scheme;
    spare->spare_of = component->name;
    spare->recovery = component->recovery & ~NOT_OF_SPARES;
    for (int method = 0; method < METHOD_COUNT; method++)
        if (!(METHOD_BIT (method) & NOT_OF_SPARES)) {
            spare->methods[method] = component->methods[method];
            spare->methods[method].requires = expression_copy (component->methods[method].requires, NULL, NULL);
        }
    for (guint i = 0; i < component->releases->len; i++)
        g_ptr_array_add (spare->releases, spare_release (component_release (component, i), component, spare));
    return spare;
}

void
add_spare (Loader *loader, const Firmware *firmware, Mark at)
{
    Firmware *second = g_new0 (Firmware, 1);
    second->component = spare_component (firmware->component, at);
    second->boards = g_ptr_array_copy (firmware->boards, NULL, NULL);
    if (g_hash_table_contains (loader->damaged, firmware->component))
        g_hash_table_add (loader->damaged, second->component);
    g_ptr_array_add (loader->library->book.firmware, second->component);
    g_ptr_array_add (loader->firmware, second);
}

void
resolve_spare (const Component *component, Component *spare)
{
    for (guint i = 0; i < component->releases->len; i++)
        ((Release *) g_ptr_array_index (spare->releases, i))->lowest = component_release (component, i)->lowest;
}
