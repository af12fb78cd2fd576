/* The state of an exhaustive search. Private to it. */
#ifndef TESTS_MARKET_BRUTE_HUNT_H
#define TESTS_MARKET_BRUTE_HUNT_H

#include "market/brute_price.h"

enum { BRUTE_OPEN = -1, BRUTE_FINE = 840, BRUTE_WAYS = 4096 };

struct brute_priced {
    bool usable;
    int64_t price; /* a pack, in the seller's currency */
    int64_t days;
    double least; /* what a 1/BRUTE_FINE of a millionth costs at least, in the market's currency */
};

struct brute_hunt {
    const struct lb_market *market;
    const struct lb_basket_limits *limits;
    struct brute_seller sellers[BRUTE_SUPPLIERS];
    struct brute_priced priced[BRUTE_PARTS][BRUTE_OFFERS];
    int64_t grain;                /* in which boxes are handed out, millionths */
    int option[BRUTE_NEEDS];      /* or BRUTE_OPEN: not chosen yet */
    int64_t covered[BRUTE_NEEDS]; /* from boxes, millionths of the need */
    int64_t want[BRUTE_PARTS];    /* to be bought, in 1/BRUTE_FINE of a millionth */
    int64_t wish[BRUTE_PARTS];    /* the same before boxes and shelf */
    bool asked[BRUTE_PARTS];      /* some need is answered by it, or it is of use */
    bool of_use[BRUTE_PARTS];     /* a box with something in it that asks for no opener */
    bool box[BRUTE_PARTS];        /* has contents, so its packs are settled first */
    int64_t boxes_of_use[BRUTE_PARTS];
    int64_t packs[BRUTE_PARTS][BRUTE_OFFERS];
    int64_t goods[BRUTE_SUPPLIERS];
    int lines[BRUTE_SUPPLIERS];
    int surplus; /* packs: none at first, to have something good early */
    struct brute_basket best;
};

/* Aborts: the market is beyond what this search can do. */
void brute_must(bool holds);
int64_t brute_divisor(int64_t a, int64_t b);
/* Takes so many packs of an offer into the basket, or back out of it (negative). */
void brute_take(struct brute_hunt *hunt, size_t part, size_t offer, int64_t packs);
/* Can what is in the basket, with `more` for what is still to be bought, be as good as the best so far? */
bool brute_may_win(const struct brute_hunt *hunt, double more);
/* All options are chosen: the boxes, what they cover, then the rest (brute_buy). brute_boxes.c */
void brute_open_boxes(struct brute_hunt *hunt);
/* What the boxes cover is settled, and so is what is to be bought: `want`. brute_buy.c */
void brute_buy(struct brute_hunt *hunt);
/* At most so many packs of an offer when so much is wanted of its part: what covers it, or its minimum, and
 * the surplus. */
int64_t brute_most_packs(const struct brute_hunt *hunt, const struct lb_basket_offer *offer, int64_t want);
/* In packs and in 1/BRUTE_FINE of a millionth. */
int64_t brute_bought(const struct brute_hunt *hunt, size_t part);

#endif
