/* What was found as the JSON object that `find --json` promises (formats.md §5, "find"); what stands here
 * beside the promised members may change.
 *
 *     json_t *object = lb_report_find_json("rad hose uper", result, false);      // NULL: out of memory
 *     lb_report_json_dump(&out, object);
 *     json_decref(object);
 */
#ifndef LB_REPORT_FIND_JSON_H
#define LB_REPORT_FIND_JSON_H

#include "find/find.h"
#include "report/json.h"

/* {version, query, total, total_least, hits, remarks, advice}; `why`: each hit with its reasons. */
json_t *lb_report_find_json(const char *query, const struct lb_find_result *result, bool why);

#endif
