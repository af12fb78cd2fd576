/* The stored lists: whether one is still right, and new ones in their place. */
#include "garage/fitting.h"

#include "base/fingerprint.h"
#include "garage/fitting_parts.h"

#include <stdio.h>
#include <string.h>

enum {
    FITTING_VERSION = 2, /* raised when the same rows make another list, or its bytes change */
    STAMP_ROOM = 128,
};

static uint64_t sum_of(const struct lb_buf *buf)
{
    return lb_fingerprint_of(lb_buf_text(buf), buf->length);
}

static void put(struct lb_buf *out, const char *text)
{
    lb_buf_puts(out, text ? text : "\x1e");
    lb_buf_putc(out, '\x1f');
}

/* All that a row's condition can ask of the vehicle. */
static lb_status sum_vehicle(const struct lb_vehicle *vehicle, uint64_t *sum, struct lb_error *err)
{
    struct lb_buf told = {0};
    put(&told, vehicle->make);
    put(&told, vehicle->model);
    put(&told, vehicle->built);
    for (size_t i = 0; i < vehicle->facts.count; i++) {
        put(&told, vehicle->facts.at[i].key);
        put(&told, vehicle->facts.at[i].value);
    }
    *sum = sum_of(&told);
    lb_status status = told.failed ? lb_fail_nomem(err) : LB_OK;
    lb_buf_free(&told);
    return status;
}

/* What tells one state of the sources from another. A source that is dropped and taken in again has new rows;
 * prices, which change most often, have no say in what fits. */
static const char sources[] =
    "SELECT s.id, s.name, CASE s.fingerprint WHEN '' THEN s.imported ELSE s.fingerprint END, s.kinds, "
    "s.reading, s.rows_read, s.rows_rejected, (SELECT max(p.first) FROM span p WHERE p.source = s.id) "
    "FROM source s WHERE s.kinds NOT IN ('offers', 'rates', 'shipping', 'suppliers', 'synonyms') "
    "ORDER BY s.id";
enum { SOURCE_COLUMNS = 8 };

static lb_status sum_sources(struct lb_store *store, uint64_t *sum, struct lb_error *err)
{
    struct lb_statement *st;
    struct lb_buf told = {0};
    bool row;
    lb_status status = lb_store_prepare(store, &st, sources, err);
    if (status)
        return status;
    while (!(status = lb_step(st, &row, err)) && row)
        for (int column = 0; column < SOURCE_COLUMNS; column++)
            put(&told, lb_text(st, column));
    *sum = sum_of(&told);
    if (!status && told.failed)
        status = lb_fail_nomem(err);
    lb_buf_free(&told);
    lb_statement_free(st);
    return status;
}

/* What a list depends on, but for the vehicle: the same for all vehicles. */
static lb_status write_index_stamp(struct lb_store *store, char stamp[STAMP_ROOM], struct lb_error *err)
{
    uint64_t sum = 0;
    int64_t version = 0;
    lb_status status = sum_sources(store, &sum, err);
    if (!status)
        status = lb_store_integer(store, "SELECT lookup_version FROM state", &version, err);
    snprintf(stamp, STAMP_ROOM, "%d:%lld:%016llx", FITTING_VERSION, (long long)version,
             (unsigned long long)sum);
    return status;
}

static lb_status write_stamp(const char *index_stamp, const struct lb_vehicle *vehicle,
                             char stamp[STAMP_ROOM], struct lb_error *err)
{
    uint64_t sum = 0;
    lb_status status = sum_vehicle(vehicle, &sum, err);
    snprintf(stamp, STAMP_ROOM, "%.90s:%016llx", index_stamp, (unsigned long long)sum);
    return status;
}

/* *out NULL: there is none, it is out of date, or its bytes are not whole. */
static lb_status load_stored(struct lb_fitting **out, struct lb_store *store,
                             const struct lb_vehicle *vehicle, const char *stamp, struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    *out = NULL;
    lb_status status =
        lb_store_prepare(store, &st, "SELECT parts FROM fitting WHERE vehicle = ?1 AND stamp = ?2", err);
    if (status)
        return status;
    lb_bind_integer(st, 1, vehicle->id);
    lb_bind_text(st, 2, stamp);
    status = lb_step(st, &row, err);
    if (!status && row) {
        size_t length;
        const void *bytes = lb_blob(st, 0, &length);
        status = fitting_unpack(out, bytes, length, vehicle->name, err);
    }
    lb_statement_free(st);
    return status;
}

