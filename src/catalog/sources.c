#include "catalog/sources.h"
#include "base/names.h"
#include "base/text.h"
#include "catalog/ingest.h"

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

static lb_status collect(void *context, const struct lb_source *source)
{
    uint32_t id;
    return lb_names_add(context, source->name, &id) ? LB_OK : LB_NOMEM;
}

static lb_status refuse_unknown(struct lb_store *store, const char *name, struct lb_error *err)
{
    struct lb_names names = {0};
    struct lb_buf near = {0};
    lb_status status = lb_sources_each(store, collect, &names, err);
    if (status == LB_NOMEM)
        lb_fail_nomem(err);
    else if (!status && names.count && lb_text_nearest(&near, name, names.at, names.count))
        status =
            lb_fail(err, LB_DATA, "there is no source \"%s\". Did you mean %s?", name, lb_buf_text(&near));
    else if (!status)
        status = lb_fail(err, LB_DATA, "there is no source \"%s\". See: lastbolt sources", name);
    lb_names_free(&names);
    lb_buf_free(&near);
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
    return status || *id ? status : refuse_unknown(store, name, err);
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
