/* SPDX-License-Identifier: MIT */
/* Generate: a small job from a seed, with every feature of the files somewhere in the run of seeds. */
#ifndef RANDOM_GENERATE_H
#define RANDOM_GENERATE_H

#include "exhaustive.h"

/* One draw. The same seed gives the same job. */
void generate_job (guint64 seed, Job *job);

/* Draws until the job is as wanted for this seed: about a third without a route, hardly any with an empty one, one in ten with
 * different routes for different objectives, and small enough for the exhaustive search, whose answer by steps comes along
 * (answer_clear). Returns the draws it took. */
int generate_suitable (guint64 seed, Job *job, Answer *answer);

/* More worlds than this and a job is drawn again: of what is drawn, few have more and all take long. */
enum { MOST_WORLDS = 8000 };

/* generate_book.c, generate_work.c: the stages. */
void generate_board (Dice *dice, Job *job);
void generate_pieces (Dice *dice, Job *job);
void generate_firmware (Dice *dice, Job *job);
void generate_laws (Dice *dice, Job *job);
void generate_shop (Dice *dice, Job *job);
void generate_unit (Dice *dice, Job *job);
void generate_want (Dice *dice, Job *job);

/* generate_features.c: rarer things, drawn at the end of the stage of that name, or before what may name them. */
void feature_board (Dice *dice, Job *job);
void feature_pieces (Dice *dice, Job *job);
void feature_ways (Dice *dice, Job *job);
void feature_spare (Dice *dice, Job *job);
void feature_laws (Dice *dice, Job *job);
void feature_unit (Dice *dice, Job *job);
void feature_want (Dice *dice, Job *job);
/* Afterwards: a clip writes in one long step what the host writes in several short ones. */
void feature_long_way (Dice *dice, Job *job);
Bound feature_bound (Dice *dice, const Job *job, int piece);

/* generate_work.c: a rule more; a breaking drawn anew. */
Law *generate_law (Job *job, LawForm form, Break breaking);
void generate_other_breaking (Dice *dice, Law *law);

/* conditions.c: a condition that the book can satisfy. With `about` >= 0 it does not name that component. */
Cond generate_requires (Dice *dice, const Job *job, int about);
Cond generate_conflicts (Dice *dice, const Job *job, int about);

/* Tenths of a minute, in halves: mostly from `low` to `high`, now and then up to eight times as many, so that the fewest steps
 * are not the fewest minutes. */
int generate_tenths (Dice *dice, int low, int high);

/* A piece of this kind, at or after a random one; -1: none. */
int pick_piece (Dice *dice, const Job *job, PieceKind kind);
int pick_stepping (Dice *dice, const Piece *piece);

#endif
