/* What an import adds to the index beyond its rows: their ids, and what they are found by, collected over all
 * of its files and written run by run. Private to src/catalog/.
 *
 *     lb_growth_begin(&growth, store, &err);
 *     lb_growth_note(&growth, kind, values, row, &err); …
 *     lb_growth_end(&growth, store, &err);                    // inside the import's transaction
 *     lb_growth_free(&growth);
 */
#ifndef LB_CATALOG_GROWTH_H
#define LB_CATALOG_GROWTH_H

#include "catalog/postings.h"
#include "catalog/terms.h"

struct lb_growth {
    struct lb_terms terms;
    struct lb_postings *postings;
    int64_t next_row; /* the id of the next new row: greater than any that ever was */
    int64_t stale;    /* rows that went out of every span */
    bool torn;        /* a part of the lookup was taken back with a file that is of no use */
};

LB_CHECK lb_status lb_growth_begin(struct lb_growth *growth, struct lb_store *store, struct lb_error *err);
void lb_growth_free(struct lb_growth *growth);
/* What a row is found by. Rows ascend. */
LB_CHECK lb_status lb_growth_note(struct lb_growth *growth, const struct lb_kind *kind,
                                  const struct lb_value *values, int64_t row, struct lb_error *err);
/* Sorts what was collected and begins anew: *full is the caller's to write and free. */
LB_CHECK lb_status lb_growth_cut(struct lb_growth *growth, struct lb_postings **full, struct lb_error *err);
/* The same, and writes it. */
LB_CHECK lb_status lb_growth_write(struct lb_growth *growth, struct lb_store *store, struct lb_error *err);
/* Writes the rest, the new brands, the next id; tidies, or makes a torn lookup anew. */
LB_CHECK lb_status lb_growth_end(struct lb_growth *growth, struct lb_store *store, struct lb_error *err);

#endif
