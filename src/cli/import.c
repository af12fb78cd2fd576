#include "catalog/import.h"
#include "cli/cli.h"
#include "report/kit_json.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

const struct cli_option import_options[] = {
    {"supplier", "S", "the supplier of rows that name none"},
    {"rejects", "FILE", "where refused rows go (default: beside the index)"},
    {"dry-run", NULL, "read and judge everything, keep nothing"},
    {0},
};

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* "x/y.db" -> "x/y.rejects.csv" */
static char *default_rejects(const char *index)
{
    char *path = NULL;
    size_t length = strlen(index);
    if (length > 3 && strcmp(index + length - 3, ".db") == 0)
        length -= 3;
    return asprintf(&path, "%.*s.rejects.csv", (int)length, index) < 0 ? NULL : path;
}

static json_t *file_json(const struct lb_imported_file *file)
{
    json_t *object = json_pack("{s:s, s:s, s:I, s:I, s:I, s:I, s:I, s:I, s:I}", "file", file->file, "kind", file->kind, "read",
                               (json_int_t)file->read, "accepted", (json_int_t)file->accepted, "rejected",
                               (json_int_t)file->rejected, "added", (json_int_t)file->change.added, "changed",
                               (json_int_t)file->change.changed, "unchanged", (json_int_t)file->change.unchanged, "removed",
                               (json_int_t)file->change.removed);
    if (object && file->problem)
        json_object_set_new(object, "problem", json_string(file->problem));
    return object;
}

static void print_json(struct cli *cli, const struct lb_import_result *result, double took)
{
    json_t *files = json_array();
    for (size_t i = 0; i < result->files.count; i++)
        json_array_append_new(files, file_json(&result->files.at[i]));
    cli_print_json(cli, json_pack("{s:i, s:o, s:f}", "version", 1, "files", files, "seconds", took));
}

static void print_table(struct cli *cli, const struct lb_import_result *result)
{
    static const struct lb_table_column columns[] = {
        {.heading = "file", .may_shrink = true}, {.heading = "kind"},
        {.heading = "read", .align = LB_RIGHT},  {.heading = "accepted", .align = LB_RIGHT},
        {.heading = "refused", .align = LB_RIGHT}, {.heading = "added", .align = LB_RIGHT},
        {.heading = "changed", .align = LB_RIGHT}, {.heading = "as before", .align = LB_RIGHT},
        {.heading = "gone", .align = LB_RIGHT},
    };
    struct lb_table table = {.columns = columns, .column_count = sizeof columns / sizeof *columns};
    for (size_t i = 0; i < result->files.count; i++) {
        const struct lb_imported_file *file = &result->files.at[i];
        lb_table_cell(&table, file->problem ? LB_RED : LB_PLAIN, file->file);
        lb_table_cell(&table, LB_PLAIN, file->problem ? "no use" : file->kind);
        lb_table_cellf(&table, LB_PLAIN, "%ld", file->read);
        lb_table_cellf(&table, LB_PLAIN, "%ld", file->accepted);
        lb_table_cellf(&table, file->rejected ? LB_RED : LB_PLAIN, "%ld", file->rejected);
        lb_table_cellf(&table, LB_PLAIN, "%lld", (long long)file->change.added);
        lb_table_cellf(&table, LB_PLAIN, "%lld", (long long)file->change.changed);
        lb_table_cellf(&table, LB_PLAIN, "%lld", (long long)file->change.unchanged);
        lb_table_cellf(&table, LB_PLAIN, "%lld", (long long)file->change.removed);
    }
    lb_table_print(&table, &cli->out, &cli->style);
    lb_table_free(&table);
}

static void print_remarks(struct cli *cli, const struct lb_import_result *result)
{
    for (size_t i = 0; i < result->files.count; i++) {
        const struct lb_imported_file *file = &result->files.at[i];
        if (file->problem)
            cli_remark(cli, "lastbolt: %s\n", file->problem);
        for (size_t w = 0; w < file->warning_count; w++)
            cli_remark(cli, "lastbolt: %s: %s\n", file->file, file->warnings[w]);
        if (file->warning_total > file->warning_count)
            cli_remark(cli, "lastbolt: %s: and %zu more such remarks\n", file->file, file->warning_total - file->warning_count);
    }
}

static void print_sum(struct cli *cli, const struct lb_import_result *result, const char *rejects, bool dry_run)
{
    int64_t moved = 0;
    for (size_t i = 0; i < result->files.count; i++) {
        const struct lb_edition_change *change = &result->files.at[i].change;
        moved += change->added + change->changed + change->removed;
    }
    if (dry_run)
        lb_buf_puts(&cli->out, "Nothing was kept: this was a dry run.\n");
    else if (!moved && !result->rejected && !result->unusable)
        lb_buf_puts(&cli->out, "Nothing changed: the index has all of this already.\n");
    if (result->rejected)
        lb_buf_printf(&cli->out, "%ld row%s refused; which ones and why is in %s\n", result->rejected,
                      result->rejected == 1 ? " was" : "s were", rejects);
    if (result->unusable)
        lb_buf_printf(&cli->out, "%d file%s could not be used at all.\n", result->unusable, result->unusable == 1 ? "" : "s");
}

static bool refuse_for_now(struct cli *cli, const char *path)
{
    if (strcmp(path, "-") != 0 && strstr(path, "://") == NULL)
        return false;
    lb_fail(&cli->err, LB_USAGE, "%.200s: only files and folders can be imported so far; save it as a file first.", path);
    return true;
}

int run_import(struct cli *cli)
{
    const char **paths = calloc((size_t)cli->word_count + 1, sizeof *paths);
    char now[32], *own_rejects = default_rejects(cli->index);
    const char *rejects = cli_value(cli, "rejects");
    struct lb_import_result result = {0};
    time_t clock = (time_t)cli->today * 86400;
    if (!getenv("SOURCE_DATE_EPOCH"))
        clock = time(NULL);
    strftime(now, sizeof now, "%Y-%m-%dT%H:%M:%SZ", gmtime(&clock));
    struct lb_import_options options = {.paths = paths,
                                        .supplier = cli_value(cli, "supplier"),
                                        .rejects = rejects ? rejects : own_rejects,
                                        .now = now,
                                        .dry_run = cli_value(cli, "dry-run") != NULL};
    lb_status status = paths && own_rejects ? LB_OK : lb_fail_nomem(&cli->err);
    for (const char *path; !status && (path = cli_plain(cli, options.path_count)); paths[options.path_count++] = path)
        if (refuse_for_now(cli, path))
            status = LB_USAGE;
    double begin = seconds();
    if (!status)
        status = lb_import(cli->store, &options, &result, &cli->err);
    if (!status && cli->json) {
        print_json(cli, &result, seconds() - begin);
    } else if (!status) {
        print_table(cli, &result);
        print_sum(cli, &result, options.rejects, options.dry_run);
    }
    print_remarks(cli, &result);
    int exit_status = !status && (result.rejected || result.unusable) ? LB_DATA : 0;
    lb_import_result_free(&result);
    free(paths);
    free(own_rejects);
    return exit_status;
}
