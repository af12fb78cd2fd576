#include "catalog/postings.h"

#include "base/arena.h"
#include "base/fingerprint.h"
#include "base/rank_sort.h"
#include "catalog/pieces.h"
#include "catalog/title.h"

#include <stdlib.h>
#include <string.h>

/* Together about 100 MB at the most, sorting included. */
enum { NUMBERS_MAX = 1 << 20, LISTS_MAX = 40 << 20, PIECES_MAX = 16 << 20 };

enum { KEY_INLINE = 36 };

/* A key that many rows share, and its rows as differences (LEB128); or its marks in the order of their rows,
 * the difference of the rows with the place below it, then a byte for the title's class (its length and words
 * in the type). One cache line each: most of the time goes into waiting for memory. */
struct term {
    unsigned char *rows; /* NULL: `last` is the only one */
    int64_t last;        /* row or mark */
    uint32_t used, room;
    uint32_t length;
    union {
        unsigned char inside[KEY_INLINE];
        const unsigned char *outside; /* when longer */
    } key;
};

struct slot {
    uint32_t hash, index; /* index + 1; 0: free */
};

struct lb_postings {
    /* Keys of one row, or hardly more: their beginning as a rank; what follows it is in `keys` (length, key,
     * row), or, for hashes, which are all rank, the row itself. */
    LB_VEC(struct lb_ranked) numbers, hashes;
    struct lb_buf keys;
    struct lb_pieces pieces;
    LB_VEC(struct term) terms;
    struct slot *slots;
    size_t slot_count;
    struct lb_arena arena;
    size_t bytes; /* that the terms take */
};

lb_status lb_postings_new(struct lb_postings **out, struct lb_error *err)
{
    *out = calloc(1, sizeof **out);
    return *out ? LB_OK : lb_fail_nomem(err);
}

void lb_postings_free(struct lb_postings *postings)
{
    if (!postings)
        return;
    for (size_t i = 0; i < postings->terms.count; i++)
        free(postings->terms.at[i].rows);
    free(postings->terms.at);
    free(postings->numbers.at);
    free(postings->hashes.at);
    free(postings->slots);
    lb_buf_free(&postings->keys);
    lb_pieces_free(&postings->pieces);
    lb_arena_free(&postings->arena);
    free(postings);
}

bool lb_postings_full(const struct lb_postings *postings)
{
    return postings->numbers.count >= NUMBERS_MAX || postings->hashes.count >= NUMBERS_MAX ||
           postings->bytes >= LISTS_MAX || postings->pieces.bytes >= PIECES_MAX ||
           postings->keys.length >= (size_t)NUMBERS_MAX * 40;
}

bool lb_postings_empty(const struct lb_postings *postings)
{
    return !postings->numbers.count && !postings->hashes.count && !postings->terms.count &&
           !postings->pieces.count && !postings->pieces.packs.count;
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
    struct lb_ranked number = {rank_of(key, length), (int64_t)postings->keys.length};
    unsigned char size = (unsigned char)length;
    lb_buf_append(&postings->keys, (const char *)&size, 1);
    lb_buf_append(&postings->keys, key, length);
    lb_buf_append(&postings->keys, (const char *)&row, sizeof row);
    return !postings->keys.failed && LB_PUSH(&postings->numbers, number) ? LB_OK : LB_NOMEM;
}

static lb_status add_hash(struct lb_postings *postings, const char *key, int64_t row)
{
    struct lb_ranked number = {0, row};
    for (int i = 1; i <= 8; i++)
        number.rank = number.rank << 8 | (unsigned char)key[i];
    return LB_PUSH(&postings->hashes, number) ? LB_OK : LB_NOMEM;
}

static const unsigned char *key_of(const struct term *term)
{
    return term->length <= KEY_INLINE ? term->key.inside : term->key.outside;
}

static bool grow_slots(struct lb_postings *postings)
{
    if (postings->terms.count * 2 < postings->slot_count)
        return true;
    size_t count = postings->slot_count ? postings->slot_count * 2 : 4096, mask = count - 1;
    struct slot *slots = calloc(count, sizeof *slots);
    if (!slots)
        return false;
    for (size_t i = 0; i < postings->slot_count; i++) {
        if (!postings->slots[i].index)
            continue;
        size_t slot = postings->slots[i].hash & mask;
        while (slots[slot].index)
            slot = (slot + 1) & mask;
        slots[slot] = postings->slots[i];
    }
    free(postings->slots);
    postings->slots = slots;
    postings->slot_count = count;
    return true;
}

