/* Which entries of a table a teardown calls for, by the words of part types and of fluids. Private to plan/;
 * the tables are in hazards.c and aftercare.c.
 *
 * A call's `words` are matched with the whole words of a hyphenated name: "brake pad" wants both in it,
 * "-light" keeps out names that have the word, "=battery" is the whole name. A plural s is let pass. So
 * `brake-pad-set` is "brake pad", and neither `brake-light-switch` nor `washer-pump` is.
 */
#ifndef LB_PLAN_CALLS_H
#define LB_PLAN_CALLS_H

#include "plan/plan.h"

enum call_by {
    CALL_PART,    /* the type of a component that is disturbed; its name, where no row describes it */
    CALL_FLUID,   /* the type of a fluid whose circuit is opened; the circuit's name, where no row fills it */
    CALL_RENEWED, /* the type of a part that is renewed */
};

struct call {
    unsigned what; /* the table's own number, 0 to 31 */
    enum call_by by;
    enum lb_level from; /* parts: in this state or further out of the way */
    const char *words;
};

bool call_matches(const char *name, const char *words);
/* A bit (1 << what) for each entry that is called for. */
uint32_t calls_of(const struct lb_plan *plan, const struct call *calls, size_t count);

#endif
