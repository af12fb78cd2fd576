/* The first rows of a file as they were understood: what the index would show. Kept by a dry run.
 *
 *     if (!lb_preview_add(&preview, row, mapping)) …                 // out of memory
 *     preview.rows[0].texts[2] is what the first row says to preview.columns[2]
 *     lb_preview_free(&preview);
 */
#ifndef LB_CATALOG_PREVIEW_H
#define LB_CATALOG_PREVIEW_H

#include "importers/mapping.h"
#include "importers/read.h"

enum { LB_PREVIEW_ROWS = 10, LB_PREVIEW_COLUMNS = 3 * LB_KIND_COLUMNS_MAX };

struct lb_preview_row {
    long line;
    const char **texts; /* one a column; "": not stated, or only what an empty cell means */
};

struct lb_preview {
    struct lb_arena texts;
    const struct lb_column *columns[LB_PREVIEW_COLUMNS]; /* each name once */
    size_t column_count;
    struct lb_preview_row rows[LB_PREVIEW_ROWS];
    size_t row_count;
};

/* Does nothing once it is full. What the mapping fixes for every row is left out; a NULL mapping: everything
 * that is stated is shown. */
bool lb_preview_add(struct lb_preview *preview, const struct lb_row *row, const struct lb_mapping *mapping);
void lb_preview_free(struct lb_preview *preview);

#endif
