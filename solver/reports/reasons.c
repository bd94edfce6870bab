/* SPDX-License-Identifier: MIT */
/* Why a step is in a route: what the checker refuses without it, in words. */
#include "reports/reasons.h"

#include "reports/account.h"

/* What the sentences are made from. */
typedef struct {
    const RouteJob *job;
    guint index;
    const Step *step;
    const Without *without;
    const char *rule; /* that is broken without the step */
    char *needs_it;   /* owned: "step 4", "the end" */
} Telling;

static const Step *
step_at (const RouteJob *job, guint index)
{
    return &g_array_index (job->steps, Step, index);
}

static const State *
state_at (const RouteJob *job, guint index)
{
    return g_ptr_array_index (job->states, index);
}

static const State *
last_state (const RouteJob *job)
{
    return state_at (job, job->steps->len);
}

static const char *
slot_name (const Telling *telling)
{
    return board_slot (telling->job->unit->board, telling->step->slot)->name;
}

static gboolean
same_held (const Held *left, const Held *right)
{
    return left->part == right->part &&
           (left->part == NULL ||
            (left->stepping == right->stepping && left->owner == right->owner && left->bound == right->bound));
}

static gboolean
breaks (const Telling *telling, const char *rule)
{
    return g_str_equal (telling->rule, rule);
}

static gboolean
is_about_starting (const Telling *telling)
{
    return breaks (telling, "does-not-start-before") || breaks (telling, "does-not-start-after") ||
           breaks (telling, "end-does-not-start");
}

/* " (file:line)"; "" without a place. Transfer full. */
static char *
place_after (Mark at)
{
    g_autofree char *place = words_place (at);

    return *place == '\0' ? g_strdup ("") : g_strdup_printf (" (%s)", place);
}

/* ---- What keeps the unit dark ---- */

/* The moment at which the route without the step is refused: the state that does not start. Transfer full. */
static State *
refused_state (const Telling *telling)
{
    State *state = state_copy (telling->without->walk->last);

    if (breaks (telling, "does-not-start-after"))
        state_apply (state, step_at (telling->job, (guint) telling->without->refused));
    return state;
}

/* Falls back to the checker's own sentence. Transfer full. */
static char *
dark_without (const Telling *telling)
{
    g_autoptr (State) state = refused_state (telling);
    char *facts = what_keeps_dark (telling->job, state);

    return facts != NULL ? facts : g_strdup (telling->without->walk->why);
}

/* The sentence of a step that is there so that the unit starts. `left_as` says how it would be without: "left in". */
static char *
starts_sentence (const Telling *telling, const char *begins, const char *left_as)
{
    g_autofree char *facts = dark_without (telling);
    const char *when = breaks (telling, "does-not-start-after") ? "after"
                       : telling->without->refused < 0          ? "at"
                                                                : "for";

    return g_strdup_printf ("%s so that the unit starts %s %s; %s: %s", begins, when, telling->needs_it, left_as,
                            facts);
}

/* The step that is refused without this one, or the end, is done with the unit running. */
static gboolean
needs_a_running_unit (const Telling *telling)
{
    const Step *refused = NULL;

    if (telling->without->refused < 0)
        return TRUE;
    refused = step_at (telling->job, (guint) telling->without->refused);
    return refused->kind == STEP_WRITE &&
           method_powered (&board_component (telling->job->unit->board, refused->component)->methods[refused->method],
                           refused->method) == POWERED_ON;
}

/* Without the step the unit is dark where it has to run, whatever else the checker came upon first. */
static gboolean
leaves_it_dark (const Telling *telling)
{
    g_autoptr (State) state = NULL;
    g_autofree char *facts = NULL;

    if (is_about_starting (telling))
        return TRUE;
    if (!needs_a_running_unit (telling))
        return FALSE;
    state = refused_state (telling);
    facts = what_keeps_dark (telling->job, state);
    return facts != NULL;
}

static char *
held_in_words (const Held *held)
{
    g_autofree char *part = words_part (held->part, held->stepping);

    return held->part == NULL ? g_strdup ("the slot empty") : g_strdup_printf ("%s there", part);
}

/* ---- Writes ---- */

/* "because 2.1.0 (step 4) can't be written over 1.0.2 (wren.yaml:41)" */
static char *
from_sentence (const Telling *telling)
{
    const Step *refused = step_at (telling->job, (guint) telling->without->refused);
    const Component *component = board_component (telling->job->unit->board, refused->component);
    const Release *release = component_release (component, refused->release);
    guint present = telling->without->walk->last->releases[refused->component];
    g_autofree char *place = place_after (release->from->at);

    return g_strdup_printf ("because %s %s (%s) can't be written over %s%s", component->name, release->name,
                            telling->needs_it, component_release (component, present)->name, place);
}

