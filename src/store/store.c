#include "store/store.h"
#include "base/buf.h"
#include "store/migrate.h"

#include <errno.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct lb_store {
    sqlite3 *db;
    char *path;
};

struct lb_statement {
    sqlite3_stmt *stmt;
    struct lb_store *store;
    int bind_failure;
};

static bool is_full(int trouble)
{
    return trouble == ENOSPC || trouble == EDQUOT || trouble == EFBIG;
}

static lb_status fail_full(const char *path, struct lb_error *err)
{
    return lb_fail(err, LB_SYSTEM, "%s: the disk is full; nothing was changed. Make room and try again.",
                   path);
}

static lb_status fail(const struct lb_store *store, struct lb_error *err)
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
                       sqlite3_errmsg(store->db));
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

static uint32_t big_endian(const unsigned char *bytes)
{
    return (uint32_t)bytes[0] << 24 | (uint32_t)bytes[1] << 16 | (uint32_t)bytes[2] << 8 | bytes[3];
}

static lb_status refuse_newer(const char *path, int64_t version, struct lb_error *err)
{
    return lb_fail(
        err, LB_SYSTEM,
        "%s: was made by a newer lastbolt (index version %lld, this program knows up to %d); it was left "
        "untouched. Use the newer program, or another index with --db.",
        path, (long long)version, lb_migrate_latest());
}

/* Judges the file by its first 100 bytes (SQLite file format, 1.3), before anything that could write to it.
 */
static lb_status judge_file(const char *path, bool *exists, struct lb_error *err)
{
    unsigned char head[100];
    FILE *file = fopen(path, "rb");
    *exists = file != NULL;
    if (!file && errno == ENOENT)
        return LB_OK;
    if (!file)
        return lb_fail(err, LB_SYSTEM, "%s: the index cannot be opened: %s.", path, strerror(errno));
    size_t got = fread(head, 1, sizeof head, file);
    int trouble = ferror(file) ? errno : 0;
    fclose(file);
    if (trouble)
        return lb_fail(err, LB_SYSTEM, "%s: the index cannot be read: %s.", path, strerror(trouble));
    if (got == 0) {
        *exists = false; /* an empty file is an index not begun */
        return LB_OK;
    }
    if (got < sizeof head || memcmp(head, "SQLite format 3", 16) != 0)
        return lb_fail(err, LB_SYSTEM,
                       "%s: is not a lastbolt index; it was left as it is. Name another file with --db.",
                       path);
    if (big_endian(head + 68) != LB_APPLICATION_ID)
        return lb_fail(
            err, LB_SYSTEM,
            "%s: is a database of another program; it was left as it is. Name another file with --db.", path);
    if (big_endian(head + 60) > (uint32_t)lb_migrate_latest())
        return refuse_newer(path, big_endian(head + 60), err);
    return LB_OK;
}

/* The write-ahead log's companions stand beside the index, so both the file and its folder must be ours to
 * write. */
static bool may_write(const char *path)
{
    const char *slash = strrchr(path, '/');
    char *folder = slash ? strndup(path, slash > path ? (size_t)(slash - path) : 1) : strdup(".");
    bool may = access(path, W_OK) == 0 && folder && access(folder, W_OK) == 0;
    free(folder);
    return may;
}

/* What was written but not yet moved into the index itself: it must not be passed over. */
static bool has_log(const char *path)
{
    struct stat info;
    char *log = NULL;
    if (asprintf(&log, "%s-wal", path) < 0)
        return true;
    bool has = stat(log, &info) == 0 && info.st_size > 0;
    free(log);
    return has;
}

/* Who reads is helped by the file mapped into memory; who imports millions of rows is to stay small. The size
 * of a page counts for a new index only: the log writes each page twice over, so larger ones are fewer calls
 * of the system. */
#define READING "PRAGMA mmap_size = 268435456"
#define WRITING "PRAGMA page_size = 8192; PRAGMA cache_size = -32768"

/* A file: URI with the characters that mean something in one escaped; for read-only media, which cannot hold
 * the write-ahead log's companions, the file is declared immutable. */
