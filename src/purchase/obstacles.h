/* What may keep a market without a basket from having one. Private to purchase/obstacles*.c. */
#ifndef LB_PURCHASE_OBSTACLES_H
#define LB_PURCHASE_OBSTACLES_H

#include "purchase/making.h"

#define PURCHASE_NO_BASKET "no-basket"

enum {
    OBSTACLE_DAY = 1,       /* --arrive-by */
    OBSTACLE_PARCELS = 2,   /* --suppliers-at-most */
    OBSTACLE_CLOSED = 4,    /* --only, --without */
    OBSTACLE_MINIMUM = 8,   /* minimum orders */
    OBSTACLE_SHIPPING = 16, /* shipping tables that begin late */
    OBSTACLE_STOCK = 32,    /* what suppliers have */
    OBSTACLE_END = 64,
};

/* The basket under these limits with some of it left out; no longer than a second. */
LB_CHECK lb_status obstacles_ask(struct making *m, unsigned without, const struct lb_basket_limits *limits,
                                 struct lb_basket **out);
/* obstacles_tell.c: a gap for everything that keeps this basket, found without `without`, from being one. */
LB_CHECK lb_status obstacles_tell(struct making *m, unsigned without, const struct lb_basket *basket);
/* obstacles_line.c: lines that nothing answers within what was asked for, each by itself; *any: there is. */
LB_CHECK lb_status obstacles_by_line(struct making *m, bool *any);

#endif
