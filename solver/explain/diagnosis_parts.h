/* SPDX-License-Identifier: MIT */
/* What the parts of a diagnosis ask of one another. For diagnosis.c and its parts only: diagnosis_unit.c, evidence*.c,
 * physical.c, tellings.c, ways.c, returns*.c.
 * Method: docs/method.md, "A dark unit". */
#ifndef RUNGWISE_EXPLAIN_DIAGNOSIS_PARTS_H
#define RUNGWISE_EXPLAIN_DIAGNOSIS_PARTS_H

#include "explain/diagnosis.h"

#define DIAGNOSIS_MOST_COMBINATIONS 1024             /* of releases, that are looked at one by one */
#define TRAINING_CAUSE              "still-training" /* the cause of rules/looks.yaml that time alone, or a sign, excludes */

/* ---- Evidence ---- */

/* Transfer full. */
Evidence *evidence_find (const DiagnosisQuestion *question, const DarkAnswer *dark);
void evidence_free (Evidence *evidence);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Evidence, evidence_free)

/* Fills `given` and `without_sign` in. */
void evidence_give_signs (const DiagnosisQuestion *question, Evidence *evidence);
/* Fills `conflicts`, `against_book`, `case_out`, `may_be` and `narrows` in, and what starts with other parts mean. */
void evidence_find_conflicts (const DiagnosisQuestion *question, const DarkAnswer *dark, Evidence *evidence);

const SignGiven *evidence_given (const Evidence *evidence, guint index);
/* Whether an observation counts, and what a sign says: it is in no conflict. */
gboolean observation_counts (const Evidence *evidence, const Observation *observation);
gboolean evidence_counts (const Evidence *evidence, guint given);
/* Whether a cause, or a broken rule by its id, is excluded by this sign alone. */
gboolean given_excludes_cause (const SignGiven *given, const Cause *cause);
gboolean given_excludes_rule (const SignGiven *given, const char *rule);
/* Whether the sign says that it did not come as far as the rule: lights and fans say so. Broken or not, the rule does not
 * explain it, and something physical beside it has to. */
gboolean given_comes_before_rule (const SignGiven *given, const char *rule);
/* Every physical cause, and every other that the files may not even name. */
gboolean given_excludes_all_causes (const SignGiven *given);

/* ---- Starts with other parts in ---- */

/* Fills `swapped` and `swapped_all` in. */
void given_mark_swap (const DiagnosisQuestion *question, SignGiven *given);
gboolean given_is_start (const SignGiven *given);      /* it started so */
gboolean given_is_dark_start (const SignGiven *given); /* it stayed dark so */
/* Whether the start excludes the cause; of a dark one, where no rule keeps it dark with these parts in. */
gboolean given_swap_excludes (const SignGiven *given, const Cause *cause);
/* Whether two that are kept say that with the same parts in it started, and stayed dark. */
gboolean starts_both_ways (const Unit *unit, const Evidence *evidence, const gboolean *kept);
/* Says anew what a start with other parts means, once it is known what it excludes. */
void given_say_swap (const DiagnosisQuestion *question, SignGiven *given, gboolean counts);
/* The causes that suit the unit, or were found, and that this excludes: says, joined; NULL: none. Transfer full. */
char *given_causes_out (const DiagnosisQuestion *question, const SignGiven *given);

/* The unit as it was when it was started with other parts in, with these releases. Transfer full. */
State *state_seen_with (const Unit *unit, const guint *releases, const Observation *observation);
/* How long a first start may stay dark on this board. */
double dark_after_minutes (const DiagnosisQuestion *question);
/* The first observation of a kind; NULL: there is none. */
const Observation *seen_first (const Seen *seen, SeenKind kind);

/* Whether a case is left by what was seen. */
gboolean case_is_left (const Evidence *evidence, guint index);
const DarkCase *dark_case (const DarkAnswer *dark, guint index);
DiagnosisStarts diagnosis_starts (const DarkAnswer *dark, const Evidence *evidence);

/* The unit, or one on the same board, with the releases that the evidence leaves, as far as sets per component can say
 * that. Transfer full. */
Unit *unit_with_cases_left (const Unit *unit, const Evidence *evidence);
/* The combinations of releases of one case, as of unit_cases(). NULL when there are more than `most`. Transfer full. */
GPtrArray *case_combinations (const Unit *unit, const DarkCase *one, guint most);
/* "1.0.2, 1.2.0 or 1.4.0": the releases of a component in a mask. Transfer full. */
char *explain_releases (const Component *component, const gboolean *mask);

/* ---- Combinations of releases ---- */

