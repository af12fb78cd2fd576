/* Walks over the pairs of all runs together, in the order of their keys and then of their ids, with leave to
 * skip: what lies between is not read. The order is that of the keys alone, however the runs are laid.
 *
 *     lb_walk_open(&walk, store, &err);
 *     status = lb_walk_begin(walk, "n44", 3, &err);
 *     while (!status && !walk->over && …walk->pair.key…) status = lb_walk_next(walk, &err);
 *     lb_walk_close(walk);
 */
#ifndef LB_STORE_PAIRS_WALK_H
#define LB_STORE_PAIRS_WALK_H

#include "store/pairs_block.h"

struct lb_walk {
    const struct lb_pair *pair; /* the one at hand; undefined when it is over */
    bool over;
    struct lb_walk_runs *runs;
};

/* Sees the runs that there are now. */
LB_CHECK lb_status lb_walk_open(struct lb_walk **out, struct lb_store *store, struct lb_error *err);
void lb_walk_close(struct lb_walk *walk);
/* To the first pair whose key is not below the given one, from wherever it is; a key longer than
 * LB_PAIRS_KEY_MAX is cut. */
LB_CHECK lb_status lb_walk_begin(struct lb_walk *walk, const void *key, size_t length, struct lb_error *err);
/* The same, from there on only: never back. */
LB_CHECK lb_status lb_walk_seek(struct lb_walk *walk, const void *key, size_t length, struct lb_error *err);
/* The next pair. The same pair in several runs comes as often. */
LB_CHECK lb_status lb_walk_next(struct lb_walk *walk, struct lb_error *err);
/* How many blocks of all runs begin with the key: a block holds some hundreds of ids. */
LB_CHECK lb_status lb_walk_blocks(struct lb_walk *walk, const void *key, size_t length, int64_t *blocks,
                                  struct lb_error *err);

#endif
