/* What the first rows show beyond doubt: one way of writing numbers for the whole file, one of writing dates
 * for each column. A way survives when it reads every cell that any way can read; where two survivors read a
 * cell differently, the column is left out and named. What is as convert.c has it comes first and adds
 * nothing. */
#include "importers/scheme_infer.h"
#include "base/text.h"

#include "base/decimal.h"

#include <stdlib.h>
#include <string.h>

static const struct style {
    char decimal, thousands;
    const char *convert;
} styles[] = {
    {'.', 0, NULL},
    {',', 0, "decimal comma"},
    {',', '.', "decimal comma; thousands ."},
    {'.', ',', "thousands ,"},
    {',', ' ', "decimal comma; thousands space"},
    {',', '\'', "decimal comma; thousands '"},
    {'.', '\'', "thousands '"},
    {'.', ' ', "thousands space"},
};

static const char *const patterns[] = {NULL,    "D.M.Y", "D/M/Y", "M/D/Y",     "D-M-Y",
                                       "M-D-Y", "Y/M/D", "Y.M.D", "YMD",       "M/Y",
                                       "M.Y",   "Y/M",   "Y.M",   "Y年M月D日", "Y年M月"};

enum { STYLES = sizeof styles / sizeof *styles, PATTERNS = sizeof patterns / sizeof *patterns };

bool lb_infer_is_number(const struct lb_scheme_entry *entry)
{
    switch (entry->type->type) {
    case LB_CELL_QUANTITY:
    case LB_CELL_NUMBER:
    case LB_CELL_COUNT:
    case LB_CELL_MONEY:
        return entry->map.column >= 0;
    default:
        return false;
    }
}

/* The cell's number in one style, canonical; false: it cannot be read so. */
static bool read_number(const struct lb_scheme_entry *entry, const char *text, const struct style *style,
                        struct lb_buf *out)
{
    const char *rest = "";
    struct lb_buf plain = {0};
    lb_buf_clear(out);
    lb_infer_amount(entry, text, &plain);
    const char *why =
        entry->type->type == LB_CELL_QUANTITY
            ? lb_recast_pack(out, lb_buf_text(&plain), style->decimal, style->thousands)
            : lb_recast_number(out, lb_buf_text(&plain), style->decimal, style->thousands, &rest);
    int64_t value = 0;
    bool good = !why && !*rest && lb_decimal_parse(lb_buf_text(out), &value);
    if (!why && entry->type->type == LB_CELL_QUANTITY)
        good = true;
    if (good && entry->type->type == LB_CELL_COUNT)
        good = value % LB_MILLION == 0;
    lb_buf_free(&plain);
    return good;
}

static bool read_date(const char *text, const char *pattern, struct lb_buf *out)
{
    struct lb_interval days;
    lb_buf_clear(out);
    if (!pattern)
        lb_buf_puts(out, text);
    else if (lb_recast_date(out, text, pattern, 0))
        return false;
    return lb_date_parse(lb_buf_text(out), &days) == NULL;
}

static bool read_in(const struct lb_scheme_entry *entry, const char *text, int way, struct lb_buf *out)
{
    return entry->type->type == LB_CELL_DATE ? read_date(text, patterns[way], out)
                                             : read_number(entry, text, &styles[way], out);
}

/* The ways, as bits, that read this cell. */
static unsigned ways_of(const struct lb_scheme_entry *entry, const char *text)
{
    struct lb_buf out = {0};
    unsigned ways = 0;
    int count = entry->type->type == LB_CELL_DATE ? PATTERNS : STYLES;
    for (int way = 0; way < count; way++)
        if (read_in(entry, text, way, &out))
            ways |= 1u << way;
    lb_buf_free(&out);
    return ways;
}

/* The next cell of a column that says something; NULL: no more. */
static const char *next_cell(const struct lb_sample *sample, const struct lb_scheme_entry *entry, int *row)
{
    while (*row < sample->count) {
        const struct lb_csv_record *record = &sample->records[(*row)++];
        if (!record->fault && *record->cells[entry->map.column] &&
            !lb_infer_is_on_request(record->cells[entry->map.column]))
            return record->cells[entry->map.column];
    }
    return NULL;
}

/* Of `ways`, those that read every cell that can be read at all; *read counts these, *seen all. */
static unsigned survivors(const struct lb_sample *sample, const struct lb_scheme_entry *entry, unsigned ways,
                          int *read, int *seen)
{
    const char *text;
    for (int row = 0; (text = next_cell(sample, entry, &row)); ++*seen) {
        unsigned own = ways_of(entry, text);
        *read += own != 0;
        ways &= own ? own : ~0u;
    }
    return ways;
}

static int first_of(unsigned ways)
{
    int way = 0;
    while (ways && !(ways & 1u << way))
        way++;
    return way;
}

