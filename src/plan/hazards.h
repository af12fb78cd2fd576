/* The usual cautions that a teardown calls for: what hurts people in this kind of work, in our own short
 * words. Not a replacement of the catalogue's own cautions (plan->cautions), which are always shown as well,
 * nor of the maker's manual, to which every one defers.
 *
 *     uint32_t hazards = lb_hazards(plan);
 *     for (int h = 0; h < LB_HAZARD_COUNT; h++)
 *         if (hazards & 1U << h) puts(lb_hazard_text(h));
 */
#ifndef LB_PLAN_HAZARDS_H
#define LB_PLAN_HAZARDS_H

#include "plan/plan.h"

/* In the order in which they are shown. */
enum lb_hazard {
    LB_HAZARD_LIFTING,
    LB_HAZARD_BATTERY,
    LB_HAZARD_AIRBAG,
    LB_HAZARD_FUEL,
    LB_HAZARD_HOT_COOLANT,
    LB_HAZARD_GLYCOL,
    LB_HAZARD_HOT_EXHAUST,
    LB_HAZARD_REFRIGERANT,
    LB_HAZARD_SPRING,
    LB_HAZARD_ENGINE_SUPPORT,
    LB_HAZARD_BRAKE_DUST,
    LB_HAZARD_BRAKE_FLUID,
    LB_HAZARD_USED_OIL,
    LB_HAZARD_BELTS_FANS,
    LB_HAZARD_COUNT
};

/* A bit (1 << hazard) for each that the plan's teardown, opened circuits and targets call for. Rows that are
 * provisional count like true ones: rather a caution too many than one too few. */
uint32_t lb_hazards(const struct lb_plan *plan);
/* "Hot coolant": a heading. */
const char *lb_hazard_title(enum lb_hazard hazard);
/* One to three sentences. */
const char *lb_hazard_text(enum lb_hazard hazard);

#endif