static char *
write_sentence (const Telling *telling)
{
    const Want *want = telling->job->want;
    const Expr *asked = want == NULL ? NULL : want->firmware[telling->step->component];

    if (breaks (telling, "from"))
        return from_sentence (telling);
    if (is_about_starting (telling))
        return starts_sentence (telling, "written", "without it");
    if (breaks (telling, "end-want") && asked != NULL) {
        g_autofree char *text = expression_to_string (asked);
        g_autofree char *place = place_after (asked->at);

        return g_strdup_printf ("wanted: %s%s", text, place);
    }
    return NULL;
}

/* ---- Fittings ---- */

/* Loaners of one kind stand in for each other, so all of them give way at once to what their slots end with. NULL when
 * the unit would start like that all the same. */
static char *
dark_with_what_stays (const Telling *telling)
{
    const RouteJob *job = telling->job;
    guint moment = telling->without->refused < 0 ? job->steps->len : (guint) telling->without->refused;
    g_autoptr (State) instead = state_copy (state_at (job, moment));

    for (guint s = 0; s < instead->board->slots->len; s++)
        if (instead->held[s].part != NULL && instead->held[s].owner == OWNER_LOAN &&
            instead->held[s].part->kind == telling->step->part->kind)
            instead->held[s] = last_state (job)->held[s];
    return what_keeps_dark (job, instead);
}

static char *
loaner_sentence (const Telling *telling)
{
    g_autofree char *ending = held_in_words (&last_state (telling->job)->held[telling->step->slot]);
    g_autofree char *dark = needs_a_running_unit (telling) ? dark_with_what_stays (telling) : NULL;

    if (dark != NULL)
        return g_strdup_printf ("lent so that the unit starts for %s; with %s: %s", telling->needs_it, ending, dark);
    return leaves_it_dark (telling) ? starts_sentence (telling, "lent", "without it") : NULL;
}

static const WantSlot *
asked_of_slot (const Telling *telling)
{
    return telling->job->want == NULL ? NULL : &telling->job->want->slots[telling->step->slot];
}

/* The want says something of the slot, and this part is left there for it. */
static gboolean
stays_as_wanted (const Telling *telling)
{
    const WantSlot *asked = asked_of_slot (telling);

    return asked != NULL && asked->kind != WANT_NOTHING && next_on_slot (telling->job, telling->index) < 0;
}

/* "sold part, wanted in cpu1 (want.yaml:3), in time for step 4" */
static char *
wanted_sentence (const Telling *telling)
{
    g_autofree char *place = place_after (asked_of_slot (telling)->at);
    g_autofree char *by =
        telling->without->refused < 0 ? g_strdup ("") : g_strdup_printf (", in time for %s", telling->needs_it);

    return g_strdup_printf ("%swanted in %s%s%s", telling->step->owner == OWNER_STOCK ? "sold part, " : "",
                            slot_name (telling), place, by);
}

/* How the slot ends against how it was when the work began. */
static gboolean
slot_ends_as_it_began (const Telling *telling)
{
    const Fitted *fitted = unit_began (telling->job->unit, telling->step->slot);
    const Held began = { fitted->part, fitted->stepping, fitted->owner, fitted->bound };

    return same_held (&began, &last_state (telling->job)->held[telling->step->slot]);
}

static char *
fitting_sentence (const Telling *telling)
{
    const RouteJob *job = telling->job;
    gboolean replaces = telling->index > 0 && state_at (job, 0)->held[telling->step->slot].part != NULL;

    if (telling->step->owner == OWNER_LOAN)
        return loaner_sentence (telling);
    if (stays_as_wanted (telling))
        return wanted_sentence (telling);
    if (telling->without->refused < 0 && slot_ends_as_it_began (telling))
        return g_strdup_printf ("goes back: the want leaves %s as it began", slot_name (telling));
    if (leaves_it_dark (telling))
        return starts_sentence (telling, replaces ? "put in its place" : "fitted", "with the slot empty");
    return breaks (telling, "end-slot-changed") ? g_strdup ("put in its place: the slot may not end empty") : NULL;
}

/* ---- Removals ---- */

