/* What catalogues said and say no more, in words.
 *
 *     lb_former_say(&out, &part->former[0]);   // "offers.csv listed it until 2026-11-20: 41.50 EUR for 10,
 * The Barn" lb_former_say_lost(&out, part, "", "; "); // "The Barn offered it until 2026-11-20 at 41.50 EUR
 * (offers.csv)"
 */
#ifndef LB_KIT_FORMER_H
#define LB_KIT_FORMER_H

#include "kit/kit.h"

/* Appends one row as a sentence without a full stop. */
void lb_former_say(struct lb_buf *out, const struct lb_former *former);
/* Appends what a part lost that it does not have otherwise: its last offer when none is live, its last parts
 * row when no catalogue describes it. The first begins with `first`, another
 * with `next`. Nothing when it lost nothing. */
void lb_former_say_lost(struct lb_buf *out, const struct lb_part *part, const char *first, const char *next);
/* The newest row of a kind, or NULL. */
const struct lb_former *lb_former_last(const struct lb_part *part, const char *kind);
/* The row that let a part fit the kit's vehicle, or else described it while nothing does now; NULL: none. */
const struct lb_former *lb_former_fit(const struct lb_part *part);

#endif
