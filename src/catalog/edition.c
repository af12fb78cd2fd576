#include "catalog/edition.h"

#include "base/fingerprint.h"
#include "base/vec.h"

#include <stdlib.h>
#include <string.h>

/* Rows first … first + count - 1 are at `at` … of the arrays. */
struct extent {
    int64_t first;
    size_t at, count;
};

struct lb_edition {
    LB_VEC(struct extent) extents;
    uint64_t *hashes; /* 0: no row */
    uint32_t *lines;  /* where the row stands now; 0: not met */
    size_t count, room, rows, expected;
    uint32_t *heads, *next; /* rows by hash, index + 1; made when first needed */
    size_t head_count;
    bool hashed;
};

uint64_t lb_edition_hash(const char *raw, size_t length)
{
    uint64_t hash = lb_fingerprint_of(raw, length);
    return hash ? hash : 1;
}

static bool grow(struct lb_edition *edition, size_t more)
{
    if (edition->count + more <= edition->room)
        return true;
    size_t room = edition->count + more + edition->room / 4;
    uint64_t *hashes = realloc(edition->hashes, room * sizeof *hashes);
    if (!hashes)
        return false;
    edition->hashes = hashes;
    edition->room = room;
    return true;
}

static lb_status keep_block(struct lb_edition *edition, struct lb_statement *st, struct lb_error *err)
{
    size_t size;
    const void *hashes = lb_blob(st, 1, &size);
    struct extent extent = {lb_integer(st, 0), edition->count, size / sizeof *edition->hashes};
    if (!grow(edition, extent.count) || !LB_PUSH(&edition->extents, extent))
        return lb_fail_nomem(err);
    memcpy(edition->hashes + edition->count, hashes, extent.count * sizeof *edition->hashes);
    edition->count += extent.count;
    return LB_OK;
}

static lb_status load_hashes(struct lb_edition *edition, struct lb_store *store, int64_t source,
                             struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(
        store, &st, "SELECT first, hashes FROM edition WHERE source = ?1 ORDER BY first", err);
    if (status)
        return status;
    lb_bind_integer(st, 1, source);
    while (!(status = lb_step(st, &row, err)) && row)
        if ((status = keep_block(edition, st, err)))
            break;
    lb_statement_free(st);
    return status;
}

/* An index made before texts were hashed knows only where the rows stand. */
static lb_status load_spans(struct lb_edition *edition, struct lb_store *store, int64_t source,
                            struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    lb_status status =
        lb_store_prepare(store, &st, "SELECT first, count FROM span WHERE source = ?1 ORDER BY first", err);
    if (status)
        return status;
    lb_bind_integer(st, 1, source);
    while (!(status = lb_step(st, &row, err)) && row) {
        struct extent extent = {lb_integer(st, 0), edition->count, (size_t)lb_integer(st, 1)};
        if (!grow(edition, extent.count) || !LB_PUSH(&edition->extents, extent)) {
            status = lb_fail_nomem(err);
            break;
        }
        for (size_t i = 0; i < extent.count; i++)
            edition->hashes[edition->count++] = 1;
    }
    lb_statement_free(st);
    lb_edition_forget_texts(edition);
    return status;
}

lb_status lb_edition_load(struct lb_edition **out, struct lb_store *store, int64_t source,
                          struct lb_error *err)
{
    struct lb_edition *edition = *out = calloc(1, sizeof *edition);
    if (!edition)
        return lb_fail_nomem(err);
    lb_status status = load_hashes(edition, store, source, err);
    if (!status && !edition->count)
        status = load_spans(edition, store, source, err);
    if (!status && edition->count >= UINT32_MAX)
        status = lb_store_refuse_damaged(store, err);
    if (!status && !(edition->lines = calloc(edition->count + 1, sizeof *edition->lines)))
        status = lb_fail_nomem(err);
    for (size_t i = 0; i < edition->count; i++)
        edition->rows += edition->hashes[i] != 0;
    if (status) {
        lb_edition_free(edition);
        *out = NULL;
    }
    return status;
}

void lb_edition_free(struct lb_edition *edition)
{
    if (!edition)
        return;
    free(edition->extents.at);
    free(edition->hashes);
    free(edition->lines);
    free(edition->heads);
    free(edition->next);
    free(edition);
}

