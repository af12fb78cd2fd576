/* A belt as the service map has it: which of its pulleys rows make up the run of this vehicle. Pure.
 *
 *     struct lb_mapped_belt mapped;
 *     lb_map_belt(&mapped, map, belt);
 *     lb_map_belt_run(&run, map, &mapped);         // geometry, plan/belt.h
 *
 * What slack_mm is taken to mean: the run is computed with the tensioner where the map places it, and a belt
 * fits when it is no more than slack_mm longer or shorter than that (formats.md §1: "the tensioner's take-up
 * in belt length"). Where several pulleys of a run have one, they add up. */
#ifndef LB_PLAN_BELT_MAP_H
#define LB_PLAN_BELT_MAP_H

#include "plan/belt.h"
#include "plan/map.h"

struct lb_mapped_belt {
    uint32_t belt;               /* component */
    bool ask;                    /* some row hangs on a fact that is not known, or the platform does */
    bool open;                   /* its rows hang on different conditions: which run it is cannot be said */
    size_t count;                /* rows; those beyond LB_BELT_MOST are counted only */
    uint32_t rows[LB_BELT_MOST]; /* of map->pulleys, by order, then as the map has them */
    int64_t slack;               /* millionths of a mm; -1: none of the rows states one */
};

/* count 0: the map has no run for it. */
void lb_map_belt(struct lb_mapped_belt *out, const struct lb_map *map, uint32_t belt);
/* The place in `rows` of the first that has the same order as the one before it, or count. */
size_t lb_map_belt_twice(const struct lb_mapped_belt *mapped, const struct lb_map *map);
/* The geometry of a run that is not open. */
void lb_map_belt_run(struct lb_belt *out, const struct lb_map *map, const struct lb_mapped_belt *mapped);

enum lb_belt_fit { LB_BELT_FITS, LB_BELT_SHORT, LB_BELT_LONG, LB_BELT_UNSAID };
/* `belt` and `slack` in millionths of a mm, slack -1: UNSAID, unless the two are the same to a tenth of a
 * millimetre. *over is by how much the belt is longer than the run (shorter: below 0), in millionths of a mm.
 */
enum lb_belt_fit lb_belt_fit(double run, int64_t belt, int64_t slack, int64_t *over);

#endif
