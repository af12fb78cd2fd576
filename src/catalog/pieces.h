/* Pieces of numbers with their rows on the way into a run of the lookup: some five to a row, and few enough
 * different ones that each has thousands of rows. They are put down as they come, and sorted and packed a few
 * hundred thousand at a time, which takes a tenth of the time that looking each of them up would. Private to
 * postings.c.
 *
 *     struct lb_pieces pieces = {0};
 *     for each row: lb_pieces_add(&pieces, "4712", row)          // rows ascending
 *     lb_pieces_pack(&pieces);
 *     status = lb_pieces_write(&pieces, run, &err);
 *     lb_pieces_free(&pieces);
 */
#ifndef LB_CATALOG_PIECES_H
#define LB_CATALOG_PIECES_H

#include "store/pairs.h"

struct lb_pieces {
    uint64_t *fresh;  /* the piece (its bytes as a number), and below it the row from `base` on */
    uint64_t *sorted; /* room for sorting; both made when the first one comes */
    size_t count;
    int64_t base;
    LB_VEC(struct lb_packed_pieces) packs;
    size_t bytes; /* that the packs take */
};

/* False: out of memory, here and below. */
bool lb_pieces_add(struct lb_pieces *pieces, const char *piece, int64_t row);
/* Packs what has come since the last time. */
bool lb_pieces_pack(struct lb_pieces *pieces);
/* Each once, under `g` and the piece. */
LB_CHECK lb_status lb_pieces_write(const struct lb_pieces *pieces, struct lb_run_writer *run,
                                   struct lb_error *err);
void lb_pieces_free(struct lb_pieces *pieces);

#endif
