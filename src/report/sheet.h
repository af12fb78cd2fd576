/* The job sheet: one HTML page for the day itself, without script, style sheet or picture from outside. To be
 * printed on A4 or Letter or read on a phone. What hurts people comes before anything that is to be done.
 *
 *     status = lb_report_sheet(&out, kit, today, &err);
 *
 * `today` (days since 1970-01-01) is printed as the day of the sheet. LB_NOMEM is all that can go wrong. */
#ifndef LB_REPORT_SHEET_H
#define LB_REPORT_SHEET_H

#include "kit/kit.h"

LB_CHECK lb_status lb_report_sheet(struct lb_buf *out, const struct lb_kit *kit, int32_t today,
                                   struct lb_error *err);
/* Appends a torque and an angle as they are set: "9 N·m (6.6 lbf·ft)", "40 N·m (30 lbf·ft), then 60°"; 0 of
 * either is left out. 1 lbf·ft = 1.3558179483 N·m (NIST SP 811, B.8); below 20 lbf·ft to the tenth, else
 * whole. */
void lb_report_torque(struct lb_buf *out, int64_t torque, int64_t angle);

#endif
