#include "report/table.h"

#include "base/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define GAP    2   /* blanks between columns */
#define NARROW 8   /* a column that shrinks breaks between words down to this */
#define LEAST  2   /* and through words down to this: one wide character */
#define WIDEST 512 /* nothing is laid out wider, so that blanks cannot eat the memory */

/* The marks of direction (Unicode TR 9): U+200E, U+200F, U+202A to U+202E, U+2066 to U+2069. Left in, they
 * turn what stands after them on the line. */
static bool is_direction(const unsigned char *at)
{
    return at[0] == 0xE2 &&
           ((at[1] == 0x80 && (at[2] == 0x8E || at[2] == 0x8F || (at[2] >= 0xAA && at[2] <= 0xAE))) ||
            (at[1] == 0x81 && at[2] >= 0xA6 && at[2] <= 0xA9));
}

/* C0, DEL and C1 (U+0080 to U+009F): what terminals act on. The line feed is left to the layout. */
static size_t control_size(const char *at)
{
    unsigned char first = (unsigned char)at[0], second = (unsigned char)at[first ? 1 : 0];
    if ((first < 0x20 && first != '\n') || first == 0x7F)
        return 1;
    if (is_direction((const unsigned char *)at))
        return 3;
    return first == 0xC2 && second >= 0x80 && second < 0xA0 ? 2 : 0;
}

static void put_inert(struct lb_buf *out, const char *text)
{
    while (*text) {
        size_t size = control_size(text);
        if (size)
            lb_buf_putc(out, ' ');
        else
            lb_buf_append(out, text, size = 1);
        text += size;
    }
}

void lb_style_put(struct lb_buf *out, const struct lb_style *style, enum lb_tone tone, const char *text)
{
    /* ECMA-48 §8.3.117, SGR */
    static const char *const codes[] = {"", "\033[1m", "\033[2m", "\033[31m", "\033[33m", "\033[32m"};
    bool coloured = style->colour && tone != LB_PLAIN && *text;
    if (coloured)
        lb_buf_puts(out, codes[tone]);
    put_inert(out, text);
    if (coloured)
        lb_buf_puts(out, "\033[0m");
}

static void put_blanks(struct lb_buf *out, int count)
{
    while (count-- > 0)
        lb_buf_putc(out, ' ');
}

static size_t without_blanks(const char *text, size_t length)
{
    while (length > 0 && text[length - 1] == ' ')
        length--;
    return length;
}

/* The first line of `text` that fits in `width`: its length in bytes; *rest is where the next one begins, or
 * NULL. */
static size_t first_line(const char *text, int width, const char **rest)
{
    size_t end = strcspn(text, "\n");
    size_t fit = lb_text_fit(text, width);
    if (fit >= end) {
        *rest = text[end] ? text + end + 1 : NULL;
        return without_blanks(text, end);
    }
    size_t at = fit;
    while (at > 0 && text[at] != ' ')
        at--;
    size_t length = without_blanks(text, at);
    if (length == 0) { /* one long word */
        for (int more = width + 1; fit == 0; more++)
            fit = lb_text_fit(text, more);
        length = at = fit;
    }
    at += strspn(text + at, " ");
    *rest = text[at] ? text + at : NULL;
    return length;
}

/* A line of a cell, cut out and measured. */
struct piece {
    struct lb_buf text;
    int width;
};

static void take_piece(struct piece *piece, const char *text, size_t length)
{
    lb_buf_clear(&piece->text);
    lb_buf_append(&piece->text, text, length);
    piece->width = lb_text_width(lb_buf_text(&piece->text));
}

void lb_style_wrap(struct lb_buf *out, const struct lb_style *style, enum lb_tone tone, int column, int hang,
                   const char *text)
{
    int width = style->width > 0 && style->width < WIDEST ? style->width : WIDEST;
    struct lb_buf inert = {0};
    struct piece piece = {0};
    put_inert(&inert, text);
    const char *at = lb_buf_text(&inert);
    while (at) {
        const char *rest;
        size_t length = first_line(at, width - column > NARROW ? width - column : NARROW, &rest);
        take_piece(&piece, at, length);
        lb_style_put(out, style, tone, lb_buf_text(&piece.text));
        lb_buf_putc(out, '\n');
        if (rest)
            put_blanks(out, hang);
        column = hang;
        at = rest;
    }
    out->failed = out->failed || inert.failed || piece.text.failed;
    lb_buf_free(&inert);
    lb_buf_free(&piece.text);
}

void lb_table_cell(struct lb_table *table, enum lb_tone tone, const char *text)
{
    struct lb_buf inert = {0};
    put_inert(&inert, text ? text : "");
    const char *copy = lb_arena_text(&table->texts, lb_buf_text(&inert), inert.length);
    if (!copy || inert.failed || !LB_PUSH(&table->cells, ((struct lb_cell){copy, tone})))
        table->failed = true;
    lb_buf_free(&inert);
}

void lb_table_cellf(struct lb_table *table, enum lb_tone tone, const char *format, ...)
{
    char *text = NULL;
    va_list args;
    va_start(args, format);
    int length = vasprintf(&text, format, args);
    va_end(args);
    if (length < 0)
        table->failed = true;
    else
        lb_table_cell(table, tone, text);
    if (length >= 0)
        free(text);
}

/* What one column is given. */
struct lane {
    int width; /* 0: empty throughout, left out */
    int word;  /* its longest word */
};

/* The widest of the stretches of `text` between the characters in `breaks`. */
static int widest(const char *text, const char *breaks, struct piece *piece)
{
    int width = 0;
    while (*text) {
        size_t length = strcspn(text, breaks);
        take_piece(piece, text, length);
        width = piece->width > width ? piece->width : width;
        text += length + (text[length] != '\0');
    }
    return width < WIDEST ? width : WIDEST;
}

