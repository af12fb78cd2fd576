#include "catalog/import.h"
#include "base/buf.h"
#include "base/shell.h"
#include "base/text.h"
#include "catalog/import_stray.h"
#include "catalog/inputs.h"
#include "catalog/known.h"
#include "catalog/take.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* One import while it runs. */
struct run {
    struct lb_store *store;
    const struct lb_import_options *options;
    struct lb_ingest *ingest;
    struct lb_rejects rejects;
    struct lb_import_result *result;
    struct lb_finder *finder;
    struct lb_statement *insert, *update, *move;
    struct lb_growth growth;
    /* The file being read. */
    struct lb_imported_file *file;
    const struct lb_import_path *path;
    char *origin;
    char fingerprint[LB_FINGERPRINT_ROOM];
};

static lb_status prepare(struct run *run, struct lb_error *err)
{
    const struct {
        struct lb_statement **statement;
        const char *sql;
    } statements[] = {
        {&run->insert,
         "INSERT INTO source (name, path, fingerprint, kinds, rows_read, rows_rejected, imported) "
         "VALUES (?1, ?2, '', '', 0, 0, '')"},
        {&run->update, "UPDATE source SET name = ?1, path = ?2, supplier = ?3, fingerprint = ?4, kinds = ?5, "
                       "reading = ?6, imported = ?7, profile = ?8, rows_read = ?9, rows_rejected = ?10 "
                       "WHERE id = ?11"},
        {&run->move, "UPDATE source SET path = ?2 WHERE id = ?1"},
    };
    lb_status status = lb_finder_open(&run->finder, run->store, run->options->supplier, err);
    for (size_t i = 0; !status && i < sizeof statements / sizeof *statements; i++)
        status = lb_store_prepare(run->store, statements[i].statement, statements[i].sql, err);
    if (!status)
        status = lb_ingest_open(&run->ingest, run->store, err);
    return status ? status : lb_growth_begin(&run->growth, run->store, err);
}

/* A source that is new gets its row at once, for its id; what it was is known at the end. */
static lb_status insert_source(struct run *run, int64_t *source, struct lb_error *err)
{
    lb_bind_text(run->insert, 1, run->file->file);
    lb_bind_text(run->insert, 2, run->origin);
    lb_status status = lb_run(run->insert, err);
    *source = lb_store_last_id(run->store);
    return status;
}

static int by_column(const void *left, const void *right)
{
    return ((const struct lb_mapping_column *)left)->column -
           ((const struct lb_mapping_column *)right)->column;
}

/* How the file was read, as a profile whose rows stand as the file's columns do: an order to its supplier is
 * to look like it. Nothing when all headings are our own. */
static bool write_profile(struct lb_buf *out, const struct lb_mapping *mapping)
{
    if (!mapping || lb_mapping_is_plain(mapping))
        return true;
    struct lb_mapping *sorted = lb_mapping_copy(mapping);
    if (!sorted)
        return false;
    qsort((struct lb_mapping_column *)sorted->columns, sorted->column_count, sizeof *sorted->columns,
          by_column); /* the copy's own */
    lb_mapping_write_profile(out, sorted);
    lb_mapping_free(sorted);
    return !out->failed;
}

static lb_status update_source(struct run *run, const struct lb_taking *t, struct lb_error *err)
{
    struct lb_buf profile = {0};
    if (!write_profile(&profile, run->file->mapping)) {
        lb_buf_free(&profile);
        return lb_fail_nomem(err);
    }
    const char *const texts[] = {run->file->file, run->origin, run->options->supplier, run->fingerprint,
                                 run->file->kind, t->reading,  run->options->now,      lb_buf_text(&profile)};
    for (int i = 0; i < 8; i++)
        lb_bind_text(run->update, i + 1, texts[i]);
    lb_bind_integer(run->update, 9, t->report.read);
    lb_bind_integer(run->update, 10, t->report.rejected);
    lb_bind_integer(run->update, 11, t->source);
    lb_status status = lb_run(run->update, err);
    lb_buf_free(&profile);
    return status;
}