static struct term *new_term(struct lb_postings *postings, const char *key, size_t length)
{
    struct term term = {.length = (uint32_t)length};
    if (length <= KEY_INLINE)
        memcpy(term.key.inside, key, length);
    else if (!(term.key.outside = (unsigned char *)lb_arena_text(&postings->arena, key, length)))
        return NULL;
    postings->bytes += sizeof term + 2 * sizeof(struct slot) + (length <= KEY_INLINE ? 0 : length);
    return LB_PUSH(&postings->terms, term) ? &postings->terms.at[postings->terms.count - 1] : NULL;
}

static struct term *term_of(struct lb_postings *postings, const char *key, size_t length)
{
    if (!grow_slots(postings))
        return NULL;
    uint32_t hash = (uint32_t)lb_fingerprint_of(key, length);
    size_t mask = postings->slot_count - 1, at = hash & mask;
    for (struct slot slot; (slot = postings->slots[at]).index; at = (at + 1) & mask) {
        struct term *term = &postings->terms.at[slot.index - 1];
        if (slot.hash == hash && term->length == length && memcmp(key_of(term), key, length) == 0)
            return term;
    }
    struct term *term = new_term(postings, key, length);
    if (term)
        postings->slots[at] = (struct slot){hash, (uint32_t)postings->terms.count};
    return term;
}

static bool has_marks(const struct term *term)
{
    return key_of(term)[0] == 'w';
}

static bool make_room(struct lb_postings *postings, struct term *term)
{
    if (term->room - term->used >= 24)
        return true;
    uint32_t room = term->room ? term->room + term->room / 2 : 32;
    unsigned char *rows = realloc(term->rows, room);
    if (!rows)
        return false;
    postings->bytes += room - term->room;
    term->rows = rows;
    term->room = room;
    return true;
}

static void put_step(struct term *term, uint64_t step)
{
    for (; step >= 0x80; step >>= 7)
        term->rows[term->used++] = (unsigned char)(step | 0x80);
    term->rows[term->used++] = (unsigned char)step;
}

static void put_value(struct term *term, int64_t before, int64_t value)
{
    if (!has_marks(term)) {
        put_step(term, (uint64_t)(value - before));
        return;
    }
    int64_t row = lb_mark_row(value) - lb_mark_row(before);
    put_step(term, (uint64_t)row << 4 | (uint64_t)lb_mark_place(value));
    term->rows[term->used++] = (unsigned char)lb_mark_class(value);
}

lb_status lb_postings_add(struct lb_postings *postings, const char *key, size_t length, int64_t value)
{
    length = length < LB_PAIRS_KEY_MAX ? length : LB_PAIRS_KEY_MAX;
    if (key[0] == 'n')
        return add_number(postings, key, length, value);
    if (key[0] == 's')
        return add_hash(postings, key, value);
    if (key[0] == 'g')
        return lb_pieces_add(&postings->pieces, key + 1, value) ? LB_OK : LB_NOMEM;
    struct term *term = term_of(postings, key, length);
    if (!term)
        return LB_NOMEM;
    if (term->last == value)
        return LB_OK;
    if (term->last) {
        bool only = !term->rows;
        if (!make_room(postings, term))
            return LB_NOMEM;
        if (only)
            put_value(term, 0, term->last);
        put_value(term, term->last, value);
    }
    term->last = value;
    return LB_OK;
}

static int64_t row_at(const unsigned char *key)
{
    int64_t row;
    memcpy(&row, key + 1 + key[0], sizeof row);
    return row;
}

static int by_key(const void *left, const void *right, void *keys)
{
    const unsigned char *a = (unsigned char *)keys + ((const struct lb_ranked *)left)->value;
    const unsigned char *b = (unsigned char *)keys + ((const struct lb_ranked *)right)->value;
    int order = memcmp(a + 1, b + 1, a[0] < b[0] ? a[0] : b[0]);
    if (!order)
        order = a[0] - b[0];
    return order ? order : (row_at(a) > row_at(b)) - (row_at(a) < row_at(b));
}

static void sort_equal_ranks(struct lb_postings *postings)
{
    struct lb_ranked *numbers = postings->numbers.at;
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
    int order = memcmp(key_of(a), key_of(b), a->length < b->length ? a->length : b->length);
    return order ? order : (a->length > b->length) - (a->length < b->length);
}

bool lb_postings_sort(struct lb_postings *postings)
{
    if (!lb_pieces_pack(&postings->pieces))
        return false;
    postings->numbers.room = postings->numbers.count;
    postings->hashes.room = postings->hashes.count;
    if (!lb_rank_sort(&postings->numbers.at, postings->numbers.count) ||
        !lb_rank_sort(&postings->hashes.at, postings->hashes.count))
        return false;
    sort_equal_ranks(postings);
    free(postings->slots); /* the places of the terms change */
    postings->slots = NULL;
    postings->slot_count = 0;
    if (postings->terms.count)
        qsort(postings->terms.at, postings->terms.count, sizeof *postings->terms.at, by_term);
    return true;
}

