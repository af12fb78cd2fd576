/* One run of the solver on one market under one set of limits. Private to basket/. */
#ifndef LB_BASKET_SOLVER_H
#define LB_BASKET_SOLVER_H

#include "basket/answers.h"
#include "basket/problem.h"

enum basket_ending { BASKET_OPTIMAL, BASKET_IMPOSSIBLE, BASKET_OUT_OF_TIME };

struct basket_run {
    const struct basket_problem *problem;
    double seconds;
    int64_t cutoff; /* only baskets of at most this price (total and premium) are asked for; INT64_MAX: any */
    bool likely;    /* there will be one: drafts pay, which cannot say that there is none */
    /* What came out; the solution's memory is `arena`'s. */
    enum basket_ending ending;
    bool found;
    int64_t bound; /* of the price, by the solver */
    struct basket_solution solution;
    size_t cover_count;
    struct lb_arena arena;
};

/* LB_SYSTEM: the solver is not installed, or an assertion in it failed. The caller frees, also then. */
LB_CHECK lb_status basket_run(struct basket_run *run, struct lb_error *err);
void basket_run_free(struct basket_run *run);
double basket_now(void); /* seconds of a clock that only goes on */

#endif
