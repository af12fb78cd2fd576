/* From packs and options to answers, in integers and by the market's own rules: whether what was bought meets
 * every need, whatever solver says so. Private to basket/. */
#ifndef LB_BASKET_ANSWERS_H
#define LB_BASKET_ANSWERS_H

#include "basket/parcels.h"

struct basket_solution {
    struct basket_purchase *purchases; /* each offer once */
    size_t purchase_count;
    uint32_t *options; /* by need */
    int64_t *covers;   /* wished for: by content and cover, in order */
    size_t cover_count;
};

/* What a solution comes to. */
struct basket_ledger {
    const struct lb_market *market;
    const struct basket_solution *solution;
    uint32_t without; /* a need that is left out of account; UINT32_MAX: none is */
    int64_t *units;   /* by part: what is left of what was bought and is on the shelf; below 0: is missing */
    int64_t *covered; /* by need, from boxes */
    int64_t *poured;  /* by content and cover: where it came from */
    struct lb_basket_answer *answers; /* by need */
};

LB_CHECK lb_status basket_ledger(struct basket_ledger *out, const struct lb_market *market,
                                 const struct basket_solution *solution, struct lb_arena *arena,
                                 struct lb_error *err);
/* Fills it from what the solution is by now; true: all needs are met. */
bool basket_settle(struct basket_ledger *ledger);

/* No parcel breaks a rule of its supplier. */
bool basket_parcels_hold(const struct lb_basket *basket);
int64_t basket_premium(const struct lb_market *market, const uint32_t *options);

/* Fills answers and premium of a basket whose parcels are there; *met is false when some need is not met or
 * a parcel breaks a rule of its supplier. */
LB_CHECK lb_status basket_answers(struct basket_build *build, const struct lb_market *market,
                                  const struct basket_solution *solution, bool *met, struct lb_error *err);

#endif
