#include "catalog/batch.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ROWS_MAX = 2000, TEXT_ROOM = 256 << 10, SPOOL_IN_MEMORY = 64 };

lb_status lb_batch_new(struct lb_batch **out, struct lb_error *err)
{
    struct lb_batch *batch = *out = calloc(1, sizeof *batch);
    if (batch && (batch->text = malloc(TEXT_ROOM))) {
        batch->text_room = TEXT_ROOM;
        return LB_OK;
    }
    free(batch);
    *out = NULL;
    return lb_fail_nomem(err);
}

void lb_batch_free(struct lb_batch *batch)
{
    if (!batch)
        return;
    lb_postings_free(batch->postings);
    free(batch->rows.at);
    free(batch->values.at);
    free(batch->text);
    free(batch);
}

void lb_batch_clear(struct lb_batch *batch)
{
    lb_postings_free(batch->postings);
    batch->postings = NULL;
    batch->rows.count = batch->values.count = 0;
    batch->text_used = 0;
}

static size_t text_of(const struct lb_row *row)
{
    size_t size = 0;
    for (int k = 0; k < row->kind_count; k++)
        for (int i = 0; i < row->kinds[k]->column_count; i++)
            if (row->values[k][i].type == LB_VALUE_TEXT)
                size += strlen(row->values[k][i].text) + 1;
    return size;
}

/* Makes room in an empty batch; texts are pointed to, so one with rows must not move. */
static bool widen(struct lb_batch *batch, size_t size)
{
    char *text = realloc(batch->text, size);
    if (!text)
        return false;
    batch->text = text;
    batch->text_room = size;
    return true;
}

static bool keep_value(struct lb_batch *batch, struct lb_value value)
{
    if (value.type == LB_VALUE_TEXT) {
        size_t size = strlen(value.text) + 1;
        value.text = memcpy(batch->text + batch->text_used, value.text, size);
        batch->text_used += size;
    }
    return LB_PUSH(&batch->values, value);
}

lb_status lb_batch_add(struct lb_batch *batch, const struct lb_row *row, uint64_t hash, int64_t id,
                       bool *full, struct lb_error *err)
{
    size_t text = text_of(row);
    *full = batch->rows.count >= ROWS_MAX || text > batch->text_room - batch->text_used;
    if (*full && batch->rows.count)
        return LB_OK;
    *full = false;
    if (text > batch->text_room && !widen(batch, text))
        return lb_fail_nomem(err);
    struct lb_batch_row kept = {id, row->line, hash, batch->values.count};
    for (int k = 0; k < row->kind_count; k++)
        for (int i = 0; i < row->kinds[k]->column_count; i++)
            if (!keep_value(batch, row->values[k][i]))
                return lb_fail_nomem(err);
    return LB_PUSH(&batch->rows, kept) ? LB_OK : lb_fail_nomem(err);
}

struct lb_spool {
    struct lb_batch *first, **last; /* those in memory; they come before the file's */
    int count;
    FILE *file;
    bool reading;
    struct lb_batch *at; /* handed out */
};

lb_status lb_spool_new(struct lb_spool **out, struct lb_error *err)
{
    struct lb_spool *spool = *out = calloc(1, sizeof *spool);
    if (!spool)
        return lb_fail_nomem(err);
    spool->last = &spool->first;
    return LB_OK;
}

void lb_spool_free(struct lb_spool *spool)
{
    if (!spool)
        return;
    while (spool->first) {
        struct lb_batch *next = spool->first->next;
        lb_batch_free(spool->first);
        spool->first = next;
    }
    lb_batch_free(spool->at);
    if (spool->file)
        fclose(spool->file);
    free(spool);
}

