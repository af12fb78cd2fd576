/* Merging runs of pairs into the blocks. The new pairs that fall between the first pair of one block and that
 * of the next are merged with the former: a `stretch`. Its old block is taken out and one or more new ones
 * written. */
#include "store/pairs_block.h"

#include <stdlib.h>
#include <string.h>

struct lb_merge {
    struct lb_store *store;
    struct lb_statement *at, *after, *drop, *drop_block, *insert, *insert_block;
    int64_t next_block;
    bool open; /* in a stretch */
    bool bounded;
    struct lb_pair bound; /* where the stretch ends, when bounded */
    struct lb_buf old_bytes;
    struct lb_block_cursor old;
    bool has_old; /* old.pair is still to be merged */
    struct lb_block full,
        block; /* full: complete, not written yet, so that a short rest can be levelled with it */
};

static lb_status prepare(struct lb_merge *merge, struct lb_error *err)
{
    const struct {
        struct lb_statement **statement;
        const char *sql;
    } statements[] = {
        {&merge->at,
         "SELECT l.key, l.first, l.block, b.pairs FROM lookup l JOIN lookup_block b ON b.id = l.block "
         "WHERE (l.key, l.first) <= (?1, ?2) ORDER BY l.key DESC, l.first DESC LIMIT 1"},
        {&merge->after,
         "SELECT key, first FROM lookup WHERE (key, first) > (?1, ?2) ORDER BY key, first LIMIT 1"},
        {&merge->drop, "DELETE FROM lookup WHERE key = ?1 AND first = ?2"},
        {&merge->drop_block, "DELETE FROM lookup_block WHERE id = ?1"},
        {&merge->insert, "INSERT INTO lookup (key, first, block) VALUES (?1, ?2, ?3)"},
        {&merge->insert_block, "INSERT INTO lookup_block (id, pairs) VALUES (?1, ?2)"},
    };
    for (size_t i = 0; i < sizeof statements / sizeof *statements; i++) {
        lb_status status = lb_store_prepare(merge->store, statements[i].statement, statements[i].sql, err);
        if (status)
            return status;
    }
    return lb_store_integer(merge->store, "SELECT coalesce(max(id), 0) + 1 FROM lookup_block",
                            &merge->next_block, err);
}

lb_status lb_pairs_merge_begin(struct lb_merge **out, struct lb_store *store, struct lb_error *err)
{
    struct lb_merge *merge = *out = calloc(1, sizeof *merge);
    if (!merge)
        return lb_fail_nomem(err);
    merge->store = store;
    lb_status status = prepare(merge, err);
    if (status) {
        lb_pairs_merge_free(merge);
        *out = NULL;
    }
    return status;
}

static lb_status write_block(struct lb_merge *merge, struct lb_block *block, struct lb_error *err)
{
    if (!block->size)
        return LB_OK;
    lb_block_close(block);
    lb_bind_integer(merge->insert_block, 1, merge->next_block);
    lb_bind_blob(merge->insert_block, 2, block->bytes, block->size);
    lb_status status = lb_run(merge->insert_block, err);
    if (!status) {
        lb_bind_blob(merge->insert, 1, block->first.key, block->first.length);
        lb_bind_integer(merge->insert, 2, block->first.id);
        lb_bind_integer(merge->insert, 3, merge->next_block++);
        status = lb_run(merge->insert, err);
    }
    block->size = 0;
    return status;
}

static lb_status put_within(struct lb_merge *merge, const void *key, size_t length, int64_t id, size_t room,
                            struct lb_error *err)
{
    if (lb_block_add(&merge->block, key, length, id, room))
        return LB_OK;
    lb_status status = write_block(merge, &merge->full, err);
    merge->full = merge->block;
    merge->block.size = 0;
    lb_block_add(&merge->block, key, length, id, room); /* the first always fits */
    return status;
}

static lb_status put(struct lb_merge *merge, const void *key, size_t length, int64_t id, struct lb_error *err)
{
    return put_within(merge, key, length, id, LB_BLOCK_ROOM - 1, err);
}

static lb_status put_all(struct lb_merge *merge, struct lb_block *block, size_t room, struct lb_error *err)
{
    struct lb_block_cursor cursor;
    lb_status status = LB_OK;
    lb_block_close(block);
    lb_block_begin(&cursor, block->first.key, block->first.length, block->bytes, block->size);
    while (!status && lb_block_next(&cursor))
        status = put_within(merge, cursor.pair.key, cursor.pair.length, cursor.pair.id, room, err);
    return status;
}

/* A full block with a short rest behind it becomes two of one size: else the next pair that comes in there
 * would split the full one again, and leave another short rest. */
