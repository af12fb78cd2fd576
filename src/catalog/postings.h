/* Pairs of key and row in memory, collected row by row and written as one sorted run: what the lookup is
 * built from.
 *
 *     struct lb_postings *postings;
 *     lb_postings_new(&postings, &err);
 *     for each row: lb_postings_add(postings, key, length, row)      // rows ascending
 *     lb_postings_sort(postings);                                    // by any thread
 *     status = lb_postings_write(postings, store, &err);
 */
#ifndef LB_CATALOG_POSTINGS_H
#define LB_CATALOG_POSTINGS_H

#include "store/pairs.h"

struct lb_postings;

LB_CHECK lb_status lb_postings_new(struct lb_postings **out, struct lb_error *err);
void lb_postings_free(struct lb_postings *postings);
/* LB_NOMEM is the only failure. Rows ascend, also those of marks (catalog/title.h), which keys that begin
 * with `w` have: those of one key are kept as a list. Keys that begin with `n` (and hashes, which begin with
 * `s`) are taken to be of one row each and kept apart: there are as many of them as rows. Keys that begin
 * with `g` have four bytes more (catalog/pieces.h). */
LB_CHECK lb_status lb_postings_add(struct lb_postings *postings, const char *key, size_t length,
                                   int64_t value);
/* Enough is collected: sort and write it, so that memory stays bounded. */
bool lb_postings_full(const struct lb_postings *postings);
bool lb_postings_empty(const struct lb_postings *postings);
/* Puts the keys in order; false: out of memory. */
bool lb_postings_sort(struct lb_postings *postings);
/* Writes what was sorted as a run of the lookup. */
LB_CHECK lb_status lb_postings_write(struct lb_postings *postings, struct lb_store *store,
                                     struct lb_error *err);

#endif
