#include "catalog/postings.h"

#include "base/arena.h"
#include "base/hash.h"

#include <stdlib.h>
#include <string.h>

/* Together about 80 MB at the most, sorting included. */
enum { NUMBERS_MAX = 1 << 20, LISTS_MAX = 24 << 20 };

/* A key that many rows share, and its rows as differences (LEB128). */
struct term {
    const unsigned char *key;
    uint32_t length, hash;
    unsigned char *rows;
    uint32_t used, room;
    int64_t last;
};

/* A key of one row: its beginning as a number that sorts like the bytes, and where the rest is. */
struct number {
    uint64_t rank;
    uint32_t at; /* in `keys`: length, key, row */
};

struct lb_postings {
    LB_VEC(struct number) numbers;
    struct lb_buf keys;
    LB_VEC(struct term) terms;
    uint32_t *slots; /* term index + 1 */
    size_t slot_count;
    struct lb_arena arena;
    size_t bytes; /* that the terms take */
    bool mixed;
};

lb_status lb_postings_new(struct lb_postings **out, enum lb_postings_rows rows, struct lb_error *err)
{
    *out = calloc(1, sizeof **out);
    if (!*out)
        return lb_fail_nomem(err);
    (*out)->mixed = rows == LB_ROWS_MIXED;
    return LB_OK;
}

void lb_postings_free(struct lb_postings *postings)
{
    if (!postings)
        return;
    for (size_t i = 0; i < postings->terms.count; i++)
        free(postings->terms.at[i].rows);
    free(postings->terms.at);
    free(postings->numbers.at);
    free(postings->slots);
    lb_buf_free(&postings->keys);
    lb_arena_free(&postings->arena);
    free(postings);
}

bool lb_postings_full(const struct lb_postings *postings)
{
    return postings->numbers.count >= NUMBERS_MAX || postings->bytes >= LISTS_MAX ||
           postings->keys.length >= (size_t)NUMBERS_MAX * 40;
}

bool lb_postings_empty(const struct lb_postings *postings)
{
    return !postings->numbers.count && !postings->terms.count;
}

/* The first twelve bytes after the `n`: digits and capitals keep their place, whatever else is only told to
 * lie before, between or after them and ends the ranking. 39 to the 12th is just below 2 to the 64th. */
static uint64_t rank_of(const char *key, size_t length)
{
    uint64_t rank = 0;
    bool plain = true;
    for (size_t i = 1; i <= 12; i++) {
        unsigned char c = plain && i < length ? (unsigned char)key[i] : 0;
        unsigned code = c < '0' ? 0 : c <= '9' ? c - '0' + 1u : c < 'A' ? 11 : c <= 'Z' ? c - 'A' + 12u : 38;
        plain = plain && code != 0 && code != 11 && code != 38;
        rank = rank * 39 + code;
    }
    return rank;
}

static lb_status add_number(struct lb_postings *postings, const char *key, size_t length, int64_t row)
{
    /* Keys of several sorts are few: they are compared byte by byte. */
    struct number number = {postings->mixed ? 0 : rank_of(key, length), (uint32_t)postings->keys.length};
    unsigned char size = (unsigned char)length;
    lb_buf_append(&postings->keys, (const char *)&size, 1);
    lb_buf_append(&postings->keys, key, length);
    lb_buf_append(&postings->keys, (const char *)&row, sizeof row);
    return !postings->keys.failed && LB_PUSH(&postings->numbers, number) ? LB_OK : LB_NOMEM;
}

static bool grow_slots(struct lb_postings *postings)
{
    if (postings->terms.count * 2 < postings->slot_count)
        return true;
    size_t count = postings->slot_count ? postings->slot_count * 2 : 4096;
    uint32_t *slots = calloc(count, sizeof *slots);
    if (!slots)
        return false;
    for (size_t i = 0; i < postings->terms.count; i++) {
        size_t slot = postings->terms.at[i].hash & (count - 1);
        while (slots[slot])
            slot = (slot + 1) & (count - 1);
        slots[slot] = (uint32_t)i + 1;
    }
    free(postings->slots);
    postings->slots = slots;
    postings->slot_count = count;
    return true;
}

static struct term *term_of(struct lb_postings *postings, const char *key, size_t length)
{
    if (!grow_slots(postings))
        return NULL;
    uint32_t hash = (uint32_t)(lb_hash(LB_HASH_START, key, length) >> 20);
    size_t mask = postings->slot_count - 1, slot = hash & mask;
    for (uint32_t index; (index = postings->slots[slot]); slot = (slot + 1) & mask) {
        struct term *term = &postings->terms.at[index - 1];
        if (term->hash == hash && term->length == length && memcmp(term->key, key, length) == 0)
            return term;
    }
    struct term term = {.key = (unsigned char *)lb_arena_text(&postings->arena, key, length),
                        .length = (uint32_t)length,
                        .hash = hash};
    if (!term.key || !LB_PUSH(&postings->terms, term))
        return NULL;
    postings->bytes += sizeof term + length + 24;
    postings->slots[slot] = (uint32_t)postings->terms.count;
    return &postings->terms.at[postings->terms.count - 1];
}

static bool make_room(struct lb_postings *postings, struct term *term)
{
    if (term->room - term->used >= 10)
        return true;
    uint32_t room = term->room ? term->room + term->room / 2 : 14;
    unsigned char *rows = realloc(term->rows, room);
    if (!rows)
        return false;
    postings->bytes += room - term->room;
    term->rows = rows;
    term->room = room;
    return true;
}

