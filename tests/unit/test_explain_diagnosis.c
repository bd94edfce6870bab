/* SPDX-License-Identifier: MIT */
/* Diagnoses: what each observation excludes, conflicts against all subsets, weights by hand, what tells cases apart.
 * source: docs/method.md, "A dark unit"; what is expected of the units of diagnosis.yaml was worked out by hand from
 * it. */
#include "diagnosis_fixture.h"

/* ---- Evidence ---- */

static const CauseWeight *
weight_of (const Diagnosed *diagnosed, const char *cause)
{
    const GPtrArray *causes = diagnosed->diagnosis->physical->causes;

    for (guint i = 0; i < causes->len; i++)
        if (g_str_equal (((const CauseWeight *) causes->pdata[i])->cause->id, cause))
            return causes->pdata[i];
    fail_msg ("no cause %s", cause);
    return NULL;
}

static gboolean
is_excluded (const Diagnosed *diagnosed, const char *cause)
{
    return weight_of (diagnosed, cause)->excluded_by >= 0;
}

/* What the one observation excludes on a unit that no rule keeps dark; "" none. */
static void
check_excludes (const char *seen, const char *excluded)
{
    static const char *const causes[] = { "still-training", "lead-loose",   "contact-bent", "contact-dirty",
                                          "processor-dead", "module-loose", "board-damaged" };
    g_auto (Diagnosed) diagnosed = { NULL };
    g_auto (GStrv) expected = g_strsplit (excluded, " ", MOST_SEEN);

    diagnosed_set_up (&diagnosed, "NEW", seen);
    assert_int_equal (diagnosed.diagnosis->starts, ALL_START);
    assert_int_equal (diagnosed.diagnosis->evidence->conflicts->len, 0);
    for (guint i = 0; i < G_N_ELEMENTS (causes); i++)
        if (is_excluded (&diagnosed, causes[i]) != g_strv_contains ((const char *const *) expected, causes[i]))
            fail_msg ("%s: %s", seen, causes[i]);
}

static void
test_what_observations_exclude (void **state)
{
    (void) state;
    check_excludes ("dark-minutes=9.9", "");
    check_excludes ("dark-minutes=10", "still-training");
    check_excludes ("looked=contacts", "contact-bent contact-dirty");
    check_excludes ("looked=module", "module-loose");
    check_excludes ("found=lead-loose",
                    "still-training contact-bent contact-dirty processor-dead module-loose board-damaged");
    check_excludes ("event=0F/00/01", "still-training lead-loose");
    check_excludes ("fans=still", "");
    check_excludes ("post-code=0x15", "");
    /* Stayed dark, though no rule keeps it so: with a good processor in, it is not a dead one. */
    check_excludes ("dark-with=cpu1=stint-8:a0", "processor-dead");
    check_excludes ("dark-with=cpu1=dunlin-4", "processor-dead");
    check_excludes ("dark-with=cpu2=stint-8:a0", ""); /* the one in cpu1 stayed in */
    check_excludes ("dark-with=dimm1=empty", "");     /* a rule or not: no cause blames memory here */
    check_excludes ("dark-with=cpu1=empty", "");      /* a rule keeps it dark so */
    check_excludes ("dark-with=supply1=supply-p", "");
    /* Started: what stayed as it was is sound. What is left is the processor and how it sat, and time. */
    check_excludes ("started-with=cpu1=stint-8:a1", "lead-loose module-loose board-damaged");
    check_excludes ("started-with=dimm1=empty", "lead-loose contact-bent contact-dirty processor-dead board-damaged");
    check_excludes ("started-with=supply1=supply-p", ""); /* of a supply no cause speaks */
}

static const SignGiven *
given_at (const Diagnosed *diagnosed, guint index)
{
    assert_true (index < diagnosed->diagnosis->evidence->given->len);
    return diagnosed->diagnosis->evidence->given->pdata[index];
}

