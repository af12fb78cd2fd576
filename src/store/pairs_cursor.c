/* One key's ids in one run, block by block. A short list lies within one block; a long one begins at the end
 * of a block that begins with another key, perhaps, and goes on in blocks that begin with the key itself. */
#include "store/pairs_private.h"

#include <stdlib.h>
#include <string.h>

enum {
    SLACK = 16,    /* bytes of 0 behind a list: a broken number ends there */
    ENOUGH = 64,   /* bytes that tell how far ids lie apart */
    FAR = 1 << 22, /* before that is known */
};

size_t lb_pairs_run_count(const struct lb_pairs *pairs)
{
    return pairs->runs.count;
}

int64_t lb_pairs_blocks_read(const struct lb_pairs *pairs)
{
    return pairs->blocks_read;
}

static lb_status refuse(const struct lb_cursor *cursor, struct lb_error *err)
{
    return lb_store_refuse_damaged(cursor->pairs->store, err);
}

/* The next id of the block at hand; false: that was the last one. */
static bool next(struct lb_cursor *cursor)
{
    const unsigned char *at = cursor->bytes + cursor->at;
    uint64_t step = *at & 0x7f;
    if (cursor->at >= cursor->end)
        return false;
    if (*at++ >= 0x80) {
        step |= (uint64_t)(*at & 0x7f) << 7;
        for (unsigned shift = 14; *at++ >= 0x80 && shift < 63; shift += 7)
            step |= (uint64_t)(*at & 0x7f) << shift;
    }
    cursor->at = (size_t)(at - cursor->bytes);
    cursor->id = (int64_t)((uint64_t)cursor->id + step);
    return true;
}

static bool begins_with_key(const struct lb_cursor *cursor, struct lb_statement *st)
{
    size_t length;
    const void *key = lb_blob(st, 0, &length);
    return length == cursor->length && key && memcmp(key, cursor->key, length) == 0;
}

/* The ids of the key in the block at hand of `st`, if it has any; *found says so, and if not nothing changes.
 */
static lb_status load(struct lb_cursor *cursor, struct lb_statement *st, bool *found, struct lb_error *err)
{
    size_t key_length, size;
    const void *key = lb_blob(st, 0, &key_length);
    const void *bytes = lb_blob(st, 1, &size);
    struct lb_block_cursor block;
    cursor->pairs->blocks_read++;
    lb_block_begin(&block, key ? key : "", key_length, bytes, size);
    *found = lb_block_find(&block, cursor->key, cursor->length);
    if (!*found)
        return block.broken ? refuse(cursor, err) : LB_OK;
    const unsigned char *end = memchr(block.at, 0, (size_t)(block.end - block.at));
    if (!end || end - block.at > LB_BLOCK_LONG ||
        (begins_with_key(cursor, st) && block.pair.id != lb_integer(st, 2)))
        return refuse(cursor, err);
    if (!cursor->bytes && !(cursor->bytes = malloc(LB_BLOCK_LONG + SLACK)))
        return lb_fail_nomem(err);
    cursor->end = (size_t)(end - block.at);
    cursor->at = 0;
    memcpy(cursor->bytes, block.at, cursor->end);
    memset(cursor->bytes + cursor->end, 0, SLACK);
    cursor->id = block.pair.id;
    cursor->first = lb_integer(st, 2);
    return LB_OK;
}

/* The block that a statement gives for the key and `id`, unless it is the one at hand; *found false: there is
 * none, or nothing of the key in it. */
static lb_status step(struct lb_cursor *cursor, struct lb_statement *st, int64_t id, bool *found,
                      struct lb_error *err)
{
    lb_bind_integer(st, 1, cursor->run);
    lb_bind_blob(st, 2, cursor->key, cursor->length);
    if (id >= 0)
        lb_bind_integer(st, 3, id);
    lb_status status = lb_step(st, found, err);
    if (!status && *found && !(cursor->first && lb_integer(st, 2) == cursor->first))
        status = load(cursor, st, found, err);
    lb_statement_reset(st);
    return status;
}

/* In the last block that begins at or before the key, unless that begins with the key: then the list is long.
 */
static lb_status look(struct lb_cursor *cursor, bool *found, struct lb_error *err)
{
    struct lb_statement *st = cursor->pairs->up_to;
    lb_bind_integer(st, 1, cursor->run);
    lb_bind_blob(st, 2, cursor->key, cursor->length);
    lb_status status = lb_step(st, found, err);
    cursor->more = !status && *found && begins_with_key(cursor, st);
    if (!status && *found && !cursor->more)
        status = load(cursor, st, found, err);
    lb_statement_reset(st);
    return status;
}

/* How many numbers there are: each has one byte below 0x80. */
static int64_t count_here(const struct lb_cursor *cursor)
{
    int64_t count = 1;
    for (size_t i = 0; i < cursor->end; i++)
        count += cursor->bytes[i] < 0x80;
    return count;
}

