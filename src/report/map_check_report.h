/* What is wrong with a service map, for its author and for programs. */
#ifndef LB_REPORT_MAP_CHECK_REPORT_H
#define LB_REPORT_MAP_CHECK_REPORT_H

#include "kit/map_check.h"
#include "report/table.h"

#include <jansson.h>

void lb_report_map_check(struct lb_buf *out, const struct lb_map_report *report,
                         const struct lb_style *style);
/* {version, platform, rows, errors, warnings, notes, findings:[{code, severity, file, line, message}]}; NULL:
 * out of memory. The caller's to json_decref. */
json_t *lb_report_map_check_json(const struct lb_map_report *report);

#endif
