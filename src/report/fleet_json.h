/* A fleet as a JSON object: what `kit show --json` gives for a fleet's name.
 *
 *     {version, kit, verdict,
 *      vehicles: [{vehicle, kit, first_line, … all that `kit show --json` has of that kit, by its own
 * numbers}], lines: [{line, vehicle, of: {kit, line}, spare, … as in a kit}],        numbered through needs:
 * [{part_type, spec, quantity, unit, chosen, to_buy, of: [{vehicle, line, quantity}]}], gaps: [{code, line,
 * vehicle, of, message}]}
 *
 * `needs` adds up what is decided to be bought; chosen is null where the lines are answered by several parts
 * or by none, and to_buy with it; spec is "" where they state none, or not the same.
 */
#ifndef LB_REPORT_FLEET_JSON_H
#define LB_REPORT_FLEET_JSON_H

#include "kit/fleet.h"
#include "report/json.h"

/* NULL: out of memory. */
json_t *lb_report_fleet_json(const struct lb_fleet *fleet);

#endif
