#include "importers/read.h"

#include "base/buf.h"
#include "base/text.h"
#include "importers/convert.h"
#include "importers/csv_reader.h"
#include "importers/header.h"
#include "importers/recaster.h"
#include "importers/sample.h"

#include <stdlib.h>
#include <string.h>

struct reading {
    const char *name;
    const struct lb_read_options *options;
    const struct lb_row_sink *sink;
    struct lb_read_report *report;
    struct lb_csv *csv;
    struct lb_header header;
    struct lb_converter *converters[3];
    struct lb_value values[3][LB_KIND_COLUMNS_MAX];
    int unit; /* the `unit` column of a kind that is fed; offers beside parts count in it; -1: none */
    struct lb_buf raw;
    struct lb_recaster *recaster; /* NULL: the cells are taken as they are */
    struct lb_sample *sample;     /* rows that were read ahead; NULL: none */
    struct lb_buf reason;
};

/* The sink gets a string; NUL bytes, which refused the row, would end it early. */
static const char *raw_text(struct reading *r, const struct lb_csv_record *record)
{
    lb_buf_clear(&r->raw);
    lb_buf_append(&r->raw, record->raw, record->raw_length);
    for (size_t i = 0; i < record->raw_length && !r->raw.failed; i++)
        if (r->raw.text[i] == '\0')
            r->raw.text[i] = '?';
    return lb_buf_text(&r->raw);
}

/* `column` is 1-based in the file, 0: the whole row. */
static lb_status reject(struct reading *r, const struct lb_csv_record *record, int column, const char *reason,
                        struct lb_error *err)
{
    const char *heading = column > 0 && column <= r->header.count ? r->header.names[column - 1] : "";
    const char *raw = raw_text(r, record);
    if (r->raw.failed)
        return lb_fail_nomem(err);
    r->report->rejected++;
    return r->sink->reject(r->sink->context, record->line, column, heading, reason, raw, err);
}

static bool fills_supplier(const struct reading *r, const struct lb_column *column)
{
    return r->options && r->options->supplier && strcmp(column->name, "supplier") == 0;
}

/* The cells of one kind as they stand, or as the recaster made them. */
static void gather(const struct reading *r, int k, const struct lb_csv_record *record, const char **cells)
{
    const struct lb_kind *kind = r->header.kinds[k];
    const int *columns = r->header.columns[k];
    for (int i = 0; i < kind->column_count; i++) {
        cells[i] = columns[i] < 0 ? NULL : record->cells[columns[i]];
        bool empty = !cells[i] || !*cells[i];
        if (empty && fills_supplier(r, &kind->columns[i]))
            cells[i] = r->options->supplier;
    }
}

static void gather_recast(const struct reading *r, int k, const char **cells)
{
    const struct lb_kind *kind = r->header.kinds[k];
    for (int i = 0; i < kind->column_count; i++) {
        cells[i] = lb_recaster_cell(r->recaster, k, i);
        bool empty = !cells[i] || !*cells[i];
        if (empty && fills_supplier(r, &kind->columns[i]))
            cells[i] = r->options->supplier;
    }
}

static lb_status convert(struct reading *r, int k, const struct lb_csv_record *record, struct lb_fault *fault,
                         struct lb_error *err)
{
    const char *cells[LB_KIND_COLUMNS_MAX];
    const char *unit = r->unit < 0 ? NULL : record->cells[r->unit];
    if (r->recaster) {
        gather_recast(r, k, cells);
        unit = lb_recaster_unit(r->recaster);
    } else {
        gather(r, k, record, cells);
    }
    return lb_convert_row(r->converters[k], cells, unit, r->values[k], fault, err);
}

/* convert.c speaks of the text that it saw; where that is not what the file says, the file's is added. */
static const char *reason_for(struct reading *r, int k, const struct lb_csv_record *record,
                              const struct lb_fault *fault)
{
    int column = r->header.columns[k][fault->column];
    const char *seen = r->recaster ? lb_recaster_cell(r->recaster, k, fault->column) : NULL;
    if (!seen || column < 0 || strcmp(seen, record->cells[column]) == 0)
        return fault->reason;
    lb_buf_clear(&r->reason);
    lb_buf_printf(&r->reason, "%s (the cell says \"%.*s\")", fault->reason,
                  (int)lb_text_fit(record->cells[column], 60), record->cells[column]);
    return r->reason.failed ? fault->reason : r->reason.text;
}

/* The cells as convert.c reads them; *refused: the row is out. */
static lb_status recast(struct reading *r, const struct lb_csv_record *record, bool *refused,
                        struct lb_error *err)
{
    struct lb_recast_fault fault;
    lb_status status = lb_recaster_row(r->recaster, record, &fault, err);
    *refused = !status && fault.reason;
    return *refused ? reject(r, record, fault.column + 1, fault.reason, err) : status;
}

