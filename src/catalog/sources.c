#include "catalog/sources.h"
#include "catalog/ingest.h"
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

lb_status lb_sources_drop(struct lb_store *store, const char *name, struct lb_error *err)
{
    struct lb_ingest *ingest = NULL;
    int64_t id = 0;
    lb_status status = lb_store_begin(store, err);
    if (!status)
        status = find(store, name, &id, err);
    if (!status)
        status = lb_ingest_open(&ingest, store, err);
    if (!status)
        status = lb_ingest_drop(ingest, id, err);
    lb_ingest_close(ingest);
    if (!status)
        status = lb_store_commit(store, err);
    if (status)
        lb_store_rollback(store);
    return status;
}
