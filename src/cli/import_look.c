#include "cli/import_look.h"
#include "base/shell.h"

#include "base/text.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static const char *separator_name(char separator)
{
    return separator == '\t' ? "tabs" : separator == ';' ? ";" : separator == '|' ? "|" : ",";
}

static const char *by_name(enum lb_mapped_by by)
{
    static const char *const names[] = {"name", "lexicon", "profile", "--supplier"};
    return names[by];
}

static const char *value_of(const struct lb_mapping_column *column)
{
    return column->convert + strlen("fixed ");
}

/* Room to break the line at every | of a list. */
static void write_convert(struct lb_buf *out, const char *convert)
{
    for (; *convert; convert++)
        if (*convert == '|')
            lb_buf_puts(out, " | ");
        else
            lb_buf_putc(out, *convert);
}

static void print_mapping(struct cli *cli, const struct lb_mapping *mapping)
{
    static const struct lb_table_column columns[] = {{.heading = "column"},
                                                     {.heading = "heading", .may_shrink = true},
                                                     {.heading = "how it is read", .may_shrink = true},
                                                     {.heading = "by"}};
    struct lb_table table = {.columns = columns, .column_count = 4, .indent = 2};
    for (size_t i = 0; i < mapping->column_count; i++) {
        const struct lb_mapping_column *column = &mapping->columns[i];
        bool fixed = column->column < 0;
        struct lb_buf convert = {0};
        write_convert(&convert, fixed ? value_of(column) : *column->convert ? column->convert : "as it is");
        lb_table_cell(&table, LB_PLAIN, column->field);
        lb_table_cell(&table, fixed ? LB_DIM : LB_PLAIN, fixed ? "(every row)" : column->heading);
        lb_table_cell(&table, LB_PLAIN, lb_buf_text(&convert));
        cli->out.failed |= convert.failed;
        lb_buf_free(&convert);
        lb_table_cellf(&table, LB_PLAIN, "%s%s", by_name(column->by), column->inferred ? ", rows" : "");
    }
    lb_table_print(&table, &cli->out, &cli->style);
    lb_table_free(&table);
}

static void print_unused(struct cli *cli, const struct lb_mapping *mapping)
{
    struct lb_buf words = {0};
    if (mapping->unknown_count)
        lb_buf_puts(&cli->out, "  Not used\n");
    for (size_t i = 0; i < mapping->unknown_count; i++) {
        const struct lb_mapping_unknown *unknown = &mapping->unknown[i];
        lb_buf_clear(&words);
        lb_buf_printf(&words, "\"%s\" %s", unknown->heading,
                      unknown->why ? unknown->why : "is not known; a profile can say what it is");
        lb_buf_puts(&cli->out, "    ");
        lb_style_wrap(&cli->out, &cli->style, LB_PLAIN, 4, 6, lb_buf_text(&words));
    }
    cli->out.failed |= words.failed;
    lb_buf_free(&words);
}

/* The widest text of a column with its heading; 0: nothing is in it. */
static int width_of(const struct lb_preview *preview, size_t column)
{
    int widest = 0;
    for (size_t r = 0; r < preview->row_count; r++) {
        int width = lb_text_width(preview->rows[r].texts[column]);
        widest = width > widest ? width : widest;
    }
    int heading = lb_text_width(preview->columns[column]->name);
    return !widest ? 0 : widest > heading ? widest : heading;
}

/* The columns from..to, behind the line. */
static void print_block(struct cli *cli, const struct lb_preview *preview, size_t from, size_t to)
{
    struct lb_table_column columns[LB_PREVIEW_COLUMNS + 1] = {{.heading = "line", .align = LB_RIGHT}};
    for (size_t i = from; i < to; i++) {
        enum lb_cell_type type = preview->columns[i]->type;
        bool right = type == LB_CELL_MONEY || type == LB_CELL_COUNT;
        columns[i - from + 1] = (struct lb_table_column){.heading = preview->columns[i]->name,
                                                         .align = right ? LB_RIGHT : LB_LEFT,
                                                         .may_shrink = type == LB_CELL_TEXT};
    }
    struct lb_table table = {.columns = columns, .column_count = to - from + 1, .indent = 2};
    for (size_t r = 0; r < preview->row_count; r++) {
        lb_table_cellf(&table, LB_DIM, "%ld", preview->rows[r].line);
        for (size_t i = from; i < to; i++)
            lb_table_cell(&table, LB_PLAIN, preview->rows[r].texts[i]);
    }
    lb_table_print(&table, &cli->out, &cli->style);
    lb_table_free(&table);
}

/* As many columns side by side as fit; the others below. */
static void print_preview(struct cli *cli, const struct lb_preview *preview)
{
    enum { MARGIN = 2 + 4, GAP = 2 };
    size_t from = 0;
    int used = MARGIN;
    for (size_t i = 0; i < preview->column_count; i++) {
        int width = width_of(preview, i);
        if (width && used > MARGIN && cli->style.width > 0 && used + GAP + width > cli->style.width) {
            print_block(cli, preview, from, i);
            from = i;
            used = MARGIN;
        }
        used += width ? GAP + width : 0;
    }
    print_block(cli, preview, from, preview->column_count);
}

void import_look(struct cli *cli, const struct lb_imported_file *file)
{
    const struct lb_mapping *mapping = file->mapping;
    if (!mapping)
        return;
    lb_style_put(&cli->out, &cli->style, LB_BOLD, file->file);
    lb_buf_printf(&cli->out, ": %s, %s, separated by %s\n", file->kind, mapping->encoding,
                  separator_name(mapping->separator));
    if (!lb_mapping_is_plain(mapping)) {
        print_mapping(cli, mapping);
        print_unused(cli, mapping);
        if (file->preview.row_count)
            lb_buf_puts(&cli->out, "  The first rows\n");
    }
    print_preview(cli, &file->preview);
    lb_buf_putc(&cli->out, '\n');
}

