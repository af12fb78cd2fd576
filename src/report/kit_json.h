/* The kit as the JSON object that `kit show --json` promises (formats.md §5, "kit show"); what stands here
 * beside the promised members may change.
 *
 *     json_t *object = lb_report_kit_json(kit);      // NULL: out of memory
 *     lb_report_json_dump(&out, object);
 *     json_decref(object);
 */
#ifndef LB_REPORT_KIT_JSON_H
#define LB_REPORT_KIT_JSON_H

#include "kit/kit.h"
#include "report/json.h"

json_t *lb_report_kit_json(const struct lb_kit *kit);
/* What the lines to buy cost: {parcels, totals, unmet}. */
json_t *lb_report_cost_json(const struct lb_kit *kit);

#endif
