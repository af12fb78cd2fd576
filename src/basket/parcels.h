/* From chosen offers to parcels with totals. Private to basket/. */
#ifndef LB_BASKET_PARCELS_H
#define LB_BASKET_PARCELS_H

#include "base/arena.h"
#include "basket/basket.h"

/* A basket with the memory it lives in. */
struct basket_build {
    struct lb_basket basket; /* first: what is handed out */
    struct lb_arena arena;
};

/* What was decided for one item; `met` false: no offer supplies it, the rest means nothing. */
struct basket_choice {
    bool met;
    uint32_t offer;
    int64_t packs, amount, deposit;
};

/* Fills parcels and totals from choices (one an item). An item whose amount no longer fits into its parcel
 * (beyond an int64_t) loses its `met`. */
LB_CHECK lb_status basket_parcels(struct basket_build *build, const struct lb_market *market,
                                  struct basket_choice *choices, struct lb_error *err);

/* Orders suppliers as a basket shows them: by name. */
int basket_compare_suppliers(const struct lb_market *market, uint32_t a, uint32_t b);

#endif
