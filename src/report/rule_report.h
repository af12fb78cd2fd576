/* The owner's own rules for people, programs and other machines. */
#ifndef LB_REPORT_RULE_REPORT_H
#define LB_REPORT_RULE_REPORT_H

#include "garage/rule.h"
#include "kit/missed.h"
#include "report/table.h"

#include <jansson.h>

/* As a file of kind rules, which can be imported elsewhere: RFC 4180, a row of headings first, CRLF, cells
 * that a spreadsheet would execute made inert (base/cell.h). */
void lb_report_rules_csv(struct lb_buf *out, const struct lb_rules *rules);
/* {"version":1,"rules":[…]}; NULL: out of memory. */
json_t *lb_report_rules_json(const struct lb_rules *rules);
/* {"version":1,"dropped":{…}} */
json_t *lb_report_rule_dropped_json(const struct lb_rule *rule);
/* {"version":1,"rule":{…},"replaced":{"quantity","unit"}|null,"line":N|null,"type_known":B} */
json_t *lb_report_missed_json(const struct lb_missed *missed);

/* "2 × o-ring 20.22x3.53", "0.05 L of sealant" */
void lb_report_rule_what(struct lb_buf *out, const struct lb_rule *rule);
/* What was kept, where it counts, and how to take it back. */
void lb_report_missed(struct lb_buf *out, const struct lb_missed *missed, const struct lb_style *style);

#endif
