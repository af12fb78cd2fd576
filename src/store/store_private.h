/* What the files of src/store/ share. */
#ifndef LB_STORE_PRIVATE_H
#define LB_STORE_PRIVATE_H

#include "store/store.h"

#include <sqlite3.h>

struct lb_store {
    sqlite3 *db;
    char *path;
};

struct lb_statement {
    sqlite3_stmt *stmt;
    struct lb_store *store;
    int bind_failure;
};

/* The database's last failure, for people. */
lb_status store_fail(const struct lb_store *store, struct lb_error *err);
/* Something was written that is not yet in the index file itself. */
bool store_has_log(const char *path);

#endif
