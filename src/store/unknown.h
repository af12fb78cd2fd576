/* What to say when a name that the owner typed is not in the index: the nearest names that are. */
#ifndef LB_STORE_UNKNOWN_H
#define LB_STORE_UNKNOWN_H

#include "store/store.h"

/* Fills err with LB_DATA: there is no `what` of that name, and what was probably meant; when nothing is near,
 * `otherwise` says what to do. `names` is a query whose first column gives the names that there are. */
LB_CHECK lb_status lb_store_refuse_unknown(struct lb_store *store, const char *what, const char *name,
                                           const char *names, const char *otherwise, struct lb_error *err);

#endif
