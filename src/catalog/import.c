#include "catalog/import.h"
#include "base/buf.h"
#include "base/fingerprint.h"
#include "base/text.h"
#include "catalog/paths.h"
#include "catalog/take.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { WARNINGS_KEPT = 20 };

/* One import while it runs. */
struct run {
    struct lb_store *store;
    const struct lb_import_options *options;
    struct lb_ingest *ingest;
    struct lb_rejects rejects;
    struct lb_import_result *result;
    struct lb_statement *find_path, *find_bytes, *find_name, *insert, *update, *move;
    struct lb_growth growth;
    struct lb_imported_file *file; /* the one being read */
};

/* What the index knows of a file already. */
struct known {
    int64_t source; /* 0: nothing */
    char *name, *path, *fingerprint, *kinds, *reading;
    bool same_supplier;
    int64_t rows_read, rows_rejected;
};

static void known_free(struct known *known)
{
    free(known->name);
    free(known->path);
    free(known->fingerprint);
    free(known->kinds);
    free(known->reading);
}

/* Of the bytes, with their number: tells editions apart, guards against nothing. */
static lb_status fingerprint(const char *path, char out[48], struct lb_error *err)
{
    struct lb_fingerprint print;
    char block[65536];
    size_t got = 0;
    struct lb_bytes *bytes;
    lb_status status = lb_bytes_open_file(&bytes, path, err);
    if (!status)
        status = lb_fingerprint_begin(&print, err);
    if (status) {
        lb_bytes_close(bytes);
        return status;
    }
    while (!(status = bytes->read(bytes, block, sizeof block, &got, err)) && got > 0)
        lb_fingerprint_add(&print, block, got);
    lb_fingerprint_end(&print, out);
    lb_bytes_close(bytes);
    return status;
}

static lb_status prepare(struct run *run, struct lb_error *err)
{
#define KNOWN                                                                                                \
    "SELECT id, name, path, fingerprint, coalesce(supplier, '') = coalesce(?2, ''), rows_read, "             \
    "rows_rejected, kinds, reading FROM source "
    const struct {
        struct lb_statement **statement;
        const char *sql;
    } statements[] = {
        {&run->find_path, KNOWN "WHERE path = ?1"},
        {&run->find_bytes, KNOWN "WHERE fingerprint = ?1 ORDER BY id"},
        {&run->find_name, "SELECT 1 FROM source WHERE name = ?1 AND path <> ?2"},
        {&run->insert,
         "INSERT INTO source (name, path, fingerprint, kinds, rows_read, rows_rejected, imported) "
         "VALUES (?1, ?2, '', '', 0, 0, '')"},
        {&run->update, "UPDATE source SET name = ?1, path = ?2, supplier = ?3, fingerprint = ?4, kinds = ?5, "
                       "reading = ?6, imported = ?7, rows_read = ?8, rows_rejected = ?9 WHERE id = ?10"},
        {&run->move, "UPDATE source SET path = ?2 WHERE id = ?1"},
    };
#undef KNOWN
    for (size_t i = 0; i < sizeof statements / sizeof *statements; i++) {
        lb_status status = lb_store_prepare(run->store, statements[i].statement, statements[i].sql, err);
        if (status)
            return status;
    }
    lb_status status = lb_ingest_open(&run->ingest, run->store, err);
    return status ? status : lb_growth_begin(&run->growth, run->store, err);
}

static lb_status find_known(struct run *run, struct lb_statement *find, const char *what, struct known *known,
                            struct lb_error *err)
{
    bool row;
    lb_bind_text(find, 1, what);
    lb_bind_text(find, 2, run->options->supplier);
    lb_status status = lb_step(find, &row, err);
    if (status || !row)
        return status;
    known->source = lb_integer(find, 0);
    known->name = strdup(lb_text(find, 1));
    known->path = strdup(lb_text(find, 2));
    known->fingerprint = strdup(lb_text(find, 3));
    known->same_supplier = lb_integer(find, 4) != 0;
    known->rows_read = lb_integer(find, 5);
    known->rows_rejected = lb_integer(find, 6);
    known->kinds = strdup(lb_text(find, 7));
    known->reading = strdup(lb_text(find, 8));
    lb_statement_reset(find);
    return known->name && known->path && known->fingerprint && known->kinds && known->reading
               ? LB_OK
               : lb_fail_nomem(err);
}

static lb_status name_taken(struct run *run, const char *name, const char *path, bool *taken,
                            struct lb_error *err)
{
    lb_bind_text(run->find_name, 1, name);
    lb_bind_text(run->find_name, 2, path);
    lb_status status = lb_step(run->find_name, taken, err);
    lb_statement_reset(run->find_name);
    return status;
}

