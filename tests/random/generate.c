/* SPDX-License-Identifier: MIT */
#include "generate.h"

#include <string.h>

void
generate_job (guint64 seed, Job *job)
{
    Dice dice = { .state = seed };
    memset (job, 0, sizeof *job);
    generate_board (&dice, job);
    generate_pieces (&dice, job);
    generate_firmware (&dice, job);
    generate_laws (&dice, job);
    generate_shop (&dice, job);
    generate_unit (&dice, job);
    generate_want (&dice, job);
    job->look = dice_below (&dice, 1 << 20);
}

static gboolean
is_suitable (const Answer *answer, gboolean wants_route, int fewest)
{
    if (answer->kind == ANSWER_TOO_LARGE)
        return FALSE;
    /* A unit that nothing can be done to is no test of a proof that there is no route. */
    if (!wants_route)
        return answer->kind == ANSWER_NONE && answer->worlds > 8;
    return answer->kind == ANSWER_ROUTE && answer->counts.steps >= fewest;
}

int
generate_suitable (guint64 seed, Job *job, Answer *answer)
{
    Dice dice = { .state = seed ^ 0x5DEECE66Du };
    gboolean wants_route = dice_percent (&dice, 67);
    int fewest = dice_percent (&dice, 5) ? 0 : dice_percent (&dice, 45) ? 2 : dice_percent (&dice, 60) ? 5 : 7;
    for (int draw = 1;; draw++) {
        Play play;
        generate_job (dice_next (&dice), job);
        if (!play_setup (&play, job, -1))
            continue;
        *answer = exhaustive_answer (&play, GOAL_STEPS, MOST_WORLDS);
        if (is_suitable (answer, wants_route, fewest) || (draw >= 60 && answer->kind != ANSWER_TOO_LARGE))
            return draw;
        answer_clear (answer);
    }
}
