/* What each part of a basket is for: so much of it answers this need, so much that one, and what its boxes
 * hold covers others. A basket tells of a need only how much of it boxes cover; from which is found out here.
 * `part` and `need` are indices of the purchase's market.
 *
 *     struct lb_uses uses;
 *     status = lb_uses_find(&uses, purchase, &err);
 *     if (lb_uses_serves(&uses, purchase, need, part)) …
 *     lb_uses_free(&uses);
 */
#ifndef LB_PURCHASE_USES_H
#define LB_PURCHASE_USES_H

#include "base/vec.h"
#include "purchase/purchase.h"

/* So much of a part goes to one need. */
struct lb_use_share {
    uint32_t need;
    int64_t quantity;
    bool beside; /* goes together with the part that answers the need */
};

struct lb_use {
    LB_VEC(struct lb_use_share) shares;
    int64_t total;      /* of the shares */
    int64_t from_shelf; /* of the total: what lies there is used first */
};

/* So much of a need is in the boxes of a part. */
struct lb_use_holding {
    uint32_t need, part;
    int64_t quantity;
};

struct lb_uses {
    struct lb_use *parts; /* by market part */
    size_t part_count;
    LB_VEC(struct lb_use_holding) holdings;
};

/* The purchase has a basket. Free it in any case. */
LB_CHECK lb_status lb_uses_find(struct lb_uses *out, const struct lb_purchase *purchase,
                                struct lb_error *err);
void lb_uses_free(struct lb_uses *uses);
/* Is the need answered with this part, with its boxes or with what goes together with it? Needs that boxes
 * cover beside what they were bought for are not; they are in `holdings`. */
bool lb_uses_serves(const struct lb_uses *uses, const struct lb_purchase *purchase, size_t need,
                    uint32_t part);

#endif