/* Releases that the unit may have, of one case. A case may join releases that tell themselves apart with other parts
 * in. */
typedef struct {
    guint case_index;
    const guint *releases; /* borrowed; NULL: all of the case */
    gboolean *excluded_by; /* owned; per given: the unit cannot have started so with these */
    gboolean *clears;      /* owned; per given: it stayed dark so, and with these no rule keeps it dark so */
} Combination;

typedef struct {
    GArray *each;     /* Combination, by case; owned */
    GPtrArray *owned; /* the arrays of case_combinations(); owned */
} Combinations;

/* One by one only where a start with other parts was tried, and as long as they are few; else one stands for all of a case, and nothing
 * excludes it. Transfer full. */
Combinations *combinations_list (const DiagnosisQuestion *question, const DarkAnswer *dark, const Evidence *evidence);
void combinations_free (Combinations *combinations);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Combinations, combinations_free)

/* ---- The rest, in the order in which it is found ---- */

/* Whether the unit has parts in which the cause may be. */
gboolean cause_suits (const Unit *unit, const Cause *cause);
/* Whether this look is among those that were done. */
gboolean look_is_done (const Seen *seen, const LookFirst *look);
/* `may_harm`: the unit must not stay under power, and no look is made with it on. Transfer full. */
PhysicalCauses *physical_find (const DiagnosisQuestion *question, const Evidence *evidence, gboolean may_harm);
void physical_free (PhysicalCauses *physical);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PhysicalCauses, physical_free)

/* The parts that are in the unit and not in the one `before`, added to the shop's stock. Transfer full. */
Shop *shop_with_asked (const DiagnosisQuestion *question);
/* What orders of steps start from: the unit, or the one without the parts that are asked about; and the shop to that. */
Unit *diagnosis_from (const Diagnosis *diagnosis);
Shop *diagnosis_shop (const DiagnosisQuestion *question, const Diagnosis *diagnosis);

/* Each needs what comes before it in Diagnosis. */
void diagnosis_find_tellings (const DiagnosisQuestion *question, Diagnosis *diagnosis);
void diagnosis_find_ways (const DiagnosisQuestion *question, Diagnosis *diagnosis);
void diagnosis_find_returns (const DiagnosisQuestion *question, Diagnosis *diagnosis);

/* What the verdict of a return says, and the lists beside it; fills `says`, `tried`, `rules_out` and `left` in. */
void return_block_say (const DiagnosisQuestion *question, const Diagnosis *diagnosis, ReturnBlock *block);

/* ---- For a return: what was tried ---- */

/* Whether a start was tried with a like part (model and stepping) in this slot, all else the same; NULL: it was not.
 * With `evidence` only what counts; NULL: what is in a conflict too. */
const Observation *seen_with_like (const DiagnosisQuestion *question, const Evidence *evidence, guint slot,
                                   gboolean started);
/* The part was in, where it takes part, and the unit started. */
gboolean started_with_it_in (const DiagnosisQuestion *question, guint slot, const Observation *observation);
/* A start that counts, and that could not have been without the part. */
gboolean was_seen_to_start (const DiagnosisQuestion *question, const Diagnosis *diagnosis, guint slot);
/* A like part started there, and all that keeps a case dark that is left is not stated: so it is no reason. */
gboolean like_start_refutes_rules (const DiagnosisQuestion *question, const Diagnosis *diagnosis, guint slot);
/* A fault of such a part that a look found; NULL: none did. */
const Cause *found_in_kind (const Evidence *evidence, PartKind kind);
/* Parts of this kind in the unit that were not seen to start. */
guint count_in_question (const DiagnosisQuestion *question, const Diagnosis *diagnosis, PartKind kind);
/* Whether a look is left that finds something other than a fault of such a part. */
gboolean other_look_is_left (const PhysicalCauses *physical, PartKind kind);

/* ---- For a return: what the rules say ---- */

/* In every case that is left, firmware does not know the part in this slot. */
gboolean firmware_never_knew (const DiagnosisQuestion *question, const Diagnosis *diagnosis, guint slot);
/* A rule that is broken only since a write failed, and would not be with what the component had before. */
gboolean broken_only_by_failure (const DiagnosisQuestion *question, const DarkCase *one, const char *rule);
/* Rules that may do harm under power and are broken in some case that is left, by id, joined; NULL: none. Transfer full. */
char *harm_rules (const DiagnosisQuestion *question, const Diagnosis *diagnosis);
gboolean harm_may_be_done (const DiagnosisQuestion *question, const Diagnosis *diagnosis);
/* Nothing but such rules keeps a case dark that is left. */
gboolean harm_explains_all (const Diagnosis *diagnosis);

#endif