/* In the order of what was seen; what has no sign and no meaning of its own is told apart. */
static void
test_given (void **state)
{
    g_auto (Diagnosed) diagnosed = { NULL };

    (void) state;
    diagnosed_set_up (&diagnosed, "NEW", "power-light=on fans=still dark-minutes=4 post-code=0x15");
    const Evidence *evidence = diagnosed.diagnosis->evidence;
    assert_int_equal (evidence->given->len, 3);
    assert_string_equal (given_at (&diagnosed, 0)->sign->id, "fans-stand");
    assert_string_equal (given_at (&diagnosed, 0)->says, "No power comes to the fans.");
    assert_null (given_at (&diagnosed, 1)->sign);
    assert_int_equal (given_at (&diagnosed, 1)->observation->kind, SEEN_DARK_MINUTES);
    assert_string_equal (given_at (&diagnosed, 2)->sign->id, "trains");
    assert_int_equal (evidence->without_sign->len, 1);
    assert_int_equal (((const Observation *) evidence->without_sign->pdata[0])->kind, SEEN_POWER_LIGHT);
}

static void
test_time (void **state)
{
    static const struct {
        const char *seen;
        gboolean waited;
    } times[] = {
        { "", FALSE },           { "fans=still", FALSE },   { "dark-minutes=4", FALSE }, { "dark-minutes=10", TRUE },
        { "looked=wait", TRUE }, { "event=0F/00/01", TRUE }
    };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (times); i++) {
        g_auto (Diagnosed) diagnosed = { NULL };

        diagnosed_set_up (&diagnosed, "NEW", times[i].seen);
        assert_int_equal (diagnosed.diagnosis->evidence->waited, times[i].waited);
        assert_int_equal (diagnosed.diagnosis->evidence->too_early, !times[i].waited);
    }
}

/* ---- Cases ---- */

/* Releases of UNKNOWN: 1.0 does not know stint, 2.0 knows both, 3.0 never starts dunlin. "x": excluded. */
static void
check_cases (const char *seen, const char *out)
{
    g_auto (Diagnosed) diagnosed = { NULL };

    diagnosed_set_up (&diagnosed, "UNKNOWN", seen);
    const Diagnosis *diagnosis = diagnosed.diagnosis;
    assert_int_equal (diagnosis->evidence->conflicts->len, 0);
    assert_int_equal (diagnosis->unit->releases[0].count, 3 - (out[0] == 'x') - (out[1] == 'x') - (out[2] == 'x'));
    for (guint r = 0; r < 3; r++)
        if (diagnosis->unit->releases[0].may_be[r] != (out[r] == '.'))
            fail_msg ("%s: release %u", seen, r);
    for (guint i = 0; i < diagnosis->dark->cases->len; i++) {
        const gboolean *of_case = ((const DarkCase *) diagnosis->dark->cases->pdata[i])->may_be[0];
        gboolean left = FALSE;

        for (guint r = 0; r < 3; r++)
            left |= of_case[r] && out[r] == '.';
        assert_int_equal (diagnosis->evidence->case_out[i], !left);
    }
}

static void
test_cases (void **state)
{
    (void) state;
    check_cases ("", "...");
    check_cases ("post-code=0x15", "x..");      /* its sign excludes the rule */
    check_cases ("event=0F/02", "x..");         /* any rule */
    check_cases ("beeps=long", ".xx");          /* all causes */
    check_cases ("other-image=started", ".xx"); /* the same, without a sign */
    check_cases ("other-image=dark", "...");
    check_cases ("started-with=cpu1=dunlin-4", "..x");   /* 3.0 states that it never starts dunlin */
    check_cases ("started-with=cpu1=stint-8:a1", "..."); /* 1.0 states nothing of it */
    check_cases ("dark-with=cpu1=dunlin-4", "...");      /* excludes no release */
    check_cases ("found=lead-loose", "...");             /* a rule may be broken beside it */
    check_cases ("started-with=cpu1=dunlin-4 post-code=0x15", "x.x");
}

/* ---- Conflicts, against every subset ---- */

/* What each item excludes on UNKNOWN, written down by hand: the rule `known`; causes in the order of the file; the
 * three cases. */
enum { KNOWN = 1, TRAINING = 2, LEAD = 4, BENT = 8, DIRTY = 16, DEAD = 32, MODULE = 64, BOARD = 128, CAUSES = 254 };
#define CASE(i)   (256 << (i))
#define DEAD_IF_2 2048 /* DEAD, in the case of 2.0 alone */

