/* Can the work be ordered at all: the part of a plan that a map's author must get right, without needs,
 * suggestions and questions. Pure, like the plan (plan.h). Every row given counts as true; rows that a
 * vehicle does not have are left out by who asks.
 *
 *     struct lb_clash clash = {0};
 *     if (lb_plan_try(&map, targets, count, &clash, &err) == LB_DATA) … clash.rows.at[0]->line …
 *     lb_clash_free(&clash);
 */
#ifndef LB_PLAN_TRIAL_H
#define LB_PLAN_TRIAL_H

#include "base/vec.h"
#include "plan/plan.h"

/* The rows that cannot hold together. */
struct lb_clash {
    enum { LB_CLASH_NONE, LB_CLASH_ACCESS, LB_CLASH_ORDER } kind;
    LB_VEC(const struct lb_row *) rows; /* borrowed from the map */
};

/* How far the targets take each component, then each circuit, through any row: `levels` has room for
 * component_count + circuit_count. */
LB_CHECK lb_status lb_plan_reach(const struct lb_map *map, const struct lb_target *targets,
                                 size_t target_count, enum lb_level *levels, struct lb_error *err);
/* LB_DATA: access goes round, or the order of work contradicts itself; the words are the plan's own, `clash`
 * has their rows. */
LB_CHECK lb_status lb_plan_try(const struct lb_map *map, const struct lb_target *targets, size_t target_count,
                               struct lb_clash *clash, struct lb_error *err);
void lb_clash_free(struct lb_clash *clash);

#endif
