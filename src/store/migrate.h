/* The numbered migrations of schema/, embedded at build time, and how an index is brought up to date. */
#ifndef LB_STORE_MIGRATE_H
#define LB_STORE_MIGRATE_H

#include "store/store.h"

struct lb_migration {
    const char *name; /* "0001-index.sql" */
    const char *sql;
};

/* Ends with {NULL, NULL}. Migration i makes user_version i + 1. */
extern const struct lb_migration lb_migrations[];

/* The user_version of this program's schema. */
int lb_migrate_latest(void);
/* Brings an index from its user_version to the latest in one transaction: all of it or nothing. */
LB_CHECK lb_status lb_migrate(struct lb_store *store, struct lb_error *err);

#endif
