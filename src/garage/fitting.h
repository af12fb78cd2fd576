/* What fits one vehicle: the parts that catalogues list for it, and those that stand for one of them, as the
 * plain data that find goes by (find/shortlist.h).
 *
 *     lb_fitting_load(&fitting, store, "maggie", &err);
 *     request.shortlist = lb_fitting_shortlist(fitting);
 *     lb_fitting_free(fitting);
 *
 * A part fits (LB_FIND_FITS) when one of its applications rows for the vehicle's make and model is true, asks
 * (LB_FIND_ASK) when none is true and one hangs on facts that are not stated, and is not in the list when all
 * are false. A part without such rows that stands for another (`same` back and forth, `instead` once,
 * supersessions with their `same`) has the best fit and all the places of those that it stands for. A part
 * whose own rows are all false passes nothing on.
 */
#ifndef LB_GARAGE_FITTING_H
#define LB_GARAGE_FITTING_H

#include "find/shortlist.h"
#include "store/store.h"

struct lb_fitting;

/* The stored list when it is that of the vehicle and the index as they are now; else made in memory, which
 * takes longer and writes nothing. Works on an index that is open for reading. LB_DATA: no such vehicle
 * (nearest names). */
LB_CHECK lb_status lb_fitting_load(struct lb_fitting **out, struct lb_store *store, const char *vehicle,
                                   struct lb_error *err);
/* Borrowed: lives as long as the fitting. */
const struct lb_shortlist *lb_fitting_shortlist(const struct lb_fitting *fitting);
void lb_fitting_free(struct lb_fitting *fitting);
/* Makes and stores the lists of all vehicles whose stored list is out of date, in one transaction of its own:
 * not inside another. Writes nothing, and takes no lock, when all are up to date. */
LB_CHECK lb_status lb_fitting_refresh(struct lb_store *store, struct lb_error *err);

#endif
