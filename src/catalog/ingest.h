/* Rows of a catalogue in the tables of the index: put in, read back, changed, taken out; keys derived on the
 * way. One set of prepared statements a kind. Knows one row at a time; editions are compared in
 * take_compare.c.
 *
 *     struct lb_ingest *ingest;
 *     status = lb_ingest_open(&ingest, store, &err);
 *     status = lb_ingest_insert(ingest, kind, row, values, &err);
 *     lb_ingest_close(ingest);
 */
#ifndef LB_CATALOG_INGEST_H
#define LB_CATALOG_INGEST_H

#include "importers/kinds.h"
#include "store/store.h"

struct lb_ingest;

LB_CHECK lb_status lb_ingest_open(struct lb_ingest **out, struct lb_store *store, struct lb_error *err);
void lb_ingest_close(struct lb_ingest *ingest);
/* `row`: the id, the same for every kind that a row of a file feeds. */
LB_CHECK lb_status lb_ingest_insert(struct lb_ingest *ingest, const struct lb_kind *kind, int64_t row,
                                    const struct lb_value *values, struct lb_error *err);
/* Fills kind->column_count values, borrowed until the next call for that kind; *found false: no such row. */
LB_CHECK lb_status lb_ingest_fetch(struct lb_ingest *ingest, const struct lb_kind *kind, int64_t row,
                                   struct lb_value *values, bool *found, struct lb_error *err);
/* Calls `each` for every row of a kind that is there, by ascending id; values are borrowed until it returns.
 */
typedef lb_status lb_ingest_visit(void *context, const struct lb_kind *kind, int64_t row,
                                  const struct lb_value *values, struct lb_error *err);
LB_CHECK lb_status lb_ingest_each(struct lb_ingest *ingest, const struct lb_kind *kind, lb_ingest_visit *each,
                                  void *context, struct lb_error *err);
/* Deletes all rows with ids from first to last, of every kind. */
LB_CHECK lb_status lb_ingest_delete_range(struct lb_ingest *ingest, int64_t first, int64_t last,
                                          struct lb_error *err);
#endif
