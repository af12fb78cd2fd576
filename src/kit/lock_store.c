/* Where locks are kept: in files, and in the index. */
#include "base/date.h"
#include "importers/bytes.h"
#include "kit/lock.h"

#include <string.h>

enum { FILE_MOST = 64 << 20 }; /* bytes; the lock of a kit of ten thousand lines has some five million */

static lb_status read_whole(struct lb_buf *out, struct lb_bytes *bytes, const char *path,
                            struct lb_error *err)
{
    char block[8192];
    size_t got = 1;
    lb_status status = LB_OK;
    while (!status && got) {
        status = bytes->read(bytes, block, sizeof block, &got, err);
        if (!status && got > FILE_MOST - out->length)
            status = lb_fail(err, LB_DATA, "%s: this is no locked kit: it is too large for one.", path);
        if (!status)
            lb_buf_append(out, block, got);
    }
    return !status && out->failed ? lb_fail_nomem(err) : status;
}

lb_status lb_lock_read_file(struct lb_kit_lock *out, const char *path, struct lb_error *err)
{
    struct lb_bytes *bytes = NULL;
    struct lb_buf text = {0};
    *out = (struct lb_kit_lock){0};
    lb_status status =
        strcmp(path, "-") == 0 ? lb_bytes_open_stdin(&bytes, err) : lb_bytes_open_file(&bytes, path, err);
    if (!status)
        status = read_whole(&text, bytes, path, err);
    if (!status)
        status = lb_lock_read(out, lb_buf_text(&text), text.length, path, err);
    lb_bytes_close(bytes);
    lb_buf_free(&text);
    return status;
}

static lb_status read_kept(struct lb_kit_lock *out, const char *text, const struct lb_kit *kit,
                           struct lb_error *err)
{
    struct lb_buf name = {0};
    lb_buf_printf(&name, "the lock of %s in the index", kit->name);
    lb_status status =
        name.failed ? lb_fail_nomem(err) : lb_lock_read(out, text, strlen(text), lb_buf_text(&name), err);
    lb_buf_free(&name);
    return status;
}

lb_status lb_lock_load(struct lb_kit_lock *out, bool *locked, struct lb_store *store,
                       const struct lb_kit *kit, struct lb_error *err)
{
    struct lb_statement *st;
    *out = (struct lb_kit_lock){0};
    *locked = false;
    lb_status status = lb_store_prepare(store, &st, "SELECT text FROM kit_lock WHERE kit = ?1", err);
    if (status)
        return status;
    lb_bind_integer(st, 1, lb_kit_id(kit));
    status = lb_step(st, locked, err);
    if (!status && *locked)
        status = lb_need_texts(st, 0, 1, err);
    if (!status && *locked)
        status = read_kept(out, lb_text(st, 0), kit, err);
    lb_statement_free(st);
    return status;
}

lb_status lb_lock_keep(struct lb_store *store, const struct lb_kit *kit, int32_t today, const char *text,
                       struct lb_error *err)
{
    struct lb_statement *st;
    struct lb_buf day = {0};
    lb_status status = lb_store_prepare(
        store, &st, "INSERT OR REPLACE INTO kit_lock (kit, locked, text) VALUES (?1, ?2, ?3)", err);
    if (status)
        return status;
    lb_date_print(&day, today);
    lb_bind_integer(st, 1, lb_kit_id(kit));
    lb_bind_text(st, 2, lb_buf_text(&day));
    lb_bind_text(st, 3, text);
    status = day.failed ? lb_fail_nomem(err) : lb_run(st, err);
    lb_statement_free(st);
    lb_buf_free(&day);
    return status;
}
