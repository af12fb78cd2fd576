/* Sorting by a rank of 64 bits, in time that grows with the number alone.
 *
 *     if (!lb_rank_sort(&ranked, count)) …                // out of memory, the order as it was
 */
#ifndef LB_BASE_RANK_SORT_H
#define LB_BASE_RANK_SORT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct lb_ranked {
    uint64_t rank;
    int64_t value; /* whatever is ranked */
};

/* Stable. The array is malloc's, and is replaced by another of `count` elements. */
bool lb_rank_sort(struct lb_ranked **ranked, size_t count);

#endif