static const struct {
    const char *item;
    guint excludes;
} items[] = {
    { "dark-minutes=30", TRAINING },
    { "post-code=0x15", KNOWN },
    { "event=0F/00/01", TRAINING | LEAD },
    { "event=0F/02", KNOWN },
    { "beeps=long", CAUSES },
    { "looked=contacts", BENT | DIRTY },
    { "looked=module", MODULE },
    { "found=lead-loose", CAUSES & ~LEAD },
    { "found=processor-dead", CAUSES & ~DEAD },
    { "other-image=started", CAUSES },
    { "started-with=cpu1=dunlin-4", LEAD | MODULE | BOARD | CASE (2) },
    { "dark-with=cpu1=dunlin-4", DEAD_IF_2 }, /* 3.0 keeps it dark by a rule, which says nothing of the part */
    { "started-with=cpu1=stint-8:a0", LEAD | MODULE | BOARD },
    { "dark-with=cpu1=stint-8:a0", DEAD },
};
enum { STARTED_DUNLIN = 10, DARK_DUNLIN, STARTED_STINT, DARK_STINT };

/* Whether some case is left: 1.0, dark by the rule, or 2.0 or 3.0 with some cause. Nothing explains that it started and
 * stayed dark with the same parts in. */
static gboolean
leaves_something (const guint *chosen, guint n_chosen, guint subset)
{
    guint out = 0, are_in = 0, in_2 = 0;

    for (guint i = 0; i < n_chosen; i++) {
        out |= subset & 1u << i ? items[chosen[i]].excludes : 0;
        are_in |= subset & 1u << i ? 1u << chosen[i] : 0;
    }
    if ((are_in >> STARTED_DUNLIN & 1 && are_in >> DARK_DUNLIN & 1) ||
        (are_in >> STARTED_STINT & 1 && are_in >> DARK_STINT & 1))
        return FALSE;
    in_2 = out | (out & DEAD_IF_2 ? DEAD : 0);
    return (out & KNOWN) == 0 || ((in_2 & CAUSES) != CAUSES && !(out & CASE (1))) ||
           ((out & CAUSES) != CAUSES && !(out & CASE (2)));
}

static gboolean
is_minimal_conflict (const guint *chosen, guint n_chosen, guint subset)
{
    if (leaves_something (chosen, n_chosen, subset))
        return FALSE;
    for (guint i = 0; i < n_chosen; i++)
        if (subset & 1u << i && !leaves_something (chosen, n_chosen, subset & ~(1u << i)))
            return FALSE;
    return TRUE;
}

/* As a subset of what was seen. */
static guint
subset_of (const Diagnosed *diagnosed, const Conflict *conflict)
{
    guint subset = 0, at = 0;

    for (guint i = 0; i < conflict->given->len; i++) {
        const SignGiven *given = given_at (diagnosed, g_array_index (conflict->given, guint, i));

        assert_true (g_ptr_array_find (diagnosed->question.seen->observations, given->observation, &at));
        subset |= 1u << at;
    }
    return subset;
}

/* Returns how many conflicts there were. */
static guint
compare_conflicts (const guint *chosen, guint n_chosen)
{
    g_auto (Diagnosed) diagnosed = { NULL };
    g_autoptr (GString) seen = g_string_new (NULL);
    guint expected = 0;

    for (guint i = 0; i < n_chosen; i++)
        g_string_append_printf (seen, "%s%s", i > 0 ? " " : "", items[chosen[i]].item);
    diagnosed_set_up (&diagnosed, "UNKNOWN", seen->str);
    const GPtrArray *conflicts = diagnosed.diagnosis->evidence->conflicts;
    for (guint subset = 0; subset < 1u << n_chosen; subset++) {
        gboolean there = FALSE;

        for (guint i = 0; i < conflicts->len; i++)
            there |= subset_of (&diagnosed, conflicts->pdata[i]) == subset;
        if (there != is_minimal_conflict (chosen, n_chosen, subset))
            fail_msg ("%s: subset %x", seen->str, subset);
        expected += there;
    }
    assert_int_equal (conflicts->len, expected);
    return expected;
}

