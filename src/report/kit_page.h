/* The sections of the kit's text, shared between its files only; everyone else takes report/kit_text.h.
 * A section that has nothing to say appends nothing. */
#ifndef LB_REPORT_KIT_PAGE_H
#define LB_REPORT_KIT_PAGE_H

#include "report/kit_text.h"
#include "report/page.h"

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
void lb_page_remarks(const struct lb_page *page);

#endif
