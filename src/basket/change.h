/* A basket with something about it changed, everything else left as it is, and priced again. Private to
 * basket/. */
#ifndef LB_BASKET_CHANGE_H
#define LB_BASKET_CHANGE_H

#include "basket/answers.h"
#include "basket/problem.h"

struct basket_change {
    const struct lb_market *market;
    const struct basket_problem *problem; /* what may be bought */
    const struct lb_basket *basket;       /* the one that is changed */
    struct basket_solution solution;      /* as changed so far: change_reset begins anew */
    struct basket_ledger ledger;          /* of the solution, after change_suffices */
    bool holds;                           /* after change_price: no rule of a supplier is broken */
    int64_t total, price;                 /* after it: what is paid; that with premiums */
};

/* Its memory is `arena`'s; problem and basket must outlive it. */
LB_CHECK lb_status change_open(struct basket_change *change, const struct basket_problem *problem,
                               const struct lb_basket *basket, struct lb_arena *arena, struct lb_error *err);
void change_reset(struct basket_change *change);

/* The packs of an offer, 0 when it is new to the basket; borrowed until change_reset. */
int64_t *change_packs(struct basket_change *change, uint32_t part, uint32_t offer);
/* All needs are met, but for ledger.without. */
bool change_suffices(struct basket_change *change);
/* Of one purchase the fewest packs that suffice beside all others: none, or not below its minimum. It has
 * them from here on. The change must suffice. */
void change_thin(struct basket_change *change, size_t purchase);
/* The same for all purchases of a part, the dearest first. */
void change_thin_part(struct basket_change *change, uint32_t part);
/* Prices what is there: total and price, holds. Nobody has asked yet whether it suffices. */
LB_CHECK lb_status change_price(struct basket_change *change, struct lb_error *err);

#endif
