/* Framed records are taken apart by libcsv. A line without a quote does not need it: it is split where the
 * separators are, which is what keeps millions of rows quick. */
#include "importers/csv_reader.h"

#include "base/text.h"
#include "importers/csv_frame.h"

#include <csv.h>
#include <stdlib.h>
#include <string.h>

struct lb_csv {
    struct lb_csv_window window;
    struct csv_parser parser;
    int expected;
    char *text; /* the cells of the record */
    size_t text_length, text_room;
    const char *cells[LB_CSV_CELLS_MAX];
    int count;
    bool surplus; /* a cell beyond CELLS_MAX was not empty */
    char words[120];
    bool (*is_known)(void *, long, const char *, size_t);
    void *known_context;
};

/* Keeps one cell; `room` was made for the whole record beforehand. */
static void keep_cell(struct lb_csv *csv, char *from, char *end)
{
    while (from < end && (*from == ' ' || *from == '\t' || *from == '\n' || *from == '\r'))
        from++;
    while (end > from && (end[-1] == ' ' || end[-1] == '\t' || end[-1] == '\n' || end[-1] == '\r'))
        end--;
    *end = '\0';
    if (csv->count < LB_CSV_CELLS_MAX)
        csv->cells[csv->count] = from;
    else if (from < end)
        csv->surplus = true;
    csv->count++;
}

static void cell_from_parser(void *bytes, size_t length, void *context)
{
    struct lb_csv *csv = context;
    char *from = csv->text + csv->text_length;
    memcpy(from, bytes, length);
    csv->text_length += length + 1;
    keep_cell(csv, from, from + length);
}

static void split_plain(struct lb_csv *csv, const char *raw, size_t length)
{
    char *from = csv->text, *end = csv->text + length, *stop;
    memcpy(from, raw, length);
    for (; (stop = memchr(from, csv->window.separator, (size_t)(end - from))); from = stop + 1)
        keep_cell(csv, from, stop);
    keep_cell(csv, from, end);
}

static lb_status split(struct lb_csv *csv, const struct lb_csv_frame *f, struct lb_error *err)
{
    csv->count = 0;
    csv->surplus = false;
    csv->text_length = 0;
    size_t need = 2 * f->length + 2; /* every byte a cell, each with its NUL */
    if (csv->text_room < need) {
        char *text = realloc(csv->text, need * 2);
        if (!text)
            return lb_fail_nomem(err);
        csv->text = text;
        csv->text_room = need * 2;
    }
    if (!f->quoted) {
        split_plain(csv, f->raw, f->length);
        return LB_OK;
    }
    csv_set_delim(&csv->parser, (unsigned char)csv->window.separator);
    if (csv_parse(&csv->parser, f->raw, f->length, cell_from_parser, NULL, csv) != f->length ||
        csv_fini(&csv->parser, cell_from_parser, NULL, csv) != 0)
        return lb_fail_nomem(err); /* the framing left it nothing else to fail on */
    return LB_OK;
}

/* NUL bytes and broken UTF-8; ASCII is told eight bytes at a time. */
static const char *bad_bytes(struct lb_csv *csv, const char *raw, size_t length, size_t *at)
{
    const char *encoding = csv->window.stream->encoding;
    if (memchr(raw, '\0', length)) {
        *at = (size_t)((const char *)memchr(raw, '\0', length) - raw);
        return "a NUL byte; this is no text";
    }
    size_t i = 0;
    for (uint64_t word; i + 8 <= length; i += 8) {
        memcpy(&word, raw + i, 8);
        if (word & UINT64_C(0x8080808080808080))
            break;
    }
    while (i < length && !((unsigned char)raw[i] & 0x80))
        i++;
    if (i == length || lb_text_is_utf8(raw, length, at))
        return NULL;
    if (!encoding || strcmp(encoding, "UTF-8") == 0)
        return "the bytes are not UTF-8";
    snprintf(csv->words, sizeof csv->words, "a byte that is not %s", encoding);
    return csv->words;
}

static const char *miscounted(struct lb_csv *csv, long lines)
{
    bool surplus = csv->surplus;
    for (int i = csv->expected; i < csv->count && i < LB_CSV_CELLS_MAX; i++)
        surplus |= csv->cells[i][0] != '\0';
    if (csv->expected == 0 || (csv->count >= csv->expected && !surplus))
        return NULL;
    int n = snprintf(csv->words, sizeof csv->words, "the row has %d cell%s, the heading %d", csv->count,
                     csv->count == 1 ? "" : "s", csv->expected);
    if (lines > 1)
        snprintf(csv->words + n, sizeof csv->words - (size_t)n,
                 "; it runs over %ld lines, so a quote may be missing", lines);
    return csv->words;
}

static lb_status judge(struct lb_csv *csv, struct lb_csv_frame *f, struct lb_csv_record *record,
                       struct lb_error *err)
{
    if (!f->fault)
        f->fault = bad_bytes(csv, f->raw, f->length, &f->fault_at);
    if (f->fault) {
        record->fault = f->fault;
        record->column =
            f->fault_at == SIZE_MAX ? 0 : lb_csv_column_at(f->raw, f->fault_at, csv->window.separator);
        return LB_OK;
    }
    lb_status status = split(csv, f, err);
    if (status)
        return status;
    record->fault = miscounted(csv, f->lines);
    record->count = record->fault ? 0 : csv->count < LB_CSV_CELLS_MAX ? csv->count : LB_CSV_CELLS_MAX;
    record->cells = csv->cells;
    return LB_OK;
}

lb_status lb_csv_next(struct lb_csv *csv, struct lb_csv_record *record, struct lb_error *err)
{
    struct lb_csv_frame f;
    *record = (struct lb_csv_record){0};
    lb_status status = lb_csv_frame_next(&csv->window, &f, err);
    if (status || f.line == 0)
        return status;
    *record = (struct lb_csv_record){.line = f.line, .raw = f.raw, .raw_length = f.length};
    record->known = csv->is_known && !f.fault && csv->is_known(csv->known_context, f.line, f.raw, f.length);
    return record->known ? LB_OK : judge(csv, &f, record, err);
}

void lb_csv_pass_known(struct lb_csv *csv, bool (*is_known)(void *, long, const char *, size_t),
                       void *context)
{
    csv->is_known = is_known;
    csv->known_context = context;
}

void lb_csv_expect(struct lb_csv *csv, int cells)
{
    csv->expected = cells;
}

char lb_csv_separator(const struct lb_csv *csv)
{
    return csv->window.separator;
}

lb_status lb_csv_open(struct lb_csv **out, struct lb_bytes *stream, char separator, struct lb_error *err)
{
    *out = NULL;
    struct lb_csv *csv = calloc(1, sizeof *csv);
    if (!csv)
        return lb_fail_nomem(err);
    csv_init(&csv->parser, 0);
    csv_set_blk_size(&csv->parser, 4096);
    lb_status status = lb_csv_window_open(&csv->window, stream, separator, err);
    if (status)
        lb_csv_free(csv);
    else
        *out = csv;
    return status;
}

void lb_csv_free(struct lb_csv *csv)
{
    if (!csv)
        return;
    csv_free(&csv->parser);
    lb_csv_window_free(&csv->window);
    free(csv->text);
    free(csv);
}
