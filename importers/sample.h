/* The first rows of a file, read ahead so that one can look at their cells, and then handed out once more.
 * Private to importers/. */
#ifndef LB_IMPORTERS_SAMPLE_H
#define LB_IMPORTERS_SAMPLE_H

#include "base/arena.h"
#include "importers/csv_reader.h"

#include <stdbool.h>

enum { LB_SAMPLE_ROWS = 200, LB_SAMPLE_BYTES = 4 << 20 };

struct lb_sample {
    struct lb_arena texts;
    struct lb_csv_record records[LB_SAMPLE_ROWS]; /* `count` of them, with their faults */
    int count, at;
};

LB_CHECK lb_status lb_sample_take(struct lb_sample *sample, struct lb_csv *csv, struct lb_error *err);
/* The next of them, in the order of the file; false: all were handed out. */
bool lb_sample_next(struct lb_sample *sample, struct lb_csv_record *record);
void lb_sample_free(struct lb_sample *sample); /* NULL is legal */

#endif
