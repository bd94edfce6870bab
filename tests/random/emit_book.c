/* SPDX-License-Identifier: MIT */
/* The book: board, firmware, parts; and how conditions are spelt. */
#include "emit.h"

const char *
socket_name (int socket)
{
    return socket ? "S1841" : "S1840";
}

const char *
memory_type_name (int type)
{
    return type ? "mk5" : "mk4";
}

const char *
way_name_at (int way)
{
    return way_name ((Way) way);
}

void
emit_tenths (GString *out, int tenths)
{
    g_string_append_printf (out, tenths % 10 ? "%d.%d" : "%d", tenths / 10, tenths % 10);
}

void
emit_bits (GString *out, unsigned bits, int count, const char *(*name) (int) )
{
    const char *comma = "";
    g_string_append_c (out, '[');
    for (int i = 0; i < count; i++) {
        if (!(bits >> i & 1))
            continue;
        g_string_append_printf (out, "%s%s", comma, name (i));
        comma = ", ";
    }
    g_string_append_c (out, ']');
}

static const char *
cmp_text (Cmp cmp)
{
    static const char *const texts[] = { "", "<", "<=", "=", ">=", ">", "!=" };
    return texts[cmp];
}

static void
emit_atom (GString *out, const Job *job, const Node *node)
{
    const char *value = "";
    switch (node->kind) {
    case ATOM_RELEASE:
        value = edition_name (&job->firmware[node->subject], node->value);
        g_string_append (out, firmware_name (job, node->subject));
        break;
    case ATOM_MODEL:
        g_string_append (out, job->pieces[node->subject].name);
        value = stepping_name (node->value);
        break;
    case ATOM_GENERATION:
        g_string_append_printf (out, "generation %s", generation_name (node->subject));
        value = stepping_name (node->value);
        break;
    case ATOM_REVISION:
        g_string_append_printf (out, "board finch-2s %s r%d", cmp_text (node->cmp), node->value + 1);
        return;
    case ATOM_TABLE:
        g_string_append_printf (out, "table-%d", node->subject + 1);
        if (node->cmp != CMP_ANY)
            g_string_append_printf (out, " %s %d", cmp_text (node->cmp), node->value);
        return;
    case ATOM_KIND:
        g_string_append (out, piece_kind_name ((PieceKind) node->subject));
        return;
    default:
        g_string_append (out, job->places[node->subject].name);
        return;
    }
    if (node->cmp == CMP_ANY)
        return;
    /* Under `dotted`, leading zeros are ignored: say it so now and then. */
    gboolean zero = node->kind == ATOM_RELEASE && job->firmware[node->subject].order == ORDER_DOTTED &&
                    (job->look + node->value) % 5 == 0;
    g_string_append_printf (out, " %s %s%s", cmp_text (node->cmp), zero ? "0" : "", value);
}

/* `tight`: 0 where anything may stand, 1 under `if`, 2 under `or`, 3 under `and`. */
static void
emit_node (GString *out, const Job *job, const Cond *cond, int index, int tight)
{
    const Node *node = &cond->nodes[index];
    if (node->kind < JOIN_AND) {
        emit_atom (out, job, node);
        return;
    }
    int own = node->kind == JOIN_IF ? 0 : node->kind == JOIN_OR ? 1 : 2;
    gboolean brackets = own < tight || (job->look >> index & 3) == 3;
    const char *and = job->look & 1 ? ", " : " and ";
    g_string_append (out, brackets ? "(" : "");
    emit_node (out, job, cond, node->left, own + 1);
    g_string_append (out, node->kind == JOIN_IF ? " if " : node->kind == JOIN_OR ? " or " : and);
    emit_node (out, job, cond, node->right, own + 1);
    g_string_append (out, brackets ? ")" : "");
}

char *
emit_cond (const Job *job, const Cond *cond)
{
    GString *out = g_string_new (NULL);
    emit_node (out, job, cond, cond->count - 1, 0);
    return g_string_free (out, FALSE);
}

