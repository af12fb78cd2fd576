/* What things cost, read from the contract once more: rates, packs, parcels. Private to the exhaustive
 * search. */
#ifndef TESTS_MARKET_BRUTE_PRICE_H
#define TESTS_MARKET_BRUTE_PRICE_H

#include "market/brute.h"

__extension__ typedef __int128 brute_wide;

/* × times ÷ by: minor units of one currency to those of another. */
struct brute_rate {
    brute_wide times, by;
};

struct brute_seller {
    bool open; /* may be bought from: not closed, and a rate leads to the market's currency */
    int rank;  /* of its name */
    const struct lb_supplier *terms;
    struct brute_rate rate; /* from its currency to the market's */
    int64_t least_charge;   /* of its shipping rows; 0: it has none */
};

/* Direct rate first, then the inverse of the other way; false: neither is stated. */
bool brute_find_rate(const struct lb_market *market, const char *from, const char *to,
                     struct brute_rate *rate);
int64_t brute_convert(int64_t amount, struct brute_rate rate); /* half up */

void brute_sellers(struct brute_seller *sellers, const struct lb_market *market,
                   const struct lb_basket_limits *limits);
/* What a parcel costs in the market's currency: goods, shipping and tax, each converted. False: the seller
 * sends none of that value. */
bool brute_parcel(const struct brute_seller *seller, int64_t goods, int64_t *cost);
/* No parcel of at least so many goods costs less. */
double brute_parcel_least(const struct brute_seller *seller, int64_t goods);

#endif
