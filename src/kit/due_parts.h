/* What the stages of one "due" share. Private to kit/due*.c. */
#ifndef LB_KIT_DUE_PARTS_H
#define LB_KIT_DUE_PARTS_H

#include "kit/due.h"
#include "kit/jobs.h"

#include "base/vec.h"

struct due_work {
    struct lb_due due; /* first: what is handed out */
    struct lb_arena arena;
    struct lb_store *store;
    const struct lb_vehicle *vehicle;
    struct lb_error *err;
    int32_t within, today;
    struct lb_survey *survey;
    struct lb_jobs jobs;
    size_t *readings_of; /* by line of the log: which reading it has, or LB_NO_READING */
    LB_VEC(struct lb_due_item) items;
};

/* due_item.c: when it is due, for an item of which component and intervals are known. */
void due_item_judge(const struct due_work *w, struct lb_due_item *item);
/* due_jobs.c: which of the jobs are due, and what those that share something save. */
LB_CHECK lb_status due_together(struct due_work *w);

#endif
