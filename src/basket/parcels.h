/* From purchases to parcels with exact totals: the one place where a basket is priced. Private to basket/. */
#ifndef LB_BASKET_PARCELS_H
#define LB_BASKET_PARCELS_H

#include "base/arena.h"
#include "basket/basket.h"

/* A basket with the memory it lives in. */
struct basket_build {
    struct lb_basket basket; /* first: what is handed out */
    struct lb_arena arena;
    /* How it was solved: an option for each need, also where boxes cover it all, and what came out of which
     * box, by content and cover in order. NULL: it was not. */
    const uint32_t *options;
    const int64_t *covers;
    size_t cover_count;
};

/* So many packs of one offer. */
struct basket_purchase {
    uint32_t part, offer;
    int64_t packs;
};

/* Fills parcels, totals, total and days from purchases (in any order, each offer once; those without packs
 * are passed by). Their offers must have a price in their supplier's currency (basket_pack_price). LB_DATA: a
 * sum beyond an int64_t. */
LB_CHECK lb_status basket_parcels(struct basket_build *build, const struct lb_market *market,
                                  const struct basket_purchase *purchases, size_t count,
                                  struct lb_error *err);

/* The row that applies to goods of that value, or NULL. */
const struct lb_shipping *basket_shipping_row(const struct lb_supplier *supplier, int64_t goods);
/* Days until an offer's packs come; what is not stated is none. */
int64_t basket_days(const struct lb_market *market, const struct lb_basket_offer *offer);
/* Orders suppliers as a basket shows them: by name. */
int basket_compare_suppliers(const struct lb_market *market, uint32_t a, uint32_t b);

#endif
