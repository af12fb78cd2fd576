#include "store/migrate.h"

#include <stdio.h>

int lb_migrate_latest(void)
{
    int count = 0;
    while (lb_migrations[count].name)
        count++;
    return count;
}

static lb_status apply_from(struct lb_store *store, int version, struct lb_error *err)
{
    char pragma[96];
    for (int i = version; lb_migrations[i].name; i++) {
        lb_status status = lb_store_execute(store, lb_migrations[i].sql, err);
        if (status)
            return status;
    }
    snprintf(pragma, sizeof pragma, "PRAGMA user_version = %d; PRAGMA application_id = %d",
             lb_migrate_latest(), LB_APPLICATION_ID);
    return lb_store_execute(store, pragma, err);
}

lb_status lb_migrate(struct lb_store *store, struct lb_error *err)
{
    int64_t version = 0;
    lb_status status = lb_store_begin(store, err);
    if (status)
        return status;
    /* Read inside the transaction: another process may have migrated meanwhile. */
    status = lb_store_integer(store, "PRAGMA user_version", &version, err);
    if (!status && version < lb_migrate_latest())
        status = apply_from(store, (int)version, err);
    if (!status)
        status = lb_store_commit(store, err);
    if (status)
        lb_store_rollback(store);
    return status;
}
