#include "catalog/pieces.h"

#include <stdlib.h>
#include <string.h>

/* So many are sorted at a time: twice 4 MB, which a processor has at hand. */
enum { FRESH_MAX = 1 << 19, DIGIT = 11, BUCKETS = 1 << DIGIT, PACKED_MAX = 11 /* bytes: piece, row, end */ };

/* Sorted pieces: each as its difference to the one before (from 0 on), its first row from `base` on plus 1,
 * the differences of further rows, 0; all as numbers of base 128 (LEB128). */
struct lb_packed_pieces {
    unsigned char *bytes;
    size_t size;
    int64_t base;
};

void lb_pieces_free(struct lb_pieces *pieces)
{
    for (size_t i = 0; i < pieces->packs.count; i++)
        free(pieces->packs.at[i].bytes);
    free(pieces->packs.at);
    free(pieces->fresh);
    free(pieces->sorted);
    *pieces = (struct lb_pieces){0};
}

bool lb_pieces_add(struct lb_pieces *pieces, const char *piece, int64_t row)
{
    if (!pieces->fresh) {
        pieces->fresh = malloc(FRESH_MAX * sizeof *pieces->fresh);
        pieces->sorted = malloc(FRESH_MAX * sizeof *pieces->sorted);
        if (!pieces->fresh || !pieces->sorted)
            return false;
    }
    if ((pieces->count == FRESH_MAX || (pieces->count && row - pieces->base > UINT32_MAX)) &&
        !lb_pieces_pack(pieces))
        return false;
    if (!pieces->count)
        pieces->base = row;
    const unsigned char *p = (const unsigned char *)piece;
    uint64_t code = (uint64_t)p[0] << 24 | (uint64_t)p[1] << 16 | (uint64_t)p[2] << 8 | p[3];
    pieces->fresh[pieces->count++] = code << 32 | (uint64_t)(row - pieces->base);
    return true;
}

/* One pass of a radix sort, from the lowest digit of the piece to the highest; stable, so rows ascend. */
static void sort_by(struct lb_pieces *pieces, unsigned shift)
{
    size_t starts[BUCKETS] = {0}, start = 0;
    for (size_t i = 0; i < pieces->count; i++)
        starts[pieces->fresh[i] >> shift & (BUCKETS - 1)]++;
    for (size_t b = 0; b < BUCKETS; b++) {
        size_t here = starts[b];
        starts[b] = start;
        start += here;
    }
    for (size_t i = 0; i < pieces->count; i++)
        pieces->sorted[starts[pieces->fresh[i] >> shift & (BUCKETS - 1)]++] = pieces->fresh[i];
    uint64_t *swap = pieces->fresh;
    pieces->fresh = pieces->sorted;
    pieces->sorted = swap;
}

static unsigned char *put_step(unsigned char *to, uint64_t step)
{
    for (; step >= 0x80; step >>= 7)
        *to++ = (unsigned char)(step | 0x80);
    *to++ = (unsigned char)step;
    return to;
}

static size_t pack(const struct lb_pieces *pieces, unsigned char *bytes)
{
    unsigned char *to = bytes;
    uint64_t code = 0, row = 0;
    for (size_t i = 0; i < pieces->count; i++) {
        uint64_t next = pieces->fresh[i] >> 32, at = (pieces->fresh[i] & UINT32_MAX) + 1;
        if (i == 0 || next != code) {
            to = i ? put_step(to, 0) : to;
            to = put_step(to, next - code);
            row = 0;
        }
        if (at != row)
            to = put_step(to, at - row);
        code = next;
        row = at;
    }
    return (size_t)(put_step(to, 0) - bytes);
}

bool lb_pieces_pack(struct lb_pieces *pieces)
{
    if (!pieces->count)
        return true;
    sort_by(pieces, 32);
    sort_by(pieces, 32 + DIGIT);
    sort_by(pieces, 32 + 2 * DIGIT);
    unsigned char *bytes = malloc(pieces->count * PACKED_MAX);
    if (!bytes)
        return false;
    struct lb_packed_pieces packed = {bytes, pack(pieces, bytes), pieces->base};
    unsigned char *fit = realloc(bytes, packed.size);
    packed.bytes = fit ? fit : bytes;
    if (!LB_PUSH(&pieces->packs, packed)) {
        free(packed.bytes);
        return false;
    }
    pieces->bytes += packed.size;
    pieces->count = 0;
    return true;
}

/* One pack being read. */
struct reader {
    const unsigned char *at, *end;
    uint64_t code;
    int64_t base;
};

static uint64_t take_step(struct reader *reader)
{
    uint64_t step = 0;
    unsigned shift = 0;
    for (; *reader->at >= 0x80; shift += 7)
        step |= (uint64_t)(*reader->at++ & 0x7f) << shift;
    return step | (uint64_t)*reader->at++ << shift;
}

static void next_piece(struct reader *reader)
{
    if (reader->at < reader->end)
        reader->code += take_step(reader);
    else
        reader->code = UINT64_MAX;
}

static lb_status write_piece(struct reader *reader, struct lb_run_writer *run, struct lb_error *err)
{
    char key[5] = "g";
    for (int i = 0; i < 4; i++)
        key[1 + i] = (char)(reader->code >> (24 - 8 * i));
    int64_t row = reader->base - 1;
    lb_status status = LB_OK;
    for (uint64_t step; !status && (step = take_step(reader)) != 0;) {
        row += (int64_t)step;
        status = lb_run_add(run, key, sizeof key, row, err);
    }
    if (!status)
        next_piece(reader);
    return status;
}

/* Packs follow each other by their rows, so a piece's rows are those of the first pack, then of the next. */
static lb_status write_all(struct reader *readers, size_t count, struct lb_run_writer *run,
                           struct lb_error *err)
{
    lb_status status = LB_OK;
    while (!status) {
        uint64_t least = UINT64_MAX;
        for (size_t i = 0; i < count; i++)
            least = readers[i].code < least ? readers[i].code : least;
        if (least == UINT64_MAX)
            break;
        for (size_t i = 0; !status && i < count; i++)
            if (readers[i].code == least)
                status = write_piece(&readers[i], run, err);
    }
    return status;
}

lb_status lb_pieces_write(const struct lb_pieces *pieces, struct lb_run_writer *run, struct lb_error *err)
{
    size_t count = pieces->packs.count;
    struct reader *readers = calloc(count + 1, sizeof *readers);
    if (!readers)
        return lb_fail_nomem(err);
    for (size_t i = 0; i < count; i++) {
        const struct lb_packed_pieces *pack = &pieces->packs.at[i];
        readers[i] = (struct reader){.at = pack->bytes, .end = pack->bytes + pack->size, .base = pack->base};
        next_piece(&readers[i]);
    }
    lb_status status = write_all(readers, count, run, err);
    free(readers);
    return status;
}
