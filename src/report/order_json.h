/* What came of `order`, for programs: {"version":1, kits, outcome, orders, off_shelf, gaps, moved, changes}.
 *
 *     cli_print_json(cli, lb_report_order_json(order));
 */
#ifndef LB_REPORT_ORDER_JSON_H
#define LB_REPORT_ORDER_JSON_H

#include "purchase/order.h"

#include <jansson.h>

/* A new reference; NULL: out of memory. Orders and files are there once it is placed. */
json_t *lb_report_order_json(const struct lb_order *order);

#endif
