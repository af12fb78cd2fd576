/* What `kit check` says beside the gaps: what the map leaves open, what has changed since the kit was locked,
 * and what is to be bought again. JSON: kit show's object and {locked: day or null, drift: [{code, line or
 * null, message}], to_buy_again: [line]}.
 *
 *     lb_report_drift(&out, kit, &drift, &style);
 *     json_t *object = lb_report_check_json(kit, &drift);      // NULL: out of memory
 */
#ifndef LB_REPORT_DRIFT_REPORT_H
#define LB_REPORT_DRIFT_REPORT_H

#include "kit/drift.h"
#include "report/json.h"
#include "report/table.h"

/* `drift` NULL: the kit was never locked. */
void lb_report_drift(struct lb_buf *out, const struct lb_kit *kit, const struct lb_drift *drift,
                     const struct lb_style *style);
json_t *lb_report_check_json(const struct lb_kit *kit, const struct lb_drift *drift);
/* Of one kit of a fleet: {kit, locked, drift, to_buy_again}, by the kit's own line numbers. NULL: out of
 * memory. */
json_t *lb_report_member_json(const struct lb_kit *kit, const struct lb_drift *drift);
/* What `kit lock --json` gives: {version, kit, locked, lines, text}. NULL: out of memory. */
json_t *lb_report_lock_json(const struct lb_kit_lock *lock, const char *text);

#endif
