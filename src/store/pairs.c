#include "store/pairs.h"

#include "store/pairs_private.h"

#include <stdlib.h>
#include <string.h>

#define BLOCKS                                                                                               \
    "SELECT l.key, b.pairs, l.first FROM lookup l JOIN lookup_block b ON b.id = l.block WHERE l.run = ?1 "   \
    "AND "

static lb_status list_runs(struct lb_pairs *pairs, struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(pairs->store, &st, "SELECT run FROM lookup_run ORDER BY run", err);
    if (status)
        return status;
    while (!(status = lb_step(st, &row, err)) && row)
        if (!LB_PUSH(&pairs->runs, lb_integer(st, 0))) {
            status = lb_fail_nomem(err);
            break;
        }
    lb_statement_free(st);
    return status;
}

lb_status lb_pairs_open(struct lb_pairs **out, struct lb_store *store, struct lb_error *err)
{
    struct lb_pairs *pairs = *out = calloc(1, sizeof *pairs);
    if (!pairs)
        return lb_fail_nomem(err);
    pairs->store = store;
    lb_status status = lb_store_prepare(store, &pairs->before,
                                        BLOCKS "l.key < ?2 ORDER BY l.key DESC, l.first DESC LIMIT 1", err);
    if (!status)
        status = lb_store_prepare(store, &pairs->up_to,
                                  BLOCKS "l.key <= ?2 ORDER BY l.key DESC, l.first DESC LIMIT 1", err);
    if (!status)
        status = lb_store_prepare(store, &pairs->of_key, BLOCKS "l.key = ?2 ORDER BY l.first", err);
    if (!status)
        status = lb_store_prepare(store, &pairs->range,
                                  BLOCKS "l.key >= ?2 AND l.key < ?3 ORDER BY l.key, l.first", err);
    if (!status)
        status = lb_store_prepare(store, &pairs->last_before,
                                  BLOCKS "l.key = ?2 AND l.first <= ?3 ORDER BY l.first DESC LIMIT 1", err);
    if (!status)
        status = lb_store_prepare(store, &pairs->first_after,
                                  BLOCKS "l.key = ?2 AND l.first > ?3 ORDER BY l.first LIMIT 1", err);
    if (!status)
        status = lb_store_prepare(store, &pairs->blocks_of,
                                  "SELECT count(*) FROM lookup WHERE run = ?1 AND key = ?2", err);
    if (!status)
        status = list_runs(pairs, err);
    if (status) {
        lb_pairs_close(pairs);
        *out = NULL;
    }
    return status;
}

void lb_pairs_close(struct lb_pairs *pairs)
{
    if (!pairs)
        return;
    lb_statement_free(pairs->before);
    lb_statement_free(pairs->up_to);
    lb_statement_free(pairs->of_key);
    lb_statement_free(pairs->range);
    lb_statement_free(pairs->last_before);
    lb_statement_free(pairs->first_after);
    lb_statement_free(pairs->blocks_of);
    free(pairs->runs.at);
    free(pairs);
}

/* What a visit is to see of the blocks that a statement gives. */
struct wanted {
    const void *from, *to; /* to NULL: only the key `from` itself */
    size_t from_length, to_length;
    lb_pairs_visit *visit;
    void *context;
};

static int compare_key(const struct lb_pair *pair, const void *key, size_t length)
{
    int order = memcmp(pair->key, key, pair->length < length ? pair->length : length);
    return order ? order : (pair->length > length) - (pair->length < length);
}

static lb_status read_block(struct lb_pairs *pairs, struct lb_statement *st, const struct wanted *wanted,
                            struct lb_error *err)
{
    size_t key_length, size;
    const void *key = lb_blob(st, 0, &key_length);
    const void *block = lb_blob(st, 1, &size);
    struct lb_block_cursor cursor;
    lb_block_begin(&cursor, key ? key : "", key_length, block, size);
    while (lb_block_next(&cursor)) {
        int order = compare_key(&cursor.pair, wanted->from, wanted->from_length);
        bool past = wanted->to ? compare_key(&cursor.pair, wanted->to, wanted->to_length) >= 0 : order > 0;
        if (past)
            return LB_OK;
        lb_status status =
            order < 0 ? LB_OK
                      : wanted->visit(wanted->context, cursor.pair.key, cursor.pair.length, cursor.pair.id);
        if (status)
            return status;
    }
    return cursor.broken ? lb_store_refuse_damaged(pairs->store, err) : LB_OK;
}