/* The name that people see: as short as it can be, with parent folders in front while another file has it. */
static lb_status choose_name(struct run *run, const struct lb_import_path *path, char **out,
                             struct lb_error *err)
{
    const char *name = path->path + strlen(path->path) - strlen(path->name);
    if (name < path->path || strcmp(name, path->name) != 0)
        name = path->name; /* reached through a link: its own name stands */
    bool taken = true;
    for (;;) {
        lb_status status = name_taken(run, name, path->path, &taken, err);
        if (status)
            return status;
        if (!taken || name <= path->path + 1 || name == path->name)
            break;
        for (name -= 2; name > path->path && *name != '/'; name--)
            ;
        name += *name == '/';
    }
    *out = strdup(taken ? path->path : name);
    return *out ? LB_OK : lb_fail_nomem(err);
}

void lb_imported_file_mention(struct lb_imported_file *file, long line, const char *words)
{
    char *text = NULL;
    if (file->warning_total++ >= WARNINGS_KEPT)
        return;
    if (line > 0 ? asprintf(&text, "line %ld: %s", line, words) < 0 : !(text = strdup(words)))
        return;
    struct {
        char **at;
        size_t count, room;
    } list = {file->warnings, file->warning_count, file->warning_room};
    if (!LB_PUSH(&list, text))
        free(text);
    file->warnings = list.at;
    file->warning_count = list.count;
    file->warning_room = list.room;
}

/* A source that is new gets its row at once, for its id; what it was is known at the end. */
static lb_status insert_source(struct run *run, const struct lb_import_path *path, int64_t *source,
                               struct lb_error *err)
{
    lb_bind_text(run->insert, 1, run->file->file);
    lb_bind_text(run->insert, 2, path->path);
    lb_status status = lb_run(run->insert, err);
    *source = lb_store_last_id(run->store);
    return status;
}

static lb_status update_source(struct run *run, const struct lb_taking *t, const char *bytes,
                               struct lb_error *err)
{
    const char *const texts[] = {run->file->file, t->path->path, run->options->supplier, bytes,
                                 run->file->kind, t->reading,    run->options->now};
    for (int i = 0; i < 7; i++)
        lb_bind_text(run->update, i + 1, texts[i]);
    lb_bind_integer(run->update, 8, t->report.read);
    lb_bind_integer(run->update, 9, t->report.rejected);
    lb_bind_integer(run->update, 10, t->source);
    return lb_run(run->update, err);
}

/* This file is of no use; the others, and its older edition, stay. */
static lb_status give_up_file(struct run *run, struct lb_error *err)
{
    struct lb_imported_file *file = run->file;
    char *problem = NULL;
    int length = err->row > 0 ? asprintf(&problem, "%s:%ld: %s", file->file, err->row, lb_error_text(err))
                              : asprintf(&problem, "%s: %s", file->file, lb_error_text(err));
    lb_error_free(err);
    run->result->unusable++;
    file->problem = length < 0 ? NULL : problem;
    return file->problem ? LB_OK : lb_fail_nomem(err);
}

static lb_status drop_source(struct run *run, int64_t source, struct lb_error *err)
{
    return lb_store_run_for(run->store, "DELETE FROM source WHERE id = ?1", source, err);
}

static lb_status read_edition(struct run *run, const struct lb_import_path *path, const struct known *known,
                              const char *bytes, struct lb_error *err)
{
    struct lb_taking t = {.store = run->store,
                          .ingest = run->ingest,
                          .growth = &run->growth,
                          .rejects = &run->rejects,
                          .file = run->file,
                          .options = run->options,
                          .path = path,
                          .source = known->source,
                          .known_kinds = known->kinds,
                          .known_reading = known->reading};
    lb_status status = known->source ? LB_OK : insert_source(run, path, &t.source, err);
    if (!status)
        status = lb_take(&t, err);
    if (!status)
        status = update_source(run, &t, bytes, err);
    if (status == LB_DATA && !(status = give_up_file(run, err)) && !known->source)
        status = drop_source(run, t.source, err);
    run->file->read = t.report.read;
    run->file->accepted = t.report.accepted;
    run->file->rejected = t.report.rejected;
    run->result->rejected += t.report.rejected;
    lb_taking_free(&t);
    return status;
}

/* The same bytes for the same supplier, all of them accepted last time: nothing to read. A copy or a moved
 * file is the same catalogue too; taking it twice would double every need of a service map. */
static lb_status skip_same(struct run *run, const struct lb_import_path *path, struct known *known,
                           struct lb_error *err)
{
    struct lb_imported_file *file = run->file;
    file->same_bytes = true;
    free(file->kind);
    file->kind = known->kinds;
    known->kinds = NULL;
    file->read = file->accepted = (long)known->rows_read;
    file->change.unchanged = known->rows_read;
    if (strcmp(known->path, path->path) == 0)
        return LB_OK;
    struct lb_buf words = {0};
    lb_buf_printf(&words, "is byte for byte %s, which is in the index already", known->path);
    lb_imported_file_mention(file, 0, lb_buf_text(&words));
    lb_buf_free(&words);
    if (access(known->path, F_OK) == 0)
        return LB_OK;
    lb_bind_integer(run->move, 1, known->source);
    lb_bind_text(run->move, 2, path->path);
    return lb_run(run->move, err);
}

