/* The kit for people: the text of `kit show`. What is missing comes first, then what is not known, then the
 * bench.
 *
 *     struct lb_buf out = {0};
 *     lb_report_kit(&out, kit, &style);
 *     if (out.failed) …                      // out of memory
 */
#ifndef LB_REPORT_KIT_TEXT_H
#define LB_REPORT_KIT_TEXT_H

#include "kit/kit.h"
#include "report/table.h"

void lb_report_kit(struct lb_buf *out, const struct lb_kit *kit, const struct lb_style *style);

#endif