static lb_status count_blocks(const struct lb_cursor *cursor, int64_t *blocks, struct lb_error *err)
{
    bool row;
    struct lb_statement *st = cursor->pairs->blocks_of;
    lb_bind_integer(st, 1, cursor->run);
    lb_bind_blob(st, 2, cursor->key, cursor->length);
    lb_status status = lb_step(st, &row, err);
    *blocks = !status && row ? lb_integer(st, 0) : 0;
    lb_statement_reset(st);
    return status;
}

/* A long list begins before the first block that begins with its key, if that one's neighbour has anything of
 * it. *count NULL: nobody asks. */
static lb_status open_long(struct lb_cursor *cursor, int64_t *count, struct lb_error *err)
{
    bool found;
    int64_t blocks = 0;
    lb_status status = LB_OK;
    if (count) {
        status = step(cursor, cursor->pairs->first_after, 0, &found, err);
        if (!status)
            status = count_blocks(cursor, &blocks, err);
        *count = status ? 0 : blocks * count_here(cursor);
    }
    if (!status)
        status = step(cursor, cursor->pairs->before, -1, &found, err);
    if (!status && found)
        cursor->first = 0;
    return status || found || count ? status : step(cursor, cursor->pairs->first_after, 0, &found, err);
}

static lb_status open_counting(struct lb_cursor *cursor, struct lb_pairs *pairs, size_t run, const void *key,
                               size_t length, int64_t *count, struct lb_error *err)
{
    bool found = false;
    cursor->pairs = pairs;
    cursor->run = pairs->runs.at[run];
    cursor->key = key;
    cursor->length = length < LB_PAIRS_KEY_MAX ? length : LB_PAIRS_KEY_MAX;
    cursor->at = cursor->end = 0;
    cursor->id = LB_CURSOR_END;
    cursor->first = 0;
    lb_status status = look(cursor, &found, err);
    if (status)
        return status;
    if (cursor->more)
        return open_long(cursor, count, err);
    cursor->first = 0;
    if (count)
        *count = found ? count_here(cursor) : 0;
    return LB_OK;
}

lb_status lb_cursor_open(struct lb_cursor *cursor, struct lb_pairs *pairs, size_t run, const void *key,
                         size_t length, struct lb_error *err)
{
    return open_counting(cursor, pairs, run, key, length, NULL, err);
}

/* Does an id lie well beyond the block at hand, as far as its own numbers tell? */
static bool is_far(const struct lb_cursor *cursor, int64_t least)
{
    int64_t step = (cursor->id - cursor->first) / (int64_t)(cursor->at + 1) + 1; /* a byte, about */
    int64_t left = (int64_t)(cursor->end - cursor->at);
    if (step < 1)
        return false; /* damaged: nothing to go by */
    return cursor->at < ENOUGH ? least - cursor->id > FAR : (least - cursor->id) / step > left;
}

/* Reads on, from block to block. Each begins further on than the one before: what goes round in a circle is
 * damaged. */
static lb_status read_on(struct lb_cursor *cursor, int64_t least, struct lb_error *err)
{
    while (cursor->id < least) {
        if (next(cursor))
            continue;
        if (cursor->at > cursor->end)
            return refuse(cursor, err);
        bool found = false;
        const int64_t before = cursor->first;
        lb_status status =
            cursor->more ? step(cursor, cursor->pairs->first_after, cursor->id, &found, err) : LB_OK;
        if (status)
            return status;
        if (found && cursor->first <= before)
            return refuse(cursor, err);
        if (!found)
            cursor->id = LB_CURSOR_END;
    }
    return LB_OK;
}

lb_status lb_cursor_seek(struct lb_cursor *cursor, int64_t least, struct lb_error *err)
{
    bool found;
    if (cursor->id >= least)
        return LB_OK;
    if (cursor->more && is_far(cursor, least)) {
        lb_status status = step(cursor, cursor->pairs->last_before, least, &found, err);
        if (status)
            return status;
    }
    return read_on(cursor, least, err);
}

void lb_cursor_free(struct lb_cursor *cursor)
{
    free(cursor->bytes);
    *cursor = (struct lb_cursor){0};
}

lb_status lb_cursors_open(struct lb_cursor *cursors, struct lb_pairs *pairs, const void *key, size_t length,
                          int64_t *count, struct lb_error *err)
{
    lb_status status = LB_OK;
    int64_t all = 0;
    for (size_t run = 0; !status && run < pairs->runs.count; run++) {
        int64_t here = 0;
        status = open_counting(&cursors[run], pairs, run, key, length, count ? &here : NULL, err);
        all += here;
    }
    if (count)
        *count = all;
    return status;
}
