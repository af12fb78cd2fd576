/* How ties are asked about, for ties.c and names.c. Private to basket/. */
#ifndef LB_BASKET_TIES_H
#define LB_BASKET_TIES_H

#include "basket/question.h"

struct basket_tie {
    struct lb_basket **best;
    struct basket_question question; /* the original's, with the price as cutoff and floor */
    double until;
    bool open; /* some question was not answered in time: what comes after it cannot be told */
};

/* Asks what tie->question says; *other NULL: nothing was found, and when that is not proved the tie is open.
 * Else it is the caller's, or basket_take_tie's. */
LB_CHECK lb_status basket_ask_tie(struct basket_tie *tie, struct lb_basket **other, struct lb_error *err);
/* It is as cheap as the best, and becomes it. */
void basket_take_tie(struct basket_tie *tie, struct lb_basket *other);

/* names.c. The last of the ties; number of parcels and arrival are settled. */
LB_CHECK lb_status basket_first_names(struct basket_tie *tie, struct lb_error *err);

#endif
