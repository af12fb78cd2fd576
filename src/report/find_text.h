/* What was found, for people: how the words were taken, then a part a row, then how much more there is. When
 * there is nothing, what to try.
 *
 *     struct lb_find_view view = {.query = "rad hose uper", .vehicle = "maggie", .limit = 10};
 *     lb_report_find(&out, result, &view, &style);
 *     if (out.failed) …                      // out of memory
 */
#ifndef LB_REPORT_FIND_TEXT_H
#define LB_REPORT_FIND_TEXT_H

#include "find/find.h"
#include "report/table.h"

/* What was asked for, as far as the page tells of it. */
struct lb_find_view {
    const char *query;
    const char *vehicle; /* NULL: none was given */
    int limit;           /* as in the request */
    bool all;            /* as in the request */
    bool why;            /* the reasons below each part */
};

void lb_report_find(struct lb_buf *out, const struct lb_find_result *result, const struct lb_find_view *view,
                    const struct lb_style *style);

#endif