static lb_status connect(struct lb_store *store, enum lb_store_mode mode, bool writable, struct lb_error *err)
{
    struct lb_buf uri = {0};
    lb_buf_puts(&uri, "file:");
    for (const char *p = store->path; *p; p++) {
        if (strchr("%?#", *p))
            lb_buf_printf(&uri, "%%%02X", (unsigned char)*p);
        else
            lb_buf_putc(&uri, *p);
    }
    if (!writable && !has_log(store->path))
        lb_buf_puts(&uri, "?immutable=1");
    int flags = SQLITE_OPEN_URI | SQLITE_OPEN_NOMUTEX |
                (writable ? SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE : SQLITE_OPEN_READONLY);
    int code = uri.failed ? SQLITE_NOMEM : sqlite3_open_v2(lb_buf_text(&uri), &store->db, flags, NULL);
    lb_buf_free(&uri);
    if (code == SQLITE_NOMEM || !store->db)
        return lb_fail_nomem(err);
    if (code != SQLITE_OK)
        return fail(store, err);
    sqlite3_extended_result_codes(store->db, 1);
    sqlite3_busy_timeout(store->db, 10000);
    lb_status status = lb_store_execute(
        store, "PRAGMA foreign_keys = ON; PRAGMA temp_store = MEMORY; PRAGMA trusted_schema = OFF", err);
    return status ? status : lb_store_execute(store, mode == LB_STORE_READ ? READING : WRITING, err);
}

/* Readers beside one writer. A neighbour that reads right now puts it off until the next time, no more. */
static lb_status use_log(struct lb_store *store, struct lb_error *err)
{
    int code = sqlite3_exec(store->db, "PRAGMA journal_mode = WAL", NULL, NULL, NULL) & 0xff;
    return code == SQLITE_OK || code == SQLITE_BUSY || code == SQLITE_LOCKED ? LB_OK : fail(store, err);
}

/* The tables come before the write-ahead log: an index whose making fails is then an empty file, not begun,
 * and no database that nobody claims. */
static lb_status prepare_schema(struct lb_store *store, enum lb_store_mode mode, struct lb_error *err)
{
    int64_t version = 0;
    lb_status status = lb_store_integer(store, "PRAGMA user_version", &version, err);
    if (status)
        return status;
    if (version > lb_migrate_latest())
        return refuse_newer(store->path, version, err);
    if (version < lb_migrate_latest())
        status = lb_migrate(store, err);
    return status || mode == LB_STORE_READ ? status : use_log(store, err);
}

lb_status lb_store_open(struct lb_store **out, const char *path, enum lb_store_mode mode,
                        struct lb_error *err)
{
    bool exists;
    *out = NULL;
    lb_status status = judge_file(path, &exists, err);
    if (status)
        return status;
    if (!exists && mode == LB_STORE_READ)
        return lb_fail(err, LB_DATA, "%s: there is no index yet. Begin with: lastbolt import PATH", path);
    struct lb_store *store = calloc(1, sizeof *store);
    if (!store || !(store->path = strdup(path))) {
        free(store);
        return lb_fail_nomem(err);
    }
    bool writable = !exists || may_write(path);
    status = connect(store, mode, writable || mode == LB_STORE_WRITE, err);
    if (!status)
        status = prepare_schema(store, mode, err);
    if (!status)
        status = lb_store_execute(store, "PRAGMA synchronous = NORMAL", err);
    if (status) {
        lb_store_close(store);
        return status;
    }
    *out = store;
    return LB_OK;
}

void lb_store_close(struct lb_store *store)
{
    if (!store)
        return;
    sqlite3_close_v2(store->db);
    free(store->path);
    free(store);
}

