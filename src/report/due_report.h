/* What is due, for people and for scripts.
 *
 *     lb_report_due(&out, due, 365, today, &style);
 *     json_t *object = lb_report_due_json(due);      // one vehicle; NULL: out of memory
 */
#ifndef LB_REPORT_DUE_REPORT_H
#define LB_REPORT_DUE_REPORT_H

#include "kit/due.h"
#include "report/json.h"
#include "report/table.h"

/* due_text.c; `within` and `today` as the due was made with. */
void lb_report_due(struct lb_buf *out, const struct lb_due *due, int32_t within, int32_t today,
                   const struct lb_style *style);
/* due_json.c: {vehicle, rate_km_per_day|null, odometer:{km,on}|null, due:[…], together:[…]} */
json_t *lb_report_due_json(const struct lb_due *due);

#endif
