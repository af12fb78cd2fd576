/* The index file: judged, opened, brought up to date. */
#include "base/buf.h"
#include "store/migrate.h"
#include "store/store_private.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

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
bool store_has_log(const char *path)
{
    struct stat info;
    char *log = NULL;
    if (asprintf(&log, "%s-wal", path) < 0)
        return true;
    bool has = stat(log, &info) == 0 && info.st_size > 0;
    free(log);
    return has;
}

/* Who reads is helped by the file mapped into memory (as much of it as SQLite maps, 2 GiB); who imports
 * millions of rows is to stay small. The size of a page counts for a new index only: the log writes each page
 * twice over, so larger ones are fewer calls of the system. */
#define READING "PRAGMA mmap_size = 2147418112"
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
    if (!writable && !store_has_log(store->path))
        lb_buf_puts(&uri, "?immutable=1");
    int flags = SQLITE_OPEN_URI | SQLITE_OPEN_NOMUTEX |
                (writable ? SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE : SQLITE_OPEN_READONLY);
    int code = uri.failed ? SQLITE_NOMEM : sqlite3_open_v2(lb_buf_text(&uri), &store->db, flags, NULL);
    lb_buf_free(&uri);
    if (code == SQLITE_NOMEM || !store->db)
        return lb_fail_nomem(err);
    if (code != SQLITE_OK)
        return store_fail(store, err);
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
    return code == SQLITE_OK || code == SQLITE_BUSY || code == SQLITE_LOCKED ? LB_OK : store_fail(store, err);
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
    if (version && version < lb_migrate_latest() && !may_write(store->path))
        return lb_fail(
            err, LB_SYSTEM,
            "%s: was made by an older lastbolt, and is read-only, so it cannot be brought up to date. "
            "Check its permissions, or name a copy of it with --db.",
            store->path);
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
