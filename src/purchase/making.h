/* A purchase in the making: what the steps of lb_purchase_make share. Private to purchase/. */
#ifndef LB_PURCHASE_MAKING_H
#define LB_PURCHASE_MAKING_H

#include "base/arena.h"
#include "base/names.h"
#include "base/vec.h"
#include "garage/preference.h"
#include "garage/shelf.h"
#include "kit/pool.h"
#include "purchase/parts.h"

/* What is known of an option beside what the market says of it. */
struct making_option {
    const struct lb_gap *gaps; /* lb_kit_judge */
    size_t gap_count;
    bool supplied; /* suppliers and shelf have enough for it, whatever the limits say */
};

struct making {
    struct lb_purchase purchase; /* first: what is handed out */
    struct lb_arena arena;
    struct lb_store *store;
    const struct lb_purchase_options *options;
    struct lb_error *err;
    struct lb_shelf shelf;
    struct lb_preferences preferences;
    LB_VEC(struct lb_kit *) kits;
    /* Suppliers are one by their folded names, parts by their keys, over all kits. */
    struct lb_names supplier_names, part_keys;
    LB_VEC(struct lb_supplier) suppliers;
    uint32_t **supplier_ids; /* by kit and the kit's supplier: the market's */
    LB_VEC(struct lb_basket_part) goods;
    LB_VEC(const struct lb_part *) parts;
    LB_VEC(const struct lb_part_offer *const *) offers;
    LB_VEC(struct lb_basket_need) wants;
    LB_VEC(struct lb_purchase_need) needs;
    LB_VEC(struct making_option *) facts; /* by need, then option */
    LB_VEC(struct lb_basket_content) contents;
    LB_VEC(struct lb_purchase_gap) gaps;
    struct lb_basket_limits limits;
    bool *closed;
};

/* market_goods.c: suppliers, rates, the currency; then parts as needs ask for them. */
LB_CHECK lb_status making_suppliers(struct making *m);
LB_CHECK lb_status making_part(struct making *m, uint32_t kit, const struct lb_part *part, uint32_t *index);
/* The market's supplier of that name or label, or LB_NO_NAME. */
uint32_t making_find_supplier(const struct making *m, const char *name);
/* market.c: the lines to buy as needs, with their options; what the owner prefers; then the market is whole
 * but for boxes. */
LB_CHECK lb_status making_needs(struct making *m);
LB_CHECK lb_status making_boxes(struct making *m); /* market_boxes.c */
bool making_boxes_may_cover(const struct making *m, size_t need);
/* limits.c: what was asked for. LB_DATA: no such supplier. */
LB_CHECK lb_status making_limits(struct making *m);
/* gaps.c. `message` lives as long as the purchase or is copied by making_words. */
LB_CHECK lb_status making_gap(struct making *m, uint32_t kit, int line, const char *code,
                              const char *message);
/* Text that lives as long as the purchase; NULL: m->err is filled. Empties `words`. */
const char *making_words(struct making *m, struct lb_buf *words);
/* Lines that nothing can answer, whatever is asked for: then the purchase is blocked. */
LB_CHECK lb_status making_stuck(struct making *m);
/* The same for what boxes might have covered, once it is known that they do not; *any: there is some. */
LB_CHECK lb_status making_stuck_boxed(struct making *m, bool *any);
/* What is to be settled before ordering: of the basket, or, when there is none, of the kits. */
LB_CHECK lb_status making_questions(struct making *m);
LB_CHECK lb_status making_hand_gaps(struct making *m); /* sorted */
/* obstacles.c: there is no basket although every line could be had: what stands in the way. */
LB_CHECK lb_status making_obstacles(struct making *m);

#endif