static void
test_conflicts (void **state)
{
    g_autoptr (GRand) random = g_rand_new_with_seed (20340611);
    guint found = 0, several = 0;

    (void) state;
    for (guint run = 0; run < 120; run++) {
        guint chosen[G_N_ELEMENTS (items)], n_chosen = 0;

        for (guint i = 0; i < G_N_ELEMENTS (items); i++)
            if (g_rand_int_range (random, 0, 3) > 0 && n_chosen < 8)
                chosen[n_chosen++] = i;
        guint conflicts = compare_conflicts (chosen, n_chosen);

        found += conflicts > 0;
        several += conflicts > 1;
    }
    assert_true (found > 20 && several > 10 && found < 120);
}

/* What is in a conflict counts for nothing; a conflict with the files is told from one among the observations. */
static void
test_conflicts_with_files (void **state)
{
    static const struct {
        const char *unit, *seen;
        guint conflicts;
        gboolean with_files;
    } expected[] = {
        { "OLD", "event=0F/02", 1, TRUE }, /* the host ran: 1.0 cannot have been in it */
        { "NEW", "beeps=long", 1, TRUE },  /* no cause is left, and the files know of no broken rule */
        { "NEW", "other-image=started", 1, TRUE },
        { "NEW", "found=lead-loose looked=contacts", 0, FALSE },
        { "NEW", "found=lead-loose event=0F/00/01", 1, TRUE },      /* but some rule might be broken */
        { "UNKNOWN", "started-with=cpu1=empty", 1, TRUE },          /* a rule says that this never starts */
        { "UNKNOWN", "other-image=started event=0F/02", 1, FALSE }, /* the example of docs/method.md */
        { "UNKNOWN", "beeps=long event=0F/02", 1, FALSE },          /* neither a rule nor a cause, on any unit */
        /* With the same parts in it started, and stayed dark; with another stepping it may. */
        { "NEW", "started-with=cpu1=stint-8:a0 dark-with=cpu1=stint-8:a0", 1, FALSE },
        { "OLD", "started-with=cpu1=dunlin-4 dark-with=cpu1=dunlin-4", 1, FALSE },
        { "NEW", "started-with=cpu1=stint-8:a1 dark-with=cpu1=stint-8:a0", 0, FALSE },
        /* The leads stayed as they were, so they are none of it; but some rule might be broken. */
        { "NEW", "started-with=cpu1=stint-8:a0 found=lead-loose", 1, TRUE },
    };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (expected); i++) {
        g_auto (Diagnosed) diagnosed = { NULL };

        diagnosed_set_up (&diagnosed, expected[i].unit, expected[i].seen);
        const Evidence *evidence = diagnosed.diagnosis->evidence;
        assert_int_equal (evidence->conflicts->len, expected[i].conflicts);
        assert_int_equal (evidence->against_book, expected[i].with_files);
        for (guint c = 0; c < diagnosed.diagnosis->dark->cases->len; c++)
            assert_false (evidence->case_out[c]);
        if (expected[i].conflicts > 0)
            assert_int_equal (((const Conflict *) evidence->conflicts->pdata[0])->with_files, expected[i].with_files);
    }
}

/* ---- Weights and the order of looks ---- */

/* By hand. Shares of what suits the unit (no fan): 20 10 9 6 5 40 10 of 100; the bench counted 5, of which 3 dirty
 * contacts and 2 dead processors (the 40 fans suit nothing here): (20 x share + k) / 25. */
