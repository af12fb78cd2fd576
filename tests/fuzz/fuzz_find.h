/* The catalogue that fuzz_find.c asks: invented, small, and with what makes find think twice. */
#ifndef LB_TESTS_FUZZ_FIND_H
#define LB_TESTS_FUZZ_FIND_H

#include "find/find.h"
#include "garage/fitting.h"

/* An index in memory and a vehicle of it; both live until the program ends. A failure ends the program. */
void fuzz_find_index(struct lb_store **store, struct lb_fitting **fitting);

#endif
