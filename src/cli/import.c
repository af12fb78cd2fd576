#include "catalog/import.h"
#include "cli/cli.h"
#include "cli/import_look.h"
#include "cli/progress.h"
#include "report/json.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

const struct cli_option import_options[] = {
    {"as", "NAME", "the catalogue's name: the next edition may come from another file or address"},
    {"encoding", "E", "how its characters are written, such as Windows-1252 (default: found out)"},
    {"supplier", "S", "the supplier of rows that name none"},
    {"profile", "FILE", "how this supplier writes: CSV with field, heading, convert"},
    {"save-profile", "FILE", "write how the file was read as a profile; the file must not exist yet"},
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

/* `look`: with the mapping and the first rows. */
static json_t *file_json(const struct lb_imported_file *file, bool look)
{
    const struct lb_edition_change *change = &file->change;
    const struct {
        const char *key;
        int64_t count;
    } counts[] = {{"read", file->read},        {"accepted", file->accepted}, {"rejected", file->rejected},
                  {"added", change->added},    {"changed", change->changed}, {"unchanged", change->unchanged},
                  {"removed", change->removed}};
    struct lb_maker maker = {0};
    json_t *object = lb_maker_object(&maker);
    lb_maker_set(&maker, object, "file", lb_report_json_text(file->file));
    lb_maker_set(&maker, object, "kind", lb_report_json_text(file->kind));
    for (size_t i = 0; i < sizeof counts / sizeof *counts; i++)
        lb_maker_set(&maker, object, counts[i].key, json_integer(counts[i].count));
    if (file->problem)
        lb_maker_set(&maker, object, "problem", lb_report_json_text(file->problem));
    if (look && file->mapping)
        import_look_json(&maker, object, file);
    return lb_maker_end(&maker, object);
}

static void print_json(struct cli *cli, const struct lb_import_result *result, bool look, double took)
{
    struct lb_maker maker = {0};
    json_t *object = lb_maker_object(&maker), *files = lb_maker_array(&maker);
    for (size_t i = 0; i < result->files.count; i++)
        lb_maker_add(&maker, files, file_json(&result->files.at[i], look));
    lb_maker_set(&maker, object, "version", json_integer(1));
    lb_maker_set(&maker, object, "files", files);
    lb_maker_set(&maker, object, "seconds", json_real(took));
    cli_print_json(cli, lb_maker_end(&maker, object));
}

/* Nothing for none: a column without any is left out, and what did happen stands out. */
static void put_count(struct lb_table *table, enum lb_tone tone, int64_t count)
{
    if (count)
        lb_table_cellf(table, tone, "%lld", (long long)count);
    else
        lb_table_cell(table, tone, NULL);
}

static void print_table(struct cli *cli, const struct lb_import_result *result)
{
    static const struct lb_table_column columns[] = {
        {.heading = "file", .may_shrink = true},   {.heading = "kind"},
        {.heading = "read", .align = LB_RIGHT},    {.heading = "accepted", .align = LB_RIGHT},
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
        put_count(&table, LB_RED, file->rejected);
        put_count(&table, LB_PLAIN, file->change.added);
        put_count(&table, LB_PLAIN, file->change.changed);
        put_count(&table, LB_PLAIN, file->change.unchanged);
        put_count(&table, LB_PLAIN, file->change.removed);
    }
    lb_table_print(&table, &cli->out, &cli->style);
    lb_table_free(&table);
}

static void print_sum(struct cli *cli, const struct lb_import_result *result, const char *rejects,
                      bool dry_run)
{
    int64_t moved = 0;
    long read = 0;
    for (size_t i = 0; i < result->files.count; i++) {
        const struct lb_edition_change *change = &result->files.at[i].change;
        moved += change->added + change->changed + change->removed;
        read += result->files.at[i].read;
    }
    if (dry_run)
        lb_buf_puts(&cli->out, "Nothing was kept: this was a dry run.\n");
    else if (!moved && !read && !result->unusable)
        lb_buf_puts(&cli->out, "Nothing changed: there were no rows to take in.\n");
    else if (!moved && !result->rejected && !result->unusable)
        lb_buf_puts(&cli->out, "Nothing changed: the index has all of this already.\n");
    else if (!moved)
        lb_buf_puts(&cli->out, "Nothing changed.\n");
    if (result->rejected)
        lb_buf_printf(&cli->out, "%ld row%s refused; which ones and why is in %s\n", result->rejected,
                      result->rejected == 1 ? " was" : "s were", rejects);
    if (result->unusable)
        lb_buf_printf(&cli->out, "%d file%s could not be used at all.\n", result->unusable,
                      result->unusable == 1 ? "" : "s");
}

lb_status judge_import(struct cli *cli)
{
    const char *path;
    for (int i = 0; (path = cli_plain(cli, i)); i++)
        if (!*path)
            return lb_fail(&cli->err, LB_USAGE, "an empty word is no file to import.");
    if (cli_value(cli, "as") && !*cli_value(cli, "as"))
        return lb_fail(&cli->err, LB_USAGE, "--as needs a name.");
    return import_judge_profiles(cli);
}

/* Refused files are errors, which --quiet does not silence; what was taken in all the same is remarked upon.
 */
static void print_remarks(struct cli *cli, const struct lb_import_result *result)
{
    for (size_t i = 0; i < result->files.count; i++) {
        const struct lb_imported_file *file = &result->files.at[i];
        if (file->problem)
            cli_say(file->problem);
        for (int r = 0; r < file->refusal_count; r++)
            cli_remark(cli, "%s: %s", file->file, file->refusals[r]);
        if (file->refusal_count && file->rejected > file->refusal_count)
            cli_remark(cli, "%s: and %ld more refused", file->file, file->rejected - file->refusal_count);
        for (size_t w = 0; w < file->warning_count; w++)
            cli_remark(cli, "%s: %s", file->file, file->warnings[w]);
        if (file->warning_total > file->warning_count)
            cli_remark(cli, "%s: and %zu more such remarks", file->file,
                       file->warning_total - file->warning_count);
    }
}

static void show(struct cli *cli, const struct lb_import_result *result,
                 const struct lb_import_options *options, double took)
{
    if (cli->json) {
        print_json(cli, result, options->dry_run, took);
        return;
    }
    for (size_t i = 0; options->dry_run && i < result->files.count; i++)
        import_look(cli, &result->files.at[i]);
    print_table(cli, result);
    print_sum(cli, result, options->rejects, options->dry_run);
}

int run_import(struct cli *cli)
{
    const char **paths = calloc((size_t)cli->word_count + 1, sizeof *paths);
    char now[32], *own_rejects = default_rejects(cli->index);
    const char *rejects = cli_value(cli, "rejects");
    const char *profile = cli_value(cli, "profile"), *save = cli_value(cli, "save-profile");
    struct lb_profile *own_profile = NULL;
    char *downloads = NULL;
    struct lb_import_result result = {0};
    time_t clock = (time_t)cli->now;
    strftime(now, sizeof now, "%Y-%m-%dT%H:%M:%SZ", gmtime(&clock));
    struct lb_import_options options = {.paths = paths,
                                        .supplier = cli_value(cli, "supplier"),
                                        .rejects = rejects ? rejects : own_rejects,
                                        .now = now,
                                        .dry_run = cli_value(cli, "dry-run") != NULL};
    lb_status status = paths && own_rejects ? LB_OK : lb_fail_nomem(&cli->err);
    if (!status && profile)
        status = lb_profile_load(&own_profile, profile, &cli->err);
    options.profile = own_profile;
    if (!status)
        status = cli_find_downloads(cli->index, &downloads, &cli->err);
    options.fetch_folder = downloads;
    options.certificates = cli_find_certificates();
    options.name = cli_value(cli, "as");
    options.encoding = cli_value(cli, "encoding");
    options.read_again = options.dry_run || save;
    for (const char *path; !status && (path = cli_plain(cli, options.path_count));)
        paths[options.path_count++] = path;
    double begin = seconds();
    struct cli_progress progress;
    cli_progress_begin(&progress, cli);
    options.progress = cli_progress_tell;
    options.progress_context = &progress;
    if (!status)
        status = lb_import(cli->store, &options, &result, &cli->err);
    cli_progress_end(&progress);
    if (!status && !options.dry_run)
        cli_refresh_fitting(cli);
    if (!status)
        show(cli, &result, &options, seconds() - begin);
    print_remarks(cli, &result);
    if (!status && save)
        status = import_save_profile(cli, &result, save);
    int exit_status = !status && (result.rejected || result.unusable) ? LB_DATA : 0;
    lb_import_result_free(&result);
    lb_profile_free(own_profile);
    free(downloads);
    free(paths);
    free(own_rejects);
    return exit_status;
}
