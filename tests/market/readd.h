/* A basket's sums made once more from the lines of its parcels, and whether those meet the needs. Shares no
 * code with src/basket. */
#ifndef TESTS_MARKET_READD_H
#define TESTS_MARKET_READD_H

#include "basket/basket.h"

/* What is wrong, in words (static text), or NULL. Only for baskets that were found. */
const char *readd_basket(const struct lb_market *market, const struct lb_basket_limits *limits,
                         const struct lb_basket *basket);

#endif
