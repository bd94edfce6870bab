/* SPDX-License-Identifier: MIT */
/* What can put a failed write right. */
#include "world.h"

/* Its `requires` holds, and names nothing that has failed with the component. */
static gboolean
requires_still (const Play *play, const World *world, int at_case, int component, int way)
{
    const Cond *needs = &play->job->firmware[component].ways[way].requires;
    return !needs->count ||
           (!cond_names (needs, ATOM_RELEASE, component) && cond_holds (play, world, at_case, needs));
}

gboolean
way_recovers (const Play *play, const World *world, int at_case, int component, int way, unsigned written)
{
    const Job *job = play->job;
    const Firmware *firmware = &job->firmware[component];
    if (!(firmware->recovery & job->shop_ways & 1u << way))
        return FALSE;
    switch ((Way) way) {
    case WAY_CONTROLLER:
        return firmware->ways[way].host != NEED_ON && requires_still (play, world, at_case, component, way);
    case WAY_JUMPER:
        return requires_still (play, world, at_case, component, way);
    case WAY_CLIP:
        return !job->verified_boot;
    case WAY_SPARE:
        return firmware->spare >= 0 && !((world->failed | written) >> firmware->spare & 1);
    default: /* "`host` never counts: the unit may not start" */
        return FALSE;
    }
}

gboolean
writes_recover (const Play *play, const World *world, int at_case, unsigned written)
{
    for (int c = 0; c < play->job->firmware_count; c++) {
        gboolean recovers = !(written >> c & 1);
        for (int way = 0; way < WAYS && !recovers; way++)
            recovers = way_recovers (play, world, at_case, c, way, written);
        if (!recovers)
            return FALSE;
    }
    return TRUE;
}
