/* The sections of the kit's text, shared between its files only; everyone else takes report/kit_text.h.
 * A section that has nothing to say appends nothing. */
#ifndef LB_REPORT_KIT_PAGE_H
#define LB_REPORT_KIT_PAGE_H

#include "report/kit_text.h"

struct lb_page {
    struct lb_buf *out;
    const struct lb_kit *kit;
    const struct lb_style *style;
};

/* Fragments. */
void lb_page_heading(const struct lb_page *page, const char *heading);
/* A sentence, indented and wrapped. */
void lb_page_say(const struct lb_page *page, enum lb_tone tone, const char *format, ...) LB_PRINTF(3, 4);
void lb_page_print(const struct lb_page *page, struct lb_table *table); /* and frees it */
/* "4" for pieces, "3.6 L" and "150 mL" else. */
void lb_page_amount(struct lb_buf *out, int64_t quantity, const char *unit);
void lb_page_plain(struct lb_buf *out, const char *name); /* hyphens as blanks: "brake fluid" */
void lb_page_money(struct lb_buf *out, int64_t minor, const char *currency); /* "12.50 EUR" */

/* Sections, in the order of the page. */
void lb_page_lines(const struct lb_page *page);
void lb_page_spares(const struct lb_page *page);
void lb_page_suggestions(const struct lb_page *page);
void lb_page_teardown(const struct lb_page *page);
void lb_page_order(const struct lb_page *page);
void lb_page_torques(const struct lb_page *page);
void lb_page_tools(const struct lb_page *page);
void lb_page_inspect(const struct lb_page *page);
void lb_page_cautions(const struct lb_page *page);
void lb_page_cost(const struct lb_page *page);

#endif
