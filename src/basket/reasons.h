/* Why this basket: what another choice would cost. Amounts are minor units of market->currency and compare
 * what is paid (total.total), without premiums; they may be negative where a premium decided.
 *
 *     struct lb_reasons *reasons;
 *     status = lb_reasons_solve(&reasons, &market, &limits, basket, &err);
 *     lb_reasons_free(reasons);
 */
#ifndef LB_BASKET_REASONS_H
#define LB_BASKET_REASONS_H

#include "basket/basket.h"

/* A need that is bought: its next best part or supplier, everything else left as it is. */
struct lb_next_best {
    uint32_t need;
    bool found;             /* false: nothing else would do, or no supplier has it */
    uint32_t option, offer; /* of the need; of the option's part, UINT32_MAX when there is enough of it */
    int64_t packs, dearer;  /* packs more of that offer than would be bought without the need */
};

/* A supplier of the basket: the cheapest basket without it. */
struct lb_without {
    uint32_t supplier;
    bool found, proved; /* not found and proved: it cannot be done without this supplier */
    int64_t dearer;
};

/* A supplier of the basket whose next row of shipping costs less: the fewest, then cheapest packs of one line
 * of its parcel that get there. */
struct lb_one_more {
    uint32_t supplier, part, offer;
    int64_t packs;
    int64_t charge; /* that row's, of the supplier's currency; 0: free */
    int64_t dearer; /* all in all */
};

/* An offer of the basket of which more is bought than is needed although fewer packs would do: they pay by
 * themselves. */
struct lb_surplus {
    uint32_t part, offer;
    int64_t packs; /* more than needed */
    int64_t saves; /* against the same basket without them; -1: without them there is no parcel */
};

struct lb_reasons {
    const struct lb_next_best *next;    /* by need */
    const struct lb_without *without;   /* by supplier name */
    const struct lb_one_more *one_more; /* by supplier name */
    const struct lb_surplus *surplus;   /* by part */
    size_t next_count, without_count, one_more_count, surplus_count;
};

/* `basket` must be found. limits->seconds is for all of it; what is not proved by then says so. */
LB_CHECK lb_status lb_reasons_solve(struct lb_reasons **out, const struct lb_market *market,
                                    const struct lb_basket_limits *limits, const struct lb_basket *basket,
                                    struct lb_error *err);
void lb_reasons_free(struct lb_reasons *reasons);

#endif
