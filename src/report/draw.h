/* Drawings of a kit as SVG 1.1: what comes apart for what, what it costs, how a belt runs. Each is one <svg>
 * element with a title and a description, without script, style sheet, reference to anything outside or
 * ids, so that several stand in one page as well as each in a file of its own; texts are escaped. Nothing is
 * told by colour alone. Words are 12 px. Costs and belts are 400 px wide, for a telephone; teardowns are 700,
 * for a page, wider where they cannot be laid out in that. A page should say `svg {max-width: 100%; height:
 * auto}`, or on a telephone let teardowns be moved sideways.
 *
 *     status = lb_draw_teardown(&out, kit, &err);
 */
#ifndef LB_REPORT_DRAW_H
#define LB_REPORT_DRAW_H

#include "kit/kit.h"

/* The teardown in layers: targets at the bottom, above each what must come off, go aside or be loosened
 * first; what an arrow comes from must be out of the way before what it points to, implied arrows left out.
 * With Graphviz where it is built in and can be opened; otherwise, and where it is too much for drawings, a
 * plain list, which says so. What cannot be read when all of it is on one page of A4 or Letter (capitals
 * below 2 mm on 180 mm of width) is several drawings below one another, each of which can; what stands in an
 * earlier one says in which. */
LB_CHECK lb_status lb_draw_teardown(struct lb_buf *out, const struct lb_kit *kit, struct lb_error *err);
/* The same with each drawing, and each page of a list, as one of its own; `svg` is borrowed until it returns.
 * Drawings of more than `most` bytes together are a list, too. */
typedef void lb_draw_page(void *context, const struct lb_buf *svg);
LB_CHECK lb_status lb_draw_teardown_pages(const struct lb_kit *kit, size_t most, lb_draw_page *page,
                                          void *context, struct lb_error *err);
/* Bars: what the kit costs by purpose (parts to renew, hardware, seals, fluids …) and by supplier, shipping
 * and tax apart; each currency as charged. What is to be bought and has no price is named. */
LB_CHECK lb_status lb_draw_cost(struct lb_buf *out, const struct lb_kit *kit, struct lb_error *err);
/* Every belt of the map that the kit renews or disturbs: its run in order, which way each pulley turns, its
 * effective length and whether the chosen belt's is within the tensioner's range. `count` (may be NULL) is
 * how many there are; nothing is appended when there are none. Where facts that are not known decide between
 * several runs, the drawing says which. A run that cannot be (plan/belt.h) does not stop the others: the
 * drawing says in its place why it is not drawn. LB_DATA then, with file and line of the first, and the whole
 * drawing appended, also when no belt can be drawn. */
LB_CHECK lb_status lb_draw_belts(struct lb_buf *out, const struct lb_kit *kit, size_t *count,
                                 struct lb_error *err);

#endif
