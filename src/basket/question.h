/* One question about a market, asked of the solver and answered as a basket. Private to basket/. */
#ifndef LB_BASKET_QUESTION_H
#define LB_BASKET_QUESTION_H

#include "basket/parcels.h"
#include "basket/problem.h"

#define BASKET_ANY INT64_MAX

struct basket_question {
    const struct lb_market *market;
    const struct lb_market *asked; /* the market with parts and needs added at the end, which are asked for as
                                      well and not shown; NULL: the market itself */
    const bool *closed;            /* by supplier; NULL: none is */
    int64_t parcels, days;         /* at most; BASKET_ANY */
    int64_t cutoff;                /* only baskets of at most this price are asked for; BASKET_ANY */
    int64_t floor;                 /* known: none is cheaper. INT64_MIN: nothing is known */
    double until;                  /* by basket_now */
};

struct basket_question basket_question(const struct lb_market *market, const struct lb_basket_limits *limits);
/* Not found and proved: there is none under the cutoff; what no offer can supply is in unmet. Ties are as
 * they come. *out is the caller's. */
LB_CHECK lb_status basket_ask(struct lb_basket **out, const struct basket_question *question,
                              struct lb_error *err);
int64_t basket_price(const struct lb_basket *basket); /* what was minimised: total and premium */

/* unmet.c. Lists the needs that no offer can supply, each looked at by itself. */
LB_CHECK lb_status basket_find_unmet(struct basket_build *build, const struct basket_problem *problem,
                                     struct lb_error *err);

/* ties.c. *best answers the question and is proved; it becomes the one among its equals with fewer parcels,
 * then the earlier arrival, then the names that come first, as far as that is found out by question->until.
 */
LB_CHECK lb_status basket_break_ties(struct lb_basket **best, const struct basket_question *question,
                                     struct lb_error *err);

#endif