static lb_status level(struct lb_merge *merge, struct lb_error *err)
{
    struct lb_block full = merge->full, rest = merge->block;
    if (!full.size || !rest.size || rest.size > LB_BLOCK_ROOM / 2)
        return LB_OK;
    size_t room = (full.size + rest.size) / 2 + LB_BLOCK_ROOM / 4;
    merge->full.size = merge->block.size = 0;
    lb_status status = put_all(merge, &full, room < LB_BLOCK_ROOM ? room : LB_BLOCK_ROOM - 1, err);
    return status ? status : put_all(merge, &rest, room < LB_BLOCK_ROOM ? room : LB_BLOCK_ROOM - 1, err);
}

static lb_status advance(struct lb_merge *merge, struct lb_error *err)
{
    merge->has_old = lb_block_next(&merge->old);
    return merge->old.broken ? lb_store_refuse_damaged(merge->store, err) : LB_OK;
}

static lb_status close_stretch(struct lb_merge *merge, struct lb_error *err)
{
    lb_status status = LB_OK;
    while (!status && merge->has_old) {
        status = put(merge, merge->old.pair.key, merge->old.pair.length, merge->old.pair.id, err);
        if (!status)
            status = advance(merge, err);
    }
    merge->open = false;
    if (!status)
        status = level(merge, err);
    if (!status)
        status = write_block(merge, &merge->full, err);
    return status ? status : write_block(merge, &merge->block, err);
}

/* Takes the block at hand out of the table and keeps its bytes. */
static lb_status take_old(struct lb_merge *merge, struct lb_error *err)
{
    size_t key_length, size;
    const void *key = lb_blob(merge->at, 0, &key_length);
    const void *bytes = lb_blob(merge->at, 3, &size);
    lb_buf_clear(&merge->old_bytes);
    lb_buf_append(&merge->old_bytes, bytes, size);
    if (merge->old_bytes.failed)
        return lb_fail_nomem(err);
    lb_block_begin(&merge->old, key ? key : "", key_length, merge->old_bytes.text, size);
    lb_bind_blob(merge->drop, 1, merge->old.pair.key, merge->old.pair.length);
    lb_bind_integer(merge->drop, 2, lb_integer(merge->at, 1));
    lb_bind_integer(merge->drop_block, 1, lb_integer(merge->at, 2));
    lb_statement_reset(merge->at);
    lb_status status = lb_run(merge->drop, err);
    if (!status)
        status = lb_run(merge->drop_block, err);
    return status ? status : advance(merge, err);
}

static lb_status open_stretch(struct lb_merge *merge, const void *key, size_t length, int64_t id,
                              struct lb_error *err)
{
    bool row;
    merge->has_old = false;
    lb_bind_blob(merge->after, 1, key, length);
    lb_bind_integer(merge->after, 2, id);
    lb_status status = lb_step(merge->after, &row, err);
    merge->bounded = !status && row;
    if (merge->bounded) {
        const void *bound = lb_blob(merge->after, 0, &merge->bound.length);
        if (merge->bound.length > LB_PAIRS_KEY_MAX)
            return lb_store_refuse_damaged(merge->store, err);
        if (merge->bound.length)
            memcpy(merge->bound.key, bound, merge->bound.length);
        merge->bound.id = lb_integer(merge->after, 1);
    }
    lb_statement_reset(merge->after);
    if (status)
        return status;
    lb_bind_blob(merge->at, 1, key, length);
    lb_bind_integer(merge->at, 2, id);
    status = lb_step(merge->at, &row, err);
    if (!status && row)
        status = take_old(merge, err);
    lb_statement_reset(merge->at);
    merge->open = !status;
    return status;
}

lb_status lb_pairs_merge_add(struct lb_merge *merge, const void *key, size_t length, int64_t id,
                             struct lb_error *err)
{
    lb_status status = LB_OK;
    length = length < LB_PAIRS_KEY_MAX ? length : LB_PAIRS_KEY_MAX;
    if (merge->open && merge->bounded && lb_pair_compare(&merge->bound, key, length, id) <= 0)
        status = close_stretch(merge, err);
    if (!status && !merge->open)
        status = open_stretch(merge, key, length, id, err);
    int order = -1;
    while (!status && merge->has_old && (order = lb_pair_compare(&merge->old.pair, key, length, id)) < 0) {
        status = put(merge, merge->old.pair.key, merge->old.pair.length, merge->old.pair.id, err);
        if (!status)
            status = advance(merge, err);
    }
    if (!status && merge->has_old && order == 0)
        status = advance(merge, err);
    return status ? status : put(merge, key, length, id, err);
}

lb_status lb_pairs_merge_end(struct lb_merge *merge, struct lb_error *err)
{
    lb_status status = merge->open ? close_stretch(merge, err) : LB_OK;
    lb_pairs_merge_free(merge);
    return status;
}

void lb_pairs_merge_free(struct lb_merge *merge)
{
    if (!merge)
        return;
    struct lb_statement *statements[] = {merge->at,         merge->after,  merge->drop,
                                         merge->drop_block, merge->insert, merge->insert_block};
    for (size_t i = 0; i < sizeof statements / sizeof *statements; i++)
        lb_statement_free(statements[i]);
    lb_buf_free(&merge->old_bytes);
    free(merge);
}
