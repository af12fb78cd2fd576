/* Small random markets in the text form, every feature in some of them: what the solver and the exhaustive
 * search are both asked. The same seed gives the same market on every machine. */
#ifndef TESTS_MARKET_ROLL_H
#define TESTS_MARKET_ROLL_H

#include <stdint.h>

/* A market of up to `needs` needs and `suppliers` suppliers (at most 4 each); the caller's, to be freed.
 * NULL: out of memory. */
char *roll_market(uint64_t seed, int needs, int suppliers);

#endif
