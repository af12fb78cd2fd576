#include "catalog/take.h"

#include "base/fingerprint.h"
#include "importers/input.h"
#include "importers/read.h"

#include <stdlib.h>
#include <string.h>

lb_status lb_take_progress(struct lb_taking *t, const char *doing, struct lb_error *err)
{
    const struct lb_import_progress progress = {.file = t->file->file,
                                                .doing = doing,
                                                .done = atomic_load(&t->done),
                                                .size = atomic_load(&t->size),
                                                .rows = atomic_load(&t->rows)};
    const struct lb_import_options *o = t->options;
    if (o->progress && !o->progress(o->progress_context, &progress))
        return lb_fail(err, LB_STOPPED, "stopped; the index is as it was.");
    return LB_OK;
}

/* The reading thread. */

static lb_status begin(void *context, const struct lb_kind *const *kinds, int count, struct lb_error *err)
{
    struct lb_taking *t = context;
    struct lb_buf text = {0};
    for (int i = 0; i < count; i++)
        lb_buf_printf(&text, "%s%s", i ? "+" : "", kinds[i]->name);
    free(t->file->kind);
    t->file->kind = strdup(lb_buf_text(&text));
    lb_buf_free(&text);
    return t->file->kind ? LB_OK : lb_fail_nomem(err);
}

/* What a row's text means hangs on the kinds, on where its columns are and how they are read. */
static uint64_t reading_of(const struct lb_mapping *mapping, struct lb_buf *text)
{
    lb_buf_printf(text, "%c\n", mapping->separator);
    for (int k = 0; k < mapping->kind_count; k++)
        lb_buf_printf(text, "%s\n", mapping->kinds[k]->name);
    for (size_t i = 0; i < mapping->column_count; i++) {
        const struct lb_mapping_column *c = &mapping->columns[i];
        lb_buf_printf(text, "%s\t%d\t%s\n", c->field, c->column, c->convert);
    }
    return lb_fingerprint_of(lb_buf_text(text), text->length);
}

static lb_status note_mapping(void *context, const struct lb_mapping *mapping, struct lb_error *err)
{
    struct lb_taking *t = context;
    struct lb_buf text = {0};
    uint64_t reading = reading_of(mapping, &text);
    bool sound = !text.failed && asprintf(&t->reading, "%016llx", (unsigned long long)reading) >= 0;
    lb_buf_free(&text);
    lb_mapping_free(t->file->mapping);
    t->file->mapping = lb_mapping_copy(mapping);
    if (!sound || !t->file->mapping)
        return lb_fail_nomem(err);
    if (t->was && strcmp(t->reading, t->known_reading) != 0)
        lb_edition_forget_texts(t->was);
    return LB_OK;
}

/* A dry run shows the first rows as they are understood, known or not. */
static bool is_to_be_shown(const struct lb_taking *t)
{
    return t->options->dry_run && t->file->preview.row_count < LB_PREVIEW_ROWS;
}

static bool is_known(void *context, long line, const char *raw, size_t length)
{
    struct lb_taking *t = context;
    if (is_to_be_shown(t) || !lb_edition_meet(t->was, lb_edition_hash(raw, length), line))
        return false;
    t->file->change.unchanged++;
    return true;
}

static lb_status send(struct lb_taking *t, struct lb_error *err)
{
    atomic_store(&t->done, t->bytes->done);
    atomic_store(&t->rows, t->report.read);
    if (t->batch)
        lb_pipe_send(t->pipe, t->batch);
    t->batch = lb_pipe_blank(t->pipe);
    return t->batch ? LB_OK : lb_fail(err, LB_SYSTEM, "stopped");
}

static lb_status hand_over_postings(struct lb_taking *t, struct lb_error *err)
{
    lb_status status = lb_growth_cut(t->growth, &t->batch->postings, err);
    return status ? status : send(t, err);
}

static lb_status note_terms(struct lb_taking *t, const struct lb_row *row, int64_t id, struct lb_error *err)
{
    lb_status status = LB_OK;
    for (int k = 0; !status && k < row->kind_count; k++)
        status = lb_growth_note(t->growth, row->kinds[k], row->values[k], id, err);
    return status || !lb_postings_full(t->growth->postings) ? status : hand_over_postings(t, err);
}

