/* The purchase: kits pooled into one market, and the basket that answers them all. Above kit/ and basket/;
 * what was ordered and what came is in orders.h, what lies on the shelf in garage/shelf.h.
 *
 *     struct lb_purchase *purchase;
 *     struct lb_purchase_options options = {.arrive_by = LB_NO_DAY, .seconds = 10};
 *     status = lb_purchase_make(&purchase, store, names, name_count, &options, today, &err);
 *     if (purchase->blocked) … gaps say what stands in the way
 *     options.front = true; status = lb_purchase_compare(purchase, &options, &err);
 *     lb_purchase_free(purchase);
 */
#ifndef LB_PURCHASE_PURCHASE_H
#define LB_PURCHASE_PURCHASE_H

#include "basket/basket.h"
#include "basket/reasons.h"
#include "garage/shelf.h"
#include "kit/kit.h"

#define LB_NO_DAY INT32_MIN
#define LB_NO_KIT UINT32_MAX

struct lb_purchase_options {
    int32_t arrive_by;     /* day (days since 1970-01-01) of the last parcel; LB_NO_DAY: any */
    int suppliers_at_most; /* 0: any number */
    const char *const *only, *const *without; /* suppliers, as rows or people call them */
    size_t only_count, without_count;
    int workers;         /* threads for the front; 0 is 1 */
    double seconds;      /* for the basket; the front gets as long again, so do the reasons */
    bool front, reasons; /* for lb_purchase_compare only */
};

/* A line of one of the kits, as a need of the market. */
struct lb_purchase_need {
    uint32_t kit; /* index into kits */
    const struct lb_line *line;
    bool beside; /* the line's own part is seen to, so what is asked for is what goes together with it */
    const struct lb_candidate *const *candidates; /* by option */
};

/* What stands in the way, or is to be settled before ordering. */
struct lb_purchase_gap {
    const char *code; /* a gap code of formats.md; "no-basket" for what is wrong with the market as a whole */
    uint32_t kit;     /* LB_NO_KIT: about all of them */
    int line;         /* number; 0: not about one line */
    const char *message;
};

/* What something cost when a basket for the same kits was last shown. */
struct lb_moved {
    const struct lb_part *part;
    const char *supplier; /* label */
    int64_t was, now;     /* a pack; now -1: no longer offered there */
    const char *currency;
};

/* What of the basket cost more or less when one of the kits was locked. */
struct lb_purchase_lock {
    uint32_t kit;                 /* index into kits */
    const char *locked;           /* day, ISO 8601 */
    const struct lb_moved *moved; /* by part; now is never -1 */
    size_t moved_count;
};

struct lb_purchase {
    struct lb_kit *const *kits; /* in the order of the names, each once */
    size_t kit_count;
    const struct lb_shelf *shelf; /* what lies there; NULL: nothing */
    struct lb_market market;
    const struct lb_part *const *parts;               /* by market part */
    const struct lb_part_offer *const *const *offers; /* by market part and offer */
    const struct lb_purchase_need *needs;             /* by market need */
    const struct lb_purchase_gap *gaps;               /* by kit and line, those of no kit at the end */
    size_t gap_count;
    bool blocked; /* some gap leaves no basket: nothing is bought. The other gaps (whether something is needed
                     or fits is not settled) leave a basket that buys on the safe side */
    struct lb_basket *basket;     /* NULL when blocked */
    struct lb_front *front;       /* NULL: not compared, or blocked; without `basket` itself */
    struct lb_reasons *reasons;   /* the same */
    const struct lb_moved *moved; /* since `shown`, by part */
    size_t moved_count;
    const struct lb_purchase_lock *locks; /* of the kits that are locked, by kit */
    size_t lock_count;
    const char *shown; /* UTC, ISO 8601, when a basket for these kits was last shown; NULL: never */
    int32_t today;
};

/* The basket alone. A fleet's name stands for those of its kits. LB_DATA: no such kit or supplier (nearest
 * names). Reads only. */
LB_CHECK lb_status lb_purchase_make(struct lb_purchase **out, struct lb_store *store,
                                    const char *const *names, size_t name_count,
                                    const struct lb_purchase_options *options, int32_t today,
                                    struct lb_error *err);
/* What else could be bought: the front and the reasons, as far as the options ask for them; once a purchase.
 * They take longer than the basket, which can be shown before. Nothing when it is blocked. Needs no store. */
LB_CHECK lb_status lb_purchase_compare(struct lb_purchase *purchase,
                                       const struct lb_purchase_options *options, struct lb_error *err);
void lb_purchase_free(struct lb_purchase *purchase);

/* shown.c: keeps what was shown (options and lines), so that `order` orders that, and the next `buy` can say
 * what has moved. `now`: seconds since 1970-01-01, UTC. Writes, in a transaction of its own. */
LB_CHECK lb_status lb_purchase_note_shown(struct lb_store *store, const struct lb_purchase *purchase,
                                          const struct lb_purchase_options *options, int64_t now,
                                          struct lb_error *err);

#endif
