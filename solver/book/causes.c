/* SPDX-License-Identifier: MIT */
/* Causes, looks and rules by name. */
#include "book/causes.h"

#include "book/reader.h"

const LookFirst *
looks_find (const Loader *loader, const char *id)
{
    const GPtrArray *looks = loader->library->looks;
    for (guint i = 0; i < looks->len; i++) {
        const LookFirst *look = g_ptr_array_index (looks, i);
        if (look->id == id)
            return look;
    }
    return NULL;
}

const Cause *
causes_find (const Loader *loader, const char *id)
{
    const GPtrArray *looks = loader->library->looks;
    for (guint i = 0; i < looks->len; i++) {
        const GPtrArray *finds = ((const LookFirst *) g_ptr_array_index (looks, i))->finds;
        for (guint j = 0; j < finds->len; j++) {
            const Cause *cause = g_ptr_array_index (finds, j);
            if (cause->id == id)
                return cause;
        }
    }
    return NULL;
}

const Rule *
rules_find (const Loader *loader, const char *id)
{
    const GPtrArray *rules = loader->library->rules;
    for (guint i = 0; i < rules->len; i++) {
        const Rule *rule = g_ptr_array_index (rules, i);
        if (rule->id == id)
            return rule;
    }
    return NULL;
}

void
causes_add_names (const Loader *loader, GPtrArray *names)
{
    const GPtrArray *looks = loader->library->looks;
    for (guint i = 0; i < looks->len; i++) {
        const GPtrArray *finds = ((const LookFirst *) g_ptr_array_index (looks, i))->finds;
        for (guint j = 0; j < finds->len; j++)
            g_ptr_array_add (names, (gpointer) ((const Cause *) g_ptr_array_index (finds, j))->id);
    }
}

gboolean
causes_are_known (const Loader *loader)
{
    return loader->library->looks->len > 0;
}

const Cause *
read_cause_name (Loader *loader, const Node *node, const char *key)
{
    const char *name = value_name (loader, node, key);
    const Cause *cause = name ? causes_find (loader, name) : NULL;
    if (name && !cause) {
        g_autoptr (GPtrArray) known = g_ptr_array_new ();
        causes_add_names (loader, known);
        g_ptr_array_add (known, NULL);
        loader_unknown (loader, node->at, "cause", name, NULL, (const char *const *) known->pdata);
    }
    return cause;
}
