/* The belt runs of one map as they are checked: map_check_belts.c has which runs there are, map_check_belt.c
 * what is wrong with one. Private to these two. */
#ifndef LB_KIT_MAP_CHECK_BELTS_H
#define LB_KIT_MAP_CHECK_BELTS_H

#include "kit/map_checker.h"
#include "plan/belt_map.h"

enum { BELTS_LOOKED_MOST = 20000000 }; /* rows and parts looked at in all: some seconds */

/* Rows of one component, in a list of their own. */
struct chain {
    uint32_t *first; /* by component; LB_NO_NAME: none */
    uint32_t *next;  /* by row */
};

struct belts {
    struct checker *c;
    struct chain pulleys, rows;
    struct check_parts parts;
    struct lb_names seen; /* runs that were worked out, what was held against them, faults that were told */
    size_t looked;        /* towards BELTS_LOOKED_MOST */

    /* Of the belt that is looked at. */
    uint32_t belt;
    struct lb_guess guess;
    LB_VEC(const struct lb_condition *) asked;
    LB_VEC(const struct lb_map_component *) asks; /* the belt's own rows that the guess has */
    LB_VEC(struct lb_map_pulley) run;             /* and its pulleys' */
    struct lb_map map;                            /* with nothing but those */
    struct lb_mapped_belt mapped;
    struct lb_belt geometry;
};

/* Is it the first time that the belt comes with that key? */
bool belts_first(struct belts *b, char kind, const char *key);
/* Works out b->run and holds it against b->asks. */
LB_CHECK lb_status belts_look_at_run(struct belts *b);

#endif
