/* A sorted multimap from keys (bytes) to row ids, packed into blocks (the tables `lookup` and
 * `lookup_block`): what an index of SQL would be, at a fraction of its size and time. Made from sorted runs,
 * never pair by pair. Knows nothing of what the keys mean.
 *
 *     lb_pairs_merge_begin(&merge, store, &err);
 *     lb_pairs_merge_add(merge, "w:hose", 6, 17, &err);      // ascending by key, then by id
 *     lb_pairs_merge_end(merge, &err);
 *     lb_pairs_find(pairs, "w:hose", 6, &ids, &err);
 *
 * `lookup` has the key and id of each block's first pair. A block is a sequence of entries. An entry is the
 * number of bytes that its key shares with the one before (the one in `lookup` for the first), the number of
 * further bytes, those bytes, and its ids as differences to the one before, ended by 0. Numbers are
 * little-endian base 128 (LEB128). A long list of ids goes on in further blocks, each beginning with the key
 * anew. */
#ifndef LB_STORE_PAIRS_H
#define LB_STORE_PAIRS_H

#include "base/vec.h"
#include "store/store.h"

enum { LB_PAIRS_KEY_MAX = 250 }; /* bytes of a key; longer ones are cut */

struct lb_ids {
    LB_VEC(int64_t) list;
};

/* Reading: keeps its statements. */
struct lb_pairs;
LB_CHECK lb_status lb_pairs_open(struct lb_pairs **out, struct lb_store *store, struct lb_error *err);
void lb_pairs_close(struct lb_pairs *pairs);
/* Appends the ids of one key, ascending. */
LB_CHECK lb_status lb_pairs_find(struct lb_pairs *pairs, const void *key, size_t length, struct lb_ids *ids,
                                 struct lb_error *err);
/* Every pair whose key lies in from … to (to itself excluded), in order. A `visit` that is not LB_OK ends it
 * and is passed on. */
typedef lb_status lb_pairs_visit(void *context, const unsigned char *key, size_t length, int64_t id);
LB_CHECK lb_status lb_pairs_scan(struct lb_pairs *pairs, const void *from, size_t from_length, const void *to,
                                 size_t to_length, lb_pairs_visit *visit, void *context,
                                 struct lb_error *err);

/* Writing, inside a transaction: one pass over the blocks that new pairs fall into. */
struct lb_merge;
LB_CHECK lb_status lb_pairs_merge_begin(struct lb_merge **out, struct lb_store *store, struct lb_error *err);
/* Pairs come sorted, by the bytes of the key and then by id (> 0). A pair that is there already stays once.
 */
LB_CHECK lb_status lb_pairs_merge_add(struct lb_merge *merge, const void *key, size_t length, int64_t id,
                                      struct lb_error *err);
/* Writes what is left and frees it, also after a failure. */
LB_CHECK lb_status lb_pairs_merge_end(struct lb_merge *merge, struct lb_error *err);
void lb_pairs_merge_free(struct lb_merge *merge);

#endif
