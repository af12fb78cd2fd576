/* One block of pairs: taken apart and put together. Private to pairs.c and pairs_write.c; the format is told
 * in pairs.h. */
#ifndef LB_STORE_PAIRS_BLOCK_H
#define LB_STORE_PAIRS_BLOCK_H

#include "store/pairs.h"

/* Six blocks of this size fill a page of 8 KiB, with what SQLite adds to each. */
enum { LB_BLOCK_ROOM = 1340 };

struct lb_pair {
    unsigned char key[LB_PAIRS_KEY_MAX];
    size_t length;
    int64_t id;
};

/* Reads a block from front to end. */
struct lb_block_cursor {
    const unsigned char *at, *end;
    struct lb_pair pair; /* the one at hand */
    bool in_entry, broken;
};

/* The block is borrowed. */
void lb_block_begin(struct lb_block_cursor *cursor, const void *key, size_t length, const void *block,
                    size_t size);
/* False: the end, or (`broken`) the block makes no sense. */
bool lb_block_next(struct lb_block_cursor *cursor);

/* A block in the making. */
struct lb_block {
    unsigned char bytes[LB_BLOCK_ROOM];
    size_t size;          /* 0: nothing in it */
    struct lb_pair first; /* its place in `lookup` */
    struct lb_pair last;
};

/* False: it is full and the pair is not in it. The first pair always fits. */
bool lb_block_add(struct lb_block *block, const void *key, size_t length, int64_t id);
/* Ends the last entry; to be done once, before it is written. */
void lb_block_close(struct lb_block *block);

#endif
