/* What the quick answers of find have of the exhaustive ones. */
#ifndef LB_TESTS_FIND_OVERLAP_H
#define LB_TESTS_FIND_OVERLAP_H

#include "find/find.h"

enum { SHOWN = 10 }; /* the hits that count */

struct overlap {
    int asked;
    int queries; /* with an exhaustive hit: the others count for nothing */
    int alike;   /* the first hit is the same, or scores the same */
    int beyond;  /* hits of the quick way that belong into the exhaustive answer and are not there: a fault */
    double share; /* sum of |quick and exhaustive| / |exhaustive| */
    double slow;  /* milliseconds of the exhaustive way, in all */
};

/* Both answers with a limit of SHOWN. A hit that the exhaustive answer has not may stand for one of its last
 * ones if it scores the same, within 1e-9. */
void overlap_add(struct overlap *sum, const struct lb_find_result *quick, const struct lb_find_result *full);
void overlap_join(struct overlap *sum, const struct overlap *more);
void overlap_print(const char *name, const struct overlap *sum);

#endif
