/* A sorted multimap from keys (bytes) to row ids, packed into blocks: what an index of SQL would be, at a
 * fraction of its size and time. It consists of runs, each written once from sorted pairs and never changed;
 * who asks is answered from all of them. Pairs are never taken out: who asks looks at the rows, which may be
 * gone by now. Knows nothing of what the keys mean.
 *
 *     lb_run_begin(&run, store, &err);
 *     lb_run_add(run, "wpump", 5, 17, &err);                 // ascending by key, then by id
 *     lb_run_end(run, &err);
 *     lb_pairs_find(pairs, "wpump", 5, &ids, &err);
 *
 * The table `lookup` has run, key and id of each block's first pair; the blocks are in `lookup_block`. A
 * block is a sequence of entries. An entry is the number of bytes that its key shares with the one before
 * (the one in `lookup` for the first), the number of further bytes, those bytes, and its ids as differences
 * to the one before, ended by 0. Numbers are little-endian base 128 (LEB128). A long list of ids goes on in
 * further blocks, each beginning with the key anew. */
#ifndef LB_STORE_PAIRS_H
#define LB_STORE_PAIRS_H

#include "base/vec.h"
#include "store/store.h"

enum { LB_PAIRS_KEY_MAX = 250 }; /* bytes of a key; longer ones are cut */

struct lb_ids {
    LB_VEC(int64_t) list;
};

/* Reading: keeps its statements; sees the runs that there were when it was opened. */
struct lb_pairs;
LB_CHECK lb_status lb_pairs_open(struct lb_pairs **out, struct lb_store *store, struct lb_error *err);
void lb_pairs_close(struct lb_pairs *pairs);
/* Appends the ids of one key, run by run, ascending within each. */
LB_CHECK lb_status lb_pairs_find(struct lb_pairs *pairs, const void *key, size_t length, struct lb_ids *ids,
                                 struct lb_error *err);
/* Every pair whose key lies in from … to (to itself excluded), run by run, in order within each. A `visit`
 * that is not LB_OK ends it and is passed on. */
typedef lb_status lb_pairs_visit(void *context, const unsigned char *key, size_t length, int64_t id);
LB_CHECK lb_status lb_pairs_scan(struct lb_pairs *pairs, const void *from, size_t from_length, const void *to,
                                 size_t to_length, lb_pairs_visit *visit, void *context,
                                 struct lb_error *err);

/* Writing, inside a transaction. */
struct lb_run_writer;
LB_CHECK lb_status lb_run_begin(struct lb_run_writer **out, struct lb_store *store, struct lb_error *err);
/* Pairs come sorted, by the bytes of the key and then by id (> 0); the same pair twice is one. */
LB_CHECK lb_status lb_run_add(struct lb_run_writer *run, const void *key, size_t length, int64_t id,
                              struct lb_error *err);
/* Writes what is left and frees it, also after a failure; free alone leaves a run without its end. */
LB_CHECK lb_status lb_run_end(struct lb_run_writer *run, struct lb_error *err);
void lb_run_free(struct lb_run_writer *run);

/* Many small runs make asking slow: when there are more than `runs_max`, the smallest of them, those that
 * together have no more than `pairs_max` pairs, become one. *merged: how many there were; 0: nothing was
 * done. */
LB_CHECK lb_status lb_runs_gather(struct lb_store *store, int runs_max, int64_t pairs_max, int *merged,
                                  struct lb_error *err);

#endif
