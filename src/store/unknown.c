#include "store/unknown.h"
#include "base/names.h"
#include "base/text.h"

static lb_status read_names(struct lb_store *store, const char *sql, struct lb_names *names,
                            struct lb_error *err)
{
    struct lb_statement *statement;
    bool row;
    uint32_t id;
    lb_status status = lb_store_prepare(store, &statement, sql, err);
    if (status)
        return status;
    while (!(status = lb_step(statement, &row, err)) && row) {
        if (lb_names_add(names, lb_text(statement, 0), &id))
            continue;
        status = lb_fail_nomem(err);
        break;
    }
    lb_statement_free(statement);
    return status;
}

lb_status lb_store_refuse_unknown(struct lb_store *store, const char *what, const char *name,
                                  const char *names, const char *otherwise, struct lb_error *err)
{
    struct lb_names known = {0};
    struct lb_buf near = {0};
    lb_status status = read_names(store, names, &known, err);
    if (!status && known.count && lb_text_nearest(&near, name, known.at, known.count))
        status =
            lb_fail(err, LB_DATA, "there is no %s \"%s\". Did you mean %s?", what, name, lb_buf_text(&near));
    else if (!status)
        status = lb_fail(err, LB_DATA, "there is no %s \"%s\". %s", what, name, otherwise);
    lb_names_free(&known);
    lb_buf_free(&near);
    return status;
}