static lb_status keep_in_memory(struct lb_spool *spool, struct lb_batch *batch, struct lb_error *err)
{
    struct lb_batch *kept;
    lb_status status = lb_batch_new(&kept, err);
    if (status)
        return status;
    struct lb_batch swap = *kept; /* the caller's is left with the new one's memory */
    *kept = *batch;
    *batch = swap;
    kept->next = NULL;
    *spool->last = kept;
    spool->last = &kept->next;
    spool->count++;
    return LB_OK;
}

static lb_status file_failed(struct lb_error *err)
{
    return lb_fail(err, LB_SYSTEM,
                   "a temporary file cannot be written or read: %s. Make room in " P_tmpdir ".",
                   strerror(errno));
}

/* As it lies in memory, texts by their place instead of their address. */
static lb_status keep_in_file(struct lb_spool *spool, struct lb_batch *batch, struct lb_error *err)
{
    const size_t sizes[3] = {batch->rows.count, batch->values.count, batch->text_used};
    if (!spool->file && !(spool->file = tmpfile()))
        return file_failed(err);
    for (size_t i = 0; i < batch->values.count; i++)
        if (batch->values.at[i].type == LB_VALUE_TEXT)
            batch->values.at[i].integer = batch->values.at[i].text - batch->text;
    bool written = fwrite(sizes, sizeof sizes, 1, spool->file) == 1 &&
                   fwrite(batch->rows.at, sizeof *batch->rows.at, sizes[0], spool->file) == sizes[0] &&
                   fwrite(batch->values.at, sizeof *batch->values.at, sizes[1], spool->file) == sizes[1] &&
                   fwrite(batch->text, 1, sizes[2], spool->file) == sizes[2];
    lb_batch_clear(batch);
    return written ? LB_OK : file_failed(err);
}

lb_status lb_spool_put(struct lb_spool *spool, struct lb_batch *batch, struct lb_error *err)
{
    if (!batch->rows.count)
        return LB_OK;
    return spool->count < SPOOL_IN_MEMORY ? keep_in_memory(spool, batch, err)
                                          : keep_in_file(spool, batch, err);
}

static bool read_array(FILE *file, void **at, size_t *room, size_t count, size_t size)
{
    if (count > *room) {
        void *grown = realloc(*at, count * size);
        if (!grown)
            return false;
        *at = grown;
        *room = count;
    }
    return fread(*at, size, count, file) == count;
}

static lb_status take_from_file(struct lb_spool *spool, struct lb_batch **batch, struct lb_error *err)
{
    size_t sizes[3];
    lb_status status = spool->at ? LB_OK : lb_batch_new(&spool->at, err);
    if (status)
        return status;
    struct lb_batch *b = spool->at;
    if (!spool->reading && fseek(spool->file, 0, SEEK_SET) != 0)
        return file_failed(err);
    spool->reading = true;
    if (fread(sizes, sizeof sizes, 1, spool->file) != 1)
        return ferror(spool->file) ? file_failed(err) : LB_OK;
    if (!read_array(spool->file, (void **)&b->rows.at, &b->rows.room, sizes[0], sizeof *b->rows.at) ||
        !read_array(spool->file, (void **)&b->values.at, &b->values.room, sizes[1], sizeof *b->values.at) ||
        !read_array(spool->file, (void **)&b->text, &b->text_room, sizes[2], 1))
        return file_failed(err);
    b->rows.count = sizes[0];
    b->values.count = sizes[1];
    b->text_used = sizes[2];
    for (size_t i = 0; i < sizes[1]; i++)
        if (b->values.at[i].type == LB_VALUE_TEXT)
            b->values.at[i].text = b->text + b->values.at[i].integer;
    *batch = b;
    return LB_OK;
}

lb_status lb_spool_take(struct lb_spool *spool, struct lb_batch **batch, struct lb_error *err)
{
    *batch = NULL;
    if (spool->first) {
        lb_batch_free(spool->at);
        *batch = spool->at = spool->first;
        spool->first = spool->at->next;
        return LB_OK;
    }
    return spool->file ? take_from_file(spool, batch, err) : LB_OK;
}
