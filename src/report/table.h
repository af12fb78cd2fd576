/* Text for people: aligned tables and wrapped sentences that fit a terminal. Columns that may shrink break
 * between words onto further lines; nothing is cut off. Not a layout engine, and no lines are drawn.
 *
 *     static const struct lb_table_column columns[] = {{.heading = "line", .align = LB_RIGHT}, {.heading =
 * "what", .may_shrink = true}}; struct lb_table table = {.columns = columns, .column_count = 2, .indent = 2};
 *     lb_table_cellf(&table, LB_BOLD, "%d", 7);
 *     lb_table_cell(&table, LB_PLAIN, "water pump");
 *     lb_table_print(&table, &out, &style);
 *     lb_table_free(&table);
 */
#ifndef LB_REPORT_TABLE_H
#define LB_REPORT_TABLE_H

#include "base/arena.h"
#include "base/buf.h"
#include "base/vec.h"

/* What the reader looks at; the program finds out, the library never asks the environment. */
struct lb_style {
    int width; /* columns; 0 or less: as wide as it takes */
    bool colour;
};

enum lb_tone { LB_PLAIN, LB_BOLD, LB_DIM, LB_RED, LB_YELLOW, LB_GREEN };

/* Appends `text` in a tone; without colour, the text alone. Control characters become blanks, here and in
 * tables and wrapped text: what a catalogue wrote must not steer a terminal. A line feed stays. */
void lb_style_put(struct lb_buf *out, const struct lb_style *style, enum lb_tone tone, const char *text);
/* Appends `text` broken between words: the first line follows what stands in the line already (`column`
 * columns of it), the others are indented by `hang`. Ends with a line feed. */
void lb_style_wrap(struct lb_buf *out, const struct lb_style *style, enum lb_tone tone, int column, int hang,
                   const char *text);

enum lb_align { LB_LEFT, LB_RIGHT };

struct lb_table_column {
    const char *heading; /* NULL or "": none; a table without any has no heading row */
    enum lb_align align;
    bool may_shrink;
};

struct lb_cell {
    const char *text;
    enum lb_tone tone;
};

/* Set columns, column_count and indent; the rest begins as zeros. */
struct lb_table {
    const struct lb_table_column *columns;
    size_t column_count;
    int indent;
    bool failed; /* out of memory */
    struct lb_arena texts;
    LB_VEC(struct lb_cell) cells;
};

/* Adds the next cell, row by row; `text` is copied, NULL is empty. A line feed in it breaks the line. */
void lb_table_cell(struct lb_table *table, enum lb_tone tone, const char *text);
void lb_table_cellf(struct lb_table *table, enum lb_tone tone, const char *format, ...) LB_PRINTF(3, 4);
/* Appends the table; a last row that is not full is filled up. Columns that are empty throughout are left
 * out. A table without cells appends nothing. Out of memory, in a cell or here, sets out->failed. */
void lb_table_print(const struct lb_table *table, struct lb_buf *out, const struct lb_style *style);
void lb_table_free(struct lb_table *table);

#endif
