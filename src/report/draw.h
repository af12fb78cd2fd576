/* Drawings of a kit as SVG 1.1: what comes apart for what, what it costs, how a belt runs. Each is one <svg>
 * element with a title and a description, without script, style sheet or reference to anything outside, so
 * that it stands in a page as well as in a file of its own; texts are escaped. Nothing is told by colour
 * alone. Widths scale; text stays at 12 px or more at a width of 390 px as long as the drawing allows it.
 *
 *     status = lb_draw_teardown(&out, kit, &err);
 */
#ifndef LB_REPORT_DRAW_H
#define LB_REPORT_DRAW_H

#include "kit/kit.h"

/* The teardown in layers: targets at the bottom, above each what must come off, go aside or be loosened
 * first. With Graphviz where it is built in and can be opened; otherwise a plain list, which says so. */
LB_CHECK lb_status lb_draw_teardown(struct lb_buf *out, const struct lb_kit *kit, struct lb_error *err);
/* Bars: what the kit costs by purpose (parts to renew, hardware, seals, fluids …) and by supplier, shipping
 * and tax apart. */
LB_CHECK lb_status lb_draw_cost(struct lb_buf *out, const struct lb_kit *kit, struct lb_error *err);
/* Every belt of the map that the kit renews or disturbs: its run in order, which way each pulley turns, its
 * effective length and whether the chosen belt's is within the tensioner's range. `count` (may be NULL) is
 * how many there were; nothing is appended when there are none. LB_DATA: a run that cannot be (pulleys that
 * overlap or lie in one another), with file and line. */
LB_CHECK lb_status lb_draw_belts(struct lb_buf *out, const struct lb_kit *kit, size_t *count,
                                 struct lb_error *err);

#endif
