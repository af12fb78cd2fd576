/* A purchase as the JSON object that `buy --json` promises (formats.md §5, "buy"); what stands here beside
 * the promised members may change.
 *
 *     json_t *object = lb_report_buy_json(purchase);      // NULL: out of memory
 *     lb_report_json_dump(&out, object);
 *     json_decref(object);
 */
#ifndef LB_REPORT_BUY_JSON_H
#define LB_REPORT_BUY_JSON_H

#include "purchase/purchase.h"
#include "report/json.h"

/* Nothing found: amounts and dates are null, proved is false, parcels and front are empty; the gaps say why.
 * `bound` and `gap` are null when it is proved, `reasons` when nobody asked; `front` is empty, and not
 * complete, when nobody asked for it. Suppliers are as rows refer to them. */
json_t *lb_report_buy_json(const struct lb_purchase *purchase);

#endif
