/* SPDX-License-Identifier: MIT */
/* What the program's own reading of files tells: which keys each map may have and must have, and what is wrong.
 *   load_facts < RUNS     each line names the files of one run, with tabs between them
 * Prints one line of JSON for each run: `complaints`, `maps`, `attributes`. check_schemas.py holds the schemas against
 * it.
 *
 * The linker puts the functions below in the place of map_take(), map_end() and so on (its option --wrap), so that the
 * list of keys is the one that the reading itself goes by, not another one kept beside it. */
#include "book/reader.h"

#include <stdio.h>
#include <string.h>

#include <jansson.h>

static json_t *maps;       /* of this run */
static json_t *attributes; /* name -> "number", "text", "either" */
static json_t *required;   /* of the map being read, by address: maps are read inside one another */

const Node *__wrap_map_take (MapReader *reader, const char *key, KeyNeed need);
void __wrap_map_end (MapReader *reader);
void __wrap_map_end_reading_past (MapReader *reader);
const Node *__real_map_take (MapReader *reader, const char *key, KeyNeed need);
void __real_map_end (MapReader *reader);
void __real_map_end_reading_past (MapReader *reader);

static char *
address_of (const MapReader *reader)
{
    return g_strdup_printf ("%p", (const void *) reader);
}

const Node *
__wrap_map_take (MapReader *reader, const char *key, KeyNeed need)
{
    g_autofree char *address = address_of (reader);
    if (need == KEY_REQUIRED) {
        json_t *keys = json_object_get (required, address);
        if (!keys)
            json_object_set_new (required, address, keys = json_array ());
        json_array_append_new (keys, json_string (key));
    }
    return __real_map_take (reader, key, need);
}

static void
note_attributes (const Loader *loader)
{
    static const char *const types[] = { "", "number", "text", "either" };
    g_autofree const char **names = sorted_keys (loader->attributes);
    for (guint i = 0; names[i]; i++) {
        guint type = GPOINTER_TO_UINT (g_hash_table_lookup (loader->attributes, names[i]));
        json_object_set_new (attributes, names[i], json_string (types[type]));
    }
}

static void
note_map (MapReader *reader, gboolean reads_past)
{
    g_autofree char *address = address_of (reader);
    json_t *keys = json_object_get (required, address);
    json_t *known = json_array ();
    for (guint i = 0; i < reader->known->len; i++)
        json_array_append_new (known, json_string (g_ptr_array_index (reader->known, i)));
    json_t *map = json_pack ("{s:s, s:i, s:i, s:s, s:b, s:o, s:O}", "file", reader->map->at.file, "line",
                             (int) reader->map->at.line, "column", (int) reader->map->at.column, "what", reader->what,
                             "reads-past", reads_past, "known", known, "required", keys ? keys : json_null ());
    json_array_append_new (maps, map);
    json_object_del (required, address);
    note_attributes (reader->loader);
}

void
__wrap_map_end (MapReader *reader)
{
    note_map (reader, FALSE);
    __real_map_end (reader);
}

void
__wrap_map_end_reading_past (MapReader *reader)
{
    note_map (reader, TRUE);
    __real_map_end_reading_past (reader);
}

static json_t *
complaints_as_json (Complaints *complaints)
{
    json_t *list = json_array ();
    for (guint i = 0; i < complaints_count (complaints); i++) {
        const Complaint *one = complaints_get (complaints, i);
        json_array_append_new (list, json_pack ("{s:s?, s:i, s:i, s:s, s:s?}", "file", one->at.file, "line",
                                                (int) one->at.line, "column", (int) one->at.column, "what", one->what,
                                                "expected", one->expected));
    }
    return list;
}

static void
run (const char *line)
{
    g_auto (GStrv) paths = g_strsplit (line, "\t", -1);
    g_autoptr (Complaints) complaints = complaints_new ();
    maps = json_array ();
    attributes = json_object ();
    required = json_object ();
    g_autoptr (Library) library = library_load ((const char *const *) paths, NULL, complaints);
    g_assert (library);
    json_t *told = json_pack ("{s:o, s:o, s:o}", "complaints", complaints_as_json (complaints), "maps", maps,
                              "attributes", attributes);
    json_dumpf (told, stdout, JSON_COMPACT | JSON_SORT_KEYS);
    putchar ('\n');
    json_decref (told);
    json_decref (required);
}

int
main (void)
{
    char *line = NULL;
    size_t size = 0;
    ssize_t length;
    while ((length = getline (&line, &size, stdin)) > 0) {
        line[strcspn (line, "\n")] = '\0';
        run (line);
    }
    free (line);
    return 0;
}
