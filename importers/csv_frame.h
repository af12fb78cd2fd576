/* Where records end, in a window that slides over the file. Private to csv_reader.c and csv_frame.c.
 *
 * Framing follows the rules that libcsv splits by, and refuses what libcsv would quietly mend: text after a
 * closing quote, and a quote that is never closed. */
#ifndef LB_IMPORTERS_CSV_FRAME_H
#define LB_IMPORTERS_CSV_FRAME_H

#include "base/error.h"
#include "importers/bytes.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct lb_csv_window {
    struct lb_bytes *stream; /* borrowed */
    char *bytes;             /* start..end are read and not yet used */
    size_t start, end;
    uint64_t base; /* offset in the file of bytes[0] */
    uint64_t
        distrust; /* records that start before this offset end with their line: a runaway quote went by */
    long line;    /* of bytes[start]; 0: nothing read yet */
    bool at_end, after_cr, skip_line;
    char separator;
};

/* One record: borrowed bytes without the line end, and what is wrong with it. */
struct lb_csv_frame {
    const char *raw;
    size_t length;
    long line, lines; /* where it starts (0: the file has ended), how many it covers */
    const char *fault;
    size_t fault_at; /* offset in raw; SIZE_MAX: the whole record */
    bool quoted;     /* a quoted cell is in it */
};

LB_CHECK lb_status lb_csv_window_open(struct lb_csv_window *window, struct lb_bytes *stream, char separator,
                                      struct lb_error *err);
void lb_csv_window_free(struct lb_csv_window *window);
/* The next record that is not blank. */
LB_CHECK lb_status lb_csv_frame_next(struct lb_csv_window *window, struct lb_csv_frame *frame,
                                     struct lb_error *err);
/* The 1-based cell that an offset in the raw bytes lies in. */
int lb_csv_column_at(const char *raw, size_t offset, char separator);

#endif
