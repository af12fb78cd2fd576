#include "store/pairs_block.h"

#include <string.h>

enum { NUMBER_MAX = 10 }; /* bytes of one number */

static bool take_number(struct lb_block_cursor *cursor, uint64_t *number)
{
    *number = 0;
    for (unsigned shift = 0; cursor->at < cursor->end && shift < 64; shift += 7) {
        unsigned char byte = *cursor->at++;
        *number |= (uint64_t)(byte & 0x7f) << shift;
        if (byte < 0x80)
            return true;
    }
    cursor->broken = true;
    return false;
}

static bool take_key(struct lb_block_cursor *cursor)
{
    uint64_t shared, more;
    if (!take_number(cursor, &shared) || !take_number(cursor, &more))
        return false;
    if (shared > cursor->pair.length || more > LB_PAIRS_KEY_MAX - shared ||
        more > (size_t)(cursor->end - cursor->at)) {
        cursor->broken = true;
        return false;
    }
    memcpy(cursor->pair.key + shared, cursor->at, more);
    cursor->at += more;
    cursor->pair.length = shared + more;
    cursor->pair.id = 0;
    cursor->in_entry = true;
    return true;
}

void lb_block_begin(struct lb_block_cursor *cursor, const void *key, size_t length, const void *block,
                    size_t size)
{
    cursor->at = block;
    cursor->end = cursor->at + size;
    cursor->in_entry = false;
    cursor->broken = length > LB_PAIRS_KEY_MAX;
    cursor->pair.length = cursor->broken ? 0 : length;
    memcpy(cursor->pair.key, key, cursor->pair.length);
}

bool lb_block_next(struct lb_block_cursor *cursor)
{
    uint64_t step;
    while (!cursor->broken) {
        if (!cursor->in_entry && (cursor->at == cursor->end || !take_key(cursor)))
            return false;
        if (!take_number(cursor, &step))
            return false;
        if (step > (uint64_t)(INT64_MAX - cursor->pair.id)) {
            cursor->broken = true;
            return false;
        }
        cursor->pair.id += (int64_t)step;
        if (step)
            return true;
        cursor->in_entry = false;
    }
    return false;
}

static void put_number(struct lb_block *block, uint64_t number)
{
    for (; number >= 0x80; number >>= 7)
        block->bytes[block->size++] = (unsigned char)(number | 0x80);
    block->bytes[block->size++] = (unsigned char)number;
}

static bool continues(const struct lb_block *block, const void *key, size_t length)
{
    return block->size && block->last.length == length && memcmp(block->last.key, key, length) == 0;
}

static void put_key(struct lb_block *block, const unsigned char *key, size_t length)
{
    size_t shared = 0;
    if (block->size)
        block->bytes[block->size++] = 0; /* the end of the entry before */
    else
        shared = length;
    while (shared < length && shared < block->last.length && key[shared] == block->last.key[shared])
        shared++;
    put_number(block, shared);
    put_number(block, length - shared);
    memcpy(block->bytes + block->size, key + shared, length - shared);
    block->size += length - shared;
}

bool lb_block_add(struct lb_block *block, const void *key, size_t length, int64_t id)
{
    bool more = continues(block, key, length);
    if (more && id <= block->last.id)
        return true; /* there already */
    size_t need = NUMBER_MAX + 1 + (more ? 0 : 1 + 2 + 2 + length);
    if (block->size && block->size + need > LB_BLOCK_ROOM - 1)
        return false;
    if (!more) {
        bool first = block->size == 0;
        put_key(block, key, length);
        memcpy(block->last.key, key, length);
        block->last.length = length;
        block->last.id = 0;
        if (first) {
            block->first = block->last;
            block->first.id = id;
        }
    }
    put_number(block, (uint64_t)(id - block->last.id));
    block->last.id = id;
    return true;
}

void lb_block_close(struct lb_block *block)
{
    if (block->size)
        block->bytes[block->size++] = 0;
}
