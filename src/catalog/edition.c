#include "catalog/edition.h"
#include "catalog/spans.h"

#include "base/fingerprint.h"
#include "base/vec.h"

#include <stdlib.h>
#include <string.h>

#define REPLACED UINT32_MAX

/* Rows first … first + count - 1 are at `at` … of the arrays. */
struct extent {
    int64_t first;
    size_t at, count;
};

struct lb_edition {
    LB_VEC(struct extent) extents;
    uint64_t *hashes; /* 0: not known (an index made before texts were hashed) */
    uint32_t *lines;  /* where the row stands now; 0: not met; REPLACED */
    size_t count, expected;
    uint32_t *heads, *next; /* rows by hash, index + 1; made when first needed */
    size_t head_count;
    bool hashed;
};

uint64_t lb_edition_hash(const char *raw, size_t length)
{
    uint64_t hash = lb_fingerprint_of(raw, length);
    return hash ? hash : 1;
}

static lb_status keep_extent(void *context, int64_t first, int64_t last, struct lb_error *err)
{
    struct lb_edition *edition = context;
    const struct extent extent = {first, edition->count, (size_t)(last - first + 1)};
    edition->count += extent.count;
    return LB_PUSH(&edition->extents, extent) ? LB_OK : lb_fail_nomem(err);
}

/* Where the rows are that are there. */
static lb_status load_extents(struct lb_edition *edition, struct lb_store *store, int64_t source,
                              struct lb_error *err)
{
    lb_status status = lb_span_ranges(store, source, keep_extent, edition, err);
    return !status && edition->count >= UINT32_MAX ? lb_store_refuse_damaged(store, err) : status;
}

/* The hashes of one block, as far as its rows are there; extents before *e are done. */
static void keep_block(struct lb_edition *edition, size_t *e, int64_t first, const void *hashes, size_t count)
{
    while (*e < edition->extents.count &&
           edition->extents.at[*e].first + (int64_t)edition->extents.at[*e].count <= first)
        ++*e;
    for (size_t i = *e; i < edition->extents.count && edition->extents.at[i].first < first + (int64_t)count;
         i++) {
        const struct extent *extent = &edition->extents.at[i];
        int64_t from = extent->first > first ? extent->first : first;
        int64_t end = extent->first + (int64_t)extent->count;
        end = end < first + (int64_t)count ? end : first + (int64_t)count;
        memcpy(edition->hashes + extent->at + (from - extent->first),
               (const char *)hashes + (size_t)(from - first) * sizeof *edition->hashes,
               (size_t)(end - from) * sizeof *edition->hashes);
    }
}

static lb_status load_hashes(struct lb_edition *edition, struct lb_store *store, int64_t source,
                             struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    size_t e = 0;
    lb_status status = lb_store_prepare(
        store, &st, "SELECT first, hashes FROM edition WHERE source = ?1 ORDER BY first", err);
    if (status)
        return status;
    lb_bind_integer(st, 1, source);
    while (!(status = lb_step(st, &row, err)) && row) {
        size_t size;
        const void *hashes = lb_blob(st, 1, &size);
        keep_block(edition, &e, lb_integer(st, 0), hashes, size / sizeof *edition->hashes);
    }
    lb_statement_free(st);
    return status;
}

lb_status lb_edition_load(struct lb_edition **out, struct lb_store *store, int64_t source,
                          struct lb_error *err)
{
    struct lb_edition *edition = *out = calloc(1, sizeof *edition);
    if (!edition)
        return lb_fail_nomem(err);
    lb_status status = load_extents(edition, store, source, err);
    if (!status) {
        edition->lines = calloc(edition->count + 1, sizeof *edition->lines);
        edition->hashes = calloc(edition->count + 1, sizeof *edition->hashes);
    }
    if (!status && !(edition->lines && edition->hashes))
        status = lb_fail_nomem(err);
    if (!status)
        status = load_hashes(edition, store, source, err);
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
    while (count * 2 <= edition->count)
        count *= 2;
    edition->heads = calloc(count, sizeof *edition->heads);
    edition->next = malloc((edition->count + 1) * sizeof *edition->next);
    if (!edition->heads || !edition->next)
        return;
    edition->head_count = count;
    for (size_t i = edition->count; i-- > 0;) {
        uint32_t *head = &edition->heads[edition->hashes[i] & (count - 1)];
        edition->next[i] = *head;
        *head = (uint32_t)i + 1;
    }
}