static void
test_shares (void **state)
{
    g_auto (Diagnosed) diagnosed = { NULL };

    (void) state;
    diagnosed_set_up (&diagnosed, "NEW", "");
    const PhysicalCauses *physical = diagnosed.diagnosis->physical;
    assert_int_equal (physical->causes->len, 7);
    assert_int_equal (physical->counted, 5);
    assert_close (weight_of (&diagnosed, "still-training")->share, 0.16);
    assert_close (weight_of (&diagnosed, "lead-loose")->share, 0.08);
    assert_close (weight_of (&diagnosed, "contact-bent")->share, 0.072);
    assert_close (weight_of (&diagnosed, "contact-dirty")->share, 0.168);
    assert_close (weight_of (&diagnosed, "processor-dead")->share, 0.12);
    assert_close (weight_of (&diagnosed, "module-loose")->share, 0.32);
    assert_close (weight_of (&diagnosed, "board-damaged")->share, 0.08);
    assert_close (weight_of (&diagnosed, "module-loose")->probability, 0.32);
    assert_close (physical->left_over, 0.08);
    assert_false (physical->skip_last);
}

static void
assert_order (const PhysicalCauses *physical, const char *expected)
{
    g_autoptr (GString) ids = g_string_new (NULL);

    for (guint i = 0; i < physical->checks->len; i++)
        g_string_append_printf (ids, "%s%s", i > 0 ? " " : "", g_array_index (physical->checks, CheckDue, i).look->id);
    assert_string_equal (ids->str, expected);
}

/* By hand: training 3 x 0.16 = 0.48, lead 4 x 0.08 = 0.32, the contacts 0, dead 0.12, module 0.32, board 0.08; in sum
 * 1.32. The wait is made with the unit on, so it comes first, though 0.048 is less than the ratios of leads, 0.16, and
 * module, 0.08; good-one 0.0086 (all over 1.32):   10 + 0.84/1.32 x 2 + 0.52/1.32 x 4 + 0.20/1.32 x 14 = 14.970. It is
 * the likeliest too, and of leads and module, as likely as each other, leads stand first. */
static void
test_posterior (void **state)
{
    g_auto (Diagnosed) diagnosed = { NULL };

    (void) state;
    diagnosed_set_up (&diagnosed, "NEW", "post-code=0x15 fans=still looked=contacts");
    const PhysicalCauses *physical = diagnosed.diagnosis->physical;
    assert_close (weight_of (&diagnosed, "still-training")->probability, 0.48 / 1.32);
    assert_close (weight_of (&diagnosed, "lead-loose")->probability, 0.32 / 1.32);
    assert_close (weight_of (&diagnosed, "contact-bent")->probability, 0);
    assert_close (weight_of (&diagnosed, "contact-dirty")->probability, 0);
    assert_close (weight_of (&diagnosed, "processor-dead")->probability, 0.12 / 1.32);
    assert_close (weight_of (&diagnosed, "module-loose")->probability, 0.32 / 1.32);
    assert_close (physical->left_over, 0.08 / 1.32);
    assert_order (physical, "wait leads module good-one");
    assert_close (physical->expected_minutes, 10 + (0.84 * 2 + 0.52 * 4 + 0.20 * 14) / 1.32);
    assert_close (physical->likeliest_first_minutes, 10 + (0.84 * 2 + 0.52 * 4 + 0.20 * 14) / 1.32);
}

/* The board may stay dark for 10 minutes: the wait takes what is left of them, and at least one. */
static void
test_what_is_left_of_a_wait (void **state)
{
    static const struct {
        const char *seen;
        double minutes;
    } waits[] = {
        { "", 10 },
        { "dark-minutes=2", 8 },
        { "dark-minutes=8.5", 1.5 },
        { "dark-minutes=9.5", 1 },
    };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (waits); i++) {
        g_auto (Diagnosed) diagnosed = { NULL };

        diagnosed_set_up (&diagnosed, "NEW", waits[i].seen);
        const CheckDue *first = &g_array_index (diagnosed.diagnosis->physical->checks, CheckDue, 0);
        assert_string_equal (first->look->id, "wait");
        assert_close (first->minutes, waits[i].minutes);
    }
}

/* All looks made, and nothing found: the board is left, which no look finds. */
static void
test_only_the_board_is_left (void **state)
{
    g_auto (Diagnosed) none = { NULL };
    g_auto (Diagnosed) some = { NULL };

    (void) state;
    diagnosed_set_up (&none, "NEW", "dark-minutes=30 looked=leads looked=contacts looked=module looked=good-one");
    assert_true (none.diagnosis->physical->only_left_over);
    assert_close (none.diagnosis->physical->left_over, 1);
    assert_order (none.diagnosis->physical, "");
    diagnosed_set_up (&some, "NEW", "dark-minutes=30 looked=leads looked=contacts looked=module");
    assert_false (some.diagnosis->physical->only_left_over);
}

