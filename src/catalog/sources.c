#include "catalog/sources.h"
#include "catalog/ingest.h"
#include "catalog/lookup.h"
#include "catalog/spans.h"
#include "store/unknown.h"

lb_status lb_sources_each(struct lb_store *store, lb_status (*each)(void *, const struct lb_source *),
                          void *context, struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(store, &st,
                                        "SELECT name, path, kinds, supplier, imported, rows_read - "
                                        "rows_rejected, rows_rejected FROM source ORDER BY name",
                                        err);
    if (status)
        return status;
    while (!(status = lb_step(st, &row, err)) && row) {
        struct lb_source source = {lb_text(st, 0), lb_text(st, 1),    lb_text(st, 2),   lb_text(st, 3),
                                   lb_text(st, 4), lb_integer(st, 5), lb_integer(st, 6)};
        if ((status = each(context, &source)))
            break;
    }
    lb_statement_free(st);
    return status;
}

static lb_status find(struct lb_store *store, const char *name, int64_t *id, struct lb_error *err)
{
    struct lb_statement *st;
    bool row = false;
    lb_status status = lb_store_prepare(store, &st, "SELECT id FROM source WHERE name = ?", err);
    if (status)
        return status;
    lb_bind_text(st, 1, name);
    status = lb_step(st, &row, err);
    *id = row ? lb_integer(st, 0) : 0;
    lb_statement_free(st);
    return status || *id
               ? status
               : lb_store_refuse_unknown(store, "source", name, "SELECT name FROM source ORDER BY name",
                                         "See: lastbolt sources", err);
}

struct dropping {
    struct lb_ingest *ingest;
    int64_t rows;
};

static lb_status drop_range(void *context, int64_t first, int64_t last, struct lb_error *err)
{
    struct dropping *dropping = context;
    dropping->rows += last - first + 1;
    return lb_ingest_delete_range(dropping->ingest, first, last, err);
}

static lb_status drop(struct lb_store *store, int64_t source, struct lb_error *err)
{
    static const char *const sql[] = {
        "DELETE FROM price_was WHERE row IN (SELECT w.row FROM price_was w JOIN span p ON p.first = "
        "(SELECT max(first) FROM span WHERE first <= w.row) WHERE p.source = ?1)",
        "DELETE FROM former WHERE source = ?1", "DELETE FROM edition WHERE source = ?1",
        "DELETE FROM source WHERE id = ?1"};
    struct dropping dropping = {0};
    lb_status status = lb_ingest_open(&dropping.ingest, store, err);
    if (!status)
        status = lb_span_ranges(store, source, drop_range, &dropping, err);
    for (size_t i = 0; !status && i < sizeof sql / sizeof *sql; i++)
        status = lb_store_run_for(store, sql[i], source, err);
    if (!status)
        status = lb_span_drop(store, source, INT64_MAX, err);
    if (!status)
        status = lb_store_run_for(store, "UPDATE state SET stale = stale + ?1", dropping.rows, err);
    if (!status)
        status = lb_lookup_tidy(store, err);
    lb_ingest_close(dropping.ingest);
    return status;
}

lb_status lb_sources_drop(struct lb_store *store, const char *name, struct lb_error *err)
{
    int64_t id = 0;
    lb_status status = lb_store_begin(store, err);
    if (!status)
        status = find(store, name, &id, err);
    if (!status)
        status = drop(store, id, err);
    if (!status)
        status = lb_store_commit(store, err);
    if (status)
        lb_store_rollback(store);
    else
        lb_store_shrink(store);
    return status;
}
