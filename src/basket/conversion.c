#include "basket/conversion.h"

#include "base/decimal.h"
#include "base/money.h"
#include "basket/basket.h"

#include <string.h>

static basket_wide power_of_ten(int exponent)
{
    basket_wide power = 1;
    while (exponent-- > 0)
        power *= 10;
    return power;
}

basket_wide basket_common_divisor(basket_wide a, basket_wide b)
{
    while (b) {
        basket_wide rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

static void reduce(struct basket_conversion *conversion)
{
    basket_wide common = basket_common_divisor(conversion->times, conversion->by);
    conversion->times /= common;
    conversion->by /= common;
}

static const struct lb_rate *find_rate(const struct lb_market *market, const char *from, const char *to)
{
    for (size_t i = 0; i < market->rate_count; i++) {
        const struct lb_rate *rate = &market->rates[i];
        if (rate->rate > 0 && strcmp(rate->currency, from) == 0 && strcmp(rate->in, to) == 0)
            return rate;
    }
    return NULL;
}

bool basket_find_conversion(const struct lb_market *market, const char *from, const char *to,
                            struct basket_conversion *out)
{
    *out = (struct basket_conversion){1, 1, NULL};
    if (strcmp(from, to) == 0)
        return true;
    const struct lb_rate *direct = find_rate(market, from, to);
    out->rate = direct ? direct : find_rate(market, to, from);
    int from_digits = lb_currency_digits(from), to_digits = lb_currency_digits(to);
    if (!out->rate || from_digits < 0 || to_digits < 0)
        return false;
    out->times = (direct ? out->rate->rate : LB_MILLION) * power_of_ten(to_digits - from_digits);
    out->by = (direct ? LB_MILLION : out->rate->rate) * power_of_ten(from_digits - to_digits);
    reduce(out);
    return true;
}

const struct lb_rate *lb_basket_rate(const struct lb_market *market, const char *from, const char *to)
{
    struct basket_conversion conversion;
    return basket_find_conversion(market, from, to, &conversion) ? conversion.rate : NULL;
}

static basket_wide convert(basket_wide amount, const struct basket_conversion *conversion)
{
    basket_wide product;
    if (__builtin_mul_overflow(amount, conversion->times, &product))
        return (basket_wide)INT64_MAX * LB_MILLION;
    basket_wide left = product % conversion->by;
    return product / conversion->by + (left >= conversion->by - left);
}

int64_t basket_convert(int64_t amount, const struct basket_conversion *conversion)
{
    if (conversion->times == conversion->by)
        return amount;
    basket_wide whole = convert(amount, conversion);
    return whole > INT64_MAX ? INT64_MAX : (int64_t)whole;
}

basket_wide basket_convert_finely(int64_t amount, const struct basket_conversion *conversion)
{
    return convert((basket_wide)amount * LB_MILLION, conversion);
}

bool basket_pack_price(const struct lb_market *market, const struct lb_basket_offer *offer, int64_t *price)
{
    struct basket_conversion conversion;
    if (offer->supplier >= market->supplier_count || offer->price < 0 || offer->pack <= 0 ||
        !basket_find_conversion(market, offer->currency, market->suppliers[offer->supplier].currency,
                                &conversion))
        return false;
    *price = basket_convert(offer->price, &conversion);
    return *price <= LB_AMOUNT_MAX;
}
