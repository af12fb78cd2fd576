/* For test_fitting_sample.c: the headers of kits and of imports do not go into one file. */
#ifndef LB_TESTS_FITTING_HELP_H
#define LB_TESTS_FITTING_HELP_H

#include "store/store.h"

/* Everything in the folder, without a refused row. */
void fitting_import(struct lb_store *store, const char *folder);

#endif