static void
emit_pair (GString *out, const Job *job, const char *key, const Cond *requires, const Cond *conflicts)
{
    if (!requires->count && !conflicts->count)
        return;
    g_string_append_printf (out, "        %s: {", key);
    if (requires->count) {
        g_autofree char *text = emit_cond (job, requires);
        g_string_append_printf (out, "requires: \"%s\"", text);
    }
    if (conflicts->count) {
        g_autofree char *text = emit_cond (job, conflicts);
        g_string_append_printf (out, "%sconflicts: \"%s\"", requires->count ? ", " : "", text);
    }
    g_string_append (out, "}\n");
}

static void
emit_board (GString *out, const Job *job)
{
    g_string_append (out, "boards:\n  - board: finch-2s\n    revisions: [r1, r2, r3]\n");
    if (job->board_watts >= 0)
        g_string_append_printf (out, "    watts: %d\n", job->board_watts);
    if (job->verified_boot || job->look & 128)
        g_string_append_printf (out, "    verified-boot: %s\n", job->verified_boot ? "yes" : "no");
    if (job->board_binds)
        g_string_append_printf (out, "    binds: %s\n", bound_name (job->board_binds));
    g_string_append (out, "    slots:\n");
    for (int i = 0; i < job->place_count; i++) {
        const Place *place = &job->places[i];
        if (place->gone)
            continue;
        g_string_append_printf (out, "      - {slot: %s, takes: %s", place->name, piece_kind_name (place->takes));
        if (place->over >= 0)
            g_string_append_printf (out, ", over: %s", job->places[place->over].name);
        if (place->served_by >= 0)
            g_string_append_printf (out, ", served-by: %s", job->places[place->served_by].name);
        if (place->socket >= 0)
            g_string_append_printf (out, ", socket: %s", socket_name (place->socket));
        if (place->memory_type >= 0)
            g_string_append_printf (out, ", memory-type: %s", memory_type_name (place->memory_type));
        if (place->rated)
            g_string_append_printf (out, ", rated-insertions: %d", place->rated);
        g_string_append (out, "}\n");
    }
    g_string_append (out, "    components: [");
    const char *comma = "";
    for (int c = 0; c < job->firmware_count; c++) {
        if (job->firmware[c].gone)
            continue;
        g_string_append_printf (out, "%s%s", comma, firmware_name (job, c));
        comma = ", ";
    }
    g_string_append (out, "]\n");
    if (!(job->mixed[0] || job->mixed[1] || job->mixed[2]))
        return;
    g_string_append (out, "    mixed-steppings:\n");
    for (int g = 0; g < GENERATIONS; g++) {
        if (!job->mixed[g])
            continue;
        g_string_append_printf (out, "      - {generation: %s, steppings: ", generation_name (g));
        emit_bits (out, job->mixed[g], STEPPINGS, stepping_name);
        g_string_append (out, "}\n");
    }
}

static void
emit_support (GString *out, const Job *job, const char *key, const unsigned *support)
{
    const char *comma = "";
    g_string_append_printf (out, "        %s: [", key);
    for (int g = 0; g < GENERATIONS; g++) {
        if (!support[g])
            continue;
        g_string_append (out, comma);
        comma = ", ";
        if (support[g] == job->generation_steppings[g]) {
            g_string_append (out, generation_name (g));
            continue;
        }
        g_string_append_printf (out, "{generation: %s, steppings: ", generation_name (g));
        emit_bits (out, support[g], STEPPINGS, stepping_name);
        g_string_append_c (out, '}');
    }
    g_string_append (out, "]\n");
}

