#include "store/pairs_walk.h"

#include <stdlib.h>
#include <string.h>

/* One run, with a copy of the block that is read: so one statement serves all runs. */
struct reader {
    int64_t run, first; /* `first`, `begin`: the block's place in `lookup` */
    unsigned char begin[LB_PAIRS_KEY_MAX], block[LB_BLOCK_LONG];
    size_t begin_length;
    struct lb_block_cursor cursor;
    bool over;
};

struct lb_walk_runs {
    struct lb_walk walk; /* first: what is handed out */
    struct lb_store *store;
    struct lb_statement *before, *after, *count;
    LB_VEC(struct reader) readers;
    size_t at; /* the one with the pair at hand */
};

static lb_status list_runs(struct lb_walk_runs *runs, struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(runs->store, &st, "SELECT run FROM lookup_run ORDER BY run", err);
    if (status)
        return status;
    while (!(status = lb_step(st, &row, err)) && row)
        if (!LB_PUSH(&runs->readers, ((struct reader){.run = lb_integer(st, 0)}))) {
            status = lb_fail_nomem(err);
            break;
        }
    lb_statement_free(st);
    return status;
}

#define BLOCKS                                                                                               \
    "SELECT l.key, l.first, b.pairs FROM lookup l JOIN lookup_block b ON b.id = l.block WHERE l.run = ?1 "   \
    "AND "

lb_status lb_walk_open(struct lb_walk **out, struct lb_store *store, struct lb_error *err)
{
    struct lb_walk_runs *runs = calloc(1, sizeof *runs);
    *out = NULL;
    if (!runs)
        return lb_fail_nomem(err);
    runs->store = store;
    runs->walk.runs = runs;
    lb_status status = lb_store_prepare(store, &runs->before,
                                        BLOCKS "l.key < ?2 ORDER BY l.key DESC, l.first DESC LIMIT 1", err);
    if (!status)
        status = lb_store_prepare(store, &runs->after,
                                  BLOCKS "(l.key, l.first) > (?2, ?3) ORDER BY l.key, l.first LIMIT 1", err);
    if (!status)
        status = lb_store_prepare(store, &runs->count,
                                  "SELECT count(*) FROM lookup WHERE run = ?1 AND key = ?2", err);
    if (!status)
        status = list_runs(runs, err);
    if (status)
        lb_walk_close(&runs->walk);
    else
        *out = &runs->walk;
    return status;
}

void lb_walk_close(struct lb_walk *walk)
{
    if (!walk)
        return;
    struct lb_walk_runs *runs = walk->runs;
    lb_statement_free(runs->before);
    lb_statement_free(runs->after);
    lb_statement_free(runs->count);
    free(runs->readers.at);
    free(runs);
}

/* The block that a bound statement gives; *found false: there is none, and nothing changes. */
static lb_status load(struct lb_walk_runs *runs, struct reader *reader, struct lb_statement *st, bool *found,
                      struct lb_error *err)
{
    lb_status status = lb_step(st, found, err);
    if (!status && *found) {
        size_t length, size;
        const void *key = lb_blob(st, 0, &length), *block = lb_blob(st, 2, &size);
        if (length > sizeof reader->begin || size > sizeof reader->block)
            status = lb_store_refuse_damaged(runs->store, err);
        else {
            memcpy(reader->begin, key ? key : "", length);
            memcpy(reader->block, block ? block : "", size);
            reader->begin_length = length;
            reader->first = lb_integer(st, 1);
            lb_block_begin(&reader->cursor, reader->begin, length, reader->block, size);
        }
    }
    lb_statement_reset(st);
    return status;
}

static lb_status load_before(struct lb_walk_runs *runs, struct reader *reader, const void *key, size_t length,
                             bool *found, struct lb_error *err)
{
    lb_bind_integer(runs->before, 1, reader->run);
    lb_bind_blob(runs->before, 2, key, length);
    return load(runs, reader, runs->before, found, err);
}

static int compare_bytes(const void *a, size_t a_length, const void *b, size_t b_length)
{
    int order = memcmp(a, b, a_length < b_length ? a_length : b_length);
    return order ? order : (a_length > b_length) - (a_length < b_length);
}

/* The block is looked at again: a damaged tree gives some that are not after it, and would lead round in a
 * circle. */
static lb_status load_after(struct lb_walk_runs *runs, struct reader *reader, const void *key, size_t length,
                            int64_t first, bool *found, struct lb_error *err)
{
    lb_bind_integer(runs->after, 1, reader->run);
    lb_bind_blob(runs->after, 2, key, length);
    lb_bind_integer(runs->after, 3, first);
    lb_status status = load(runs, reader, runs->after, found, err);
    if (status || !*found)
        return status;
    int order = compare_bytes(reader->begin, reader->begin_length, key, length);
    return order > 0 || (order == 0 && reader->first > first) ? LB_OK
                                                              : lb_store_refuse_damaged(runs->store, err);
}

