/* One part's card, for people and for programs. */
#ifndef LB_REPORT_PART_REPORT_H
#define LB_REPORT_PART_REPORT_H

#include "kit/part.h"
#include "report/table.h"

#include <jansson.h>

void lb_report_part(struct lb_buf *out, const struct lb_part_card *card, const struct lb_style *style);
/* The `part` object of formats.md §5; NULL: out of memory. The caller's to json_decref. */
json_t *lb_report_part_json(const struct lb_part_card *card);

#endif
