#include "catalog/import.h"
#include "base/buf.h"
#include "base/hash.h"
#include "base/text.h"
#include "catalog/rejects.h"
#include "importers/input.h"
#include "importers/paths.h"
#include "importers/read.h"

#include <errno.h>
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
    struct lb_imported_file *file;     /* the one being read */
    const struct lb_import_path *from; /* where its bytes are; elsewhere `path` is what it is known by */
    int64_t source;                    /* its new edition */
};

/* What the index knows of a file already. */
struct known {
    int64_t source; /* 0: nothing */
    char *name, *path, *fingerprint, *kinds;
    bool same_supplier;
    int64_t rows_read, rows_rejected;
};

static void known_free(struct known *known)
{
    free(known->name);
    free(known->path);
    free(known->fingerprint);
    free(known->kinds);
}

/* FNV-1a over the bytes, with their number: tells editions apart, guards against nothing. For a member, those
 * of its archive and its name; "" for what cannot be read twice. */
static lb_status fingerprint(const struct lb_import_path *from, char out[48], struct lb_error *err)
{
    const char *path = from->path;
    out[0] = '\0';
    if (lb_input_is_stream(from))
        return LB_OK;
    unsigned char block[65536];
    uint64_t hash = LB_HASH_START, length = 0;
    size_t got;
    FILE *file = fopen(path, "rb");
    if (!file)
        return lb_fail(err, LB_SYSTEM, "%s: cannot be opened: %s.", path, strerror(errno));
    while ((got = fread(block, 1, sizeof block, file)) > 0) {
        hash = lb_hash(hash, block, got);
        length += got;
    }
    if (from->member)
        hash = lb_hash(hash, from->member, strlen(from->member) + 1);
    int trouble = ferror(file) ? errno : 0;
    fclose(file);
    if (trouble)
        return lb_fail(err, LB_SYSTEM, "%s: cannot be read: %s.", path, strerror(trouble));
    snprintf(out, 48, "fnv1a:%016llx:%llu", (unsigned long long)hash, (unsigned long long)length);
    return LB_OK;
}

