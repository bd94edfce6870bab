/* SPDX-License-Identifier: MIT */
/* Physical causes, weighed by what the files and the shop's own counts say and by what was seen, and the looks for them
 * in their order. */
#include "explain/diagnosis_parts.h"
#include "explain/order.h"

#define FILES_COUNT_AS 20 /* units that the shares of the files count as (docs/method.md, "Order of checks") */

void
physical_free (PhysicalCauses *physical)
{
    if (physical == NULL)
        return;
    g_ptr_array_unref (physical->causes);
    g_array_unref (physical->checks);
    g_free (physical);
}

static guint
kinds_of (const Unit *unit)
{
    guint kinds = 0;

    for (guint s = 0; s < unit->board->slots->len; s++)
        if (unit->fitted[s].part != NULL)
            kinds |= 1u << unit->fitted[s].part->kind;
    return kinds;
}

gboolean
cause_suits (const Unit *unit, const Cause *cause)
{
    guint kinds = kinds_of (unit);

    return (cause->look->after & kinds) != 0 &&
           (cause->blames == 0 || cause->blames_board || (cause->blames & kinds) != 0);
}

gboolean
look_is_done (const Seen *seen, const LookFirst *look)
{
    for (guint i = 0; seen != NULL && i < seen->observations->len; i++) {
        const Observation *observation = seen->observations->pdata[i];

        if (observation->kind == SEEN_LOOKED && observation->look == look)
            return TRUE;
    }
    return FALSE;
}

/* ---- Before the evidence ---- */

static guint
counted_of (const Shop *shop, const Cause *cause)
{
    guint count = 0;

    for (guint i = 0; shop->found != NULL && i < shop->found->len; i++) {
        const FoundCount *found = &g_array_index (shop->found, FoundCount, i);

        if (found->cause == cause)
            count += found->count;
    }
    return count;
}

static gboolean
was_found (const Evidence *evidence, const Cause *cause)
{
    for (guint g = 0; g < evidence->given->len; g++)
        if (evidence_counts (evidence, g) && evidence_given (evidence, g)->observation->cause == cause)
            return TRUE;
    return FALSE;
}

static void
list_causes (const DiagnosisQuestion *question, const Evidence *evidence, PhysicalCauses *physical)
{
    for (guint i = 0; i < question->library->looks->len; i++) {
        const LookFirst *look = question->library->looks->pdata[i];

        for (guint c = 0; look->finds != NULL && c < look->finds->len; c++) {
            const Cause *cause = look->finds->pdata[c];
            CauseWeight *weight = NULL;

            if (!cause_suits (question->unit, cause) && !was_found (evidence, cause))
                continue;
            weight = g_new0 (CauseWeight, 1);
            *weight = (CauseWeight){ .cause = cause, .excluded_by = -1, .counted = counted_of (question->shop, cause) };
            physical->counted += weight->counted;
            g_ptr_array_add (physical->causes, weight);
        }
    }
}

static CauseWeight *
weight_at (const PhysicalCauses *physical, guint index)
{
    return g_ptr_array_index (physical->causes, index);
}

static void
fill_shares (PhysicalCauses *physical)
{
    double sum = 0;

    for (guint i = 0; i < physical->causes->len; i++)
        sum += weight_at (physical, i)->cause->share;
    for (guint i = 0; i < physical->causes->len; i++) {
        CauseWeight *weight = weight_at (physical, i);

        weight->share = (FILES_COUNT_AS * weight->cause->share / sum + weight->counted) /
                        (FILES_COUNT_AS + (double) physical->counted);
    }
}

/* ---- After it ---- */

static gboolean
sign_is_earlier (const Evidence *evidence, guint given)
{
    for (guint g = 0; g < given; g++)
        if (evidence_counts (evidence, g) &&
            evidence_given (evidence, g)->sign == evidence_given (evidence, given)->sign)
            return TRUE;
    return FALSE;
}

static double
factor_of (const Sign *sign, const Cause *cause)
{
    double factor = 1;

    for (guint i = 0; i < sign->supports->len; i++) {
        const SignSupport *support = &g_array_index (sign->supports, SignSupport, i);

        if (support->target.cause == cause)
            factor *= support->factor;
    }
    return factor;
}

