/* Rows that a source lists no more: kept when they go, forgotten when they come back. Private to
 * src/catalog/.
 *
 *     lb_former_open(&former, store, source, now, &err);
 *     lb_former_forget(former, kind, values, &err);        // it is listed (again)
 *     lb_former_keep(former, kind, values, row, &err);     // it is not, any more
 *     lb_former_close(former);
 */
#ifndef LB_CATALOG_FORMER_H
#define LB_CATALOG_FORMER_H

#include "importers/kinds.h"
#include "store/store.h"

struct lb_former;

/* `now` is borrowed. */
LB_CHECK lb_status lb_former_open(struct lb_former **out, struct lb_store *store, int64_t source,
                                  const char *now, struct lb_error *err);
void lb_former_close(struct lb_former *former);
/* All that the source had of the part, in rows of that kind; of a row that is about no part: all with its key
 * columns. Sees what there was when it was opened. */
LB_CHECK lb_status lb_former_forget(struct lb_former *former, const struct lb_kind *kind,
                                    const struct lb_value *values, struct lb_error *err);
/* While the row's place is still in its span. */
LB_CHECK lb_status lb_former_keep(struct lb_former *former, const struct lb_kind *kind,
                                  const struct lb_value *values, int64_t row, struct lb_error *err);

#endif
