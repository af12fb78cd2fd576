#include "plan/wrenches.h"

#include <stdlib.h>

static int by_size(const void *a, const void *b)
{
    int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;
    return (x > y) - (x < y);
}

size_t lb_wrenches(int64_t *torques, size_t count, struct lb_wrench *out)
{
    size_t groups = 0;
    if (count)
        qsort(torques, count, sizeof *torques, by_size);
    for (size_t i = 0; i < count; i++) {
        struct lb_wrench *last = groups ? &out[groups - 1] : NULL;
        if (last &&
            (torques[i] - 1) / LB_WRENCH_SPAN < last->least) { /* torque <= span × least, not past int64 */
            last->most = torques[i];
            last->count++;
        } else {
            out[groups++] = (struct lb_wrench){torques[i], torques[i], 1};
        }
    }
    return groups;
}
