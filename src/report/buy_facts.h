/* What follows from a purchase and is not written in it: on which day a parcel comes, what might
 * still be saved; what each part is for is in purchase/uses.h. Shared between the files that show a purchase;
 * nothing is computed that would change it. `part`, `offer` and `need` are indices of its market. */
#ifndef LB_REPORT_BUY_FACTS_H
#define LB_REPORT_BUY_FACTS_H

#include "purchase/purchase.h"

/* There is something to show besides gaps. */
bool lb_buy_found(const struct lb_purchase *purchase);
/* So many days from today; what lies beyond the calendar is its last day. */
int32_t lb_buy_day(const struct lb_purchase *purchase, int64_t days);
/* The day of some of its parcels is not stated, so it may be later. */
bool lb_buy_late(const struct lb_basket *basket);
/* The owner prefers some options to others, and pays for it. */
bool lb_buy_prefers(const struct lb_purchase *purchase);
/* What can still be saved as far as nobody has proved the contrary, minor units of the market's currency; 0:
 * it is proved. */
int64_t lb_buy_slack(const struct lb_basket *basket);
/* The front by total with the basket itself in its place: front->count and one. */
const struct lb_basket *lb_buy_point(const struct lb_purchase *purchase, size_t at);

/* What the part is counted in: as a line that it may answer; a box or a companion: "each". */
const char *lb_buy_unit(const struct lb_purchase *purchase, uint32_t part);
/* Some of it on the shelf comes from a container that was opened. */
bool lb_buy_opened(const struct lb_purchase *purchase, uint32_t part);
const struct lb_supplier *lb_buy_supplier(const struct lb_purchase *purchase, uint32_t part, uint32_t offer);

#endif
