/* An order as files: a parcel's list as CSV (RFC 4180), and a text to paste into a mail. They are written
 * under names that begin with a dot and get their own once the order is recorded, so that there is never the
 * one without the other.
 *
 *     status = lb_order_files_write(&files, store, purchase, "out", profile, &err);
 *     … lb_orders_record(store, purchase, lb_order_files_stems(files), now, &err), commit …
 *     status = lb_order_files_name(files, store, &err);
 *     lb_order_files_free(files);                           // removes what did not get its name
 */
#ifndef LB_PURCHASE_ORDER_FILE_H
#define LB_PURCHASE_ORDER_FILE_H

#include "importers/profile.h"
#include "purchase/purchase.h"

struct lb_order_files;

/* Two files a parcel in `folder`, which exists: SUPPLIER-order.csv and .txt. The columns are those of
 * `profile`, else those by which the list was read that the parcel's offers stand in, else our own. LB_DATA:
 * one of the names is taken already. LB_SYSTEM: cannot be written. Nothing is left behind after a failure. */
LB_CHECK lb_status lb_order_files_write(struct lb_order_files **out, struct lb_store *store,
                                        const struct lb_purchase *purchase, const char *folder,
                                        const struct lb_profile *profile, struct lb_error *err);
/* By parcel, absolute paths without .csv and .txt. Borrowed. */
const char *const *lb_order_files_stems(const struct lb_order_files *files);
/* Gives them their names, and notes in the index that they have them. Nothing is overwritten: LB_SYSTEM when
 * a name was taken meanwhile; what has not got its name then keeps waiting. */
LB_CHECK lb_status lb_order_files_name(struct lb_order_files *files, struct lb_store *store,
                                       struct lb_error *err);
void lb_order_files_free(struct lb_order_files *files);

/* The same for files of orders that were recorded by a run that was stopped before it got so far. Appends
 * their names, a line each. */
LB_CHECK lb_status lb_order_files_resume(struct lb_store *store, struct lb_buf *names, struct lb_error *err);

#endif
