/* Rows on their way from the reader to the index, a few thousand at a time, in memory of their own; and a
 * spool for those that must wait until the whole file is read.
 *
 *     if (!lb_batch_add(batch, row, hash, id)) … full: send it, take another
 *     for (size_t i = 0; i < batch->rows.count; i++) batch->rows.at[i].values[k] …
 */
#ifndef LB_CATALOG_BATCH_H
#define LB_CATALOG_BATCH_H

#include "base/vec.h"
#include "catalog/postings.h"
#include "importers/read.h"

struct lb_batch_row {
    int64_t id; /* 0: not given one yet */
    long line;
    uint64_t hash;
    size_t values; /* in the batch's `values`: those of the first kind, then of the next */
};

struct lb_batch {
    struct lb_batch *next;
    LB_VEC(struct lb_batch_row) rows;
    LB_VEC(struct lb_value) values; /* their texts lie in `text` */
    char *text;
    size_t text_used, text_room;
    struct lb_postings *postings; /* sorted and to be written after the rows; owned; NULL: none */
};

LB_CHECK lb_status lb_batch_new(struct lb_batch **out, struct lb_error *err);
void lb_batch_free(struct lb_batch *batch);
/* Empties it and keeps its memory. */
void lb_batch_clear(struct lb_batch *batch);
/* Copies the row. *full: there is no room for it (an empty batch takes any row). */
LB_CHECK lb_status lb_batch_add(struct lb_batch *batch, const struct lb_row *row, uint64_t hash, int64_t id,
                                bool *full, struct lb_error *err);

/* Batches put by: in memory while they are few, then in a file that has no name. */
struct lb_spool;
LB_CHECK lb_status lb_spool_new(struct lb_spool **out, struct lb_error *err);
void lb_spool_free(struct lb_spool *spool);
/* Takes what is in the batch and leaves it empty. */
LB_CHECK lb_status lb_spool_put(struct lb_spool *spool, struct lb_batch *batch, struct lb_error *err);
/* The batches in the order they were put by, each borrowed until the next call; *batch NULL: no more. */
LB_CHECK lb_status lb_spool_take(struct lb_spool *spool, struct lb_batch **batch, struct lb_error *err);

#endif