static void widen(struct lane *lane, const char *text, struct piece *piece)
{
    int width = widest(text, "\n", piece), word = widest(text, "\n ", piece);
    lane->width = width > lane->width ? width : lane->width;
    lane->word = word > lane->word ? word : lane->word;
}

static int total(const struct lane *lanes, size_t count, int indent)
{
    int sum = indent, shown = 0;
    for (size_t i = 0; i < count; i++) {
        sum += lanes[i].width;
        shown += lanes[i].width > 0;
    }
    return sum + (shown > 1 ? (shown - 1) * GAP : 0);
}

/* Takes columns off the widest lane that may give some, until the table fits or none can. `through_words`:
 * also where a word must be broken. */
static void shrink(const struct lb_table *table, struct lane *lanes, int width, bool through_words)
{
    int excess = total(lanes, table->column_count, table->indent) - width;
    while (excess > 0) {
        struct lane *giver = NULL;
        for (size_t i = 0; i < table->column_count; i++) {
            int floor = through_words ? LEAST : lanes[i].word > NARROW ? lanes[i].word : NARROW;
            if (table->columns[i].may_shrink && lanes[i].width > floor &&
                (!giver || lanes[i].width > giver->width))
                giver = &lanes[i];
        }
        if (!giver)
            return;
        giver->width--;
        excess--;
    }
}

static bool has_headings(const struct lb_table *table)
{
    for (size_t i = 0; i < table->column_count; i++)
        if (table->columns[i].heading && *table->columns[i].heading)
            return true;
    return false;
}

static void measure(const struct lb_table *table, struct lane *lanes, const struct lb_style *style,
                    struct piece *piece)
{
    for (size_t i = 0; i < table->cells.count; i++)
        widen(&lanes[i % table->column_count], table->cells.at[i].text, piece);
    for (size_t i = 0; i < table->column_count; i++)
        if (lanes[i].width > 0 && table->columns[i].heading)
            widen(&lanes[i], table->columns[i].heading, piece);
    if (style->width <= 0)
        return;
    shrink(table, lanes, style->width, false);
    shrink(table, lanes, style->width, true);
}

/* One line of one cell; `owed` is how many blanks stand before it, so that no line ends in blanks. Advances
 * *text. */
static void put_cell_line(struct lb_buf *out, const struct lb_style *style,
                          const struct lb_table_column *column, const struct lane *lane, enum lb_tone tone,
                          const char **text, struct piece *piece, int *owed)
{
    int width = 0;
    if (*text) {
        const char *rest;
        take_piece(piece, *text, first_line(*text, lane->width, &rest));
        *text = rest;
        width = piece->width;
    }
    int pad = lane->width > width ? lane->width - width : 0;
    if (width > 0) {
        put_blanks(out, *owed + (column->align == LB_RIGHT ? pad : 0));
        lb_style_put(out, style, tone, lb_buf_text(&piece->text));
        *owed = column->align == LB_RIGHT ? 0 : pad;
    } else {
        *owed += pad;
    }
    *owed += GAP;
}

/* Prints one row; `rest` has room for a pointer a column. */
static void put_row(struct lb_buf *out, const struct lb_style *style, const struct lb_table *table,
                    const struct lane *lanes, const struct lb_cell *cells, const char **rest,
                    struct piece *piece)
{
    bool more = true;
    for (size_t i = 0; i < table->column_count; i++)
        rest[i] = lanes[i].width > 0 ? cells[i].text : NULL;
    while (more && !out->failed) {
        int owed = table->indent;
        more = false;
        for (size_t i = 0; i < table->column_count; i++) {
            if (lanes[i].width > 0)
                put_cell_line(out, style, &table->columns[i], &lanes[i], cells[i].tone, &rest[i], piece,
                              &owed);
            more = more || rest[i];
        }
        lb_buf_putc(out, '\n');
    }
}

static void put_rows(struct lb_buf *out, const struct lb_style *style, const struct lb_table *table,
                     const struct lane *lanes, struct lb_cell *row, const char **rest, struct piece *piece)
{
    if (has_headings(table)) {
        for (size_t i = 0; i < table->column_count; i++)
            row[i] = (struct lb_cell){table->columns[i].heading ? table->columns[i].heading : "", LB_DIM};
        put_row(out, style, table, lanes, row, rest, piece);
    }
    for (size_t at = 0; at < table->cells.count; at += table->column_count) {
        for (size_t i = 0; i < table->column_count; i++)
            row[i] = at + i < table->cells.count ? table->cells.at[at + i] : (struct lb_cell){"", LB_PLAIN};
        put_row(out, style, table, lanes, row, rest, piece);
    }
}

void lb_table_print(const struct lb_table *table, struct lb_buf *out, const struct lb_style *style)
{
    if (table->failed)
        out->failed = true;
    if (table->failed || !table->cells.count || !table->column_count)
        return;
    struct piece piece = {0};
    struct lane *lanes = calloc(table->column_count, sizeof *lanes);
    struct lb_cell *row = calloc(table->column_count, sizeof *row);
    const char **rest = calloc(table->column_count, sizeof *rest);
    if (lanes && row && rest) {
        measure(table, lanes, style, &piece);
        put_rows(out, style, table, lanes, row, rest, &piece);
    } else {
        out->failed = true;
    }
    out->failed = out->failed || piece.text.failed;
    lb_buf_free(&piece.text);
    free(lanes);
    free(row);
    free(rest);
}

void lb_table_free(struct lb_table *table)
{
    lb_arena_free(&table->texts);
    free(table->cells.at);
    table->cells.at = NULL;
    table->cells.count = table->cells.room = 0;
}