/* What comes out is not what the want asks of the slot. */
static gboolean
is_in_the_way (const Telling *telling, const Held *taken)
{
    const WantSlot *asked = asked_of_slot (telling);

    return telling->without->refused < 0 && asked != NULL && asked->kind != WANT_NOTHING &&
           !want_slot_is_met (asked, taken->part, taken->stepping);
}

static char *
room_sentence (const Telling *telling)
{
    const WantSlot *asked = asked_of_slot (telling);
    g_autofree char *place = place_after (asked->at);

    if (asked->kind == WANT_EMPTY)
        return g_strdup_printf ("wanted empty%s", place);
    return g_strdup_printf ("makes room for what is wanted in %s%s", slot_name (telling), place);
}

/* The refused step fits the very part that was left in. */
static char *
needed_elsewhere_sentence (const Telling *telling)
{
    const Step *refused = step_at (telling->job, (guint) telling->without->refused);

    return g_strdup_printf ("needed in %s for %s", board_slot (telling->job->unit->board, refused->slot)->name,
                            telling->needs_it);
}

static char *
removal_sentence (const Telling *telling)
{
    const Held *taken = &state_at (telling->job, telling->index)->held[telling->step->slot];
    const WantSlot *asked = asked_of_slot (telling);
    gboolean along = telling->without->refused < 0 && asked != NULL && asked->kind == WANT_NOTHING &&
                     !slot_ends_as_it_began (telling);

    if (taken->owner == OWNER_LOAN && telling->without->refused < 0)
        return g_strdup ("goes back: the loaner may not stay");
    if (breaks (telling, "not-at-hand"))
        return needed_elsewhere_sentence (telling);
    if (is_in_the_way (telling, taken))
        return room_sentence (telling);
    if (leaves_it_dark (telling))
        return starts_sentence (telling, along ? "changed along" : "taken out", "left in");
    return NULL;
}

/* ---- Any step ---- */

static char *
own_sentence (const Telling *telling)
{
    switch (telling->step->kind) {
    case STEP_WRITE:
        return write_sentence (telling);
    case STEP_FIT:
        return fitting_sentence (telling);
    case STEP_REMOVE:
        return removal_sentence (telling);
    }
    g_assert_not_reached ();
}

/* What no sentence of its own is for, in the checker's words; and the case that it was seen in. */
static char *
needed_sentence (const Telling *telling)
{
    const RouteJob *job = telling->job;
    char *sentence = own_sentence (telling);
    g_autofree char *plain = NULL, *releases = NULL;

    if (sentence == NULL && telling->without->refused < 0)
        sentence = g_strdup_printf ("otherwise %s", telling->without->walk->why);
    if (sentence == NULL)
        sentence = g_strdup_printf ("for %s: %s", telling->needs_it, telling->without->walk->why);
    if (telling->without->at_case == 0)
        return sentence;
    plain = sentence;
    releases = words_case (job->unit, job->cases->pdata[telling->without->at_case], NULL);
    return g_strdup_printf ("%s; so where the unit has %s", plain, releases);
}

static char *
needless_sentence (const RouteJob *job, const Without *without)
{
    g_autoptr (GPtrArray) numbers = g_ptr_array_new_with_free_func (g_free);
    g_autofree char *joined = NULL;

    for (guint i = 0; i < job->steps->len; i++)
        if (without->left_out[i])
            g_ptr_array_add (numbers, step_label (job->labels, i));
    joined = text_join (numbers, "and");
    return g_strdup_printf ("not needed: the route is sound without step%s %s%s", numbers->len == 1 ? "" : "s", joined,
                            job->cases != NULL ? "" : ", with the lowest of the releases that the unit may have");
}

void
reason_clear (Reason *reason)
{
    g_clear_pointer (&reason->says, g_free);
}

void
reason_of_step (const RouteJob *job, guint index, Reason *reason)
{
    g_auto (Without) without = { 0 };

    without_step (job, index, &without);
    if (without.walk == NULL) {
        *reason = (Reason){ needless_sentence (job, &without), FALSE, -1, NULL };
        return;
    }
    g_autofree char *label = without.refused < 0 ? NULL : step_label (job->labels, (guint) without.refused);
    g_autofree char *needs_it = label == NULL ? g_strdup ("the end") : g_strdup_printf ("step %s", label);
    Telling telling = { job, index, step_at (job, index), &without, without.walk->rule, needs_it };
    *reason = (Reason){ needed_sentence (&telling), TRUE, without.refused, without.walk->rule };
}
