/* The market as the solver sees it: only what may be used, with what can be known about it beforehand.
 * Private to basket/. */
#ifndef LB_BASKET_PROBLEM_H
#define LB_BASKET_PROBLEM_H

#include "base/arena.h"
#include "basket/basket.h"
#include "basket/conversion.h"

/* An offer that may be used: never 0 < packs < low, never more than high. */
struct basket_offer {
    uint32_t part, offer; /* in the market */
    uint32_t supplier;
    int64_t price; /* a pack, in the supplier's currency */
    int64_t pack;
    int64_t low, high; /* packs when it is used; what is above `cover` is surplus that may pay */
    int64_t cover;     /* packs that suffice for all that the part may be needed for; at least low */
};

struct basket_seller {
    bool open;       /* may be bought from, has offers and a price in the market's currency */
    bool thresholds; /* goods of more value may pay: a minimum order, or shipping that falls */
    int64_t worth;   /* more than so much of surplus goods never pays; INT64_MAX: no such bound */
    int64_t most;    /* goods, when all its offers are bought up */
    struct basket_conversion conversion; /* to the market's currency */
};

struct basket_goods {
    size_t first, count; /* its offers */
    int64_t most;        /* what it may be needed for in all, shelf taken off */
    int64_t consumers;   /* options and companions that take of it */
    bool boxed;          /* some content of it covers a need */
    int64_t held;        /* boxed: as many of it as hold all that their contents may be wanted for */
};

struct basket_problem {
    const struct lb_market *market;
    const struct lb_basket_limits *limits;
    struct basket_offer *offers; /* by part */
    size_t offer_count;
    struct basket_goods *goods;    /* by part */
    struct basket_seller *sellers; /* by supplier */
    bool *boxable;                 /* by need: some content covers it */
    struct lb_arena arena;
};

/* The caller frees it, also after a failure. */
LB_CHECK lb_status basket_problem(struct basket_problem *out, const struct lb_market *market,
                                  const struct lb_basket_limits *limits, struct lb_error *err);
void basket_problem_free(struct basket_problem *problem);
/* So much of what a need wants is so much of its option's part, and back. */
int64_t basket_share(int64_t quantity, int64_t of, int64_t whole);

#endif
