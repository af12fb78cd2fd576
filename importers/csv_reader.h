/* Delimited text -> records, one at a time, in bounded memory: the rules of RFC 4180 over libcsv, with what
 * real files need besides: a byte-order mark, `;` tab `|`, lone CR, physical line numbers, and a stray quote
 * that costs one line instead of the rest of the file. Not an encoding detector (UTF-8 only) and not a judge
 * of cells.
 *
 *     if (lb_csv_open(&csv, bytes, 0, &err) == LB_OK)
 *         while ((status = lb_csv_next(csv, &record, &err)) == LB_OK && record.line > 0) …
 *     lb_csv_free(csv);
 */
#ifndef LB_IMPORTERS_CSV_READER_H
#define LB_IMPORTERS_CSV_READER_H

#include "base/error.h"
#include "importers/bytes.h"

#include <stdbool.h>
#include <stddef.h>

enum {
    LB_CSV_RECORD_MAX = 1 << 20, /* bytes of one record */
    LB_CSV_CELLS_MAX = 1024,     /* cells of one record that are kept */
};

/* Borrowed until the next call. */
struct lb_csv_record {
    long line;                /* the physical line where it starts, from 1; 0: the file has ended */
    int count;                /* cells; 0 when the record has a fault */
    const char *const *cells; /* NUL-terminated, blanks at both ends dropped, quoted or not */
    const char *raw;          /* the bytes as read, without the line end; not NUL-terminated */
    size_t raw_length;
    const char *fault; /* why this record cannot be used, in words; NULL: it can */
    int column;        /* 1-based cell of the fault, 0: the whole record */
    bool known;        /* lb_csv_pass_known took it: it has no cells */
};

struct lb_csv;

/* `separator` 0: told from the first line. The stream is borrowed. */
LB_CHECK lb_status lb_csv_open(struct lb_csv **out, struct lb_bytes *stream, char separator,
                               struct lb_error *err);
/* The next record that is not blank. A failure is the stream's own. */
LB_CHECK lb_status lb_csv_next(struct lb_csv *csv, struct lb_csv_record *record, struct lb_error *err);
/* From now on a record with fewer cells has a fault, and one with more unless the surplus is empty. */
void lb_csv_expect(struct lb_csv *csv, int cells);
/* From now on asks `is_known` of every sound record before it is taken apart: what is known is passed by. */
void lb_csv_pass_known(struct lb_csv *csv,
                       bool (*is_known)(void *context, long line, const char *raw, size_t length),
                       void *context);
/* The separator, told or given; known once a record was read. */
char lb_csv_separator(const struct lb_csv *csv);
void lb_csv_free(struct lb_csv *csv);

#endif
