/* A vehicle's log, for people and for scripts; newest first.
 *
 *     lb_report_log(&out, &log, "maggie", 0, &style);
 *     json_t *object = lb_report_log_json(&log, "maggie");      // NULL: out of memory
 */
#ifndef LB_REPORT_LOG_REPORT_H
#define LB_REPORT_LOG_REPORT_H

#include "garage/service_log.h"
#include "report/json.h"
#include "report/table.h"

/* `line`: by its number, that one alone; 0: all. */
void lb_report_log(struct lb_buf *out, const struct lb_log *log, const char *vehicle, int64_t line,
                   const struct lb_style *style);
/* {version, vehicle, log:[{entry, on, km|null, done|null, components, parts, batch|null, note|null,
 * swapped}]}; batch: that of all parts, when it is one. */
json_t *lb_report_log_json(const struct lb_log *log, const char *vehicle);

#endif