static uint32_t line_of(long line)
{
    return line < (long)REPLACED ? (uint32_t)line : REPLACED - 1;
}

bool lb_edition_meet(struct lb_edition *edition, uint64_t hash, long line)
{
    size_t i = edition->expected;
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

void lb_edition_replace(struct lb_edition *edition, int64_t row)
{
    size_t low = 0, high = edition->extents.count;
    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        *(edition->extents.at[middle].first <= row ? &low : &high) = middle;
    }
    edition->lines[edition->extents.at[low].at + (size_t)(row - edition->extents.at[low].first)] = REPLACED;
}

bool lb_edition_unmet(const struct lb_edition *edition, size_t *at, int64_t *row)
{
    for (; *at < edition->count; ++*at)
        if (!edition->lines[*at]) {
            *row = row_of(edition, (*at)++);
            return true;
        }
    return false;
}

/* Writing. */

enum { BLOCK_ROWS = 4096 };

struct lb_edition_writer {
    struct lb_span_writer span;
    struct lb_statement *block;
    int64_t source, first;
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
    lb_status status = lb_span_begin(&writer->span, store, source, err);
    if (!status)
        status = lb_store_prepare(store, &writer->block,
                                  "INSERT INTO edition (source, first, hashes) VALUES (?1, ?2, ?3)", err);
    if (status) {
        lb_edition_write_free(writer);
        *out = NULL;
    }
    return status;
}

static lb_status write_block(struct lb_edition_writer *writer, struct lb_error *err)
{
    if (!writer->count)
        return LB_OK;
    lb_bind_integer(writer->block, 1, writer->source);
    lb_bind_integer(writer->block, 2, writer->first);
    lb_bind_blob(writer->block, 3, writer->hashes, writer->count * sizeof *writer->hashes);
    writer->count = 0;
    return lb_run(writer->block, err);
}

lb_status lb_edition_write(struct lb_edition_writer *writer, int64_t row, uint64_t hash, long line,
                           struct lb_error *err)
{
    lb_status status = lb_span_add(&writer->span, row, line, err);
    bool goes_on = row == writer->first + (int64_t)writer->count && writer->count < BLOCK_ROWS;
    if (!status && !goes_on)
        status = write_block(writer, err);
    if (!writer->count)
        writer->first = row;
    writer->hashes[writer->count++] = hash;
    return status;
}

lb_status lb_edition_write_end(struct lb_edition_writer *writer, struct lb_error *err)
{
    lb_status status = lb_span_end(&writer->span, LB_OK, err);
    if (!status)
        status = write_block(writer, err);
    lb_edition_write_free(writer);
    return status;
}

void lb_edition_write_free(struct lb_edition_writer *writer)
{
    if (!writer)
        return;
    lb_statement_free(writer->span.insert);
    lb_statement_free(writer->block);
    free(writer);
}

lb_status lb_edition_write_met(const struct lb_edition *edition, struct lb_store *store, int64_t source,
                               int64_t before, struct lb_error *err)
{
    struct lb_span_writer span = {0};
    lb_status status = lb_span_drop(store, source, before, err);
    if (!status)
        status = lb_span_begin(&span, store, source, err);
    for (size_t e = 0; e < edition->extents.count; e++) {
        const struct extent *extent = &edition->extents.at[e];
        const uint32_t *lines = edition->lines + extent->at;
        for (size_t i = 0; !status && i < extent->count; i++)
            if (lines[i] && lines[i] != REPLACED)
                status = lb_span_add(&span, extent->first + (int64_t)i, lines[i], err);
    }
    return lb_span_end(&span, status, err);
}
