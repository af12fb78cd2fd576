#include "catalog/spans.h"

lb_status lb_span_begin(struct lb_span_writer *span, struct lb_store *store, int64_t source,
                        struct lb_error *err)
{
    *span = (struct lb_span_writer){.source = source};
    return lb_store_prepare(store, &span->insert,
                            "INSERT INTO span (first, count, source, line) VALUES (?1, ?2, ?3, ?4)", err);
}

static lb_status flush(struct lb_span_writer *span, struct lb_error *err)
{
    if (!span->count)
        return LB_OK;
    const int64_t values[] = {span->first, span->count, span->source, span->line};
    for (int i = 0; i < 4; i++)
        lb_bind_integer(span->insert, i + 1, values[i]);
    span->count = 0;
    return lb_run(span->insert, err);
}

lb_status lb_span_add(struct lb_span_writer *span, int64_t row, int64_t line, struct lb_error *err)
{
    lb_status status = LB_OK;
    if (row != span->first + span->count || line != span->line + span->count) {
        status = flush(span, err);
        span->first = row;
        span->line = line;
    }
    span->count++;
    return status;
}

lb_status lb_span_end(struct lb_span_writer *span, lb_status status, struct lb_error *err)
{
    if (!status)
        status = flush(span, err);
    lb_statement_free(span->insert);
    span->insert = NULL;
    return status;
}

lb_status lb_span_ranges(struct lb_store *store, int64_t source, lb_span_range *each, void *context,
                         struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    int64_t first = 0, last = -1;
    lb_status status =
        lb_store_prepare(store, &st, "SELECT first, count FROM span WHERE source = ?1 ORDER BY first", err);
    if (status)
        return status;
    lb_bind_integer(st, 1, source);
    while (!(status = lb_step(st, &row, err)) && row) {
        if (lb_integer(st, 0) != last + 1) {
            if (last >= first && (status = each(context, first, last, err)))
                break;
            first = lb_integer(st, 0);
        }
        last = lb_integer(st, 0) + lb_integer(st, 1) - 1;
    }
    lb_statement_free(st);
    return status || last < first ? status : each(context, first, last, err);
}

lb_status lb_span_drop(struct lb_store *store, int64_t source, int64_t before, struct lb_error *err)
{
    struct lb_statement *st;
    lb_status status = lb_store_prepare(store, &st, "DELETE FROM span WHERE source = ?1 AND first < ?2", err);
    if (status)
        return status;
    lb_bind_integer(st, 1, source);
    lb_bind_integer(st, 2, before);
    status = lb_run(st, err);
    lb_statement_free(st);
    return status;
}
