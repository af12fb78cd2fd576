/* One block of pairs: taken apart and put together. Private to the pairs*.c files; the format is told
 * in pairs.h. */
#ifndef LB_STORE_PAIRS_BLOCK_H
#define LB_STORE_PAIRS_BLOCK_H

#include "store/pairs.h"

/* Six blocks of this size fill a page of 8 KiB, with what SQLite adds to each; or two that are long, of one
 * key alone: such lists are read from front to end, mostly. */
enum { LB_BLOCK_ROOM = 1340, LB_BLOCK_LONG = 4050 };

struct lb_pair {
    unsigned char key[LB_PAIRS_KEY_MAX];
    size_t length;
    int64_t id;
};

/* Reads a block from front to end. */
struct lb_block_cursor {
    const unsigned char *at, *end;
    struct lb_pair pair;          /* the one at hand */
    bool begun, in_entry, broken; /* begun: past the first key, which is the block's */
};

/* The block is borrowed. */
void lb_block_begin(struct lb_block_cursor *cursor, const void *key, size_t length, const void *block,
                    size_t size);
/* False: the end, or (`broken`) the block makes no sense. */
bool lb_block_next(struct lb_block_cursor *cursor);
/* The first pair from the one at hand on whose key is not below the given one; false: the same. */
bool lb_block_seek(struct lb_block_cursor *cursor, const void *key, size_t length);

/* From the beginning: to the first pair of a key; false: it has none, or (`broken`) the block makes no sense.
 */
bool lb_block_find(struct lb_block_cursor *cursor, const void *key, size_t length);
/* The next pair of the key at hand; false: that was the last one, or the block makes no sense. */
bool lb_block_more(struct lb_block_cursor *cursor);

/* A block in the making. */
struct lb_block {
    unsigned char bytes[LB_BLOCK_LONG];
    size_t size;          /* 0: nothing in it */
    bool alone;           /* all of it is of one key */
    struct lb_pair first; /* its place in `lookup` */
    struct lb_pair last;
};

/* False: it is full and the pair is not in it. The first pair always fits. */
bool lb_block_add(struct lb_block *block, const void *key, size_t length, int64_t id);
/* Ends the last entry; to be done once, before it is written. */
void lb_block_close(struct lb_block *block);

#endif