static void
emit_edition (GString *out, const Job *job, int c, int r)
{
    const Firmware *firmware = &job->firmware[c];
    const Edition *edition = &firmware->editions[r];
    g_string_append_printf (out, "      - release: \"%s\"\n", edition_name (firmware, r));
    if (edition->states_starts)
        emit_support (out, job, "starts", edition->starts);
    if (edition->never[0] || edition->never[1] || edition->never[2])
        emit_support (out, job, "never-starts", edition->never);
    if (edition->from.count) {
        g_autofree char *text = emit_cond (job, &edition->from);
        g_string_append_printf (out, "        from: \"%s\"\n", text);
    }
    emit_pair (out, job, "to-write", &edition->write_requires, &edition->write_conflicts);
    emit_pair (out, job, "while-running", &edition->run_requires, &edition->run_conflicts);
    if (edition->lowest >= 0)
        g_string_append_printf (out, "        lowest: \"%s\"\n", edition_name (firmware, edition->lowest));
    if (edition->also >= 0)
        g_string_append_printf (out, "        also-writes: {%s: \"%s\"}\n", firmware_name (job, edition->also),
                                edition_name (&job->firmware[edition->also], edition->also_release));
    unsigned there = 0;
    for (int way = 0; way < WAYS; way++)
        there |= firmware->ways[way].there ? 1u << way : 0;
    if (edition->ways != there) {
        g_string_append (out, "        methods: ");
        emit_bits (out, edition->ways, WAYS, way_name_at);
        g_string_append_c (out, '\n');
    }
    for (int t = 0; t < TABLES; t++)
        if (edition->tables[t])
            g_string_append_printf (out, "        provides: [\"table-%d = %d\"]\n", t + 1, edition->tables[t]);
    if (edition->withdrawn)
        g_string_append (out, "        withdrawn: \"taken back\"\n");
}

/* Not given: none for clip, the floor for jumper and spare. */
static void
emit_obeys (GString *out, const Job *job, const WayEntry *entry, int way)
{
    static const char *const words[] = { "from", "to-write", "floor" };
    const gboolean obeys[] = { entry->obeys_from, entry->obeys_to_write, entry->obeys_floor };
    gboolean usual = !entry->obeys_from && !entry->obeys_to_write && !entry->obeys_floor == (way == WAY_CLIP);
    const char *comma = "";
    if (way == WAY_HOST || way == WAY_CONTROLLER || (usual && !(job->look & 4)))
        return;
    g_string_append (out, ", obeys: [");
    for (int i = 0; i < 3; i++) {
        g_string_append_printf (out, "%s%s", obeys[i] ? comma : "", obeys[i] ? words[i] : "");
        comma = obeys[i] ? ", " : comma;
    }
    g_string_append_c (out, ']');
}

static void
emit_way (GString *out, const Job *job, const Firmware *firmware, int way)
{
    const WayEntry *entry = &firmware->ways[way];
    if (!entry->there)
        return;
    g_string_append_printf (out, "      %s: {minutes: ", way_name ((Way) way));
    emit_tenths (out, entry->tenths);
    if (way == WAY_HOST && (entry->next_start || job->look & 2))
        g_string_append_printf (out, ", verify: %s", entry->next_start ? "next-start" : "at-once");
    static const char *const hosts[] = { "off", "on", "either" };
    if (way == WAY_CONTROLLER && (entry->host != NEED_OFF || job->look & 256))
        g_string_append_printf (out, ", host: %s", hosts[entry->host]);
    if (entry->recovery_only)
        g_string_append (out, ", recovery-only: yes");
    emit_obeys (out, job, entry, way);
    if (entry->requires.count) {
        g_autofree char *text = emit_cond (job, &entry->requires);
        g_string_append_printf (out, ", requires: \"%s\"", text);
    }
    g_string_append (out, "}\n");
}

