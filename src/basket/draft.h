/* A basket found by hand: suppliers closed and opened, lines moved about, surplus added where it pays, until
 * nothing gets better. Good, not proved: what the solver begins with and prunes by. Private to basket/. */
#ifndef LB_BASKET_DRAFT_H
#define LB_BASKET_DRAFT_H

#include "basket/problem.h"

enum { DRAFT_OFFERS = 3, DRAFT_PLANS = 48 };

/* One way to buy so much of a part. */
struct draft_plan {
    size_t offers[DRAFT_OFFERS]; /* the problem's; those without packs are nothing */
    int64_t packs[DRAFT_OFFERS];
    double cost; /* goods with tax, converted */
};

/* The cheapest ways to buy `quantity` of a part, whoever is allowed, the cheapest first. */
struct draft_list {
    int64_t quantity;
    size_t count;
    struct draft_plan plans[DRAFT_PLANS];
};

struct draft_settings {
    bool *allowed;
    uint32_t *options, *pins;
};

struct draft {
    const struct basket_problem *problem;
    bool *allowed;     /* by supplier */
    uint32_t *options; /* by need */
    uint32_t *pins;    /* by part: the plan of its list; UINT32_MAX: the cheapest that is allowed */
    /* What comes of these: */
    bool possible;    /* without faults */
    int faults;       /* needs unmet, parts not to be had, parcels that cannot be sent or are too many */
    int64_t price;    /* total and premiums, in the market's currency; with faults of what there is */
    int64_t *wanted;  /* by part: to be bought */
    int64_t *goods;   /* by supplier, in its currency */
    bool *sends;      /* by supplier: a parcel, be it of goods that cost nothing */
    int64_t *packs;   /* by the problem's offers */
    int64_t *poured;  /* by content and cover, in order */
    int64_t *covered; /* by need */
    /* Kept from one look to the next. */
    struct draft_list *lists; /* by part */
    struct draft_settings kept;
    double *dear; /* by supplier: what a minor unit of goods costs with tax, converted */
};

/* Where to begin: everybody allowed, each need answered where it is cheapest by itself. Nothing is priced
 * yet. The memory is `arena`'s. */
LB_CHECK lb_status basket_draft(struct draft *draft, const struct basket_problem *problem,
                                struct lb_arena *arena, struct lb_error *err);
/* Improves from the suppliers, options and pins that are set; true: it is possible and cheaper than before,
 * and packs and price are its. */
bool basket_draft_improve(struct draft *draft);
/* Improves from so many other beginnings, the same ones every time, and keeps the best. */
void basket_draft_shake(struct draft *draft, int times);

/* draft_price.c. Prices what is set. With `exactly`, surplus is chosen pack by pack and packs are filled;
 * else it is taken to fill every gap to the cent. */
void draft_price(struct draft *draft, bool exactly);
/* draft_wants.c: opens boxes and fills wanted, covered and poured; adds premiums to the price, and faults. */
void draft_want(struct draft *draft);
/* draft_parcels.c: adds what the supplier's parcel costs to the price, or a fault. */
void draft_price_parcel(struct draft *draft, uint32_t supplier, bool exactly);
/* draft_plan.c: the list for a part and so much of it. */
const struct draft_list *draft_list(struct draft *draft, uint32_t part, int64_t quantity);
bool draft_plan_allowed(const struct draft *draft, const struct draft_plan *plan);

#endif
