/* The two ways to choose what is asked first. Private to plan/. Both write candidates of `lines` into `out`
 * (room for all of them) and return how many; SIZE_MAX: out of memory. */
#ifndef LB_PLAN_ASK_FIRST_H
#define LB_PLAN_ASK_FIRST_H

#include "plan/open_lines.h"

enum { ASK_EXACT_MOST = 15 };

/* The smallest set in its best order: the least sum, over the steps on the way, of lines not settled yet;
 * then the fewest of them after the first step, and so on; then by names. At most ASK_EXACT_MOST candidates.
 */
size_t ask_first_exact(struct open_lines *lines, uint32_t *out);
/* A set none of whose facts can be left out, each time what settles most lines next. */
size_t ask_first_greedy(struct open_lines *lines, uint32_t *out);

#endif