/* Refused whole or fed to every kind. */
static lb_status read_row(struct reading *r, const struct lb_csv_record *record, struct lb_error *err)
{
    r->report->read++;
    if (record->known) {
        r->report->accepted++;
        return LB_OK;
    }
    if (record->fault)
        return reject(r, record, record->column, record->fault, err);
    const char *remark = NULL;
    lb_status status;
    bool refused = false;
    if (r->recaster && ((status = recast(r, record, &refused, err)) || refused))
        return status;
    for (int k = 0; k < r->header.kind_count; k++) {
        struct lb_fault fault;
        if ((status = convert(r, k, record, &fault, err)))
            return status;
        if (fault.reason)
            return reject(r, record, r->header.columns[k][fault.column] + 1, reason_for(r, k, record, &fault),
                          err);
        remark = fault.remark ? fault.remark : remark;
    }
    if (remark)
        r->sink->warn(r->sink->context, record->line, remark);
    struct lb_row row = {record->line,         record->raw,     record->raw_length,
                         r->header.kind_count, r->header.kinds, {0}};
    for (int k = 0; k < row.kind_count; k++)
        row.values[k] = r->values[k];
    status = r->sink->row(r->sink->context, &row, err);
    r->report->accepted += !status;
    return status;
}

/* What the first rows show is part of how the headings are understood. */
static lb_status look_ahead(struct reading *r, struct lb_error *err)
{
    r->sample = calloc(1, sizeof *r->sample);
    lb_status status = r->sample ? lb_sample_take(r->sample, r->csv, err) : lb_fail_nomem(err);
    return status ? status : lb_scheme_infer(&r->header.scheme, r->sample, err);
}

static lb_status read_header(struct reading *r, struct lb_error *err)
{
    struct lb_csv_record record;
    lb_status status = lb_csv_next(r->csv, &record, err);
    if (status)
        return status;
    if (record.line == 0)
        return lb_fail_at(err, r->name, 0, 0, "the file is empty: there is no row of headings");
    long line = record.line;
    if ((status = lb_header_read(&r->header, &record, r->name, r->options, err)))
        return status;
    lb_csv_expect(r->csv, r->header.count);
    if (r->header.scheme.by_lexicon)
        status = look_ahead(r, err);
    return status ? status : lb_header_settle(&r->header, line, r->name, r->options, err);
}

static lb_status tell_mapping(struct reading *r, struct lb_error *err)
{
    struct lb_mapping mapping;
    if (!r->sink->mapping)
        return LB_OK;
    lb_status status = lb_header_mapping(&r->header, r->options, lb_csv_separator(r->csv), &mapping, err);
    return status ? status : r->sink->mapping(r->sink->context, &mapping, err);
}

static lb_status prepare(struct reading *r, struct lb_error *err)
{
    lb_status status = LB_OK;
    for (int k = 0; k < r->header.kind_count; k++)
        if (lb_kind_column(r->header.kinds[k], "unit") >= 0)
            r->unit = lb_header_column(&r->header, "unit");
    r->report->kind_count = r->header.kind_count;
    memcpy(r->report->kinds, r->header.kinds, sizeof r->header.kinds);
    for (int k = 0; !status && k < r->header.kind_count; k++)
        status = lb_converter_new(&r->converters[k], r->header.kinds[k], err);
    if (!status && r->header.scheme.entries.count)
        status = lb_recaster_new(&r->recaster, &r->header, err);
    return status;
}

static lb_status begin(struct reading *r, struct lb_error *err)
{
    lb_status status = read_header(r, err);
    if (!status)
        status = prepare(r, err);
    if (!status)
        status = r->sink->begin(r->sink->context, r->header.kinds, r->header.kind_count, err);
    if (!status)
        status = tell_mapping(r, err);
    if (r->sink->known)
        lb_csv_pass_known(r->csv, r->sink->known, r->sink->context);
    if (!status)
        lb_header_warn(&r->header, r->sink);
    return status;
}

/* Rows that were read ahead come first; nobody was asked yet whether they are known. */
static lb_status next_record(struct reading *r, struct lb_csv_record *record, struct lb_error *err)
{
    if (!r->sample || !lb_sample_next(r->sample, record))
        return lb_csv_next(r->csv, record, err);
    record->known = !record->fault && r->sink->known &&
                    r->sink->known(r->sink->context, record->line, record->raw, record->raw_length);
    return LB_OK;
}

static lb_status read_all(struct reading *r, struct lb_error *err)
{
    lb_status status = begin(r, err);
    while (status == LB_OK) {
        struct lb_csv_record record;
        status = next_record(r, &record, err);
        if (status || record.line == 0)
            break;
        status = read_row(r, &record, err);
    }
    return status;
}

lb_status lb_read_bytes(struct lb_bytes *bytes, const char *name, const struct lb_read_options *options,
                        const struct lb_row_sink *sink, struct lb_read_report *report, struct lb_error *err)
{
    *report = (struct lb_read_report){0};
    struct reading r = {.name = name, .options = options, .sink = sink, .report = report, .unit = -1};
    char separator = options && options->profile ? options->profile->separator : 0;
    lb_status status = lb_csv_open(&r.csv, bytes, separator, err);
    if (status == LB_OK)
        status = read_all(&r, err);
    for (int k = 0; k < 3; k++)
        lb_converter_free(r.converters[k]);
    lb_recaster_free(r.recaster);
    lb_header_free(&r.header);
    lb_sample_free(r.sample);
    lb_buf_free(&r.raw);
    lb_buf_free(&r.reason);
    lb_csv_free(r.csv);
    return status;
}

lb_status lb_read_file(const char *path, const struct lb_read_options *options,
                       const struct lb_row_sink *sink, struct lb_read_report *report, struct lb_error *err)
{
    struct lb_bytes *bytes;
    *report = (struct lb_read_report){0};
    lb_status status = lb_bytes_open_file(&bytes, path, err);
    if (!status)
        status = lb_read_bytes(bytes, path, options, sink, report, err);
    lb_bytes_close(bytes);
    return status;
}
