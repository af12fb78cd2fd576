/* A service map as it applies to one vehicle, read from the index: the platform found, conditions asked,
 * false rows left out, names made numbers, quantities brought to base units. What a plan is made from.
 *
 *     struct lb_survey *survey;
 *     status = lb_survey_make(&survey, store, &vehicle, wants, want_count, &err);
 *     status = lb_plan_make(&plan, &survey->map, survey->targets, survey->target_count, &err);
 *     lb_survey_free(survey);
 */
#ifndef LB_KIT_SURVEY_H
#define LB_KIT_SURVEY_H

#include "garage/vehicle.h"
#include "plan/map.h"

/* What the owner asks for. */
struct lb_want {
    enum { LB_WANT_JOB, LB_WANT_REPLACE } kind;
    char *name;
};

struct lb_survey {
    struct lb_map map;
    const char *platform;
    const struct lb_target *targets;
    size_t target_count;
    const char *const *where_to_look; /* by fact: where the owner reads it, or NULL */
};

/* LB_DATA with words: no platform for the vehicle, several that fit (the deciding facts are named), an
 * unknown job or component (the nearest names are suggested), a job that has nothing for this vehicle. */
LB_CHECK lb_status lb_survey_make(struct lb_survey **out, struct lb_store *store,
                                  const struct lb_vehicle *vehicle, const struct lb_want *wants,
                                  size_t want_count, struct lb_error *err);
/* Fills err with LB_DATA: the platform has no `what` of that name; the nearest of `known` are suggested, or
 * some are shown. */
lb_status lb_survey_refuse_unknown(const char *platform, const char *what, const char *name,
                                   const char *const *known, size_t count, struct lb_error *err);
void lb_survey_free(struct lb_survey *survey);

#endif
