/* What was ordered: recorded, received, still on its way, deposits to be claimed back. Quantities are
 * millionths of the unit that the part is counted in, money is minor units.
 *
 *     struct lb_arrival arrival = {.line = line, .quantity = 10 * LB_MILLION};
 *     status = lb_orders_receive(&receipts, store, kit, &arrival, 1, LB_CAME_WELL, now, &err);
 *     … receipts.at[0]->to_line, receipts.at[0]->to_shelf
 *     lb_receipts_free(&receipts);
 */
#ifndef LB_PURCHASE_ORDERS_H
#define LB_PURCHASE_ORDERS_H

#include "base/date.h"
#include "kit/fleet.h"
#include "purchase/purchase.h"

/* One order a parcel, and what the basket takes off the shelf: taken, and here for its lines. Inside the
 * caller's transaction. files (may be NULL): by parcel, where its files wait for their names (order_file.h).
 * `now`: seconds since 1970-01-01, UTC. The purchase has a basket. */
LB_CHECK lb_status lb_orders_record(struct lb_store *store, const struct lb_purchase *purchase,
                                    const char *const *files, int64_t now, struct lb_error *err);

enum lb_came { LB_CAME_WELL, LB_CAME_WRONG, LB_CAME_DAMAGED, LB_CAME_SHORT };

/* Which order something was counted against. */
struct lb_receipt_order {
    const char *supplier, *ordered; /* as people call it; UTC, ISO 8601 */
    int64_t quantity;
};

/* Who else was waiting for it. */
struct lb_receipt_other {
    const char *kit;
    int line; /* of the kit that was named; 0: of another one */
    int64_t quantity;
};

struct lb_receipt {
    int line;                          /* that was named; 0: a whole parcel was */
    const char *brand, *number, *unit; /* as ordered */
    int64_t quantity;                  /* all of what is told below */
    const struct lb_receipt_order *orders;
    const struct lb_receipt_other *others;
    size_t order_count, other_count;
    int64_t to_line, to_shelf; /* of what came well */
    int64_t taken_back; /* wrong or damaged: of what had been taken for good before, the rest of it was not */
};

/* What came for a line, as the owner says it. */
struct lb_arrival {
    const struct lb_line *line; /* of the kit */
    const char *brand, *number; /* which part, when several were ordered for the line; NULL: the chosen one */
    int64_t quantity;           /* above 0 */
};

struct lb_receipts {
    struct lb_receipt **at; /* as they were named; of a parcel, as they were ordered */
    size_t count;
};

/* Counts what came for lines against the open orders of their parts, oldest first, those for the line before
 * others; in one transaction: all of them or none. LB_CAME_SHORT: so much will not come. Wrong and damaged
 * beyond what is on its way is taken from what came before. What nobody wants goes on the shelf. LB_DATA:
 * nothing of it is on its way, or less than came; nothing is recorded then. */
LB_CHECK lb_status lb_orders_receive(struct lb_receipts *out, struct lb_store *store,
                                     const struct lb_kit *kit, const struct lb_arrival *arrivals,
                                     size_t count, enum lb_came how, int64_t now, struct lb_error *err);
/* The same for all that is still to come of the order to a supplier (as rows or people call it) in which
 * something is for the kit, what it brings for other kits included. `ordered`: on which days; with open ends,
 * LB_DATA when several orders are open. LB_DATA: none is. */
LB_CHECK lb_status lb_orders_receive_parcel(struct lb_receipts *out, struct lb_store *store,
                                            const struct lb_kit *kit, const char *supplier,
                                            struct lb_interval ordered, enum lb_came how, int64_t now,
                                            struct lb_error *err);
/* The same for a fleet (kit/fleet.h): lines of several kits, arrivals[i] for one of fleet->kits[kits[i]], all
 * of them or none; out: by kit, fleet->kit_count of them. And for an order in which something is for any of
 * them; the first kit counts as the one that was named. */
LB_CHECK lb_status lb_fleet_receive(struct lb_receipts *out, struct lb_store *store,
                                    const struct lb_fleet *fleet, const struct lb_arrival *arrivals,
                                    const size_t *kits, size_t count, enum lb_came how, int64_t now,
                                    int32_t today, struct lb_error *err);
LB_CHECK lb_status lb_fleet_receive_parcel(struct lb_receipts *out, struct lb_store *store,
                                           const struct lb_fleet *fleet, const char *supplier,
                                           struct lb_interval ordered, enum lb_came how, int64_t now,
                                           struct lb_error *err);
void lb_receipts_free(struct lb_receipts *receipts);

/* Something that was ordered for a kit and has not come. */
struct lb_on_way {
    int line; /* number; 0: the kit does not need it any more */
    const char *brand, *number, *unit;
    int64_t quantity;
    const char *supplier, *ordered;
    int32_t expected; /* day; LB_NO_DAY: nobody says */
};

/* Deposits that are open since the packs came. */
struct lb_deposit {
    const char *supplier, *brand, *number;
    int64_t packs, amount;        /* amount: of all of them */
    const char *currency, *since; /* UTC, ISO 8601 */
    const char *kits;             /* "saturday 11, bertha 4": what they came for */
};

/* A list with the memory that it lives in. */
struct lb_on_way_list {
    struct lb_arena texts;
    struct lb_on_way *at; /* by line, then by order */
    size_t count;
};
struct lb_deposit_list {
    struct lb_arena texts;
    struct lb_deposit *at; /* by supplier, then by order */
    size_t count;
};

LB_CHECK lb_status lb_orders_on_way(struct lb_on_way_list *out, struct lb_store *store,
                                    const struct lb_kit *kit, struct lb_error *err);
void lb_on_way_free(struct lb_on_way_list *list);
/* `today` is for opening the kits, to number their lines. */
LB_CHECK lb_status lb_deposits(struct lb_deposit_list *out, struct lb_store *store, int32_t today,
                               struct lb_error *err);
/* The deposits of a kit's line (NULL: of all lines) were given back; *out tells which. LB_DATA: none is open.
 */
LB_CHECK lb_status lb_deposits_claim(struct lb_deposit_list *out, struct lb_store *store,
                                     const struct lb_kit *kit, const struct lb_line *line, int32_t today,
                                     struct lb_error *err);
/* The same for a fleet: of one of its kits' lines, or of all kits. */
LB_CHECK lb_status lb_fleet_claim(struct lb_deposit_list *out, struct lb_store *store,
                                  const struct lb_fleet *fleet, size_t kit, const struct lb_line *line,
                                  int32_t today, struct lb_error *err);
void lb_deposits_free(struct lb_deposit_list *list);

#endif
