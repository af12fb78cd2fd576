#include "base/rank_sort.h"

#include <criterion/criterion.h>
#include <stdlib.h>

static void check(size_t count, uint64_t mask)
{
    struct lb_ranked *ranked = malloc(count * sizeof *ranked + 1);
    uint64_t sum = 0, after = 0;
    for (size_t i = 0; i < count; i++) {
        ranked[i] = (struct lb_ranked){
            ((uint64_t)rand() << 42 ^ (uint64_t)rand() << 21 ^ (uint64_t)rand()) & mask, (int64_t)i};
        sum += ranked[i].rank;
    }
    cr_assert(lb_rank_sort(&ranked, count));
    for (size_t i = 0; i < count; i++) {
        after += ranked[i].rank;
        if (i > 0)
            cr_assert(ranked[i - 1].rank < ranked[i].rank ||
                          (ranked[i - 1].rank == ranked[i].rank && ranked[i - 1].value < ranked[i].value),
                      "%zu of %zu", i, count);
    }
    cr_expect_eq(after, sum);
    free(ranked);
}

Test(rank_sort, sorts_and_keeps_the_order_of_equals)
{
    srand(5);
    check(0, UINT64_MAX);
    check(1, UINT64_MAX);
    check(50000, UINT64_MAX);
    check(50000, 0xff);
    check(50000, UINT64_C(0xff00000000000000));
}
