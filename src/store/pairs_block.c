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

/* Keys ascend, whatever else is damaged: who walks through them comes to an end. The byte behind what two
 * keys share tells. */
static bool is_next(const struct lb_block_cursor *cursor, uint64_t shared, uint64_t more)
{
    const struct lb_pair *pair = &cursor->pair;
    if (!cursor->begun)
        return shared == pair->length && more == 0;
    return more > 0 && (shared == pair->length || *cursor->at > pair->key[shared]);
}

static bool take_key(struct lb_block_cursor *cursor)
{
    uint64_t shared, more;
    if (!take_number(cursor, &shared) || !take_number(cursor, &more))
        return false;
    if (shared > cursor->pair.length || more > LB_PAIRS_KEY_MAX - shared ||
        more > (size_t)(cursor->end - cursor->at) || !is_next(cursor, shared, more)) {
        cursor->broken = true;
        return false;
    }
    memcpy(cursor->pair.key + shared, cursor->at, more);
    cursor->at += more;
    cursor->pair.length = shared + more;
    cursor->pair.id = 0;
    cursor->begun = cursor->in_entry = true;
    return true;
}

void lb_block_begin(struct lb_block_cursor *cursor, const void *key, size_t length, const void *block,
                    size_t size)
{
    cursor->at = block ? block : (const void *)"";
    cursor->end = cursor->at + size;
    cursor->begun = cursor->in_entry = false;
    cursor->broken = length > LB_PAIRS_KEY_MAX;
    cursor->pair.length = cursor->broken ? 0 : length;
    memcpy(cursor->pair.key, key, cursor->pair.length);
}

bool lb_block_more(struct lb_block_cursor *cursor)
{
    uint64_t step;
    if (!take_number(cursor, &step))
        return false;
    if (step > (uint64_t)(INT64_MAX - cursor->pair.id)) {
        cursor->broken = true;
        return false;
    }
    cursor->pair.id += (int64_t)step;
    cursor->in_entry = step != 0;
    return step != 0;
}

bool lb_block_next(struct lb_block_cursor *cursor)
{
    while (!cursor->broken) {
        if (!cursor->in_entry && (cursor->at == cursor->end || !take_key(cursor)))
            return false;
        if (lb_block_more(cursor))
            return true;
    }
    return false;
}

/* No number but 0 itself has a byte of 0, so the end of an entry is quickly found. */
bool lb_block_find(struct lb_block_cursor *cursor, const void *key, size_t length)
{
    while (!cursor->broken && cursor->at < cursor->end && take_key(cursor)) {
        size_t common = cursor->pair.length < length ? cursor->pair.length : length;
        int order = memcmp(cursor->pair.key, key, common);
        if (order == 0 && cursor->pair.length == length)
            return lb_block_more(cursor);
        if (order > 0 || (order == 0 && cursor->pair.length > length))
            return false;
        const unsigned char *end = memchr(cursor->at, 0, (size_t)(cursor->end - cursor->at));
        cursor->broken = !end;
        cursor->at = end ? end + 1 : cursor->end;
        cursor->in_entry = false;
    }
    return false;
}

/* No number but 0 itself has a byte of 0, so the end of an entry is quickly found. */
static void pass_ids(struct lb_block_cursor *cursor)
{
    const unsigned char *end = memchr(cursor->at, 0, (size_t)(cursor->end - cursor->at));
    cursor->broken = !end;
    cursor->at = end ? end + 1 : cursor->end;
    cursor->in_entry = false;
}

static size_t common_length(const struct lb_pair *pair, const unsigned char *key, size_t length, size_t from)
{
    while (from < pair->length && from < length && pair->key[from] == key[from])
        from++;
    return from;
}

/* `common`: how much of the key is the given one's. */
static bool is_below(const struct lb_pair *pair, const unsigned char *key, size_t length, size_t common)
{
    return common < length && (common == pair->length || pair->key[common] < key[common]);
}

/* The bytes that a key shares with the one before tell nearly always what it is to the wanted one: when they
 * are more than what the one before had of it, it is below too; when they are fewer, it is above. */
bool lb_block_seek(struct lb_block_cursor *cursor, const void *key, size_t length)
{
    size_t common = common_length(&cursor->pair, key, length, 0);
    if (!is_below(&cursor->pair, key, length, common))
        return cursor->in_entry || lb_block_next(cursor);
    if (cursor->in_entry)
        pass_ids(cursor);
    while (!cursor->broken && cursor->at < cursor->end) {
        size_t shared = *cursor->at; /* below 256, so the first byte of two is the number as well */
        if (!take_key(cursor))
            return false;
        if (shared <= common)
            common = common_length(&cursor->pair, key, length, shared);
        if (!is_below(&cursor->pair, key, length, common))
            return lb_block_next(cursor);
        pass_ids(cursor);
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
    size_t room = more && block->alone ? LB_BLOCK_LONG : LB_BLOCK_ROOM;
    if (block->size && block->size + need > room - 1)
        return false;
    if (!more) {
        bool first = block->alone = block->size == 0;
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
