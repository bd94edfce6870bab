/* SPDX-License-Identifier: MIT */
/* What can put a failed write right. */
#include "world.h"

/* Its `requires` holds, and names nothing that has failed with the component. */
static gboolean
requires_still (const Play *play, const World *world, int at_case, int component, int way)
{
    const Cond *needs = &play->job->firmware[component].ways[way].requires;
    return !needs->count || (!cond_names (needs, ATOM_RELEASE, component) && cond_holds (play, world, at_case, needs));
}

gboolean
way_recovers (const Play *play, const World *world, int at_case, int component, int way, unsigned written)
{
    const Job *job = play->job;
    const Firmware *firmware = &job->firmware[component];
    /* "each of its methods recovers it, `host` too, and `controller` with the host on" */
    gboolean is_spare = firmware->spare_of >= 0;
    unsigned named = firmware->recovery | (is_spare && firmware->ways[way].there ? 1u << way : 0);
    if (!(named & job->shop_ways & 1u << way))
        return FALSE;
    switch ((Way) way) {
    case WAY_HOST:
        return is_spare && firmware->ways[way].there; /* else "`host` never counts: the unit may not start" */
    case WAY_CONTROLLER:
        return (is_spare || firmware->ways[way].host != NEED_ON) &&
               requires_still (play, world, at_case, component, way);
    case WAY_JUMPER:
        return requires_still (play, world, at_case, component, way);
    case WAY_CLIP:
        return !job->verified_boot;
    case WAY_SPARE:
        return firmware->spare >= 0 && !((world->failed | written) >> firmware->spare & 1);
    default:
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