static lb_status keep_row(void *context, const struct lb_row *row, struct lb_error *err)
{
    struct lb_taking *t = context;
    if (is_to_be_shown(t) && !lb_preview_add(&t->file->preview, row, t->file->mapping))
        return lb_fail_nomem(err);
    uint64_t hash = lb_edition_hash(row->raw, row->raw_length);
    int64_t id = t->was ? 0 : t->growth->next_row++;
    bool full = true;
    lb_status status = t->batch ? lb_batch_add(t->batch, row, hash, id, &full, err) : LB_OK;
    if (!status && full && !(status = send(t, err)))
        status = lb_batch_add(t->batch, row, hash, id, &full, err);
    return status || t->was ? status : note_terms(t, row, id, err);
}

/* The first few, for people at once; a lack of memory costs them nothing but that. */
static void show_refusal(struct lb_imported_file *file, long line, const char *heading, const char *reason)
{
    char *text;
    if (file->refusal_count == LB_REFUSALS_SHOWN)
        return;
    if (asprintf(&text, "line %ld%s%s: %s", line, *heading ? ", " : "", heading, reason) >= 0)
        file->refusals[file->refusal_count++] = text;
}

static lb_status refuse_row(void *context, long line, int column, const char *heading, const char *reason,
                            const char *raw, struct lb_error *err)
{
    struct lb_taking *t = context;
    show_refusal(t->file, line, heading ? heading : "", reason);
    return lb_rejects_add(t->rejects, t->file->file, line, column, heading, reason, raw, err);
}

static void mention(void *context, long line, const char *words)
{
    lb_imported_file_mention(((struct lb_taking *)context)->file, line, words);
}

/* Known only once a byte beyond ASCII came by. */
static bool keep_encoding(struct lb_mapping *mapping, const char *encoding)
{
    if (!mapping || !encoding)
        return true;
    mapping->encoding = lb_arena_text(&mapping->texts, encoding, strlen(encoding));
    return mapping->encoding != NULL;
}

/* A guess that the user may know better. */
static void mention_encoding(struct lb_taking *t, const char *asked, const char *found)
{
    struct lb_buf words = {0};
    if (asked || !found || strcmp(found, "UTF-8") == 0)
        return;
    lb_buf_printf(&words, "is not UTF-8 and was read as %s; --encoding names another", found);
    if (!words.failed)
        lb_imported_file_mention(t->file, 0, words.text);
    lb_buf_free(&words);
}

static lb_status read_all(struct lb_pipe *pipe, void *context, struct lb_error *err)
{
    struct lb_taking *t = context;
    const struct lb_read_options options = {.supplier = t->options->supplier, .profile = t->options->profile};
    const struct lb_row_sink sink = {.context = t,
                                     .begin = begin,
                                     .mapping = note_mapping,
                                     .known = t->was ? is_known : NULL,
                                     .row = keep_row,
                                     .reject = refuse_row,
                                     .warn = mention};
    const char *encoding = t->options->encoding;
    if (!encoding && t->options->profile)
        encoding = t->options->profile->encoding;
    lb_status status = lb_input_open(&t->bytes, t->path, encoding, err);
    if (status)
        return status;
    atomic_store(&t->size, t->bytes->size);
    status = lb_read_bytes(t->bytes, t->path->name, &options, &sink, &t->report, err);
    if (t->batch)
        lb_pipe_send(pipe, t->batch);
    t->batch = NULL;
    atomic_store(&t->done, t->bytes->done);
    atomic_store(&t->rows, t->report.read);
    if (!status && !keep_encoding(t->file->mapping, t->bytes->encoding))
        status = lb_fail_nomem(err);
    mention_encoding(t, encoding, t->bytes->encoding);
    lb_bytes_close(t->bytes);
    t->bytes = NULL;
    return status;
}

/* The writing thread. */

