/* The titles that answer a query best, by one walk through the lists of its terms, which are sorted so that
 * short titles come first. What cannot be among the best any more is passed over: a slot adds the less the
 * longer titles get, so the walk ends early (the way is that of A. Z. Broder et al., "Efficient query
 * evaluation using a two-level retrieval process", 2003, with bounds by title length).
 *
 *     struct lb_sweep sweep = {.pairs = pairs, .cursors = tools.cursors};
 *     status = lb_sweep_run(&sweep, &ranker, 50, false, &err);
 *     for (size_t i = 0; i < sweep.best.count; i++) … lb_mark_row(sweep.best.at[i].title)
 *     lb_sweep_free(&sweep);
 */
#ifndef LB_FIND_SWEEP_H
#define LB_FIND_SWEEP_H

#include "base/vec.h"
#include "find/rank.h"

struct lb_swept {
    double score;
    int64_t title; /* its mark, place 0 */
};

struct lb_sweep {
    struct lb_pairs *pairs;       /* borrowed */
    LB_VEC(struct lb_swept) best; /* after a run: best first, then by mark */
    int64_t seen;                 /* titles that were looked at */
    bool cut;                     /* others were passed over */
    struct lb_cursor *cursors;    /* borrowed: the query's */
    bool walked;                  /* they are not at their first any more; to be unset for a new query */
};

/* The `most` best; of like ones those with lower marks, run of the lookup by run. `exhaustive`: looks at
 * every title that any term leads to. Can be run again, with another query. */
LB_CHECK lb_status lb_sweep_run(struct lb_sweep *sweep, const struct lb_ranker *ranker, size_t most,
                                bool exhaustive, struct lb_error *err);
void lb_sweep_free(struct lb_sweep *sweep);

#endif