/* This file is of no use; the others, and its older edition, stay. */
static lb_status give_up_file(struct run *run, struct lb_error *err)
{
    struct lb_imported_file *file = run->file;
    char *problem = NULL;
    int length = err->row > 0 ? asprintf(&problem, "%s:%ld: %s", file->file, err->row, lb_error_text(err))
                              : asprintf(&problem, "%s: %s", file->file, lb_error_text(err));
    lb_error_free(err);
    file->change = (struct lb_edition_change){0};
    run->result->unusable++;
    file->problem = length < 0 ? NULL : problem;
    return file->problem ? LB_OK : lb_fail_nomem(err);
}

static lb_status drop_source(struct run *run, int64_t source, struct lb_error *err)
{
    return lb_store_run_for(run->store, "DELETE FROM source WHERE id = ?1", source, err);
}

static lb_status fingerprint_late(void *context, struct lb_error *err);

static lb_status read_edition(struct run *run, const struct lb_import_path *path,
                              const struct lb_known *known, struct lb_error *err)
{
    struct lb_taking t = {.store = run->store,
                          .ingest = run->ingest,
                          .growth = &run->growth,
                          .rejects = &run->rejects,
                          .file = run->file,
                          .options = run->options,
                          .path = path,
                          .meanwhile = *run->fingerprint ? NULL : fingerprint_late,
                          .meanwhile_context = run,
                          .source = known->source,
                          .known_kinds = known->kinds,
                          .known_reading = known->reading};
    lb_status status = known->source ? LB_OK : insert_source(run, &t.source, err);
    if (!status)
        status = lb_take(&t, err);
    if (!status)
        status = update_source(run, &t, err);
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
static lb_status skip_same(struct run *run, struct lb_known *known, struct lb_error *err)
{
    struct lb_imported_file *file = run->file;
    file->same_bytes = true;
    free(file->kind);
    file->kind = known->kinds;
    known->kinds = NULL;
    file->read = file->accepted = (long)known->rows_read;
    file->change.unchanged = known->rows_read;
    if (strcmp(known->origin, run->origin) == 0)
        return LB_OK;
    struct lb_buf words = {0};
    lb_buf_printf(&words, "is byte for byte %s, which is in the index already", known->origin);
    lb_imported_file_mention(file, 0, lb_buf_text(&words));
    lb_buf_free(&words);
    if (lb_known_is_there(known->origin))
        return LB_OK;
    lb_bind_integer(run->move, 1, known->source);
    lb_bind_text(run->move, 2, run->origin);
    return lb_run(run->move, err);
}

static bool is_same(const struct run *run, const struct lb_known *known)
{
    return !run->options->read_again && known->source && known->same_supplier && !known->rows_rejected &&
           *run->fingerprint && strcmp(known->fingerprint, run->fingerprint) == 0;
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

static lb_status refuse_other_name(const struct run *run, const struct lb_known *other, struct lb_error *err)
{
    struct lb_buf name = {0};
    lb_status status = lb_fail(
        err, LB_DATA,
        "the file is in the index already, as %s; to make it an edition of %s, take that out first: lastbolt "
        "sources drop %s",
        other->name, run->options->name, lb_shell_word(&name, other->name));
    return lb_shell_failed(&name, status, err);
}

/* A catalogue that was given a name is known by it, wherever it comes from today. */
static lb_status find_named(struct run *run, struct lb_known *known, struct lb_error *err)
{
    struct lb_known other = {0};
    lb_status status = lb_known_find(run->finder, LB_KNOWN_BY_NAME, run->options->name, known, err);
    if (!status)
        status = lb_known_find(run->finder, LB_KNOWN_BY_ORIGIN, run->origin, &other, err);
    if (!status && known->source && other.source && known->source != other.source)
        status = refuse_other_name(run, &other, err);
    if (!status && !known->source) { /* it gets its name today */
        *known = other;
        other = (struct lb_known){0};
    }
    lb_known_free(&other);
    return status;
}

static lb_status find_known(struct run *run, const struct lb_import_path *path, struct lb_known *known,
                            struct lb_error *err)
{
    const char *name = run->options->name;
    lb_status status = name ? find_named(run, known, err)
                            : lb_known_find(run->finder, LB_KNOWN_BY_ORIGIN, run->origin, known, err);
    name = name ? name : known->name;
    if (name && !(run->file->file = strdup(name)))
        return lb_fail_nomem(err);
    return status || name ? status
                          : lb_finder_name(run->finder, run->origin, path->name, &run->file->file, err);
}

/* The profile and the encoding are part of what a fingerprint stands for: other words may come of the same
 * bytes. */
static lb_status find_fingerprint(struct run *run, struct lb_error *err)
{
    struct lb_buf how = {0};
    lb_status status = lb_known_fingerprint(run->path, run->fingerprint, err);
    if (status || !*run->fingerprint)
        return status;
    if (run->options->profile)
        lb_profile_write(&how, run->options->profile);
    if (run->options->encoding)
        lb_buf_printf(&how, "%s", run->options->encoding);
    size_t length = strlen(run->fingerprint);
    if (how.length)
        snprintf(run->fingerprint + length, sizeof run->fingerprint - length, ":%08x",
                 (unsigned)lb_fingerprint_of(how.text, how.length));
    status = how.failed ? lb_fail_nomem(err) : LB_OK;
    lb_buf_free(&how);
    return status;
}

/* While the file is being read: it is not the same as anything, and who reads it needs no fingerprint. */
static lb_status fingerprint_late(void *context, struct lb_error *err)
{
    return find_fingerprint(context, err);
}

static lb_status take_file(struct run *run, const struct lb_import_path *path, struct lb_error *err)
{
    struct lb_known known = {0}, copy = {0};
    bool may_be = false;
    run->path = path;
    run->fingerprint[0] = '\0';
    lb_status status = find_known(run, path, &known, err);
    if (status == LB_DATA) {
        lb_known_free(&known);
        return give_up_file(run, err);
    }
    if (!status)
        status = lb_known_may_be(run->finder, path, &may_be, err);
    if (!status && may_be)
        status = find_fingerprint(run, err);
    if (!status && !known.source && !run->options->name)
        status = lb_known_find(run->finder, LB_KNOWN_BY_BYTES, run->fingerprint, &copy, err);
    if (!status && is_same(run, &known))
        status = skip_same(run, &known, err);
    else if (!status && is_same(run, &copy))
        status = skip_same(run, &copy, err);
    else if (!status)
        status = read_edition(run, path, &known, err);
    lb_known_free(&known);
    lb_known_free(&copy);
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
    run->origin = lb_known_origin(path, run->options->name);
    if (!run->origin)
        return lb_fail_nomem(err);
    bool named = lb_text_is_utf8(run->origin, strlen(run->origin), NULL) &&
                 lb_text_is_utf8(path->name, strlen(path->name), NULL);
    lb_status status = named ? take_file(run, path, err) : refuse_name(run, path, err);
    free(run->origin);
    run->origin = NULL;
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
        status = lb_growth_end(&run->growth, run->store, err);
    if (!status)
        status = lb_rejects_finish(&run->rejects, err);
    if (!status)
        status = lb_import_mention_stray_rules(run->store, run->result, err);
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
    lb_status status = lb_inputs_find(&paths, options, err);
    if (!status)
        status = import_all(&run, &paths, err);
    struct lb_statement *statements[] = {run.insert, run.update, run.move};
    for (size_t i = 0; i < sizeof statements / sizeof *statements; i++)
        lb_statement_free(statements[i]);
    lb_finder_close(run.finder);
    lb_ingest_close(run.ingest);
    lb_growth_free(&run.growth);
    lb_store_rollback(store); /* nothing to do after a commit */
    lb_rejects_free(&run.rejects);
    lb_import_paths_free(&paths);
    return status;
}
