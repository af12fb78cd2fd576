/* The sections of the text of `buy`, shared between its files only; everyone else takes report/buy_text.h.
 * A section that has nothing to say appends nothing. */
#ifndef LB_REPORT_BUY_PAGE_H
#define LB_REPORT_BUY_PAGE_H

#include "purchase/uses.h"
#include "report/buy_facts.h"
#include "report/page.h"

struct buy_page {
    struct lb_page page;
    const struct lb_purchase *purchase;
    const struct lb_purchase_options *asked;
    const struct lb_uses *uses; /* of the basket; none without one, NULL below the totals */
};

/* Fragments. */
void buy_put_money(struct lb_buf *out, const struct buy_page *page, int64_t minor); /* "12.50 EUR" */
/* "17.60 dearer", "0.40 cheaper", "as dear"; in the currency that baskets are compared in. */
void buy_put_dearer(struct lb_buf *out, const struct buy_page *page, int64_t minor);
/* "11", and with several kits "saturday 11". */
void buy_put_line(struct lb_buf *out, const struct lb_purchase *purchase, size_t need);
/* The lines that a part is for, and what they are: "11 water-pump". */
void buy_put_for(struct lb_buf *out, const struct buy_page *page, uint32_t part);

/* Sections of a basket, in the order of the page. */
void buy_parcels(const struct buy_page *page);
void buy_here(const struct buy_page *page); /* what comes from the shelf and from boxes */
void buy_totals(const struct buy_page *page);
void buy_front(const struct buy_page *page);
void buy_reasons(const struct buy_page *page);

#endif
