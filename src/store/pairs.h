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

/* Walks the ids of one key in one run, ascending, with jumps ahead. The key is borrowed.
 *
 *     lb_status status = lb_cursor_open(&cursor, pairs, run, key, length, &err);
 *     while (!status && cursor.id != LB_CURSOR_END) { …; status = lb_cursor_seek(&cursor, cursor.id + 1,
 * &err); }
 */
#define LB_CURSOR_END INT64_MAX
struct lb_cursor {
    int64_t id; /* the one at hand; LB_CURSOR_END: there are no more */
    struct lb_pairs *pairs;
    const void *key;
    size_t length;
    int64_t run;
    int64_t first;        /* of the block at hand; 0: the block in which the list begins */
    bool more;            /* there may be further blocks */
    unsigned char *bytes; /* what is left of the block: differences, as in the block */
    size_t at, end;       /* in `bytes` */
};
/* How many runs there are: 0, 1 … count - 1. */
size_t lb_pairs_run_count(const struct lb_pairs *pairs);
/* Takes a cursor that is zeroed or was used before, and keeps its memory; at the first id. */
LB_CHECK lb_status lb_cursor_open(struct lb_cursor *cursor, struct lb_pairs *pairs, size_t run,
                                  const void *key, size_t length, struct lb_error *err);
/* Goes on to the first id that is not below `least`; never back. */
LB_CHECK lb_status lb_cursor_seek(struct lb_cursor *cursor, int64_t least, struct lb_error *err);
void lb_cursor_free(struct lb_cursor *cursor);
/* How many blocks all cursors have read so far: most of their work. */
int64_t lb_pairs_blocks_read(const struct lb_pairs *pairs);
/* One key in all runs, one cursor each, and about how many ids it has: exactly while the lists are short,
 * else by their blocks; `count` NULL: nobody asks. */
LB_CHECK lb_status lb_cursors_open(struct lb_cursor *cursors, struct lb_pairs *pairs, const void *key,
                                   size_t length, int64_t *count, struct lb_error *err);

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