static bool is_same(const struct run *run, const struct known *known, const char *bytes)
{
    return !run->options->read_again && known->source && known->same_supplier && !known->rows_rejected &&
           strcmp(known->fingerprint, bytes) == 0;
}

/* Names are printed and written as UTF-8; a file whose name is none is refused under its name with the bad
 * bytes as ?. */
static lb_status refuse_name(struct run *run, const struct lb_import_path *path, struct lb_error *err)
{
    size_t bad;
    char *name = run->file->file = strdup(path->name);
    if (!name)
        return lb_fail_nomem(err);
    while (!lb_text_is_utf8(name, strlen(name), &bad))
        name[bad] = '?';
    lb_status status = lb_fail(
        err, LB_DATA, "the path to this file is not UTF-8. Rename what is marked with ?, or move the file.");
    return status == LB_DATA ? give_up_file(run, err) : status;
}

static lb_status take_file(struct run *run, const struct lb_import_path *path, struct lb_error *err)
{
    char bytes[48];
    struct known known = {0}, copy = {0};
    lb_status status = choose_name(run, path, &run->file->file, err);
    if (!status)
        status = fingerprint(path->path, bytes, err);
    if (!status)
        status = find_known(run, run->find_path, path->path, &known, err);
    if (!status && !known.source)
        status = find_known(run, run->find_bytes, bytes, &copy, err);
    if (!status && is_same(run, &known, bytes))
        status = skip_same(run, path, &known, err);
    else if (!status && is_same(run, &copy, bytes))
        status = skip_same(run, path, &copy, err);
    else if (!status)
        status = read_edition(run, path, &known, bytes, err);
    known_free(&known);
    known_free(&copy);
    return status;
}

static lb_status import_file(struct run *run, const struct lb_import_path *path, struct lb_error *err)
{
    struct lb_imported_file file = {.kind = strdup("")};
    if (!file.kind || !LB_PUSH(&run->result->files, file)) {
        free(file.kind);
        return lb_fail_nomem(err);
    }
    run->file = &run->result->files.at[run->result->files.count - 1];
    bool named = lb_text_is_utf8(path->path, strlen(path->path), NULL) &&
                 lb_text_is_utf8(path->name, strlen(path->name), NULL);
    return named ? take_file(run, path, err) : refuse_name(run, path, err);
}

static lb_status import_all(struct run *run, const struct lb_import_paths *paths, struct lb_error *err)
{
    lb_status status = lb_store_begin(run->store, err);
    if (!status)
        status = prepare(run, err);
    for (size_t i = 0; !status && i < paths->files.count; i++)
        status = import_file(run, &paths->files.at[i], err);
    if (!status)
        status = lb_growth_end(&run->growth, run->store, err);
    if (!status)
        status = lb_rejects_finish(&run->rejects, err);
    if (!status && !run->options->dry_run)
        status = lb_store_commit(run->store, err);
    return status;
}

lb_status lb_import(struct lb_store *store, const struct lb_import_options *options,
                    struct lb_import_result *result, struct lb_error *err)
{
    struct run run = {
        .store = store, .options = options, .result = result, .rejects = {.path = options->rejects}};
    struct lb_import_paths paths = {0};
    lb_status status = LB_OK;
    for (int i = 0; !status && i < options->path_count; i++)
        status = lb_import_paths_add(&paths, options->paths[i], err);
    if (!status)
        status = import_all(&run, &paths, err);
    struct lb_statement *statements[] = {run.find_path, run.find_bytes, run.find_name,
                                         run.insert,    run.update,     run.move};
    for (size_t i = 0; i < sizeof statements / sizeof *statements; i++)
        lb_statement_free(statements[i]);
    lb_ingest_close(run.ingest);
    lb_growth_free(&run.growth);
    lb_store_rollback(store); /* nothing to do after a commit */
    lb_rejects_free(&run.rejects);
    lb_import_paths_free(&paths);
    return status;
}

void lb_import_result_free(struct lb_import_result *result)
{
    for (size_t i = 0; i < result->files.count; i++) {
        struct lb_imported_file *file = &result->files.at[i];
        free(file->file);
        free(file->kind);
        free(file->problem);
        for (int r = 0; r < file->refusal_count; r++)
            free(file->refusals[r]);
        for (size_t w = 0; w < file->warning_count; w++)
            free(file->warnings[w]);
        free(file->warnings);
        lb_mapping_free(file->mapping);
        lb_preview_free(&file->preview);
    }
    free(result->files.at);
    memset(result, 0, sizeof *result);
}
