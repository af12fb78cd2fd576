/* Numbers drawn, the same ones every time. */
#ifndef LB_TESTS_DICE_HELP_H
#define LB_TESTS_DICE_HELP_H

#include <stdint.h>

struct dice {
    uint64_t state;
};

/* splitmix64 (Steele, Lea and Flood, OOPSLA 2014). */
static inline uint64_t roll(struct dice *d)
{
    uint64_t z = d->state += 0x9E3779B97F4A7C15;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
    return z ^ (z >> 31);
}

/* From 0, less than 1. */
static inline double roll_share(struct dice *d)
{
    return (double)(roll(d) >> 11) / 9007199254740992.0;
}

static inline int roll_between(struct dice *d, int least, int most)
{
    return least + (int)(roll(d) % (uint64_t)(most - least + 1));
}

#endif
