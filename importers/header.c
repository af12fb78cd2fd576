#include "importers/header.h"

#include "base/buf.h"
#include "base/text.h"
#include "importers/detect.h"

#include <string.h>

int lb_header_column(const struct lb_header *header, const char *name)
{
    for (int i = 0; i < header->count; i++)
        if (lb_text_equal_nocase(header->names[i], name))
            return i;
    return -1;
}

static lb_status keep_names(struct lb_header *header, const struct lb_csv_record *record,
                            struct lb_error *err)
{
    header->count = record->count;
    while (header->count > 0 && record->cells[header->count - 1][0] == '\0')
        header->count--;
    header->names = lb_arena_alloc(&header->arena, ((size_t)header->count + 1) * sizeof *header->names);
    if (!header->names)
        return lb_fail_nomem(err);
    for (int i = 0; i < header->count; i++) {
        const char *cell = record->cells[i];
        header->names[i] = lb_arena_text(&header->arena, cell, strlen(cell));
        if (!header->names[i])
            return lb_fail_nomem(err);
    }
    return LB_OK;
}

/* Which of the two is meant cannot be known. A column that is ignored anyway may be there as often as it
 * likes. */
static lb_status refuse_twice(const struct lb_header *header, int column, long line, const char *name,
                              struct lb_error *err)
{
    for (int i = column + 1; i < header->count; i++)
        if (lb_text_equal_nocase(header->names[i], header->names[column]))
            return lb_fail_at(err, name, line, i + 1,
                              "the heading \"%s\" is there twice, in column %d and column %d",
                              header->names[column], column + 1, i + 1);
    return LB_OK;
}

static lb_status place_columns(struct lb_header *header, long line, const char *name, struct lb_error *err)
{
    for (int k = 0; k < header->kind_count; k++)
        for (int i = 0; i < header->kinds[k]->column_count; i++) {
            int column = lb_header_column(header, header->kinds[k]->columns[i].name);
            header->columns[k][i] = column;
            if (column >= 0 && refuse_twice(header, column, line, name, err))
                return LB_DATA;
        }
    return LB_OK;
}

lb_status lb_header_read(struct lb_header *header, const struct lb_csv_record *record, const char *name,
                         const struct lb_read_options *options, struct lb_error *err)
{
    *header = (struct lb_header){0};
    if (record->fault)
        return lb_fail_at(err, name, record->line, record->column, "the row of headings cannot be read: %s",
                          record->fault);
    if (record->count >= LB_CSV_CELLS_MAX)
        return lb_fail_at(err, name, record->line, 0, "the row of headings has more than %d columns",
                          LB_CSV_CELLS_MAX - 1);
    lb_status status = keep_names(header, record, err);
    if (status == LB_OK)
        status = lb_detect_kinds(header, record->line, name, options, err);
    return status ? status : place_columns(header, record->line, name, err);
}

static bool is_known(const struct lb_header *header, int column)
{
    for (int k = 0; k < header->kind_count; k++)
        for (int i = 0; i < header->kinds[k]->column_count; i++)
            if (header->columns[k][i] == column)
                return true;
    return false;
}

/* The columns that are still free are what a misspelt one may have meant. */
static void append_guess(struct lb_buf *out, const struct lb_header *header, const char *heading)
{
    const char *names[3 * LB_KIND_COLUMNS_MAX];
    size_t count = 0;
    for (int k = 0; k < header->kind_count; k++)
        for (int i = 0; i < header->kinds[k]->column_count; i++)
            if (header->columns[k][i] < 0)
                names[count++] = header->kinds[k]->columns[i].name;
    struct lb_buf guess = {0};
    if (lb_text_nearest(&guess, heading, names, count))
        lb_buf_printf(out, "; did you mean %s?", lb_buf_text(&guess));
    lb_buf_free(&guess);
}

void lb_header_warn(const struct lb_header *header, const struct lb_row_sink *sink)
{
    for (int i = 0; i < header->count; i++) {
        if (header->names[i][0] == '\0' || is_known(header, i))
            continue;
        struct lb_buf words = {0};
        lb_buf_printf(&words, "column %d, \"%s\", is not known to a file of %s and is ignored", i + 1,
                      header->names[i], header->kinds[0]->name);
        append_guess(&words, header, header->names[i]);
        sink->warn(sink->context, 0, lb_buf_text(&words));
        lb_buf_free(&words);
    }
}

void lb_header_free(struct lb_header *header)
{
    lb_arena_free(&header->arena);
}