static void
emit_firmware (GString *out, const Job *job, int c)
{
    static const char *const orders[] = { "dotted", "semver", "debian", "listed" };
    const Firmware *firmware = &job->firmware[c];
    g_string_append_printf (out, "  - component: %s\n    for: %s\n    versions: %s\n    methods:\n",
                            firmware_name (job, c), job->look & 8 ? "[finch-2s]" : "finch-2s", orders[firmware->order]);
    for (int way = 0; way < WAYS; way++)
        emit_way (out, job, firmware, way);
    if (firmware->spare >= 0)
        g_string_append_printf (out, "    spare: %s\n", firmware_name (job, firmware->spare));
    g_string_append (out, "    recovery: ");
    emit_bits (out, firmware->recovery, WAYS, way_name_at);
    g_string_append (out, "\n    releases:\n");
    /* The order of the releases is their scheme's, not the file's, except under `listed`. */
    gboolean newest_first = firmware->order != ORDER_LISTED && (job->look & 16);
    for (int i = 0; i < firmware->count; i++) {
        int r = newest_first ? firmware->count - 1 - i : i;
        if (!firmware->editions[r].gone)
            emit_edition (out, job, c, r);
    }
}

static void
emit_piece (GString *out, const Job *job, const Piece *piece)
{
    g_string_append_printf (out, "  - %s: %s\n", piece_kind_name (piece->kind), piece->name);
    if (piece->kind == PIECE_PROCESSOR)
        g_string_append_printf (out, "    generation: %s\n", generation_name (piece->generation));
    if (bits_count (piece->steppings) == 1)
        g_string_append_printf (out, "    stepping: %s\n", stepping_name (bits_lowest (piece->steppings)));
    if (bits_count (piece->steppings) > 1) {
        g_string_append (out, "    steppings: ");
        emit_bits (out, piece->steppings, STEPPINGS, stepping_name);
        g_string_append_c (out, '\n');
    }
    if (bits_count (piece->sockets) == 1)
        g_string_append_printf (out, "    socket: %s\n", socket_name (bits_lowest (piece->sockets)));
    if (bits_count (piece->sockets) > 1) {
        g_string_append (out, "    socket: ");
        emit_bits (out, piece->sockets, 2, socket_name);
        g_string_append_c (out, '\n');
    }
    if (piece->memory_types) {
        g_string_append (out, "    memory-type: ");
        emit_bits (out, piece->memory_types, 2, memory_type_name);
        g_string_append_c (out, '\n');
    }
    if (piece->watts >= 0)
        g_string_append_printf (out, "    watts: %d\n", piece->watts);
    if (piece->kind == PIECE_SINK)
        g_string_append_printf (out, "    rating: %d\n", piece->rating);
    if (piece->kind == PIECE_SUPPLY)
        g_string_append_printf (out, "    output: %d\n", piece->output);
    if (piece->binds)
        g_string_append (out, "    binds: yes\n");
    if (piece->requires.count) {
        g_autofree char *text = emit_cond (job, &piece->requires);
        g_string_append_printf (out, "    requires: \"%s\"\n", text);
    }
    if (piece->conflicts.count) {
        g_autofree char *text = emit_cond (job, &piece->conflicts);
        g_string_append_printf (out, "    conflicts: \"%s\"\n", text);
    }
}

void
emit_book (GString *out, const Job *job)
{
    g_string_append (out, "book: random bench\ngenerations:\n");
    for (int g = 0; g < GENERATIONS; g++) {
        if (!job->generation_steppings[g])
            continue;
        g_string_append_printf (out, "  - generation: %s\n    steppings: ", generation_name (g));
        emit_bits (out, job->generation_steppings[g], STEPPINGS, stepping_name);
        g_string_append_c (out, '\n');
    }
    emit_board (out, job);
    g_string_append (out, "firmware:\n");
    for (int c = 0; c < job->firmware_count; c++)
        if (!job->firmware[c].gone && job->firmware[c].spare_of < 0)
            emit_firmware (out, job, c);
    /* Several books are read as one. */
    g_string_append (out, job->look & 32 ? "---\nbook: random parts\nparts:\n" : "parts:\n");
    for (int p = 0; p < job->piece_count; p++)
        if (!job->pieces[p].gone)
            emit_piece (out, job, &job->pieces[p]);
}