/* The case of 2.0 and 3.0 is left in part: the unit is told anew, without 3.0. Where all of a case goes, or nothing, the
 * cases stay as they are. */
static void
test_narrowed (void **state)
{
    g_auto (Diagnosed) split = { NULL };
    g_auto (Diagnosed) whole = { NULL };

    (void) state;
    diagnosed_set_up (&split, "UNKNOWN", "started-with=cpu1=dunlin-4");
    const Diagnosis *diagnosis = split.diagnosis;
    assert_true (diagnosis->evidence->narrows);
    assert_int_equal (diagnosis->dark->combinations, 2);
    assert_int_equal (diagnosis->dark->cases->len, 2);
    for (guint i = 0; i < 2; i++) {
        const DarkCase *one = diagnosis->dark->cases->pdata[i];

        assert_int_equal (one->members, 1);
        assert_false (one->may_be[0][2]);
        assert_false (diagnosis->evidence->case_out[i]);
    }
    assert_true (!diagnosis->ruled_out[0][0] && !diagnosis->ruled_out[0][1] && diagnosis->ruled_out[0][2]);
    assert_false (diagnosis->ruled_out[1][1]);
    assert_string_equal (given_at (&split, 0)->releases_out, "system 3.0");
    assert_string_equal (
        given_at (&split, 0)->says,
        "It started so, which rules out: a loose lead, a loose module and a damaged board; system 3.0.");
    diagnosed_set_up (&whole, "UNKNOWN", "event=0F/02");
    assert_false (whole.diagnosis->evidence->narrows);
    assert_int_equal (whole.diagnosis->dark->cases->len, 2);
    assert_true (whole.diagnosis->ruled_out[0][0] && !whole.diagnosis->ruled_out[0][2]);
    assert_string_equal (given_at (&whole, 0)->releases_out, "system 1.0");
}

/* A sign that is given twice counts once. */
static void
test_sign_counts_once (void **state)
{
    g_auto (Diagnosed) once = { NULL };
    g_auto (Diagnosed) twice = { NULL };

    (void) state;
    diagnosed_set_up (&once, "NEW", "event=0F/00/01");
    diagnosed_set_up (&twice, "NEW", "event=0F/00/01 event=0F/00/01");
    assert_int_equal (twice.diagnosis->evidence->given->len, 2);
    /* By hand: module 8 x 0.32 = 2.56, beside 0.072 + 0.168 + 0.12 + 0.08 = 0.44. */
    assert_close (weight_of (&once, "module-loose")->probability, 2.56 / 3);
    assert_close (weight_of (&twice, "module-loose")->probability, 2.56 / 3);
}

/* No memory: its look is left out, and so is what is said of the contacts once they were looked at; what was found is
 * all. */
static void
test_what_suits (void **state)
{
    g_auto (Diagnosed) bare = { NULL };
    g_auto (Diagnosed) found = { NULL };

    (void) state;
    diagnosed_set_up (&bare, "BARE", "dark-minutes=12 looked=contacts");
    assert_int_equal (bare.diagnosis->physical->causes->len, 6);
    assert_order (bare.diagnosis->physical, "leads good-one");
    diagnosed_set_up (&found, "NEW", "found=contact-bent");
    assert_close (weight_of (&found, "contact-bent")->probability, 1);
    assert_order (found.diagnosis->physical, "");
    assert_close (found.diagnosis->physical->expected_minutes, 0);
}