size_t lb_edition_rows(const struct lb_edition *edition)
{
    return edition->rows;
}

void lb_edition_forget_texts(struct lb_edition *edition)
{
    free(edition->heads);
    free(edition->next);
    edition->heads = edition->next = NULL;
    edition->head_count = 0;
    edition->hashed = true; /* with no heads: nothing is found */
    edition->expected = edition->count;
}

/* Chains by hash, in the order of the rows. Without memory for them rows are met in their old order only; the
 * others are compared value by value. */
static void hash_rows(struct lb_edition *edition)
{
    size_t count = 1024;
    edition->hashed = true;
    while (count < edition->count + edition->count / 4)
        count *= 2;
    edition->heads = calloc(count, sizeof *edition->heads);
    edition->next = malloc((edition->count + 1) * sizeof *edition->next);
    if (!edition->heads || !edition->next)
        return;
    edition->head_count = count;
    for (size_t i = edition->count; i-- > 0;) {
        if (!edition->hashes[i])
            continue;
        uint32_t *head = &edition->heads[edition->hashes[i] & (count - 1)];
        edition->next[i] = *head;
        *head = (uint32_t)i + 1;
    }
}

static uint32_t line_of(long line)
{
    return line < (long)UINT32_MAX ? (uint32_t)line : UINT32_MAX;
}

bool lb_edition_meet(struct lb_edition *edition, uint64_t hash, long line)
{
    size_t i = edition->expected;
    while (i < edition->count && !edition->hashes[i])
        i++;
    if (i < edition->count && edition->hashes[i] == hash && !edition->lines[i]) {
        edition->lines[i] = line_of(line);
        edition->expected = i + 1;
        return true;
    }
    if (!edition->hashed)
        hash_rows(edition);
    if (!edition->head_count)
        return false;
    for (uint32_t *link = &edition->heads[hash & (edition->head_count - 1)]; *link;) {
        i = *link - 1;
        if (edition->lines[i]) {
            *link = edition->next[i]; /* met in the meantime */
        } else if (edition->hashes[i] == hash) {
            *link = edition->next[i];
            edition->lines[i] = line_of(line);
            edition->expected = i + 1;
            return true;
        } else {
            link = &edition->next[i];
        }
    }
    return false;
}

static int64_t row_of(const struct lb_edition *edition, size_t index)
{
    size_t low = 0, high = edition->extents.count;
    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        *(edition->extents.at[middle].at <= index ? &low : &high) = middle;
    }
    return edition->extents.at[low].first + (int64_t)(index - edition->extents.at[low].at);
}

void lb_edition_meet_row(struct lb_edition *edition, int64_t row, uint64_t hash, long line)
{
    size_t low = 0, high = edition->extents.count;
    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        *(edition->extents.at[middle].first <= row ? &low : &high) = middle;
    }
    size_t index = edition->extents.at[low].at + (size_t)(row - edition->extents.at[low].first);
    edition->lines[index] = line_of(line);
    edition->hashes[index] = hash;
}

bool lb_edition_unmet(const struct lb_edition *edition, size_t *at, int64_t *row)
{
    for (; *at < edition->count; ++*at)
        if (edition->hashes[*at] && !edition->lines[*at]) {
            *row = row_of(edition, (*at)++);
            return true;
        }
    return false;
}

/* Writing. */

enum { BLOCK_ROWS = 4096, GAP_FILLED = 64 };

struct lb_edition_writer {
    struct lb_statement *span, *block;
    int64_t source;
    int64_t span_first, span_count, span_line;
    int64_t block_first;
    uint64_t hashes[BLOCK_ROWS];
    size_t count;
};

lb_status lb_edition_write_begin(struct lb_edition_writer **out, struct lb_store *store, int64_t source,
                                 struct lb_error *err)
{
    struct lb_edition_writer *writer = *out = calloc(1, sizeof *writer);
    if (!writer)
        return lb_fail_nomem(err);
    writer->source = source;
    lb_status status = lb_store_prepare(
        store, &writer->span, "INSERT INTO span (first, count, source, line) VALUES (?1, ?2, ?3, ?4)", err);
    if (!status)
        status = lb_store_prepare(store, &writer->block,
                                  "INSERT INTO edition (source, first, hashes) VALUES (?1, ?2, ?3)", err);
    if (status) {
        lb_edition_write_free(writer);
        *out = NULL;
    }
    return status;
}

