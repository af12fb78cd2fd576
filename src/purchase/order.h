/* Ordering: what `buy` showed last for these kits, or the best basket when it showed none.
 *
 *     status = lb_order_prepare(&order, store, names, name_count, today, &err);
 *     if (order->outcome == LB_ORDER_READY) status = lb_order_place(order, store, "out", NULL, now, &err);
 *     lb_order_free(order);
 */
#ifndef LB_PURCHASE_ORDER_H
#define LB_PURCHASE_ORDER_H

#include "importers/profile.h"
#include "purchase/purchase.h"

enum lb_order_outcome {
    LB_ORDER_READY,     /* may be placed */
    LB_ORDER_NOTHING,   /* nothing is to be bought, nor to be taken off the shelf */
    LB_ORDER_BLOCKED,   /* there is no basket */
    LB_ORDER_UNDECIDED, /* whether something is needed or fits is not settled, and the owner has not decided
                         */
    LB_ORDER_MOVED,     /* it would not buy, or not cost, what was shown */
};

/* What differs from what was shown, beside the prices of purchase->moved. */
struct lb_order_change {
    const char *part;     /* brand and number; as its key has them when nothing of it is in the market */
    const char *supplier; /* label */
    int64_t was, now;     /* packs; 0: none */
    int64_t pack;         /* millionths of `unit` */
    const char *unit;     /* NULL: nothing of it is in the market */
};

struct lb_order {
    enum lb_order_outcome outcome;
    struct lb_purchase *purchase;
    const struct lb_purchase_gap *const
        *gaps; /* LB_ORDER_BLOCKED, LB_ORDER_UNDECIDED: those that stand in the way */
    const struct lb_order_change *changes; /* LB_ORDER_MOVED */
    const struct lb_order_taken *taken;    /* what is taken off the shelf, by part */
    const char *const *stems;              /* once placed, by parcel: files without .csv and .txt */
    size_t gap_count, change_count, taken_count;
    int64_t shown_total; /* LB_ORDER_MOVED: minor units of shown_currency */
    const char *shown_currency;
};

struct lb_order_taken {
    const struct lb_part *part;
    int64_t quantity;
};

/* Does somebody say when it comes? */
static inline bool lb_order_day_known(const struct lb_parcel *parcel)
{
    return !parcel->days_not_stated || parcel->days > 0;
}

/* Solves with the options that were given when it was last shown; else any supplier, any day. Reads only.
 * LB_DATA: no such kit. */
LB_CHECK lb_status lb_order_prepare(struct lb_order **out, struct lb_store *store, const char *const *names,
                                    size_t name_count, int32_t today, struct lb_error *err);
/* Writes the files into `folder`, records the orders and takes off the shelf what it can: all of it or
 * nothing. profile NULL: see order_file.h. LB_DATA: a file of that name is there, or the index was changed
 * since it was prepared. */
LB_CHECK lb_status lb_order_place(struct lb_order *order, struct lb_store *store, const char *folder,
                                  const struct lb_profile *profile, int64_t now, struct lb_error *err);
void lb_order_free(struct lb_order *order);

#endif
