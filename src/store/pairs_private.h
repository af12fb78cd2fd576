/* What the readers of pairs share. Private to pairs.c and pairs_cursor.c. */
#ifndef LB_STORE_PAIRS_PRIVATE_H
#define LB_STORE_PAIRS_PRIVATE_H

#include "store/pairs_block.h"

struct lb_pairs {
    struct lb_store *store;
    /* Blocks (key, pairs, first) of run ?1: the last one that begins before key ?2, or not after it; all that
     * begin with it; all from it to ?3; of those that begin with it the last one whose first id is at most
     * ?3, and the first one whose first id is above. */
    struct lb_statement *before, *up_to, *of_key, *range, *last_before, *first_after;
    struct lb_statement *blocks_of; /* how many blocks begin with a key */
    LB_VEC(int64_t) runs;
    int64_t blocks_read; /* by cursors */
};

#endif