static lb_status read_blocks(struct lb_pairs *pairs, struct lb_statement *st, const struct wanted *wanted,
                             struct lb_error *err)
{
    bool row;
    lb_status status;
    while (!(status = lb_step(st, &row, err)) && row)
        if ((status = read_block(pairs, st, wanted, err)))
            break;
    lb_statement_reset(st);
    return status;
}

/* The block before the first that begins with the key (or after it) may hold it too. */
static lb_status read_run(struct lb_pairs *pairs, int64_t run, struct lb_statement *rest,
                          const struct wanted *wanted, struct lb_error *err)
{
    lb_bind_integer(pairs->before, 1, run);
    lb_bind_blob(pairs->before, 2, wanted->from, wanted->from_length);
    lb_status status = read_blocks(pairs, pairs->before, wanted, err);
    if (status)
        return status;
    lb_bind_integer(rest, 1, run);
    lb_bind_blob(rest, 2, wanted->from, wanted->from_length);
    if (wanted->to)
        lb_bind_blob(rest, 3, wanted->to, wanted->to_length);
    return read_blocks(pairs, rest, wanted, err);
}

static lb_status read_wanted(struct lb_pairs *pairs, struct lb_statement *rest, const struct wanted *wanted,
                             struct lb_error *err)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < pairs->runs.count; i++)
        status = read_run(pairs, pairs->runs.at[i], rest, wanted, err);
    return status;
}

static lb_status keep_id(void *context, const unsigned char *key, size_t length, int64_t id)
{
    struct lb_ids *ids = context;
    (void)key;
    (void)length;
    return LB_PUSH(&ids->list, id) ? LB_OK : LB_NOMEM;
}

/* The last block that begins with the key or before it has all of the key's pairs, unless a block begins with
 * the key itself: *all false. Most keys are found with this one question. */
static lb_status find_in_one(struct lb_pairs *pairs, int64_t run, const struct wanted *wanted, bool *all,
                             struct lb_error *err)
{
    size_t length;
    bool row;
    *all = true;
    lb_bind_integer(pairs->up_to, 1, run);
    lb_bind_blob(pairs->up_to, 2, wanted->from, wanted->from_length);
    lb_status status = lb_step(pairs->up_to, &row, err);
    if (!status && row) {
        const void *key = lb_blob(pairs->up_to, 0, &length);
        *all = length != wanted->from_length || memcmp(key ? key : "", wanted->from, length) != 0;
        if (*all)
            status = read_block(pairs, pairs->up_to, wanted, err);
    }
    lb_statement_reset(pairs->up_to);
    return status;
}

lb_status lb_pairs_find(struct lb_pairs *pairs, const void *key, size_t length, struct lb_ids *ids,
                        struct lb_error *err)
{
    const struct wanted wanted = {.from = key,
                                  .from_length = length < LB_PAIRS_KEY_MAX ? length : LB_PAIRS_KEY_MAX,
                                  .visit = keep_id,
                                  .context = ids};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < pairs->runs.count; i++) {
        bool all;
        status = find_in_one(pairs, pairs->runs.at[i], &wanted, &all, err);
        if (!status && !all)
            status = read_run(pairs, pairs->runs.at[i], pairs->of_key, &wanted, err);
    }
    return status == LB_NOMEM ? lb_fail_nomem(err) : status;
}

lb_status lb_pairs_scan(struct lb_pairs *pairs, const void *from, size_t from_length, const void *to,
                        size_t to_length, lb_pairs_visit *visit, void *context, struct lb_error *err)
{
    const struct wanted wanted = {from, to, from_length, to_length, visit, context};
    return read_wanted(pairs, pairs->range, &wanted, err);
}