static lb_status write_numbers(const struct lb_postings *postings, struct lb_run_writer *run,
                               struct lb_error *err)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < postings->numbers.count; i++) {
        const unsigned char *key = (unsigned char *)postings->keys.text + postings->numbers.at[i].value;
        status = lb_run_add(run, key + 1, key[0], row_at(key), err);
    }
    return status;
}

static uint64_t take_step(const unsigned char **at)
{
    uint64_t step = 0;
    unsigned shift = 0;
    for (; **at >= 0x80; shift += 7)
        step |= (uint64_t)(*(*at)++ & 0x7f) << shift;
    return step | (uint64_t) * (*at)++ << shift;
}

static lb_status write_rows(const struct term *term, struct lb_run_writer *run, struct lb_error *err)
{
    int64_t row = 0;
    lb_status status = LB_OK;
    for (const unsigned char *p = term->rows; !status && p < term->rows + term->used;) {
        row += (int64_t)take_step(&p);
        status = lb_run_add(run, key_of(term), term->length, row, err);
    }
    return status;
}

/* Where in a sorted list the marks of each class begin; their number in all is returned. */
static size_t count_classes(const struct term *term, size_t starts[256])
{
    size_t count = 0;
    memset(starts, 0, 256 * sizeof *starts);
    for (const unsigned char *p = term->rows; p < term->rows + term->used; p++) {
        take_step(&p);
        starts[*p]++;
    }
    for (int class = 0; class < 256; class ++) {
        size_t here = starts[class];
        starts[class] = count;
        count += here;
    }
    return count;
}

/* Marks sort by class, then by row, which they have already. */
static lb_status write_marks(const struct term *term, struct lb_run_writer *run, struct lb_error *err)
{
    size_t starts[256], count = count_classes(term, starts);
    int64_t row = 0, *marks = malloc(count * sizeof *marks);
    if (!marks)
        return lb_fail_nomem(err);
    for (const unsigned char *p = term->rows; p < term->rows + term->used; p++) {
        uint64_t step = take_step(&p);
        row += (int64_t)(step >> 4);
        marks[starts[*p]++] = (int64_t)*p << 44 | row << 4 | (int64_t)(step & 15);
    }
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < count; i++)
        status = lb_run_add(run, key_of(term), term->length, marks[i], err);
    free(marks);
    return status;
}

static lb_status write_term(const struct term *term, struct lb_run_writer *run, struct lb_error *err)
{
    if (!term->rows)
        return lb_run_add(run, key_of(term), term->length, term->last, err);
    return has_marks(term) ? write_marks(term, run, err) : write_rows(term, run, err);
}

/* The sort is stable, so rows ascend under one hash. */
static lb_status write_hashes(const struct lb_postings *postings, struct lb_run_writer *run,
                              struct lb_error *err)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < postings->hashes.count; i++) {
        const struct lb_ranked *hash = &postings->hashes.at[i];
        char key[9] = "s";
        for (int b = 0; b < 8; b++)
            key[1 + b] = (char)(hash->rank >> (56 - 8 * b));
        status = lb_run_add(run, key, sizeof key, hash->value, err);
    }
    return status;
}

/* The lists whose first letter is below the given one, from the one at *i on. */
static lb_status write_terms(const struct lb_postings *postings, size_t *i, unsigned char below,
                             struct lb_run_writer *run, struct lb_error *err)
{
    lb_status status = LB_OK;
    for (; !status && *i < postings->terms.count && key_of(&postings->terms.at[*i])[0] < below; (*i)++)
        status = write_term(&postings->terms.at[*i], run, err);
    return status;
}

/* In the order of their first letters: d, g, k, m, n, s, w, x. */
static lb_status write_all(const struct lb_postings *postings, struct lb_run_writer *run,
                           struct lb_error *err)
{
    size_t i = 0;
    lb_status status = write_terms(postings, &i, 'g', run, err);
    if (!status)
        status = lb_pieces_write(&postings->pieces, run, err);
    if (!status)
        status = write_terms(postings, &i, 'n', run, err);
    if (!status)
        status = write_numbers(postings, run, err);
    if (!status)
        status = write_hashes(postings, run, err);
    return status ? status : write_terms(postings, &i, 0xff, run, err);
}

lb_status lb_postings_write(struct lb_postings *postings, struct lb_store *store, struct lb_error *err)
{
    struct lb_run_writer *run;
    lb_status status = lb_run_begin(&run, store, err);
    if (status)
        return status;
    if (!(status = write_all(postings, run, err)))
        return lb_run_end(run, err);
    lb_run_free(run);
    return status;
}
