/* The market: what is needed, which parts would do, who sells them on which terms. Plain structs, filled by
 * the caller and only read here. Contract: formats.md §3, "Boxes" and "Buying".
 *
 * Quantities are millionths of the unit that the part is counted in. Amounts are minor units of the currency
 * that stands beside them.
 *
 * A need is answered by one of its options: a part of which so much is bought, or a box whose contents hold
 * what is needed. What boxes hold covers other needs as well. A part's packs may come from several offers;
 * of an offer no more than what covers all that the part is needed for (or its minimum, where that is more)
 * and two packs besides. */
#ifndef LB_BASKET_MARKET_H
#define LB_BASKET_MARKET_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { LB_SURPLUS_PACKS = 2 }; /* an offer, where they pay */

/* Minor units, as lb_money_parse has it: an offer of which so much as is needed costs more is not used. A
 * thousand such lines can be added up. */
#define LB_AMOUNT_MAX ((int64_t)9000000000000000)

/* The row with the greatest goods_from not above the goods applies; none: no parcel at that value. */
struct lb_shipping {
    int64_t goods_from, charge; /* of the supplier's currency */
};

struct lb_supplier {
    const char *name, *label; /* as rows refer to it; what people call it (never NULL) */
    const char *currency;
    int64_t minimum_order;              /* of goods; -1: none stated */
    int64_t ship_days;                  /* -1: not stated, taken as none */
    int64_t tax;                        /* millionths of a percent point; -1: none stated */
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
    const char
        *currency; /* of price and deposit; another than the supplier's counts by a rate, pack by pack */
    int64_t price, deposit; /* a pack */
    int64_t pack;           /* > 0 */
    int64_t minimum_packs;  /* of this offer, when it is used at all */
    int64_t stock;          /* packs; -1: not stated, taken as enough. An offer that must not be used has 0 */
    int64_t lead_days;      /* until it can be sent; -1: not stated, taken as none */
};

struct lb_basket_part {
    const struct lb_basket_offer *offers;
    size_t offer_count;
    int64_t on_hand; /* what lies on the shelf; it is taken first and costs nothing */
};

struct lb_basket_demand {
    uint32_t part;
    int64_t quantity;
};

struct lb_basket_option {
    uint32_t part;
    int64_t quantity; /* of the part, for the whole need; 0: the need is met by what is in the part's box */
    int64_t premium;  /* what the owner pays to have another option instead, in market->currency: added when
                         options are compared, never to what is paid; 0: it is as good as any */
    const struct lb_basket_demand *companions; /* bought with it, for the whole need */
    size_t companion_count;
};

struct lb_basket_need {
    int64_t quantity; /* what covers it, when it comes from boxes */
    const struct lb_basket_option *options;
    size_t option_count;
};

struct lb_basket_cover {
    uint32_t need;
    /* The needs that open the box for this one: what they take of the box (as many boxes as their option for
     * the part has quantity, at least one) is there for it. No openers: any box that is bought is. */
    const uint32_t *openers;
    size_t opener_count;
};

/* One thing in a box: each whole one of the part holds `quantity` of it. */
struct lb_basket_content {
    uint32_t part;
    int64_t quantity;
    const struct lb_basket_cover *covers;
    size_t cover_count;
};

struct lb_market {
    const struct lb_supplier *suppliers;
    const struct lb_rate *rates;
    const struct lb_basket_part *parts;
    const struct lb_basket_need *needs;
    const struct lb_basket_content *contents;
    size_t supplier_count, rate_count, part_count, need_count, content_count;
    const char *currency; /* the one that baskets are compared in */
};

#endif
