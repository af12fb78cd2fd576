#include "catalog/lookup.h"

#include "catalog/partkey.h"
#include "catalog/terms.h"
#include "store/pairs.h"

#include <stdlib.h>
#include <string.h>

enum { NEAR_MAX = 500 };

struct lb_lookup {
    struct lb_pairs *pairs;
    struct lb_statement *brand;
    struct lb_buf key, end;
};

lb_status lb_lookup_open(struct lb_lookup **out, struct lb_store *store, struct lb_error *err)
{
    struct lb_lookup *lookup = *out = calloc(1, sizeof *lookup);
    if (!lookup)
        return lb_fail_nomem(err);
    lb_status status = lb_pairs_open(&lookup->pairs, store, err);
    if (!status)
        status = lb_store_prepare(store, &lookup->brand, "SELECT id FROM brand WHERE key = ?1", err);
    if (status) {
        lb_lookup_close(lookup);
        *out = NULL;
    }
    return status;
}

void lb_lookup_close(struct lb_lookup *lookup)
{
    if (!lookup)
        return;
    lb_pairs_close(lookup->pairs);
    lb_statement_free(lookup->brand);
    lb_buf_free(&lookup->key);
    lb_buf_free(&lookup->end);
    free(lookup);
}

/* 0: no row has that brand. */
static lb_status find_brand(struct lb_lookup *lookup, const char *key, size_t length, uint32_t *brand,
                            struct lb_error *err)
{
    bool row;
    lb_bind_text_of(lookup->brand, 1, key, length);
    lb_status status = lb_step(lookup->brand, &row, err);
    *brand = !status && row ? (uint32_t)lb_integer(lookup->brand, 0) : 0;
    lb_statement_reset(lookup->brand);
    return status;
}

static lb_status add_id(struct lb_buf *ids, int64_t row)
{
    lb_buf_printf(ids, "%c%lld", ids->length ? ',' : '[', (long long)row);
    return ids->failed ? LB_NOMEM : LB_OK;
}

static lb_status close_ids(struct lb_buf *ids, lb_status status, struct lb_error *err)
{
    lb_buf_puts(ids, ids->length ? "]" : "[]");
    return status == LB_NOMEM || ids->failed ? lb_fail_nomem(err) : status;
}

static int by_id(const void *left, const void *right)
{
    int64_t a = *(const int64_t *)left, b = *(const int64_t *)right;
    return (a > b) - (a < b);
}

/* The rows of lookup->key, each once. */
static lb_status find_ids(struct lb_lookup *lookup, struct lb_buf *ids, struct lb_error *err)
{
    struct lb_ids found = {0};
    lb_status status = lookup->key.failed
                           ? lb_fail_nomem(err)
                           : lb_pairs_find(lookup->pairs, lookup->key.text, lookup->key.length, &found, err);
    if (found.list.count > 1)
        qsort(found.list.at, found.list.count, sizeof *found.list.at, by_id);
    for (size_t i = 0; !status && i < found.list.count; i++)
        if (i == 0 || found.list.at[i] != found.list.at[i - 1])
            status = add_id(ids, found.list.at[i]);
    free(found.list.at);
    return status;
}

lb_status lb_lookup_part(struct lb_lookup *lookup, const char *part_key, struct lb_buf *ids,
                         struct lb_error *err)
{
    const char *number = lb_part_key_number(part_key);
    size_t length = (size_t)(number - part_key);
    uint32_t brand;
    lb_buf_clear(ids);
    lb_status status = find_brand(lookup, part_key, length ? length - 1 : 0, &brand, err);
    if (!status && brand) {
        lb_term_number(&lookup->key, number, brand);
        status = find_ids(lookup, ids, err);
    }
    return close_ids(ids, status, err);
}

lb_status lb_lookup_type(struct lb_lookup *lookup, const char *part_type, const struct lb_spec *spec,
                         struct lb_buf *ids, struct lb_error *err)
{
    lb_buf_clear(ids);
    if (spec)
        lb_term_spec(&lookup->key, part_type, spec);
    else
        lb_term_type(&lookup->key, part_type);
    return close_ids(ids, find_ids(lookup, ids, err), err);
}

lb_status lb_lookup_knows_type(struct lb_store *store, const char *part_type, bool *known,
                               struct lb_error *err)
{
    struct lb_lookup *lookup = NULL;
    struct lb_buf rows = {0};
    lb_status status = lb_lookup_open(&lookup, store, err);
    if (!status)
        status = lb_lookup_type(lookup, part_type, NULL, &rows, err);
    *known = !status && strcmp(lb_buf_text(&rows), "[]") != 0;
    lb_lookup_close(lookup);
    lb_buf_free(&rows);
    return status;
}

struct near {
    struct lb_buf *ids;
    uint32_t brand;
    int count;
};

static lb_status visit_near(void *context, const unsigned char *key, size_t length, int64_t row)
{
    struct near *near = context;
    struct lb_number_term term;
    if (!lb_term_read_number(&term, key, length) || term.brand != near->brand)
        return LB_OK;
    return near->count++ < NEAR_MAX ? add_id(near->ids, row) : LB_OK;
}

lb_status lb_lookup_near(struct lb_lookup *lookup, const char *brand, const char *number_key,
                         struct lb_buf *ids, struct lb_error *err)
{
    struct near near = {.ids = ids};
    lb_buf_clear(ids);
    lb_status status = find_brand(lookup, brand, strlen(brand), &near.brand, err);
    if (!status && near.brand) {
        lb_buf_clear(&lookup->key);
        lb_buf_printf(&lookup->key, "n%s", number_key);
        if (!lookup->key.failed)
            lb_term_fold(lookup->key.text + 1);
        lb_buf_clear(&lookup->end);
        lb_buf_printf(&lookup->end, "%s\x7f", lb_buf_text(&lookup->key));
        status = lookup->key.failed || lookup->end.failed
                     ? lb_fail_nomem(err)
                     : lb_pairs_scan(lookup->pairs, lookup->key.text, lookup->key.length, lookup->end.text,
                                     lookup->end.length, visit_near, &near, err);
    }
    return close_ids(ids, status, err);
}
