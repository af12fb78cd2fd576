/* What the parcels of a kit cost, by purpose. Private to report/ and its tests. */
#ifndef LB_REPORT_DRAW_COST_H
#define LB_REPORT_DRAW_COST_H

#include "kit/kit.h"

enum { DRAW_PURPOSES = LB_MISSED_BEFORE + 1 };

/* Adds up, in minor units, the goods of all parcels in that currency by the reason of the lines that they are
 * bought for. A part that several lines ask for counts for each by what it has still to buy, to the minor
 * unit, so that the sums are the goods of the basket's total in that currency. */
void draw_cost_purposes(const struct lb_kit *kit, const char *currency, int64_t sums[DRAW_PURPOSES]);

#endif
