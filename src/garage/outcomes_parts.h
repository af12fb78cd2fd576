/* What the steps that find outcomes share. Private to garage/outcomes*.c. */
#ifndef LB_GARAGE_OUTCOMES_PARTS_H
#define LB_GARAGE_OUTCOMES_PARTS_H

#include "base/names.h"
#include "base/vec.h"
#include "garage/condition_parts.h"
#include "garage/outcomes.h"

/* A clause that some condition leaves open, each text once. */
struct open_clause {
    const struct clause *clause;
    uint32_t key;
    uint64_t met, met_by_built;
};

typedef LB_VEC(struct open_clause) open_clauses;

/* Fills the masks of the clauses on `key` and *count. False: out of memory. `built`: what is known of it. */
LB_CHECK bool outcomes_of_fact(open_clauses *clauses, uint32_t key, uint32_t *count);
/* The same for `built`; clauses on `year` (LB_NO_NAME: none) are judged by it too. */
LB_CHECK bool outcomes_of_built(open_clauses *clauses, uint32_t built, uint32_t year,
                                struct lb_interval known, uint32_t *count);

#endif
