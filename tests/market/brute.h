/* The cheapest basket by trying everything, for small markets: what the solver is held against. Shares only
 * the structs of basket/market.h with it; the meaning is read from formats.md §3, "Boxes" and "Buying", and
 * from the comments of market.h and basket.h.
 *
 * Tried are: an option for each need, or none where boxes may cover it all; any number of whole packs of
 * every offer (0, or from its minimum to what its stock and two packs of surplus allow); any way of handing
 * out what the boxes hold, in steps of what divides all quantities and packs. Left out is only what cannot
 * become better than the best so far: goods never get cheaper by more goods. */
#ifndef TESTS_MARKET_BRUTE_H
#define TESTS_MARKET_BRUTE_H

#include "basket/basket.h"

enum { BRUTE_NEEDS = 6, BRUTE_SUPPLIERS = 6, BRUTE_PARTS = 24, BRUTE_OFFERS = 8, BRUTE_POINTS = 32 };

struct brute_basket {
    bool found;
    int64_t price;          /* total + premium: what is minimised */
    int64_t total, premium; /* minor units of market->currency */
    int parcels;
    int64_t days;
    uint32_t suppliers; /* a bit each, by the rank of the name */
};

/* limits->seconds is not looked at. The market must not be larger than the constants above say. */
struct brute_basket brute_solve(const struct lb_market *market, const struct lb_basket_limits *limits);

/* Every basket that no other beats in all of price, parcels and days, the cheapest first, of equally cheap
 * ones that of fewer parcels; returns how many.
 */
size_t brute_front(const struct lb_market *market, const struct lb_basket_limits *limits,
                   struct brute_basket points[BRUTE_POINTS]);

#endif
