/* Rows of a catalogue into the index: one prepared statement a kind, keys derived on the way, editions
 * compared.
 *
 *     struct lb_ingest *ingest;
 *     status = lb_ingest_open(&ingest, store, &err);
 *     status = lb_ingest_row(ingest, source, kind, values, line, &err);
 *     lb_ingest_close(ingest);
 */
#ifndef LB_CATALOG_INGEST_H
#define LB_CATALOG_INGEST_H

#include "importers/kinds.h"
#include "store/store.h"

struct lb_ingest;

struct lb_edition_change {
    int64_t added, changed, unchanged, removed;
};

LB_CHECK lb_status lb_ingest_open(struct lb_ingest **out, struct lb_store *store, struct lb_error *err);
void lb_ingest_close(struct lb_ingest *ingest);
LB_CHECK lb_status lb_ingest_row(struct lb_ingest *ingest, int64_t source, const struct lb_kind *kind,
                                 const struct lb_value *values, long line, struct lb_error *err);
/* Compares the rows of one kind of two sources (an older and a newer edition), by the kind's key columns. */
LB_CHECK lb_status lb_ingest_compare(struct lb_ingest *ingest, const struct lb_kind *kind, int64_t older,
                                     int64_t newer, struct lb_edition_change *change, struct lb_error *err);
/* Deletes all rows of a source, and the source. */
LB_CHECK lb_status lb_ingest_drop(struct lb_ingest *ingest, int64_t source, struct lb_error *err);

#endif
