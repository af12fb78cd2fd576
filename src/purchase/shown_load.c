/* What was last shown for a set of kits, read again. */
#include "purchase/parts.h"

#include "kit/fleet.h"

#include <stdlib.h>
#include <string.h>

/* Finds the row of a set of kits; *id 0: nothing was shown for it. */
static lb_status load_head(struct purchase_shown *out, struct lb_store *store, const char *kits, int64_t *id,
                           struct lb_error *err)
{
    struct lb_statement *st;
    bool row = false;
    *id = 0;
    lb_status status = lb_store_prepare(
        store, &st,
        "SELECT at, currency, id, suppliers_at_most, seconds, total, arrive_by FROM shown WHERE kits = ?1",
        err);
    if (status)
        return status;
    lb_bind_text(st, 1, kits);
    status = lb_step(st, &row, err);
    if (!status && row) {
        *id = lb_integer(st, 2);
        out->options.suppliers_at_most = (int)lb_integer(st, 3);
        out->options.seconds = (double)lb_integer(st, 4) / 1000;
        out->total = lb_integer(st, 5);
        out->options.arrive_by = lb_is_null(st, 6) ? LB_NO_DAY : (int32_t)lb_integer(st, 6);
        status = lb_need_texts(st, 0, 2, err);
        if (!status)
            status = lb_keep_text(st, 0, &out->texts, &out->at, err);
        if (!status)
            status = lb_keep_text(st, 1, &out->texts, &out->currency, err);
    }
    lb_statement_free(st);
    return status;
}

static lb_status load_suppliers(struct purchase_shown *out, struct lb_store *store, int64_t id, bool only,
                                const char *const **names, size_t *count, struct lb_error *err)
{
    struct lb_statement *st;
    LB_VEC(const char *) list = {0};
    bool row;
    lb_status status = lb_store_prepare(
        store, &st, "SELECT name FROM shown_supplier WHERE shown = ?1 AND \"only\" = ?2 ORDER BY name", err);
    if (status)
        return status;
    lb_bind_integer(st, 1, id);
    lb_bind_integer(st, 2, only);
    while (!(status = lb_step(st, &row, err)) && row) {
        const char *name;
        status = lb_keep_text(st, 0, &out->texts, &name, err);
        if (!status && !LB_PUSH(&list, name))
            status = lb_fail_nomem(err);
        if (status)
            break;
    }
    lb_statement_free(st);
    const char **kept = lb_arena_alloc(&out->texts, (list.count + 1) * sizeof *kept);
    if (!status && !kept)
        status = lb_fail_nomem(err);
    if (!status && list.count)
        memcpy(kept, list.at, list.count * sizeof *kept);
    *names = kept;
    *count = list.count;
    free(list.at);
    return status;
}

static lb_status load_lines(struct purchase_shown *out, struct lb_store *store, int64_t id,
                            struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(store, &st,
                                        "SELECT part, supplier, currency, supplier_code, packs, "
                                        "pack_quantity, price FROM shown_line WHERE shown = ?1 ORDER BY id",
                                        err);
    if (status)
        return status;
    lb_bind_integer(st, 1, id);
    while (!(status = lb_step(st, &row, err)) && row) {
        struct purchase_shown_line line = {
            .packs = lb_integer(st, 4), .pack_quantity = lb_integer(st, 5), .price = lb_integer(st, 6)};
        const char **texts[] = {&line.part, &line.supplier, &line.currency, &line.supplier_code};
        status = lb_need_texts(st, 0, 3, err);
        for (int i = 0; !status && i < 4; i++)
            status = lb_keep_text(st, i, &out->texts, texts[i], err);
        if (!status && !LB_PUSH(&out->lines, line))
            status = lb_fail_nomem(err);
        if (status)
            break;
    }
    lb_statement_free(st);
    return status;
}

lb_status purchase_load_set(struct purchase_shown *out, struct lb_store *store, const char *kits,
                            struct lb_error *err)
{
    int64_t id;
    *out = (struct purchase_shown){.options = {.arrive_by = LB_NO_DAY}};
    struct lb_purchase_options *options = &out->options;
    lb_status status = load_head(out, store, kits, &id, err);
    if (status || !id)
        return status;
    status = load_suppliers(out, store, id, true, &options->only, &options->only_count, err);
    if (!status)
        status = load_suppliers(out, store, id, false, &options->without, &options->without_count, err);
    return status ? status : load_lines(out, store, id, err);
}

static lb_status find_ids(struct lb_store *store, const char *const *names, size_t name_count, int64_t *ids,
                          size_t *count, struct lb_error *err)
{
    struct lb_statement *st;
    lb_status status = lb_store_prepare(store, &st, "SELECT id FROM kit WHERE name = ?1", err);
    if (status)
        return status;
    for (size_t i = 0; !status && i < name_count; i++) {
        bool row;
        lb_bind_text(st, 1, names[i]);
        status = lb_step(st, &row, err);
        if (!status && row)
            ids[(*count)++] = lb_integer(st, 0);
        lb_statement_reset(st);
    }
    lb_statement_free(st);
    return status;
}

static lb_status name_set(struct lb_buf *out, struct lb_store *store, const struct lb_names *names,
                          struct lb_error *err)
{
    size_t count = 0;
    int64_t *ids = calloc(names->count + 1, sizeof *ids);
    lb_status status = ids ? find_ids(store, names->at, names->count, ids, &count, err) : lb_fail_nomem(err);
    if (!status)
        status = purchase_name_set(out, ids, count, err);
    free(ids);
    return status;
}

lb_status purchase_load_shown(struct purchase_shown *out, struct lb_store *store, const char *const *names,
                              size_t name_count, struct lb_error *err)
{
    struct lb_buf set = {0};
    struct lb_names kits = {0};
    *out = (struct purchase_shown){0};
    lb_status status = lb_fleet_names(&kits, store, names, name_count, err);
    if (!status)
        status = name_set(&set, store, &kits, err);
    if (!status)
        status = purchase_load_set(out, store, lb_buf_text(&set), err);
    lb_buf_free(&set);
    lb_names_free(&kits);
    return status;
}

void purchase_free_shown(struct purchase_shown *shown)
{
    free(shown->lines.at);
    lb_arena_free(&shown->texts);
    *shown = (struct purchase_shown){0};
}