static lb_status write_span(struct lb_edition_writer *writer, struct lb_error *err)
{
    if (!writer->span_count)
        return LB_OK;
    const int64_t values[] = {writer->span_first, writer->span_count, writer->source, writer->span_line};
    for (int i = 0; i < 4; i++)
        lb_bind_integer(writer->span, i + 1, values[i]);
    writer->span_count = 0;
    return lb_run(writer->span, err);
}

static lb_status write_block(struct lb_edition_writer *writer, struct lb_error *err)
{
    if (!writer->count)
        return LB_OK;
    lb_bind_integer(writer->block, 1, writer->source);
    lb_bind_integer(writer->block, 2, writer->block_first);
    lb_bind_blob(writer->block, 3, writer->hashes, writer->count * sizeof *writer->hashes);
    writer->count = 0;
    return lb_run(writer->block, err);
}

lb_status lb_edition_write(struct lb_edition_writer *writer, int64_t row, uint64_t hash, long line,
                           struct lb_error *err)
{
    lb_status status = LB_OK;
    if (row != writer->span_first + writer->span_count || line != writer->span_line + writer->span_count) {
        status = write_span(writer, err);
        writer->span_first = row;
        writer->span_line = line;
    }
    writer->span_count++;
    int64_t gap = row - (writer->block_first + (int64_t)writer->count);
    if (!status && writer->count && (gap > GAP_FILLED || writer->count + (size_t)gap >= BLOCK_ROWS))
        status = write_block(writer, err);
    if (!writer->count)
        writer->block_first = row;
    while (writer->block_first + (int64_t)writer->count < row)
        writer->hashes[writer->count++] = 0;
    writer->hashes[writer->count++] = hash;
    return status;
}

lb_status lb_edition_write_met(struct lb_edition_writer *writer, const struct lb_edition *edition,
                               struct lb_error *err)
{
    lb_status status = LB_OK;
    for (size_t e = 0; e < edition->extents.count; e++) {
        const struct extent *extent = &edition->extents.at[e];
        for (size_t i = 0; !status && i < extent->count; i++)
            if (edition->lines[extent->at + i])
                status = lb_edition_write(writer, extent->first + (int64_t)i, edition->hashes[extent->at + i],
                                          edition->lines[extent->at + i], err);
    }
    return status;
}

lb_status lb_edition_write_end(struct lb_edition_writer *writer, struct lb_error *err)
{
    lb_status status = write_span(writer, err);
    if (!status)
        status = write_block(writer, err);
    lb_edition_write_free(writer);
    return status;
}

void lb_edition_write_free(struct lb_edition_writer *writer)
{
    if (!writer)
        return;
    lb_statement_free(writer->span);
    lb_statement_free(writer->block);
    free(writer);
}

lb_status lb_edition_ranges(struct lb_store *store, int64_t source, lb_edition_range *each, void *context,
                            struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    int64_t first = 0, last = -1;
    lb_status status =
        lb_store_prepare(store, &st, "SELECT first, count FROM span WHERE source = ?1 ORDER BY first", err);
    if (status)
        return status;
    lb_bind_integer(st, 1, source);
    while (!(status = lb_step(st, &row, err)) && row) {
        if (lb_integer(st, 0) != last + 1) {
            if (last >= first && (status = each(context, first, last, err)))
                break;
            first = lb_integer(st, 0);
        }
        last = lb_integer(st, 0) + lb_integer(st, 1) - 1;
    }
    lb_statement_free(st);
    return status || last < first ? status : each(context, first, last, err);
}

lb_status lb_edition_drop(struct lb_store *store, int64_t source, int64_t before, struct lb_error *err)
{
    static const char *const sql[] = {"DELETE FROM span WHERE source = ?1 AND first < ?2",
                                      "DELETE FROM edition WHERE source = ?1 AND first < ?2"};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof sql / sizeof *sql; i++) {
        struct lb_statement *st;
        status = lb_store_prepare(store, &st, sql[i], err);
        if (status)
            break;
        lb_bind_integer(st, 1, source);
        lb_bind_integer(st, 2, before);
        status = lb_run(st, err);
        lb_statement_free(st);
    }
    return status;
}
