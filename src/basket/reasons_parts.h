/* The parts of lb_reasons_solve. Private to basket/. */
#ifndef LB_BASKET_REASONS_PARTS_H
#define LB_BASKET_REASONS_PARTS_H

#include "basket/change.h"
#include "basket/reasons.h"

/* Reasons with the memory they live in. */
struct reasons_build {
    struct lb_reasons reasons; /* first: what is handed out */
    struct lb_arena arena;
};

/* reasons_next.c, reasons_parcels.c */
LB_CHECK lb_status reasons_next(struct reasons_build *build, struct basket_change *change,
                                struct lb_error *err);
LB_CHECK lb_status reasons_one_more(struct reasons_build *build, struct basket_change *change,
                                    struct lb_error *err);
LB_CHECK lb_status reasons_surplus(struct reasons_build *build, struct basket_change *change,
                                   struct lb_error *err);

#endif
