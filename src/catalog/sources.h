/* What is in the index: one source a file, from where, since when. */
#ifndef LB_CATALOG_SOURCES_H
#define LB_CATALOG_SOURCES_H

#include "store/store.h"

struct lb_source {
    const char *name, *path, *kinds, *supplier, *imported; /* supplier NULL: none fixed */
    int64_t rows, rejected;
};

/* Calls `each` for every source, by name; texts are borrowed until it returns. */
LB_CHECK lb_status lb_sources_each(struct lb_store *store,
                                   lb_status (*each)(void *, const struct lb_source *), void *context,
                                   struct lb_error *err);
/* Takes a source and all its rows out, in one transaction. LB_DATA: no such source (nearest names). */
LB_CHECK lb_status lb_sources_drop(struct lb_store *store, const char *name, struct lb_error *err);

#endif
