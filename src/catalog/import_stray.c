#include "catalog/import_stray.h"
#include "base/names.h"
#include "catalog/spans.h"

#include <string.h>

#define STRAY                                                                                                \
    "SELECT r.platform, min(" LB_PLACE_LINE ") AS place" LB_PLACED(                                          \
        "rules") "WHERE s.name = ?1 "                                                                        \
                 "AND r.platform NOT IN (SELECT q.platform FROM platforms q WHERE " LB_IS_THERE(             \
                     "q.id") ") "                                                                            \
                             "GROUP BY r.platform ORDER BY place"

static lb_status mention(struct lb_imported_file *file, struct lb_statement *st, struct lb_names *said,
                         struct lb_error *err)
{
    struct lb_buf words = {0};
    size_t before = said->count;
    uint32_t id;
    lb_status status = lb_need_texts(st, 0, 1, err);
    if (status)
        return status;
    lb_buf_printf(&words,
                  "no service map that was imported is of the platform %.200s, so its rules add to no kit",
                  lb_text(st, 0));
    if (words.failed || !lb_names_add(said, lb_text(st, 0), &id))
        status = lb_fail_nomem(err);
    else if (said->count > before)
        lb_imported_file_mention(file, (long)lb_integer(st, 1), lb_buf_text(&words));
    lb_buf_free(&words);
    return status;
}

static lb_status look_at(struct lb_store *store, struct lb_imported_file *file, struct lb_names *said,
                         struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(store, &st, STRAY, err);
    if (status)
        return status;
    lb_bind_text(st, 1, file->file);
    while (!(status = lb_step(st, &row, err)) && row)
        if ((status = mention(file, st, said, err)))
            break;
    lb_statement_free(st);
    return status;
}

lb_status lb_import_mention_stray_rules(struct lb_store *store, struct lb_import_result *result,
                                        struct lb_error *err)
{
    struct lb_names said = {0};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < result->files.count; i++)
        if (strcmp(result->files.at[i].kind, "rules") == 0)
            status = look_at(store, &result->files.at[i], &said, err);
    lb_names_free(&said);
    return status;
}
