/* What is left to do when it is together again: checks, and what must not go into the bin or the drain. Only
 * what the teardown calls for, in our own short words; the maker's manual and local codes decide.
 *
 *     uint32_t checks = lb_checks(plan), wastes = lb_wastes(plan);      // bits, as in plan/hazards.h
 */
#ifndef LB_PLAN_AFTERCARE_H
#define LB_PLAN_AFTERCARE_H

#include "plan/plan.h"

/* In the order in which they are done. */
enum lb_check {
    LB_CHECK_BRAKE_PEDAL, /* before it moves */
    LB_CHECK_FUEL_TIGHT,
    LB_CHECK_BELT_RUN,
    LB_CHECK_WARNING_LAMPS,
    LB_CHECK_LEAKS,
    LB_CHECK_OIL_LEVEL,
    LB_CHECK_COOLANT_COLD,
    LB_CHECK_WHEELS_AGAIN,
    LB_CHECK_COUNT
};

enum lb_waste {
    LB_WASTE_COOLANT,
    LB_WASTE_OIL,
    LB_WASTE_BRAKE_FLUID,
    LB_WASTE_FUEL,
    LB_WASTE_REFRIGERANT,
    LB_WASTE_BATTERY,
    LB_WASTE_AIRBAG,
    LB_WASTE_COUNT
};

/* A bit (1 << what) for each that is called for. */
uint32_t lb_checks(const struct lb_plan *plan);
uint32_t lb_wastes(const struct lb_plan *plan);
const char *lb_check_text(enum lb_check check);
const char *lb_waste_text(enum lb_waste waste);

#endif