lb_status lb_take_insert(struct lb_taking *t, const struct lb_batch *batch, const struct lb_batch_row *row,
                         int64_t id, struct lb_error *err)
{
    const struct lb_value *values = batch->values.at + row->values;
    lb_status status = LB_OK;
    for (int k = 0; !status && k < t->report.kind_count; k++) {
        status = lb_ingest_insert(t->ingest, t->report.kinds[k], id, values, err);
        values += t->report.kinds[k]->column_count;
    }
    return status ? status : lb_edition_write(t->writer, id, row->hash, row->line, err);
}

static lb_status write_batch(struct lb_taking *t, struct lb_batch *batch, struct lb_error *err)
{
    lb_status status = LB_OK;
    if (t->spool)
        return lb_spool_put(t->spool, batch, err);
    for (size_t i = 0; !status && i < batch->rows.count; i++)
        status = lb_take_insert(t, batch, &batch->rows.at[i], batch->rows.at[i].id, err);
    t->file->change.added += (int64_t)batch->rows.count;
    if (!status && batch->postings)
        status = lb_take_progress(t, "indexing", err);
    if (!status && batch->postings)
        status = lb_postings_write(batch->postings, t->store, err);
    t->wrote_lookup |= batch->postings != NULL;
    return status;
}

static lb_status write_all(struct lb_taking *t, struct lb_error *err)
{
    struct lb_batch *batch;
    lb_status status = t->meanwhile ? t->meanwhile(t->meanwhile_context, err) : LB_OK;
    while (!status && lb_pipe_take(t->pipe, 100, &batch)) {
        status = lb_take_progress(t, "reading", err);
        if (batch && !status)
            status = write_batch(t, batch, err);
        if (batch)
            lb_pipe_back(t->pipe, batch);
    }
    lb_status read = lb_pipe_join(t->pipe, status != LB_OK, err);
    t->pipe = NULL;
    return status ? status : read;
}

static lb_status prepare(struct lb_taking *t, struct lb_error *err)
{
    lb_status status = t->known_kinds ? lb_edition_load(&t->was, t->store, t->source, err) : LB_OK;
    if (!status && t->was)
        status = lb_spool_new(&t->spool, err);
    return status ? status : lb_edition_write_begin(&t->writer, t->store, t->source, err);
}

static lb_status end(struct lb_taking *t, struct lb_error *err)
{
    lb_status status = t->was ? lb_take_compare(t, err) : LB_OK;
    struct lb_edition_writer *writer = t->writer;
    if (status)
        return status;
    t->writer = NULL;
    return lb_edition_write_end(writer, err);
}

static lb_status run_both(struct lb_taking *t, struct lb_error *err)
{
    lb_status status = lb_pipe_start(&t->pipe, read_all, t, err);
    if (!status)
        status = write_all(t, err);
    return status ? status : end(t, err);
}

/* A new source is written while it is read; what a file that turns out to be of no use left is taken back. (A
 * source that the index has is not touched before its file is read, so it needs no way back.) */
static lb_status run_or_undo(struct lb_taking *t, struct lb_error *err)
{
    lb_status status = lb_store_execute(t->store, "SAVEPOINT file", err);
    if (status)
        return status;
    status = run_both(t, err);
    if (status && status != LB_DATA)
        return status;
    t->growth->torn |= status && t->wrote_lookup;
    lb_status done =
        lb_store_execute(t->store, status ? "ROLLBACK TO file; RELEASE file" : "RELEASE file", NULL);
    return done ? lb_fail(err, done,
                          "the index cannot be written any further; it is as it was. Check the disk and "
                          "import again.")
                : status;
}

lb_status lb_take(struct lb_taking *t, struct lb_error *err)
{
    lb_status status = prepare(t, err);
    if (status)
        return status;
    return t->was ? run_both(t, err) : run_or_undo(t, err);
}

void lb_taking_free(struct lb_taking *t)
{
    lb_edition_free(t->was);
    free(t->reading);
    lb_batch_free(t->batch);
    lb_bytes_close(t->bytes);
    lb_edition_write_free(t->writer);
    lb_spool_free(t->spool);
}