/* The next pair of one run, in this block or the following ones. */
static lb_status advance(struct lb_walk_runs *runs, struct reader *reader, struct lb_error *err)
{
    while (!lb_block_next(&reader->cursor)) {
        bool found;
        if (reader->cursor.broken)
            return lb_store_refuse_damaged(runs->store, err);
        unsigned char begin[LB_PAIRS_KEY_MAX];
        memcpy(begin, reader->begin, reader->begin_length);
        lb_status status = load_after(runs, reader, begin, reader->begin_length, reader->first, &found, err);
        reader->over = status || !found;
        if (reader->over)
            return status;
    }
    return LB_OK;
}

static int compare_key(const struct lb_pair *pair, const void *key, size_t length)
{
    return compare_bytes(pair->key, pair->length, key, length);
}

/* The last block that begins before the key may have it, or else the one after that begins with it or later.
 */
static lb_status find_block(struct lb_walk_runs *runs, struct reader *reader, const void *key, size_t length,
                            struct lb_error *err)
{
    bool found;
    lb_status status = load_before(runs, reader, key, length, &found, err);
    if (!status && !found)
        status = load_after(runs, reader, key, length, -1, &found, err);
    reader->over = status || !found;
    return status;
}

static lb_status begin_reader(struct lb_walk_runs *runs, struct reader *reader, const void *key,
                              size_t length, struct lb_error *err)
{
    lb_status status = find_block(runs, reader, key, length, err);
    if (status || reader->over || lb_block_seek(&reader->cursor, key, length))
        return status;
    status = advance(runs, reader, err);
    if (status || reader->over || compare_key(&reader->cursor.pair, key, length) >= 0)
        return status;
    return lb_store_refuse_damaged(runs->store, err); /* it would be met again and again */
}

static lb_status seek_reader(struct lb_walk_runs *runs, struct reader *reader, const void *key, size_t length,
                             struct lb_error *err)
{
    if (reader->over || lb_block_seek(&reader->cursor, key, length))
        return LB_OK;
    if (reader->cursor.broken)
        return lb_store_refuse_damaged(runs->store, err);
    return begin_reader(runs, reader, key, length, err);
}

static int compare(const struct lb_pair *a, const struct lb_pair *b)
{
    int order = compare_key(a, b->key, b->length);
    return order ? order : (a->id > b->id) - (a->id < b->id);
}

static void choose(struct lb_walk_runs *runs)
{
    const struct lb_pair *least = NULL;
    for (size_t i = 0; i < runs->readers.count; i++) {
        const struct reader *reader = &runs->readers.at[i];
        if (reader->over || (least && compare(&reader->cursor.pair, least) >= 0))
            continue;
        least = &reader->cursor.pair;
        runs->at = i;
    }
    runs->walk.pair = least;
    runs->walk.over = !least;
}

lb_status lb_walk_begin(struct lb_walk *walk, const void *key, size_t length, struct lb_error *err)
{
    struct lb_walk_runs *runs = walk->runs;
    lb_status status = LB_OK;
    length = length < LB_PAIRS_KEY_MAX ? length : LB_PAIRS_KEY_MAX;
    for (size_t i = 0; !status && i < runs->readers.count; i++)
        status = begin_reader(runs, &runs->readers.at[i], key, length, err);
    choose(runs);
    return status;
}

lb_status lb_walk_seek(struct lb_walk *walk, const void *key, size_t length, struct lb_error *err)
{
    struct lb_walk_runs *runs = walk->runs;
    lb_status status = LB_OK;
    length = length < LB_PAIRS_KEY_MAX ? length : LB_PAIRS_KEY_MAX;
    for (size_t i = 0; !status && i < runs->readers.count; i++)
        status = seek_reader(runs, &runs->readers.at[i], key, length, err);
    choose(runs);
    return status;
}

lb_status lb_walk_next(struct lb_walk *walk, struct lb_error *err)
{
    struct lb_walk_runs *runs = walk->runs;
    lb_status status = walk->over ? LB_OK : advance(runs, &runs->readers.at[runs->at], err);
    choose(runs);
    return status;
}

lb_status lb_walk_blocks(struct lb_walk *walk, const void *key, size_t length, int64_t *blocks,
                         struct lb_error *err)
{
    struct lb_walk_runs *runs = walk->runs;
    lb_status status = LB_OK;
    *blocks = 0;
    for (size_t i = 0; !status && i < runs->readers.count; i++) {
        bool row;
        lb_bind_integer(runs->count, 1, runs->readers.at[i].run);
        lb_bind_blob(runs->count, 2, key, length);
        status = lb_step(runs->count, &row, err);
        *blocks += !status && row ? lb_integer(runs->count, 0) : 0;
        lb_statement_reset(runs->count);
    }
    return status;
}
