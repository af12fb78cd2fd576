/* Between due_jobs.c, which says which jobs are due, and due_groups.c, which says which go together. */
#ifndef LB_KIT_DUE_TOGETHER_H
#define LB_KIT_DUE_TOGETHER_H

#include "kit/due_parts.h"

enum { JOBS_MOST = 10 }; /* that are looked at together: 45 pairs */

struct chosen {
    struct lb_want want;
    size_t first; /* the first item that it does */
    struct lb_target *targets;
    size_t target_count;
    bool planned;               /* its plan makes sense */
    struct lb_due_saving alone; /* what it needs */
    bool grouped;
};

struct together {
    struct due_work *w;
    LB_VEC(struct chosen) chosen;
    bool *done; /* by item */
    LB_VEC(struct lb_due_group) groups;
};

/* Fills t->groups, best first. */
LB_CHECK lb_status due_groups(struct together *t);

#endif
