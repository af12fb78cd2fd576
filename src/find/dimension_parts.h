/* What dimensions.c, dimension_read.c and dimension_words.c share. Private to them. */
#ifndef LB_FIND_DIMENSION_PARTS_H
#define LB_FIND_DIMENSION_PARTS_H

#include "find/dimensions.h"

/* How far a part's dimension is from what is wanted, as a mechanic would weigh it: 0 meets it, 0.01 is a
 * belt or bolt one hundredth longer or shorter; HUGE_VAL: not near. 1 and more: a belt of one rib more or
 * less. */
double lb_dimension_distance(const struct lb_spec *wanted, const struct lb_spec *offered);
/* Appends what is different, "5 mm shorter"; nothing when it meets it. */
void lb_dimension_difference(struct lb_buf *out, const struct lb_spec *wanted, const struct lb_spec *offered);
/* Appends the dimension as it is shown. */
void lb_dimension_show(struct lb_buf *out, const struct lb_spec *spec);

/* The size along which near parts are looked for (length, or an O-ring's inside diameter), and how far. 0: it
 * is left open. */
int32_t lb_dimension_size(const struct lb_spec *spec);
int32_t lb_dimension_reach(const struct lb_spec *wanted);

#endif