/* A cell that two of the ways read differently; NULL: none. */
static const char *find_ambiguous(const struct lb_sample *sample, const struct lb_scheme_entry *entry,
                                  unsigned ways)
{
    const char *text, *found = NULL;
    struct lb_buf one = {0}, other = {0};
    for (int row = 0; !found && (text = next_cell(sample, entry, &row));) {
        if (!read_in(entry, text, first_of(ways), &one))
            continue;
        for (int way = 0; way < 16 && !found; way++) {
            int64_t a = 0, b = 0;
            if (!(ways & 1u << way) || !read_in(entry, text, way, &other))
                continue;
            bool numbers =
                lb_decimal_parse(lb_buf_text(&one), &a) && lb_decimal_parse(lb_buf_text(&other), &b);
            if (numbers && entry->type->type != LB_CELL_DATE
                    ? a != b
                    : strcmp(lb_buf_text(&one), lb_buf_text(&other)) != 0)
                found = text;
        }
    }
    lb_buf_free(&one);
    lb_buf_free(&other);
    return found;
}

static lb_status leave_out(struct lb_scheme *scheme, size_t i, const char *cell, struct lb_error *err)
{
    const struct lb_mapping_column map = scheme->entries.at[i].map;
    struct lb_buf why = {0};
    if (cell)
        lb_buf_printf(
            &why, "may be %s, but cells such as \"%.*s\" can be read in two ways; a profile can say which",
            map.field, LB_FIT(cell, 40));
    else
        lb_buf_printf(&why, "may be %s, but none of its first cells is one", map.field);
    lb_status status = why.failed ? lb_fail_nomem(err)
                                  : lb_scheme_doubt(scheme, map.heading, map.column, lb_buf_text(&why), err);
    lb_buf_free(&why);
    lb_scheme_remove(scheme, &scheme->entries.at[i]);
    return status;
}

static lb_status add_inferred(struct lb_scheme *scheme, struct lb_scheme_entry *entry, const char *convert,
                              struct lb_error *err)
{
    entry->map.inferred = true;
    return lb_scheme_add_convert(scheme, entry, convert, err);
}

/* A heading by its own name means what it says; its cells at most show how they are written. */
static bool is_own(const struct lb_scheme_entry *entry)
{
    return entry->map.by == LB_MAPPED_BY_NAME;
}

static lb_status infer_date(struct lb_scheme *scheme, size_t *i, const struct lb_sample *sample,
                            struct lb_error *err)
{
    int read = 0, seen = 0;
    struct lb_scheme_entry *entry = &scheme->entries.at[*i];
    unsigned ways = survivors(sample, entry, (1u << PATTERNS) - 1, &read, &seen);
    const char *cell = find_ambiguous(sample, entry, ways);
    if (cell || (seen && (!read || !ways)))
        return is_own(entry) ? LB_OK : leave_out(scheme, (*i)--, cell, err);
    if (!ways || !patterns[first_of(ways)])
        return LB_OK;
    char convert[40] = "date ";
    strncat(convert, patterns[first_of(ways)], sizeof convert - 6);
    return add_inferred(scheme, entry, convert, err);
}

static lb_status infer_number(struct lb_scheme *scheme, size_t *i, unsigned ways,
                              const struct lb_sample *sample, struct lb_error *err)
{
    struct lb_scheme_entry *entry = &scheme->entries.at[*i];
    int read = 0, seen = 0;
    survivors(sample, entry, 0, &read, &seen);
    const char *cell = find_ambiguous(sample, entry, ways);
    if (cell || (seen && !read && !entry->type->required))
        return is_own(entry) ? LB_OK : leave_out(scheme, (*i)--, cell, err);
    const char *convert = ways ? styles[first_of(ways)].convert : NULL;
    return convert ? add_inferred(scheme, entry, convert, err) : LB_OK;
}

lb_status lb_scheme_infer(struct lb_scheme *scheme, const struct lb_sample *sample, struct lb_error *err)
{
    unsigned ways = (1u << STYLES) - 1;
    int read = 0, seen = 0;
    lb_status status = lb_infer_money(scheme, sample, err);
    for (size_t i = 0; i < scheme->entries.count; i++)
        if (lb_infer_is_number(&scheme->entries.at[i]))
            ways = survivors(sample, &scheme->entries.at[i], ways, &read, &seen);
    for (size_t i = 0; !status && i < scheme->entries.count; i++) {
        struct lb_scheme_entry *entry = &scheme->entries.at[i];
        if (lb_infer_is_number(entry))
            status = infer_number(scheme, &i, ways, sample, err);
        else if (entry->type->type == LB_CELL_DATE && entry->map.column >= 0)
            status = infer_date(scheme, &i, sample, err);
    }
    return status;
}
