/* The basket: a market -> the parcels that meet all its needs for the least money, proved. Pure: plain
 * structs in, plain structs out; the clock is looked at for `seconds` only. Contract: formats.md §3,
 * "Buying".
 *
 *     struct lb_basket *basket;
 *     struct lb_basket_limits limits = {.arrive_days = -1, .seconds = 10};
 *     status = lb_basket_solve(&basket, &market, &limits, &err);
 *     if (basket->found) … basket->parcels, basket->total, basket->proved
 *     lb_basket_free(basket);
 */
#ifndef LB_BASKET_BASKET_H
#define LB_BASKET_BASKET_H

#include "base/error.h"
#include "basket/market.h"

struct lb_basket_limits {
    const bool *closed;  /* by supplier: must not be bought from; NULL: all may */
    int parcels;         /* at most; 0: any number */
    int64_t arrive_days; /* the latest parcel comes no later than so many days from now; -1: any day */
    int workers;    /* of lb_front_solve: how many questions are asked at the same time, each in a thread of
                       its own; from 1 to 16, what is less or more is taken as these */
    double seconds; /* to search and prove in; what was found by then is handed out. Above 0 */
};

struct lb_parcel_line {
    uint32_t part, offer; /* offer: index into the part's offers */
    int64_t packs;
    int64_t price;   /* a pack, in the parcel's currency */
    int64_t amount;  /* packs × price */
    int64_t deposit; /* of all packs, in the parcel's currency */
};

/* What one supplier sends. Amounts are minor units of its currency. */
struct lb_parcel {
    uint32_t supplier;
    const char *currency;
    int64_t goods, shipping, tax, deposits, total; /* total = goods + shipping + tax */
    int64_t days;                                  /* from now until it comes */
    bool days_not_stated;                          /* by the supplier or one of its lines: taken as none */
    bool stock_not_stated;                         /* by one of its lines: taken as enough */
    bool shipping_not_stated;                      /* no shipping rows: taken as 0 */
    bool below_shipping;                           /* no shipping row applies: no parcel at that value */
    bool below_minimum;                            /* goods are below the supplier's minimum order */
    const struct lb_rate *rate;         /* by which it is compared; NULL: needs none, or has none */
    const struct lb_parcel_line *lines; /* by part */
    size_t line_count;
};

struct lb_basket_total {
    const char *currency;
    int64_t goods, shipping, tax, deposits, total;
};

/* How a need is answered. */
struct lb_basket_answer {
    uint32_t option; /* index into the need's options; UINT32_MAX: boxes bought for others cover it all */
    int64_t bought;  /* of the option's part, from packs and shelf */
    int64_t covered; /* of the need, from boxes */
};

struct lb_basket {
    bool found;      /* false: nothing meets all needs (or nothing was found in time); parcels are empty */
    bool proved;     /* no other basket is better. Not found and proved: there is none */
    int64_t bound;   /* no basket's price (total.total + premium) is below this */
    int64_t premium; /* of the options chosen; part of what was minimised, not of the total */
    struct lb_basket_total total; /* in market->currency; goods, shipping, tax and deposits of foreign parcels
                                     each converted half up */
    const struct lb_parcel *parcels;        /* by supplier name */
    const struct lb_basket_total *totals;   /* as charged, by currency */
    const struct lb_basket_answer *answers; /* by need */
    const uint32_t *unmet; /* needs that no offer can supply (none, no rate, or stock short) */
    size_t parcel_count, total_count, unmet_count;
    int64_t days; /* until the last parcel comes */
};

/* The cheapest basket. Equal totals: fewer parcels, then the earlier arrival, then by supplier name. A need
 * that nothing can supply: not found, proved, and listed in unmet. LB_SYSTEM: the solver is not installed or
 * gave up; *err says so. *out is the caller's, lb_basket_free. */
LB_CHECK lb_status lb_basket_solve(struct lb_basket **out, const struct lb_market *market,
                                   const struct lb_basket_limits *limits, struct lb_error *err);

/* Each need at the option and offer that is cheapest for it alone, by goods; ties by supplier name, then in
 * the market's order. Boxes cover nothing. What shipping tables and minimum orders say to that is told by the
 * parcels; needs that cannot be met are left out and listed. Never proved. */
LB_CHECK lb_status lb_basket_cheapest(struct lb_basket **out, const struct lb_market *market,
                                      struct lb_error *err);

/* What `quantity` costs at one offer, for comparison, in millionths of a minor unit of market->currency.
 * False: no rate leads there, or the stock does not suffice. *packs is the number of packs in either case. */
bool lb_basket_cost(const struct lb_market *market, const struct lb_basket_offer *offer, int64_t quantity,
                    int64_t *packs, int64_t *cost);
/* The rate by which amounts of one currency count in another, which may be stated the other way round. NULL:
 * they need none, or there is none. */
const struct lb_rate *lb_basket_rate(const struct lb_market *market, const char *from, const char *to);
void lb_basket_free(struct lb_basket *basket);

/* Every basket that no other beats in all of total, number of parcels and arrival, by total: the cheapest
 * first. Each is solved and proved like the first; `seconds` is for all of them together, and what was not
 * finished by then is not in it (complete false). */
struct lb_front {
    struct lb_basket **points;
    size_t count;
    bool complete;
};
/* `first` is the basket that lb_basket_solve gave for the same market and limits; it stays the caller's and
 * is not in points, but what would be equal to it is left out. */
LB_CHECK lb_status lb_front_solve(struct lb_front **out, const struct lb_market *market,
                                  const struct lb_basket_limits *limits, const struct lb_basket *first,
                                  struct lb_error *err);
void lb_front_free(struct lb_front *front);

#endif
