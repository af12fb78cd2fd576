/* The index file: transactions, its state, what went wrong. */
#include "store/store_private.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>

static bool is_full(int trouble)
{
    return trouble == ENOSPC || trouble == EDQUOT || trouble == EFBIG;
}

static lb_status fail_full(const char *path, struct lb_error *err)
{
    return lb_fail(err, LB_SYSTEM, "%s: the disk is full; nothing was changed. Make room and try again.",
                   path);
}

lb_status store_fail(const struct lb_store *store, struct lb_error *err)
{
    int code = sqlite3_errcode(store->db);
    const char *path = store->path;
    switch (code & 0xff) {
    case SQLITE_NOMEM:
        return lb_fail_nomem(err);
    case SQLITE_FULL:
        return fail_full(path, err);
    case SQLITE_READONLY:
    case SQLITE_PERM:
        return lb_fail(err, LB_SYSTEM,
                       "%s: the index is read-only; nothing was changed. Check its permissions.", path);
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        return lb_fail(err, LB_SYSTEM,
                       "%s: another lastbolt is writing to the index; try again when it is done.", path);
    case SQLITE_NOTADB:
        return lb_fail(err, LB_SYSTEM,
                       "%s: is not a lastbolt index; it was left as it is. Name another file with --db.",
                       path);
    case SQLITE_CORRUPT:
        return lb_fail(err, LB_SYSTEM,
                       "%s: the index is damaged (%s). Move it away and import the catalogues again.", path,
                       sqlite3_errstr(code & 0xff));
    case SQLITE_ERROR: /* our questions are right for an index of ours, so it is none: tables are missing */
    case SQLITE_SCHEMA:
        return lb_fail(err, LB_SYSTEM,
                       "%s: the index is damaged (its tables, %d). Move it away and import the catalogues "
                       "again.",
                       path, code);
    case SQLITE_CANTOPEN:
        return lb_fail(err, LB_SYSTEM, "%s: the index cannot be opened: %s.", path, strerror(errno));
    case SQLITE_IOERR:
        if (is_full(sqlite3_system_errno(store->db)))
            return fail_full(path, err);
        if (code == SQLITE_IOERR_WRITE || code == SQLITE_IOERR_SHMSIZE) /* errno may be another's by now */
            return lb_fail(err, LB_SYSTEM,
                           "%s: the index cannot be written, the disk is full or failing; nothing was "
                           "changed. Make room "
                           "and try again.",
                           path);
        return lb_fail(err, LB_SYSTEM, "%s: the index cannot be read or written (%s, %d). Check the disk.",
                       path, sqlite3_errmsg(store->db), code);
    default:
        return lb_fail(err, LB_SYSTEM, "%s: the index failed: %s (%d).", path, sqlite3_errmsg(store->db),
                       code);
    }
}

lb_status lb_store_execute(struct lb_store *store, const char *sql, struct lb_error *err)
{
    return sqlite3_exec(store->db, sql, NULL, NULL, NULL) == SQLITE_OK ? LB_OK : store_fail(store, err);
}

bool lb_store_read_only(const struct lb_store *store)
{
    return sqlite3_db_readonly(store->db, "main") == 1;
}

lb_status lb_store_begin(struct lb_store *store, struct lb_error *err)
{
    return lb_store_execute(store, "BEGIN IMMEDIATE", err);
}

lb_status lb_store_hold(struct lb_store *store, bool *held, struct lb_error *err)
{
    *held = sqlite3_get_autocommit(store->db) != 0;
    return *held ? lb_store_execute(store, "BEGIN", err) : LB_OK;
}

void lb_store_release(struct lb_store *store, bool held)
{
    if (held)
        lb_store_rollback(store); /* nothing was written */
}

lb_status lb_store_commit(struct lb_store *store, struct lb_error *err)
{
    return lb_store_execute(store, "COMMIT", err);
}

void lb_store_rollback(struct lb_store *store)
{
    if (!sqlite3_get_autocommit(store->db))
        sqlite3_exec(store->db, "ROLLBACK", NULL, NULL, NULL);
}

lb_status lb_store_run_for(struct lb_store *store, const char *sql, int64_t id, struct lb_error *err)
{
    struct lb_statement *statement;
    lb_status status = lb_store_prepare(store, &statement, sql, err);
    if (status)
        return status;
    lb_bind_integer(statement, 1, id);
    status = lb_run(statement, err);
    lb_statement_free(statement);
    return status;
}

lb_status lb_store_integer(struct lb_store *store, const char *sql, int64_t *value, struct lb_error *err)
{
    struct lb_statement *statement;
    bool row = false;
    *value = 0;
    lb_status status = lb_store_prepare(store, &statement, sql, err);
    if (status)
        return status;
    status = lb_step(statement, &row, err);
    if (!status && row)
        *value = lb_integer(statement, 0);
    lb_statement_free(statement);
    return status;
}

void lb_store_shrink(struct lb_store *store)
{
    int64_t due = 0;
    if (lb_store_integer(
            store, "SELECT freelist_count * 2 > page_count FROM pragma_freelist_count, pragma_page_count",
            &due, NULL) ||
        !due)
        return;
    /* It is put together in a file, not in memory. */
    (void)sqlite3_exec(store->db, "PRAGMA temp_store = FILE; VACUUM; PRAGMA temp_store = MEMORY", NULL, NULL,
                       NULL);
}

static lb_status list_faults(struct lb_store *store, const char *pragma, struct lb_buf *faults,
                             struct lb_error *err)
{
    struct lb_statement *statement;
    bool row;
    lb_status status = lb_store_prepare(store, &statement, pragma, err);
    if (status)
        return status;
    while (!(status = lb_step(statement, &row, err)) && row)
        if (strcmp(lb_text(statement, 0), "ok") != 0)
            lb_buf_printf(faults, "%s\n", lb_text(statement, 0));
    lb_statement_free(statement);
    return status;
}

/* A page that was cut off may have been a free one, which nobody misses; the file has lost its end all the
 * same. */
static lb_status check_length(struct lb_store *store, struct lb_buf *faults, struct lb_error *err)
{
    struct stat info;
    int64_t size = 0;
    if (store_has_log(store->path))
        return LB_OK; /* some pages are only there yet */
    lb_status status = lb_store_integer(
        store, "SELECT page_count * page_size FROM pragma_page_count, pragma_page_size", &size, err);
    if (!status && stat(store->path, &info) == 0 && info.st_size < size)
        lb_buf_printf(faults, "the file has %lld bytes, %lld are missing at its end\n",
                      (long long)info.st_size, (long long)(size - info.st_size));
    return status;
}

lb_status lb_store_verify(struct lb_store *store, struct lb_buf *faults, struct lb_error *err)
{
    lb_status status = check_length(store, faults, err);
    if (!status)
        status = list_faults(store, "PRAGMA integrity_check", faults, err);
    return status ? status : list_faults(store, "PRAGMA foreign_key_check", faults, err);
}

lb_status lb_store_refuse_damaged(const struct lb_store *store, struct lb_error *err)
{
    return lb_fail(
        err, LB_SYSTEM,
        "%s: the index is damaged (its lookup blocks). Move it away and import the catalogues again.",
        store->path);
}

int64_t lb_store_last_id(const struct lb_store *store)
{
    return sqlite3_last_insert_rowid(store->db);
}
