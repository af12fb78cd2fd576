/* What is to be bought, for people: what it costs and whether that is proved, what is to be settled first,
 * then parcel by parcel what comes and when, and what other choices would cost.
 *
 *     struct lb_buf out = {0};
 *     lb_report_buy(&out, purchase, &options, &style);
 *     if (out.failed) …                      // out of memory
 */
#ifndef LB_REPORT_BUY_TEXT_H
#define LB_REPORT_BUY_TEXT_H

#include "purchase/purchase.h"
#include "report/table.h"

/* `asked` as it was for lb_purchase_make: the page repeats its limits. */
void lb_report_buy(struct lb_buf *out, const struct lb_purchase *purchase,
                   const struct lb_purchase_options *asked, const struct lb_style *style);
/* The same page in two parts: down to the totals, which may be shown while lb_purchase_compare works; then
 * what came of that, nothing when nothing did. */
void lb_report_buy_basket(struct lb_buf *out, const struct lb_purchase *purchase,
                          const struct lb_purchase_options *asked, const struct lb_style *style);
void lb_report_buy_choices(struct lb_buf *out, const struct lb_purchase *purchase,
                           const struct lb_purchase_options *asked, const struct lb_style *style);

#endif
