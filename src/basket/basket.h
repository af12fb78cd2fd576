/* The basket: parts and offers -> parcels with exact totals. Pure: plain structs in, plain structs out.
 * Contract: formats.md §3, "Buying". Today each part goes to its cheapest live offer; the interface is the
 * one that the exact optimum will answer to.
 *
 *     struct lb_basket *basket;
 *     status = lb_basket_cheapest(&basket, &market, &err);
 *     lb_basket_free(basket);
 */
#ifndef LB_BASKET_BASKET_H
#define LB_BASKET_BASKET_H

#include "base/error.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Amounts are minor units of the supplier's currency unless said otherwise; -1: not stated. */
struct lb_shipping {
    int64_t goods_from, charge;
};

struct lb_supplier {
    const char *name, *label; /* as rows refer to it; what people call it (never NULL) */
    const char *currency;
    int64_t minimum_order, ship_days;
    int64_t tax;                        /* millionths of a percent point */
    const struct lb_shipping *shipping; /* by goods_from */
    size_t shipping_count; /* 0: ships at no charge, and the basket says that nobody stated one */
};

/* One unit of `currency` costs rate ÷ 10^6 units of `in`. */
struct lb_rate {
    const char *currency, *in;
    int64_t rate;
};

struct lb_basket_offer {
    uint32_t supplier;
    const char *currency;   /* of price and deposit */
    int64_t price, deposit; /* a pack */
    int64_t pack;           /* millionths of the item's unit */
    int64_t minimum_packs;
    int64_t stock; /* packs; -1: not stated */
};

/* One part that must be bought. */
struct lb_basket_item {
    int64_t quantity;                     /* millionths */
    const struct lb_basket_offer *offers; /* one that must not be used has stock 0 */
    size_t offer_count;
};

struct lb_market {
    const struct lb_supplier *suppliers;
    const struct lb_rate *rates;
    const struct lb_basket_item *items;
    size_t supplier_count, rate_count, item_count;
    const char *currency; /* the one that offers are compared in */
};

struct lb_parcel_line {
    uint32_t item, offer; /* offer: index into the item's offers */
    int64_t packs, amount, deposit;
};

struct lb_parcel {
    uint32_t supplier;
    const char *currency;
    int64_t goods, shipping, tax, deposits, total; /* total = goods + shipping + tax */
    bool shipping_not_stated;                      /* no shipping rows: taken as 0 */
    bool below_shipping;                           /* no shipping row applies: no parcel at that value */
    bool below_minimum;                            /* goods are below the supplier's minimum order */
    const struct lb_parcel_line *lines;
    size_t line_count;
};

struct lb_basket_total {
    const char *currency;
    int64_t goods, shipping, tax, deposits, total;
};

struct lb_basket {
    const struct lb_parcel *parcels;      /* by supplier name, then currency */
    const struct lb_basket_total *totals; /* by currency */
    const uint32_t *unmet;                /* items that no offer can supply (none, no rate, or stock short) */
    size_t parcel_count, total_count, unmet_count;
};

/* What `quantity` costs at one offer, for comparison, in millionths of a minor unit of market->currency.
 * False: no rate leads there, or the stock does not suffice. *packs is the number of packs in either case. */
bool lb_basket_cost(const struct lb_market *market, const struct lb_basket_offer *offer, int64_t quantity,
                    int64_t *packs, int64_t *cost);
/* Each item at its cheapest offer; ties by supplier name, then by the order of the offers. */
LB_CHECK lb_status lb_basket_cheapest(struct lb_basket **out, const struct lb_market *market,
                                      struct lb_error *err);
void lb_basket_free(struct lb_basket *basket);

#endif