static void
weigh (const Evidence *evidence, CauseWeight *weight)
{
    weight->probability = weight->share;
    for (guint g = 0; g < evidence->given->len; g++) {
        const SignGiven *given = evidence_given (evidence, g);

        if (!evidence_counts (evidence, g))
            continue;
        if (given->sign != NULL && !sign_is_earlier (evidence, g))
            weight->probability *= factor_of (given->sign, weight->cause);
        if (weight->excluded_by < 0 && given_excludes_cause (given, weight->cause))
            weight->excluded_by = (int) g;
    }
    if (weight->excluded_by >= 0)
        weight->probability = 0;
}

static void
fill_probabilities (const Evidence *evidence, PhysicalCauses *physical)
{
    double sum = 0;

    for (guint i = 0; i < physical->causes->len; i++) {
        weigh (evidence, weight_at (physical, i));
        sum += weight_at (physical, i)->probability;
    }
    for (guint i = 0; sum > 0 && i < physical->causes->len; i++)
        weight_at (physical, i)->probability /= sum;
}

/* ---- The looks ---- */

static gboolean
waits_for_training (const LookFirst *look)
{
    for (guint c = 0; look->unit_on && look->finds != NULL && c < look->finds->len; c++)
        if (g_str_equal (((const Cause *) look->finds->pdata[c])->id, TRAINING_CAUSE))
            return TRUE;
    return FALSE;
}

/* A wait takes what is left of the time that a first start may stay dark; with what was seen of it in doubt, all of it.
 * Not less than a minute, which is time to look again. */
static double
minutes_of (const DiagnosisQuestion *question, const LookFirst *look)
{
    const Observation *dark = seen_first (question->seen, SEEN_DARK_MINUTES);
    double after = dark_after_minutes (question), waited = dark != NULL ? dark->number : 0;

    if (!waits_for_training (look))
        return look->minutes;
    return waited >= after ? after : MAX (1, after - waited);
}

static double
probability_of (const PhysicalCauses *physical, const LookFirst *look)
{
    double probability = 0;

    for (guint i = 0; i < physical->causes->len; i++)
        if (weight_at (physical, i)->cause->look == look)
            probability += weight_at (physical, i)->probability;
    return probability;
}

/* In the order of the files. What nothing is looked at for is left over; and the last of them need not be made only
 * where they find all there can be, and none was made before without settling it. Transfer full (GArray of CheckDue).
 * */
static GArray *
looks_due (const DiagnosisQuestion *question, PhysicalCauses *physical, gboolean may_harm)
{
    GArray *due = g_array_new (FALSE, FALSE, sizeof (CheckDue));

    physical->skip_last = TRUE;
    for (guint i = 0; i < question->library->looks->len; i++) {
        const LookFirst *look = question->library->looks->pdata[i];
        CheckDue check = { look, probability_of (physical, look), minutes_of (question, look) };

        if (check.probability <= 0)
            continue;
        if (look->by_elimination)
            physical->left_over += check.probability;
        if (look->by_elimination || look_is_done (question->seen, look) || (look->unit_on && may_harm))
            physical->skip_last = FALSE;
        else
            g_array_append_val (due, check);
    }
    physical->skip_last &= due->len > 0;
    physical->only_left_over = due->len == 0 && physical->left_over > 0;
    return due;
}

static void
order_looks (PhysicalCauses *physical, const GArray *due)
{
    g_autofree OrderCheck *checks = g_new (OrderCheck, due->len + 1);

    for (guint i = 0; i < due->len; i++) {
        const CheckDue *check = &g_array_index (due, CheckDue, i);

        checks[i] = (OrderCheck){ check->probability, check->minutes, check->look->unit_on };
    }
    g_autofree guint *best = order_best (checks, due->len, physical->skip_last);
    g_autofree guint *likeliest = order_likeliest (checks, due->len);
    physical->expected_minutes = order_expected_minutes (checks, best, due->len, physical->skip_last);
    physical->likeliest_first_minutes = order_expected_minutes (checks, likeliest, due->len, physical->skip_last);
    for (guint i = 0; i < due->len; i++)
        g_array_append_val (physical->checks, g_array_index (due, CheckDue, best[i]));
}

PhysicalCauses *
physical_find (const DiagnosisQuestion *question, const Evidence *evidence, gboolean may_harm)
{
    PhysicalCauses *physical = g_new0 (PhysicalCauses, 1);

    physical->causes = g_ptr_array_new_with_free_func (g_free);
    physical->checks = g_array_new (FALSE, FALSE, sizeof (CheckDue));
    list_causes (question, evidence, physical);
    fill_shares (physical);
    fill_probabilities (evidence, physical);
    g_autoptr (GArray) due = looks_due (question, physical, may_harm);
    order_looks (physical, due);
    return physical;
}