static json_t *column_json(struct lb_maker *maker, const struct lb_mapping_column *column)
{
    json_t *object = lb_maker_object(maker);
    lb_maker_set(maker, object, "column", lb_report_json_text(column->field));
    lb_maker_set(maker, object, "heading",
                 lb_report_json_text_or_null(column->column < 0 ? NULL : column->heading));
    lb_maker_set(maker, object, "convert", lb_report_json_text(column->convert));
    lb_maker_set(maker, object, "by", lb_report_json_text(by_name(column->by)));
    lb_maker_set(maker, object, "inferred", json_boolean(column->inferred));
    return object;
}

static json_t *mapping_json(struct lb_maker *maker, const struct lb_mapping *mapping)
{
    const char separator[] = {mapping->separator, '\0'};
    json_t *object = lb_maker_object(maker), *columns = lb_maker_array(maker),
           *unused = lb_maker_array(maker);
    for (size_t i = 0; i < mapping->column_count; i++)
        lb_maker_add(maker, columns, column_json(maker, &mapping->columns[i]));
    for (size_t i = 0; i < mapping->unknown_count; i++) {
        json_t *one = lb_maker_object(maker);
        lb_maker_set(maker, one, "heading", lb_report_json_text(mapping->unknown[i].heading));
        lb_maker_set(maker, one, "why", lb_report_json_text_or_null(mapping->unknown[i].why));
        lb_maker_add(maker, unused, one);
    }
    lb_maker_set(maker, object, "encoding", lb_report_json_text(mapping->encoding));
    lb_maker_set(maker, object, "separator", lb_report_json_text(separator));
    lb_maker_set(maker, object, "columns", columns);
    lb_maker_set(maker, object, "unused", unused);
    return object;
}

/* Each row with what it states, under the columns' names. */
static json_t *preview_json(struct lb_maker *maker, const struct lb_preview *preview)
{
    json_t *rows = lb_maker_array(maker);
    for (size_t r = 0; r < preview->row_count; r++) {
        json_t *row = lb_maker_object(maker), *cells = lb_maker_object(maker);
        for (size_t i = 0; i < preview->column_count; i++)
            if (*preview->rows[r].texts[i])
                lb_maker_set(maker, cells, preview->columns[i]->name,
                             lb_report_json_text(preview->rows[r].texts[i]));
        lb_maker_set(maker, row, "line", json_integer(preview->rows[r].line));
        lb_maker_set(maker, row, "cells", cells);
        lb_maker_add(maker, rows, row);
    }
    return rows;
}

void import_look_json(struct lb_maker *maker, json_t *object, const struct lb_imported_file *file)
{
    lb_maker_set(maker, object, "mapping", mapping_json(maker, file->mapping));
    lb_maker_set(maker, object, "preview", preview_json(maker, &file->preview));
}

lb_status import_judge_profiles(struct cli *cli)
{
    const char *path = cli_value(cli, "save-profile"), *profile = cli_value(cli, "profile");
    struct lb_profile *loaded = NULL;
    lb_status status = profile ? lb_profile_load(&loaded, profile, &cli->err) : LB_OK;
    lb_profile_free(loaded);
    if (status)
        return status;
    if (!path || access(path, F_OK) != 0)
        return LB_OK;
    return lb_fail(&cli->err, LB_USAGE,
                   "%s exists already; a profile is not written over it. Name another file.", path);
}

/* The one text that all files have in common; LB_DATA: they have none. */
static lb_status common_mapping(struct cli *cli, const struct lb_import_result *result, struct lb_buf *text)
{
    const char *first = NULL;
    for (size_t i = 0; i < result->files.count; i++) {
        const struct lb_imported_file *file = &result->files.at[i];
        struct lb_buf own = {0};
        if (!file->mapping)
            continue;
        lb_mapping_write_profile(first ? &own : text, file->mapping);
        bool same = !first || strcmp(lb_buf_text(&own), lb_buf_text(text)) == 0;
        lb_buf_free(&own);
        if (!same)
            return lb_fail(
                &cli->err, LB_DATA,
                "no profile was written: %s and %s are not read in the same way. Save them one by one.",
                first, file->file);
        first = first ? first : file->file;
    }
    return first ? LB_OK : lb_fail(&cli->err, LB_DATA, "no profile was written: no file could be read.");
}

static lb_status write_new(struct cli *cli, const char *path, const struct lb_buf *text)
{
    FILE *out = fopen(path, "wx");
    bool good = out && fwrite(text->text, 1, text->length, out) == text->length;
    int trouble = good ? 0 : errno;
    if (out && fclose(out) != 0 && good)
        trouble = errno;
    if (out && trouble)
        unlink(path);
    return trouble ? lb_fail(&cli->err, LB_SYSTEM, "%s: the profile cannot be written: %s.", path,
                             strerror(trouble))
                   : LB_OK;
}

lb_status import_save_profile(struct cli *cli, const struct lb_import_result *result, const char *path)
{
    struct lb_buf text = {0};
    lb_status status = common_mapping(cli, result, &text);
    if (!status)
        status = text.failed ? lb_fail_nomem(&cli->err) : write_new(cli, path, &text);
    if (!status && !cli->json) {
        lb_buf_printf(&cli->out, "How it was read is in %s; say --profile ", path);
        lb_shell_word(&cli->out, path);
        lb_buf_puts(&cli->out, " next time.\n");
    }
    lb_buf_free(&text);
    return status;
}
