/* Amounts of one currency in another, exactly, by stated rates. Private to basket/. */
#ifndef LB_BASKET_CONVERSION_H
#define LB_BASKET_CONVERSION_H

#include "basket/market.h"

__extension__ typedef __int128 basket_wide;

/* × times ÷ by: minor units of the one to minor units of the other, in lowest terms. */
struct basket_conversion {
    basket_wide times, by;
    const struct lb_rate *rate; /* NULL: the same currency */
};

/* By the rate from one to the other, else by the inverse of the one the other way. False: no rate leads
 * there. */
bool basket_find_conversion(const struct lb_market *market, const char *from, const char *to,
                            struct basket_conversion *out);
/* Converted, half up; saturates at INT64_MAX. The amount is not negative. */
int64_t basket_convert(int64_t amount, const struct basket_conversion *conversion);
/* The same in millionths of a minor unit. */
basket_wide basket_convert_finely(int64_t amount, const struct basket_conversion *conversion);
/* Of numbers that are not negative. */
basket_wide basket_common_divisor(basket_wide a, basket_wide b);
/* What a pack costs in its supplier's currency; false: no rate leads there, or price or pack make no sense.
 */
bool basket_pack_price(const struct lb_market *market, const struct lb_basket_offer *offer, int64_t *price);

#endif
