/* Many runs become one: read side by side, block by block, so that it takes no memory to speak of. */
#include "store/pairs_block.h"

#include <stdlib.h>
#include <string.h>

/* A run being read. */
struct source {
    int64_t run;
    struct lb_statement *blocks;
    struct lb_block_cursor cursor;
    bool over;
};

struct merge {
    struct lb_store *store;
    LB_VEC(struct source) sources;
};

static lb_status advance(struct merge *merge, struct source *source, struct lb_error *err)
{
    while (!lb_block_next(&source->cursor)) {
        bool row;
        if (source->cursor.broken)
            return lb_store_refuse_damaged(merge->store, err);
        lb_status status = lb_step(source->blocks, &row, err);
        if (status || !row) {
            source->over = true;
            return status;
        }
        size_t length, size;
        const void *key = lb_blob(source->blocks, 0, &length), *block = lb_blob(source->blocks, 1, &size);
        lb_block_begin(&source->cursor, key ? key : "", length, block ? block : "", size);
    }
    return LB_OK;
}

static lb_status begin_source(struct merge *merge, struct source *source, struct lb_error *err)
{
    lb_status status = lb_store_prepare(merge->store, &source->blocks,
                                        "SELECT l.key, b.pairs FROM lookup l JOIN lookup_block b ON b.id = "
                                        "l.block WHERE l.run = ?1 ORDER BY l.key, l.first",
                                        err);
    if (status)
        return status;
    lb_bind_integer(source->blocks, 1, source->run);
    lb_block_begin(&source->cursor, "", 0, "", 0);
    return advance(merge, source, err);
}

static int compare(const struct lb_pair *a, const struct lb_pair *b)
{
    int order = memcmp(a->key, b->key, a->length < b->length ? a->length : b->length);
    if (!order)
        order = (a->length > b->length) - (a->length < b->length);
    return order ? order : (a->id > b->id) - (a->id < b->id);
}

static struct source *least(struct merge *merge)
{
    struct source *least = NULL;
    for (size_t i = 0; i < merge->sources.count; i++) {
        struct source *source = &merge->sources.at[i];
        if (!source->over && (!least || compare(&source->cursor.pair, &least->cursor.pair) < 0))
            least = source;
    }
    return least;
}

static lb_status write_run(struct merge *merge, struct lb_error *err)
{
    struct lb_run_writer *run;
    struct source *source;
    lb_status status = lb_run_begin(&run, merge->store, err);
    if (status)
        return status;
    for (size_t i = 0; !status && i < merge->sources.count; i++)
        status = begin_source(merge, &merge->sources.at[i], err);
    while (!status && (source = least(merge))) {
        const struct lb_pair *pair = &source->cursor.pair;
        status = lb_run_add(run, pair->key, pair->length, pair->id, err);
        if (!status)
            status = advance(merge, source, err);
    }
    if (!status)
        return lb_run_end(run, err);
    lb_run_free(run);
    return status;
}

static lb_status drop_run(struct lb_store *store, int64_t run, struct lb_error *err)
{
    static const char *const sql[] = {
        "DELETE FROM lookup_block WHERE id IN (SELECT block FROM lookup WHERE run = ?1)",
        "DELETE FROM lookup WHERE run = ?1", "DELETE FROM lookup_run WHERE run = ?1"};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof sql / sizeof *sql; i++)
        status = lb_store_run_for(store, sql[i], run, err);
    return status;
}

/* The smallest runs first, as long as they fit. */
static lb_status choose_small(struct merge *merge, int64_t pairs_max, struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    int64_t sum = 0;
    lb_status status =
        lb_store_prepare(merge->store, &st, "SELECT run, pairs FROM lookup_run ORDER BY pairs, run", err);
    if (status)
        return status;
    while (!status && !(status = lb_step(st, &row, err)) && row && (sum += lb_integer(st, 1)) <= pairs_max)
        if (!LB_PUSH(&merge->sources, ((struct source){.run = lb_integer(st, 0)})))
            status = lb_fail_nomem(err);
    lb_statement_free(st);
    return status;
}

lb_status lb_runs_gather(struct lb_store *store, int runs_max, int64_t pairs_max, int *merged,
                         struct lb_error *err)
{
    struct merge merge = {.store = store};
    int64_t runs = 0;
    *merged = 0;
    lb_status status = lb_store_integer(store, "SELECT count(*) FROM lookup_run", &runs, err);
    if (!status && runs > runs_max)
        status = choose_small(&merge, pairs_max, err);
    bool many = merge.sources.count > 1;
    if (!status && many)
        status = write_run(&merge, err);
    for (size_t i = 0; i < merge.sources.count; i++)
        lb_statement_free(merge.sources.at[i].blocks);
    for (size_t i = 0; !status && many && i < merge.sources.count; i++)
        status = drop_run(store, merge.sources.at[i].run, err);
    *merged = many ? (int)merge.sources.count : 0;
    free(merge.sources.at);
    return status;
}
