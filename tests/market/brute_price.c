#include "market/brute_price.h"

#include "base/money.h"

#include <string.h>

static const struct lb_rate *stated(const struct lb_market *market, const char *from, const char *to)
{
    for (size_t i = 0; i < market->rate_count; i++)
        if (market->rates[i].rate > 0 && !strcmp(market->rates[i].currency, from) &&
            !strcmp(market->rates[i].in, to))
            return &market->rates[i];
    return NULL;
}

static brute_wide minor_units(const char *currency)
{
    brute_wide units = 1;
    for (int digits = lb_currency_digits(currency); digits > 0; digits--)
        units *= 10;
    return units;
}

bool brute_find_rate(const struct lb_market *market, const char *from, const char *to,
                     struct brute_rate *rate)
{
    const struct lb_rate *direct = stated(market, from, to), *inverse = stated(market, to, from);
    *rate = (struct brute_rate){1, 1};
    if (!strcmp(from, to))
        return true;
    if (direct)
        *rate = (struct brute_rate){direct->rate * minor_units(to), 1000000 * minor_units(from)};
    else if (inverse)
        *rate = (struct brute_rate){1000000 * minor_units(to), inverse->rate * minor_units(from)};
    return direct || inverse;
}

static int64_t half_up(brute_wide above, brute_wide below)
{
    return (int64_t)((2 * above + below) / (2 * below));
}

int64_t brute_convert(int64_t amount, struct brute_rate rate)
{
    return half_up((brute_wide)amount * rate.times, rate.by);
}

static int rank_of(const struct lb_market *market, size_t supplier)
{
    int rank = 0;
    for (size_t i = 0; i < market->supplier_count; i++)
        rank += strcmp(market->suppliers[i].name, market->suppliers[supplier].name) < 0;
    return rank;
}

void brute_sellers(struct brute_seller *sellers, const struct lb_market *market,
                   const struct lb_basket_limits *limits)
{
    for (size_t i = 0; i < market->supplier_count; i++) {
        const struct lb_supplier *terms = &market->suppliers[i];
        struct brute_seller *seller = &sellers[i];
        *seller = (struct brute_seller){.terms = terms, .rank = rank_of(market, i)};
        seller->open = !(limits->closed && limits->closed[i]) &&
                       brute_find_rate(market, terms->currency, market->currency, &seller->rate);
        for (size_t k = 0; k < terms->shipping_count; k++)
            if (!k || terms->shipping[k].charge < seller->least_charge)
                seller->least_charge = terms->shipping[k].charge;
    }
}

static bool shipping(const struct lb_supplier *terms, int64_t goods, int64_t *charge)
{
    const struct lb_shipping *best = NULL;
    *charge = 0;
    for (size_t k = 0; k < terms->shipping_count; k++)
        if (terms->shipping[k].goods_from <= goods &&
            (!best || terms->shipping[k].goods_from > best->goods_from))
            best = &terms->shipping[k];
    if (best)
        *charge = best->charge;
    return best || !terms->shipping_count;
}

bool brute_parcel(const struct brute_seller *seller, int64_t goods, int64_t *cost)
{
    const struct lb_supplier *terms = seller->terms;
    int64_t charge;
    if (!shipping(terms, goods, &charge) || (terms->minimum_order >= 0 && goods < terms->minimum_order))
        return false;
    int64_t tax =
        terms->tax > 0 ? half_up((brute_wide)(goods + charge) * terms->tax, (brute_wide)100 * 1000000) : 0;
    *cost = brute_convert(goods, seller->rate) + brute_convert(charge, seller->rate) +
            brute_convert(tax, seller->rate);
    return true;
}

/* Four roundings, each by half a minor unit at most. */
double brute_parcel_least(const struct brute_seller *seller, int64_t goods)
{
    double rate = (double)seller->rate.times / (double)seller->rate.by;
    double tax = seller->terms->tax > 0 ? (double)seller->terms->tax / 1e8 : 0;
    return (double)(goods + seller->least_charge) * (1 + tax) * rate - 0.5 * (rate + 3);
}
