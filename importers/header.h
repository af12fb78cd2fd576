/* The heading row: which kinds of file it makes, and where their columns are. Private to importers/. */
#ifndef LB_IMPORTERS_HEADER_H
#define LB_IMPORTERS_HEADER_H

#include "base/arena.h"
#include "base/error.h"
#include "importers/csv_reader.h"
#include "importers/kinds.h"
#include "importers/read.h"
#include "importers/scheme.h"

struct lb_header {
    struct lb_arena arena;
    const char **names; /* as written; `count` of them, empty ones at the end dropped */
    int count;
    const struct lb_kind *kinds[3]; /* the one with most required columns first */
    int kind_count;
    int columns[3][LB_KIND_COLUMNS_MAX]; /* per kind and its column: the 0-based column of the file, or -1 */
    const struct lb_profile *profile;    /* borrowed; NULL: none */
    struct lb_scheme scheme; /* without entries: every heading is a column's own name, or nothing */
};

/* The headings, and by profile or lexicon which columns they may stand for. LB_DATA: it cannot be read, the
 * profile does not fit. `name` is the file's. Free it even after a failure. */
LB_CHECK lb_status lb_header_read(struct lb_header *header, const struct lb_csv_record *record,
                                  const char *name, const struct lb_read_options *options,
                                  struct lb_error *err);
/* Then the kinds and their columns, the scheme's conversions read. LB_DATA: no kind, two kinds, or a column
 * twice. */
LB_CHECK lb_status lb_header_settle(struct lb_header *header, long line, const char *name,
                                    const struct lb_read_options *options, struct lb_error *err);
/* Once per column that no kind knows. */
void lb_header_warn(const struct lb_header *header, const struct lb_row_sink *sink);
/* The 0-based column of the file that stands for that column, or -1. */
int lb_header_column(const struct lb_header *header, const char *name);
/* It is there, or fixed for every row. */
bool lb_header_has(const struct lb_header *header, const char *name);
/* Does the file's column `c` stand for that column? */
bool lb_header_is(const struct lb_header *header, int c, const char *name);
/* How the file is read; its lists live in the header's arena. */
LB_CHECK lb_status lb_header_mapping(struct lb_header *header, const struct lb_read_options *options,
                                     char separator, struct lb_mapping *out, struct lb_error *err);
void lb_header_free(struct lb_header *header);

#endif