static lb_status load_made(struct lb_fitting **out, struct lb_store *store, const struct lb_vehicle *vehicle,
                           struct lb_error *err)
{
    struct lb_buf bytes = {0};
    lb_status status = fitting_make(&bytes, store, vehicle, err);
    if (!status)
        status = fitting_unpack(out, bytes.text, bytes.length, vehicle->name, err);
    if (!status && !*out)
        status = lb_store_refuse_damaged(store, err);
    lb_buf_free(&bytes);
    return status;
}

static lb_status load(struct lb_fitting **out, struct lb_store *store, const char *name, struct lb_error *err)
{
    struct lb_vehicle vehicle;
    char index_stamp[STAMP_ROOM], stamp[STAMP_ROOM];
    lb_status status = lb_vehicle_load(store, name, &vehicle, err);
    if (status)
        return status;
    status = write_index_stamp(store, index_stamp, err);
    if (!status)
        status = write_stamp(index_stamp, &vehicle, stamp, err);
    if (!status)
        status = load_stored(out, store, &vehicle, stamp, err);
    if (!status && !*out)
        status = load_made(out, store, &vehicle, err);
    lb_vehicle_free(&vehicle);
    return status;
}

lb_status lb_fitting_load(struct lb_fitting **out, struct lb_store *store, const char *vehicle,
                          struct lb_error *err)
{
    bool held = false;
    *out = NULL;
    lb_status status = lb_store_hold(store, &held, err);
    if (!status)
        status = load(out, store, vehicle, err);
    lb_store_release(store, held);
    return status;
}

struct refresh {
    struct lb_store *store;
    struct lb_error *err;
    char index_stamp[STAMP_ROOM];
    struct lb_statement *ask, *keep;
    bool due; /* some list is out of date */
};

/* Is the vehicle's list out of date, and what is the stamp of one that is not? */
static lb_status judge(struct refresh *r, const struct lb_vehicle *vehicle, char stamp[STAMP_ROOM], bool *due)
{
    bool row = false;
    lb_status status = write_stamp(r->index_stamp, vehicle, stamp, r->err);
    if (status)
        return status;
    lb_bind_integer(r->ask, 1, vehicle->id);
    lb_bind_text(r->ask, 2, stamp);
    status = lb_step(r->ask, &row, r->err);
    lb_statement_reset(r->ask);
    *due = !status && !row;
    return status;
}

static lb_status note_due(void *context, const struct lb_vehicle *vehicle)
{
    struct refresh *r = context;
    char stamp[STAMP_ROOM];
    bool due;
    lb_status status = judge(r, vehicle, stamp, &due);
    r->due |= !status && due;
    return status;
}

static lb_status make_due(void *context, const struct lb_vehicle *vehicle)
{
    struct refresh *r = context;
    struct lb_buf bytes = {0};
    char stamp[STAMP_ROOM];
    bool due = false;
    lb_status status = judge(r, vehicle, stamp, &due);
    if (!status && due)
        status = fitting_make(&bytes, r->store, vehicle, r->err);
    if (!status && due) {
        lb_bind_integer(r->keep, 1, vehicle->id);
        lb_bind_text(r->keep, 2, stamp);
        lb_bind_blob(r->keep, 3, bytes.text, bytes.length);
        status = lb_run(r->keep, r->err);
    }
    lb_buf_free(&bytes);
    return status;
}

/* All of them in one transaction: an index that changes between two looks at it would be another one. */
static lb_status refresh_all(struct refresh *r)
{
    lb_status status = lb_store_begin(r->store, r->err);
    if (status)
        return status; /* another's transaction is not ours to end */
    status = write_index_stamp(r->store, r->index_stamp, r->err);
    if (!status)
        status = lb_store_prepare(r->store, &r->keep,
                                  "REPLACE INTO fitting (vehicle, stamp, parts) VALUES (?1, ?2, ?3)", r->err);
    if (!status)
        status = lb_vehicle_each(r->store, make_due, r, r->err);
    lb_statement_free(r->keep);
    if (!status)
        status = lb_store_commit(r->store, r->err);
    if (status)
        lb_store_rollback(r->store);
    return status;
}

lb_status lb_fitting_refresh(struct lb_store *store, struct lb_error *err)
{
    struct refresh r = {.store = store, .err = err};
    int64_t vehicles = 0;
    lb_status status = lb_store_integer(store, "SELECT EXISTS (SELECT 1 FROM vehicle)", &vehicles, err);
    if (status || !vehicles)
        return status;
    status = write_index_stamp(store, r.index_stamp, err);
    if (!status)
        status =
            lb_store_prepare(store, &r.ask, "SELECT 1 FROM fitting WHERE vehicle = ?1 AND stamp = ?2", err);
    if (!status)
        status = lb_vehicle_each(store, note_due, &r, err);
    if (!status && r.due)
        status = refresh_all(&r);
    lb_statement_free(r.ask);
    return status;
}
