/* The lookup made anew from the rows, and what keeps it small and quick. */
#include "catalog/growth.h"
#include "catalog/ingest.h"
#include "catalog/lookup.h"
#include "catalog/spelling.h"

enum {
    LOOKUP_VERSION =
        2,        /* raised when keys or blocks change: who opens the index next makes the lookup anew */
    RUNS_MAX = 8, /* more than that make asking slow */
    GATHER_MAX = 4 << 20, /* pairs that are gathered from small runs at once: what takes a moment */
};

struct building {
    struct lb_store *store;
    struct lb_growth growth;
};

static lb_status add_row(void *context, const struct lb_kind *kind, int64_t row,
                         const struct lb_value *values, struct lb_error *err)
{
    struct building *b = context;
    lb_status status = lb_growth_note(&b->growth, kind, values, row, err);
    return status || !lb_postings_full(b->growth.postings) ? status
                                                           : lb_growth_write(&b->growth, b->store, err);
}

/* Rows ascend within one kind only. */
static lb_status add_all(struct building *b, struct lb_ingest *ingest, struct lb_error *err)
{
    lb_status status = LB_OK;
    for (int i = 0; !status && i < lb_kind_count; i++) {
        if (!lb_terms_has(&lb_kinds[i]))
            continue;
        status = lb_ingest_each(ingest, &lb_kinds[i], add_row, b, err);
        if (!status)
            status = lb_growth_write(&b->growth, b->store, err);
    }
    return status ? status : lb_terms_save(&b->growth.terms, b->store, err);
}

lb_status lb_lookup_rebuild(struct lb_store *store, struct lb_error *err)
{
    struct building b = {.store = store};
    struct lb_ingest *ingest = NULL;
    lb_status status = lb_store_execute(
        store,
        "DELETE FROM lookup; DELETE FROM lookup_block; DELETE FROM lookup_run; DELETE FROM brand; "
        "UPDATE state SET titles = 0, title_words = 0",
        err);
    if (!status)
        status = lb_spelling_clear(store, err);
    if (!status)
        status = lb_growth_begin(&b.growth, store, err);
    if (!status)
        status = lb_ingest_open(&ingest, store, err);
    if (!status)
        status = add_all(&b, ingest, err);
    if (!status)
        status = lb_store_run_for(store, "UPDATE state SET lookup_version = ?1", LOOKUP_VERSION, err);
    lb_ingest_close(ingest);
    lb_growth_free(&b.growth);
    return status;
}

/* Rows that no span holds, table by table, and hashes of nothing else. */
static lb_status delete_stale(struct lb_store *store, struct lb_error *err)
{
    struct lb_buf sql = {0};
    for (int i = 0; i < lb_kind_count; i++)
        lb_buf_printf(&sql,
                      "DELETE FROM %s WHERE NOT EXISTS (SELECT 1 FROM span p WHERE p.first = "
                      "(SELECT max(first) FROM span WHERE first <= id) AND id < p.first + p.count);",
                      lb_kinds[i].name);
    lb_buf_puts(
        &sql,
        "DELETE FROM edition WHERE coalesce((SELECT p.first + p.count FROM span p WHERE p.source = "
        "edition.source AND p.first < edition.first + length(hashes) / 8 ORDER BY p.first DESC LIMIT 1), 0) "
        "<= edition.first");
    lb_status status = sql.failed ? lb_fail_nomem(err) : lb_store_execute(store, sql.text, err);
    lb_buf_free(&sql);
    return status;
}

static lb_status gather_runs(struct lb_store *store, struct lb_error *err)
{
    int merged;
    return lb_runs_gather(store, RUNS_MAX, GATHER_MAX, &merged, err);
}

lb_status lb_lookup_tidy(struct lb_store *store, struct lb_error *err)
{
    int64_t due = 0;
    lb_status status = lb_store_integer(
        store, "SELECT stale > 1000 AND stale * 4 > (SELECT coalesce(sum(count), 0) FROM span) FROM state",
        &due, err);
    if (!status && due)
        status = delete_stale(store, err);
    if (!status && due)
        status = lb_lookup_rebuild(store, err);
    if (!status && due)
        status = lb_store_execute(store, "UPDATE state SET stale = 0", err);
    return status ? status : gather_runs(store, err);
}

lb_status lb_lookup_current(struct lb_store *store, struct lb_error *err)
{
    int64_t version = 0;
    lb_status status = lb_store_integer(store, "SELECT lookup_version FROM state", &version, err);
    if (status || version == LOOKUP_VERSION)
        return status;
    return lb_fail(err, LB_DATA,
                   "the index was made by another version of lastbolt: bring it up to date with any import "
                   "(lastbolt import FILE), where it can be written");
}

lb_status lb_lookup_ready(struct lb_store *store, struct lb_error *err)
{
    int64_t version = 0;
    lb_status status = lb_store_integer(store, "SELECT lookup_version FROM state", &version, err);
    if (status || version == LOOKUP_VERSION)
        return status;
    if (lb_store_read_only(store))
        return lb_lookup_current(store, err);
    status = lb_store_begin(store, err);
    if (!status)
        status = lb_lookup_rebuild(store, err);
    if (!status)
        status = lb_store_commit(store, err);
    if (status)
        lb_store_rollback(store);
    return status;
}
