/* What the page of what is due is put together from. Shared between due_text.c and due_rows.c only; everyone
 * else takes report/due_report.h. */
#ifndef LB_REPORT_DUE_PAGE_H
#define LB_REPORT_DUE_PAGE_H

#include "kit/due.h"
#include "report/page.h"

struct due_page {
    struct lb_page page;
    const struct lb_due *due;
    const char *vehicle; /* its name, as a command takes it */
    int32_t within, today;
};

/* "152300 km" */
void due_put_km(struct lb_buf *out, int64_t km);
/* due_rows.c: the items of one state below a heading, nothing when there are none; how many they are. */
size_t due_put_state(const struct due_page *page, enum lb_due_state state, const char *heading);

#endif