static lb_status prepare(struct run *run, struct lb_error *err)
{
#define KNOWN                                                                                                \
    "SELECT id, name, path, fingerprint, coalesce(supplier, '') = coalesce(?2, ''), rows_read, "             \
    "rows_rejected, kinds FROM source "
    const struct {
        struct lb_statement **statement;
        const char *sql;
    } statements[] = {
        {&run->find_path, KNOWN "WHERE path = ?1"},
        {&run->find_bytes, KNOWN "WHERE fingerprint = ?1 ORDER BY id"},
        {&run->find_name, "SELECT 1 FROM source WHERE name = ?1 AND path <> ?2"},
        {&run->insert,
         "INSERT INTO source (name, path, supplier, fingerprint, kinds, rows_read, rows_rejected, imported) "
         "VALUES (?1, ?2, ?3, ?4, '', 0, 0, ?5)"},
        {&run->update,
         "UPDATE source SET name = ?2, path = ?3, kinds = ?4, rows_read = ?5, rows_rejected = ?6 "
         "WHERE id = ?1"},
        {&run->move, "UPDATE source SET path = ?2 WHERE id = ?1"},
    };
#undef KNOWN
    for (size_t i = 0; i < sizeof statements / sizeof *statements; i++) {
        lb_status status = lb_store_prepare(run->store, statements[i].statement, statements[i].sql, err);
        if (status)
            return status;
    }
    return lb_ingest_open(&run->ingest, run->store, err);
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
    lb_statement_reset(find);
    return known->name && known->path && known->fingerprint && known->kinds ? LB_OK : lb_fail_nomem(err);
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

static lb_status keep_row(void *context, const struct lb_row *row, struct lb_error *err)
{
    struct run *run = context;
    lb_status status = LB_OK;
    for (int k = 0; !status && k < row->kind_count; k++)
        status = lb_ingest_row(run->ingest, run->source, row->kinds[k], row->values[k], row->line, err);
    return status;
}

/* The first few, for people at once; a lack of memory costs them nothing but that. */
static void show_refusal(struct lb_imported_file *file, long line, const char *heading, const char *reason)
{
    char *text;
    if (file->refusal_count == LB_REFUSALS_SHOWN)
        return;
    if (asprintf(&text, "line %ld%s%s: %s", line, heading ? ", " : "", heading ? heading : "", reason) >= 0)
        file->refusals[file->refusal_count++] = text;
}

static lb_status refuse_row(void *context, long line, int column, const char *heading, const char *reason,
                            const char *raw, struct lb_error *err)
{
    struct run *run = context;
    show_refusal(run->file, line, heading, reason);
    return lb_rejects_add(&run->rejects, run->file->file, line, column, heading, reason, raw, err);
}

static void mention(void *context, long line, const char *words)
{
    struct lb_imported_file *file = ((struct run *)context)->file;
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

static lb_status begin_file(void *context, const struct lb_kind *const *kinds, int count,
                            struct lb_error *err)
{
    struct lb_imported_file *file = ((struct run *)context)->file;
    struct lb_buf text = {0};
    for (int i = 0; i < count; i++)
        lb_buf_printf(&text, "%s%s", i ? "+" : "", kinds[i]->name);
    free(file->kind);
    file->kind = strdup(lb_buf_text(&text));
    lb_buf_free(&text);
    return file->kind ? LB_OK : lb_fail_nomem(err);
}

static lb_status insert_source(struct run *run, const char *path, const char *bytes, struct lb_error *err)
{
    struct lb_buf name = {0};
    /* Name and path stay with the old edition until the new one is whole. */
    lb_buf_printf(&name, "%s\n(new edition)", path);
    lb_bind_text(run->insert, 1, lb_buf_text(&name));
    lb_bind_text(run->insert, 2, lb_buf_text(&name));
    lb_bind_text(run->insert, 3, run->options->supplier);
    lb_bind_text(run->insert, 4, bytes);
    lb_bind_text(run->insert, 5, run->options->now);
    lb_status status = name.failed ? lb_fail_nomem(err) : lb_run(run->insert, err);
    run->source = lb_store_last_id(run->store);
    lb_buf_free(&name);
    return status;
}

/* Kinds come from the newer edition; rows of a kind that the file no longer feeds count as removed. */
static lb_status compare_editions(struct run *run, const struct lb_read_report *report, int64_t older,
                                  struct lb_error *err)
{
    struct lb_edition_change *total = &run->file->change;
    lb_status status = lb_ingest_compare(run->ingest, report->kinds[0], older, run->source, total, err);
    for (int i = 1; !status && i < report->kind_count; i++) {
        struct lb_edition_change change;
        status = lb_ingest_compare(run->ingest, report->kinds[i], older, run->source, &change, err);
        if (!status && change.changed > total->changed) { /* a row changed when any kind it feeds did */
            total->unchanged -= change.changed - total->changed;
            total->changed = change.changed;
        }
    }
    return status;
}

static lb_status finish_source(struct run *run, const struct lb_import_path *path, const struct known *known,
                               const struct lb_read_report *report, struct lb_error *err)
{
    lb_status status = LB_OK;
    if (known->source) {
        status = compare_editions(run, report, known->source, err);
        if (!status)
            status = lb_ingest_drop(run->ingest, known->source, err);
    } else {
        run->file->change.added = report->accepted;
    }
    if (status)
        return status;
    lb_bind_integer(run->update, 1, run->source);
    lb_bind_text(run->update, 2, run->file->file);
    lb_bind_text(run->update, 3, path->path);
    lb_bind_text(run->update, 4, run->file->kind);
    lb_bind_integer(run->update, 5, report->read);
    lb_bind_integer(run->update, 6, report->rejected);
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

static lb_status read_edition(struct run *run, const struct lb_import_path *path, const struct known *known,
                              const char *bytes, struct lb_error *err)
{
    const struct lb_read_options options = {.supplier = run->options->supplier};
    const struct lb_row_sink sink = {run, begin_file, keep_row, refuse_row, mention};
    struct lb_read_report report = {0};
    struct lb_bytes *content = NULL;
    lb_status status = insert_source(run, path->path, bytes, err);
    if (!status) /* other encodings: as soon as the user can name one, and hears which one was found */
        status = lb_input_open(&content, run->from, "UTF-8", err);
    if (!status)
        status = lb_read_bytes(content, path->path, &options, &sink, &report, err);
    lb_bytes_close(content);
    if (status == LB_DATA) {
        status = give_up_file(run, err);
        return status ? status : lb_ingest_drop(run->ingest, run->source, err);
    }
    if (!status)
        status = finish_source(run, path, known, &report, err);
    run->file->read = report.read;
    run->file->accepted = report.accepted;
    run->file->rejected = report.rejected;
    run->result->rejected += report.rejected;
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
    mention(run, 0, lb_buf_text(&words));
    lb_buf_free(&words);
    if (access(known->path, F_OK) == 0)
        return LB_OK;
    lb_bind_integer(run->move, 1, known->source);
    lb_bind_text(run->move, 2, path->path);
    return lb_run(run->move, err);
}

static bool is_same(const struct known *known, const char *bytes)
{
    return *bytes && known->source && known->same_supplier && !known->rows_rejected &&
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
        status = fingerprint(run->from, bytes, err);
    if (!status)
        status = find_known(run, run->find_path, path->path, &known, err);
    if (!status && !known.source)
        status = find_known(run, run->find_bytes, bytes, &copy, err);
    if (!status && is_same(&known, bytes))
        status = skip_same(run, path, &known, err);
    else if (!status && is_same(&copy, bytes))
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
    if (!named)
        return refuse_name(run, path, err);
    struct lb_import_path known_by = *path;
    if (path->member && asprintf(&known_by.path, "%s/%s", path->path, path->member) < 0)
        return lb_fail_nomem(err);
    run->from = path;
    lb_status status = take_file(run, &known_by, err);
    if (path->member)
        free(known_by.path);
    return status;
}

static lb_status import_all(struct run *run, const struct lb_import_paths *paths, struct lb_error *err)
{
    lb_status status = lb_store_begin(run->store, err);
    if (!status)
        status = prepare(run, err);
    for (size_t i = 0; !status && i < paths->files.count; i++)
        status = import_file(run, &paths->files.at[i], err);
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
    }
    free(result->files.at);
    memset(result, 0, sizeof *result);
}
