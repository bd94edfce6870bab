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

/* Whether another objective leads to another route. */
static gboolean
has_contrast (const Play *play, const Answer *by_steps)
{
    gboolean found = FALSE;
    for (Goal goal = GOAL_HANDLING; goal < GOALS && !found; goal++) {
        Answer best = exhaustive_answer (play, goal, MOST_WORLDS);
        found = best.kind == ANSWER_ROUTE && goal_cost (goal, best.counts) < goal_cost (goal, by_steps->counts);
        answer_clear (&best);
    }
    return found;
}

typedef struct {
    gboolean route, contrast;
    int fewest; /* steps */
} Wanted;

static Wanted
draw_wanted (Dice *dice)
{
    Wanted wanted = { .route = dice_percent (dice, 67) };
    wanted.fewest = dice_percent (dice, 5) ? 0 : dice_percent (dice, 45) ? 2 : dice_percent (dice, 60) ? 5 : 7;
    wanted.contrast = wanted.route && dice_percent (dice, 18);
    if (wanted.contrast)
        wanted.fewest = 1;
    return wanted;
}

static gboolean
is_suitable (const Play *play, const Answer *answer, const Wanted *wanted)
{
    if (answer->kind == ANSWER_TOO_LARGE)
        return FALSE;
    /* A unit that nothing can be done to is no test of a proof that there is no route. */
    if (!wanted->route)
        return answer->kind == ANSWER_NONE && answer->worlds > 8;
    return answer->kind == ANSWER_ROUTE && answer->counts.steps >= wanted->fewest &&
           (!wanted->contrast || has_contrast (play, answer));
}

int
generate_suitable (guint64 seed, Job *job, Answer *answer)
{
    Dice dice = { .state = seed ^ 0x5DEECE66Du };
    const Wanted wanted = draw_wanted (&dice);
    for (int draw = 1;; draw++) {
        Play play;
        generate_job (dice_next (&dice), job);
        if (wanted.contrast)
            feature_long_way (&dice, job);
        if (!play_setup (&play, job, -1))
            continue;
        *answer = exhaustive_answer (&play, GOAL_STEPS, MOST_WORLDS);
        if (is_suitable (&play, answer, &wanted) || (draw >= 60 && answer->kind != ANSWER_TOO_LARGE))
            return draw;
        answer_clear (answer);
    }
}