lb_status lb_postings_add(struct lb_postings *postings, const char *key, size_t length, int64_t row)
{
    length = length < LB_PAIRS_KEY_MAX ? length : LB_PAIRS_KEY_MAX;
    if (postings->mixed || key[0] == 'n')
        return add_number(postings, key, length, row);
    struct term *term = term_of(postings, key, length);
    if (!term || !make_room(postings, term))
        return LB_NOMEM;
    if (term->last == row)
        return LB_OK;
    uint64_t step = (uint64_t)(row - term->last);
    for (; step >= 0x80; step >>= 7)
        term->rows[term->used++] = (unsigned char)(step | 0x80);
    term->rows[term->used++] = (unsigned char)step;
    term->last = row;
    return LB_OK;
}

/* Least significant digit first, eleven bits at a time: a comparing sort of a million ranks takes ten times
 * as long. */
static bool sort_by_rank(struct lb_postings *postings)
{
    enum { BITS = 11, BUCKETS = 1 << BITS };
    size_t count = postings->numbers.count;
    struct number *from = postings->numbers.at, *to = malloc(count * sizeof *to + 1);
    if (!to)
        return false;
    for (unsigned shift = 0; shift < 64; shift += BITS) {
        size_t starts[BUCKETS + 1] = {0};
        for (size_t i = 0; i < count; i++)
            starts[(from[i].rank >> shift & (BUCKETS - 1)) + 1]++;
        for (size_t b = 0; b < BUCKETS; b++)
            starts[b + 1] += starts[b];
        for (size_t i = 0; i < count; i++)
            to[starts[from[i].rank >> shift & (BUCKETS - 1)]++] = from[i];
        struct number *swap = from;
        from = to;
        to = swap;
    }
    postings->numbers.at = from;
    postings->numbers.room = count;
    free(to);
    return true;
}

static int64_t row_at(const unsigned char *key)
{
    int64_t row;
    memcpy(&row, key + 1 + key[0], sizeof row);
    return row;
}

static int by_key(const void *left, const void *right, void *keys)
{
    const unsigned char *a = (unsigned char *)keys + ((const struct number *)left)->at;
    const unsigned char *b = (unsigned char *)keys + ((const struct number *)right)->at;
    int order = memcmp(a + 1, b + 1, a[0] < b[0] ? a[0] : b[0]);
    if (!order)
        order = a[0] - b[0];
    return order ? order : (row_at(a) > row_at(b)) - (row_at(a) < row_at(b));
}

static void sort_equal_ranks(struct lb_postings *postings)
{
    struct number *numbers = postings->numbers.at;
    for (size_t i = 0, end; i < postings->numbers.count; i = end) {
        for (end = i + 1; end < postings->numbers.count && numbers[end].rank == numbers[i].rank;)
            end++;
        if (end - i > 1)
            qsort_r(numbers + i, end - i, sizeof *numbers, by_key, postings->keys.text);
    }
}

static int by_term(const void *left, const void *right)
{
    const struct term *a = left, *b = right;
    int order = memcmp(a->key, b->key, a->length < b->length ? a->length : b->length);
    return order ? order : (a->length > b->length) - (a->length < b->length);
}

bool lb_postings_sort(struct lb_postings *postings)
{
    if (postings->numbers.count && !postings->mixed && !sort_by_rank(postings))
        return false;
    sort_equal_ranks(postings);
    free(postings->slots); /* the places of the terms change */
    postings->slots = NULL;
    postings->slot_count = 0;
    if (postings->terms.count)
        qsort(postings->terms.at, postings->terms.count, sizeof *postings->terms.at, by_term);
    return true;
}

static lb_status write_numbers(const struct lb_postings *postings, struct lb_merge *merge,
                               struct lb_error *err)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < postings->numbers.count; i++) {
        const unsigned char *key = (unsigned char *)postings->keys.text + postings->numbers.at[i].at;
        status = lb_pairs_merge_add(merge, key + 1, key[0], row_at(key), err);
    }
    return status;
}

static lb_status write_term(const struct term *term, struct lb_merge *merge, struct lb_error *err)
{
    int64_t row = 0;
    lb_status status = LB_OK;
    for (const unsigned char *p = term->rows; !status && p < term->rows + term->used;) {
        uint64_t step = 0;
        unsigned shift = 0;
        for (; *p >= 0x80; shift += 7)
            step |= (uint64_t)(*p++ & 0x7f) << shift;
        step |= (uint64_t)*p++ << shift;
        row += (int64_t)step;
        status = lb_pairs_merge_add(merge, term->key, term->length, row, err);
    }
    return status;
}

lb_status lb_postings_write(struct lb_postings *postings, struct lb_store *store, enum lb_pairs_how how,
                            struct lb_error *err)
{
    struct lb_merge *merge;
    lb_status status = lb_pairs_merge_begin(&merge, store, how, err);
    if (!status)
        status = write_numbers(postings, merge, err); /* n comes before t and w */
    for (size_t i = 0; !status && i < postings->terms.count; i++)
        status = write_term(&postings->terms.at[i], merge, err);
    if (!status)
        return lb_pairs_merge_end(merge, err);
    lb_pairs_merge_free(merge);
    return status;
}
