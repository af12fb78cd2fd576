/* A fleet for people: the text of `kit show` and of `kit check` for a fleet's name. Lines are numbered
 * through; where it helps, the number that the vehicle's own kit has for it stands beside.
 *
 *     lb_report_fleet(&out, fleet, &style);
 *     if (out.failed) …                      // out of memory
 */
#ifndef LB_REPORT_FLEET_TEXT_H
#define LB_REPORT_FLEET_TEXT_H

#include "kit/fleet.h"
#include "report/table.h"

/* The verdict, each vehicle in short, and what is to be bought for all of them, added up. */
void lb_report_fleet(struct lb_buf *out, const struct lb_fleet *fleet, const struct lb_style *style);
/* Whether it is complete, and the gaps of all vehicles. */
void lb_report_fleet_gaps(struct lb_buf *out, const struct lb_fleet *fleet, const struct lb_style *style);

#endif