/* Which units have physical causes at all. */
static void
test_starts (void **state)
{
    static const struct {
        const char *unit, *seen;
        DiagnosisStarts starts;
    } expected[] = { { "NEW", "", ALL_START },
                     { "OLD", "", NONE_KNOWN },
                     { "ODD", "", NONE_STARTS },
                     { "UNKNOWN", "", SOME_START },
                     { "UNKNOWN", "event=0F/02", ALL_START },
                     { "UNKNOWN", "other-image=started", NONE_KNOWN } };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (expected); i++) {
        g_auto (Diagnosed) diagnosed = { NULL };

        diagnosed_set_up (&diagnosed, expected[i].unit, expected[i].seen);
        assert_int_equal (diagnosed.diagnosis->starts, expected[i].starts);
        assert_int_equal (diagnosed.diagnosis->physical != NULL,
                          expected[i].starts == ALL_START || expected[i].starts == SOME_START);
    }
}

/* ---- Telling cases apart ---- */

static void
check_tellings (const char *unit, const char *seen, const TellKind *kinds, guint count)
{
    g_auto (Diagnosed) diagnosed = { NULL };

    diagnosed_set_up (&diagnosed, unit, seen);
    const GPtrArray *tellings = diagnosed.diagnosis->tellings;
    assert_int_equal (tellings->len, count);
    for (guint i = 0; i < count; i++) {
        const Telling *telling = tellings->pdata[i];

        assert_int_equal (telling->kind, kinds[i]);
        assert_int_equal (telling->for_certain, kinds[i] != TELL_LABEL);
        assert_int_equal (telling->steps != NULL, kinds[i] == TELL_START);
        assert_non_null (telling->says);
    }
}

static void
test_tellings (void **state)
{
    static const TellKind page_label[] = { TELL_PAGE, TELL_LABEL };
    static const TellKind page_start_label[] = { TELL_PAGE, TELL_START, TELL_LABEL };
    static const TellKind start_label[] = { TELL_START, TELL_LABEL };

    (void) state;
    check_tellings ("NEW", "", NULL, 0);
    check_tellings ("OLD", "", NULL, 0);
    check_tellings ("UNKNOWN", "", page_label, 2); /* no part starts on 1.0 and on 3.0 */
    check_tellings ("UNKNOWN", "started-with=cpu1=dunlin-4", page_start_label, 3);
    check_tellings ("UNKNOWN", "event=0F/02", NULL, 0);
    /* Controller 1 shows no page, so it cannot be relied on. A label of the controller would say nothing. */
    check_tellings ("EARLIER", "", start_label, 2);
}

/* The start is one with the loaner: out, in; from there every release shows. */
static void
test_start_that_tells (void **state)
{
    g_auto (Diagnosed) diagnosed = { NULL };

    (void) state;
    diagnosed_set_up (&diagnosed, "EARLIER", "");
    const Telling *telling = diagnosed.diagnosis->tellings->pdata[0];
    assert_int_equal (telling->steps->len, 2);
    const Step *fit = &g_array_index (telling->steps, Step, 1);
    assert_int_equal (fit->kind, STEP_FIT);
    assert_int_equal (fit->owner, OWNER_LOAN);
    assert_string_equal (fit->part->name, "dunlin-4");
    g_autoptr (GPtrArray) cases = unit_cases (diagnosed.question.unit, 16);
    assert_int_equal (cases->len, 4);
    for (guint i = 0; i < cases->len; i++) {
        g_autoptr (State) one = state_from_unit (diagnosed.question.unit, cases->pdata[i]);

        state_apply (one, &g_array_index (telling->steps, Step, 0));
        state_apply (one, fit);
        assert_true (state_starts (diagnosed.library, diagnosed.question.shop, one));
    }
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_what_observations_exclude),
        cmocka_unit_test (test_given),
        cmocka_unit_test (test_time),
        cmocka_unit_test (test_cases),
        cmocka_unit_test (test_conflicts),
        cmocka_unit_test (test_conflicts_with_files),
        cmocka_unit_test (test_shares),
        cmocka_unit_test (test_posterior),
        cmocka_unit_test (test_what_is_left_of_a_wait),
        cmocka_unit_test (test_only_the_board_is_left),
        cmocka_unit_test (test_narrowed),
        cmocka_unit_test (test_sign_counts_once),
        cmocka_unit_test (test_what_suits),
        cmocka_unit_test (test_starts),
        cmocka_unit_test (test_tellings),
        cmocka_unit_test (test_start_that_tells),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