lb_status lb_store_execute(struct lb_store *store, const char *sql, struct lb_error *err)
{
    return sqlite3_exec(store->db, sql, NULL, NULL, NULL) == SQLITE_OK ? LB_OK : fail(store, err);
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

/* A page that was cut off may have been a free one, which nobody misses; the file has lost its end all the same. */
static lb_status check_length(struct lb_store *store, struct lb_buf *faults, struct lb_error *err)
{
    struct stat info;
    int64_t size = 0;
    if (has_log(store->path))
        return LB_OK; /* some pages are only there yet */
    lb_status status = lb_store_integer(
        store, "SELECT page_count * page_size FROM pragma_page_count, pragma_page_size", &size, err);
    if (!status && stat(store->path, &info) == 0 && info.st_size < size)
        lb_buf_printf(faults, "the file has %lld bytes, %lld are missing at its end\n", (long long)info.st_size,
                      (long long)(size - info.st_size));
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

lb_status lb_store_prepare(struct lb_store *store, struct lb_statement **out, const char *sql,
                           struct lb_error *err)
{
    struct lb_statement *statement = calloc(1, sizeof *statement);
    *out = NULL;
    if (!statement)
        return lb_fail_nomem(err);
    statement->store = store;
    if (sqlite3_prepare_v3(store->db, sql, -1, SQLITE_PREPARE_PERSISTENT, &statement->stmt, NULL) !=
        SQLITE_OK) {
        free(statement);
        return fail(store, err);
    }
    *out = statement;
    return LB_OK;
}

void lb_statement_free(struct lb_statement *statement)
{
    if (!statement)
        return;
    sqlite3_finalize(statement->stmt);
    free(statement);
}

static void note_bind(struct lb_statement *statement, int code)
{
    if (code != SQLITE_OK && !statement->bind_failure)
        statement->bind_failure = code;
}

void lb_bind_text(struct lb_statement *statement, int parameter, const char *text)
{
    note_bind(statement, text ? sqlite3_bind_text(statement->stmt, parameter, text, -1, SQLITE_STATIC)
                              : sqlite3_bind_null(statement->stmt, parameter));
}

void lb_bind_text_of(struct lb_statement *statement, int parameter, const char *text, size_t length)
{
    note_bind(statement,
              sqlite3_bind_text64(statement->stmt, parameter, text, length, SQLITE_STATIC, SQLITE_UTF8));
}

void lb_bind_blob(struct lb_statement *statement, int parameter, const void *bytes, size_t length)
{
    note_bind(statement,
              sqlite3_bind_blob64(statement->stmt, parameter, bytes ? bytes : "", length, SQLITE_STATIC));
}

void lb_bind_integer(struct lb_statement *statement, int parameter, int64_t value)
{
    note_bind(statement, sqlite3_bind_int64(statement->stmt, parameter, value));
}

void lb_bind_null(struct lb_statement *statement, int parameter)
{
    note_bind(statement, sqlite3_bind_null(statement->stmt, parameter));
}

lb_status lb_step(struct lb_statement *statement, bool *row, struct lb_error *err)
{
    *row = false;
    int code = statement->bind_failure ? statement->bind_failure : sqlite3_step(statement->stmt);
    *row = code == SQLITE_ROW;
    if (*row)
        return LB_OK;
    lb_status status = code == SQLITE_DONE ? LB_OK : fail(statement->store, err);
    lb_statement_reset(statement);
    return status;
}

lb_status lb_run(struct lb_statement *statement, struct lb_error *err)
{
    bool row;
    lb_status status = LB_OK;
    do
        status = lb_step(statement, &row, err);
    while (!status && row);
    return status;
}

void lb_statement_reset(struct lb_statement *statement)
{
    sqlite3_reset(statement->stmt);
    statement->bind_failure = 0;
}

const char *lb_text(struct lb_statement *statement, int column)
{
    return (const char *)sqlite3_column_text(statement->stmt, column);
}

int64_t lb_integer(struct lb_statement *statement, int column)
{
    return sqlite3_column_int64(statement->stmt, column);
}

const void *lb_blob(struct lb_statement *statement, int column, size_t *length)
{
    const void *bytes = sqlite3_column_blob(statement->stmt, column);
    *length = (size_t)sqlite3_column_bytes(statement->stmt, column);
    return bytes;
}

bool lb_is_null(struct lb_statement *statement, int column)
{
    return sqlite3_column_type(statement->stmt, column) == SQLITE_NULL;
}
