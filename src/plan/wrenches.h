/* Which ranges of torque wrench a job takes. Our own simple rule: a wrench is best between a fifth and the
 * whole of its range, so values that are no more than five times apart can share one.
 *
 *     count = lb_wrenches(torques, torque_count, wrenches);      // sorts `torques`
 */
#ifndef LB_PLAN_WRENCHES_H
#define LB_PLAN_WRENCHES_H

#include <stddef.h>
#include <stdint.h>

enum { LB_WRENCH_SPAN = 5 };

/* The values that one wrench serves, millionths of a N·m. Its range ends at `most` or above and no higher
 * than LB_WRENCH_SPAN × least. */
struct lb_wrench {
    int64_t least, most;
    size_t count; /* how many values */
};

/* Groups values above 0 into as few wrenches as can be, the smallest values first. `out` has room for
 * `count`. */
size_t lb_wrenches(int64_t *torques, size_t count, struct lb_wrench *out);

#endif
