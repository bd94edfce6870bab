/* SPDX-License-Identifier: MIT */
/* Whether a part is what a want asks of a slot. */
#include "book/book.h"

#include <string.h>

static gboolean
part_meets_test (const Part *part, const char *stepping, const WantTest *test)
{
    if (strcmp (test->attribute, "part") == 0)
        return version_op_holds (test->op, strcmp (part->name, test->text));
    if (strcmp (test->attribute, "stepping") == 0)
        return stepping && version_op_holds (test->op, version_compare (VERSIONS_DEBIAN, stepping, test->text));
    const Attribute *attribute = attribute_find (part->attributes, test->attribute);
    if (!attribute)
        return FALSE;
    if (test->is_number)
        return attribute->is_number &&
               version_op_holds (test->op, (attribute->number > test->number) - (attribute->number < test->number));
    for (guint i = 0; i < attribute->values->len; i++)
        if (version_op_holds (test->op, strcmp (g_ptr_array_index (attribute->values, i), test->text)))
            return TRUE;
    return FALSE;
}

gboolean
want_slot_is_met (const WantSlot *want, const Part *part, const char *stepping)
{
    switch (want->kind) {
    case WANT_NOTHING:
    case WANT_ANYTHING:
        return TRUE;
    case WANT_EMPTY:
        return !part;
    case WANT_PART:
        return part == want->part && (!want->stepping || g_strcmp0 (want->stepping, stepping) == 0);
    case WANT_LIKE:
        for (guint i = 0; part && i < want->tests->len; i++)
            if (!part_meets_test (part, stepping, &g_array_index (want->tests, WantTest, i)))
                return FALSE;
        return part != NULL;
    case WANT_HELD:
        return part == want->part && (!part || stepping == want->stepping);
    }
    g_assert_not_reached ();
}
