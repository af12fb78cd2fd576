/* The kinds of file that formats.md §1 names: one table of columns, the single definition that the reader,
 * the converter, the schema test and the error messages share. A kind's name is also its table in the index.
 *
 *     const struct lb_kind *kind = lb_kind_find("fastenings");
 *     for (int i = 0; i < kind->column_count; i++) puts(kind->columns[i].name);
 */
#ifndef LB_IMPORTERS_KINDS_H
#define LB_IMPORTERS_KINDS_H

#include <stdbool.h>
#include <stdint.h>

enum { LB_KIND_COLUMNS_MAX = 24 };
enum { LB_SYNONYM_WORDS = 4 }; /* on each side of a row of synonyms, at the most */

enum lb_cell_type {
    LB_CELL_TEXT, /* as written, blanks at both ends dropped */
    LB_CELL_WORD, /* a name that other rows refer to (part_type, component, platform …): lower case, blanks
                     folded */
    LB_CELL_CHOICE,   /* one of `choices`, lower case */
    LB_CELL_QUANTITY, /* > 0, millionths; a unit after the number is converted to the row's dimension */
    LB_CELL_NUMBER,   /* any decimal, millionths */
    LB_CELL_COUNT,    /* whole number >= 0 */
    LB_CELL_MONEY,    /* >= 0; minor units of the row's `currency` column */
    LB_CELL_AMOUNT,   /* >= 0, millionths of a currency unit that another file names */
    LB_CELL_CURRENCY, /* ISO 4217 code, upper case */
    LB_CELL_RATE,     /* > 0, millionths */
    LB_CELL_DATE,     /* ISO 8601, kept as text, checked */
    LB_CELL_WHEN,     /* a condition, kept as text, checked */
    LB_CELL_POSITION, /* kept as text, checked */
    LB_CELL_UNIT,     /* a unit name, kept as text */
    LB_CELL_MEASURE,  /* a number with a unit of `dimension`, millionths of its base unit */
    LB_CELL_SHARE,    /* percent >= 0, millionths of a percent point */
    LB_CELL_STEP,     /* `VERB NAME`: two or more words, lower case, blanks folded */
    LB_CELL_VERBS,    /* a verb pair: exactly two words, lower case */
    LB_CELL_YES,      /* `yes`, `no` or words (kept as text) */
    LB_CELL_GTIN,     /* kept as text; a wrong check digit is a warning, not a refusal */
};

/* Which numbers make sense in a column beyond what its type says. */
enum lb_bound { LB_BOUND_TYPE, LB_BOUND_NOT_NEGATIVE, LB_BOUND_ABOVE_ZERO };

struct lb_column {
    const char *name;
    enum lb_cell_type type;
    bool required;              /* the column must be there and its cell stated */
    unsigned char dimension;    /* enum lb_dimension, for LB_CELL_MEASURE */
    const char *const *choices; /* NULL-terminated, for LB_CELL_CHOICE */
    const char *fallback;       /* what an empty cell means, as it would be written; NULL: stays not stated */
    bool key;                   /* part of what makes the row the same row in the next edition */
    unsigned char bound;        /* enum lb_bound, narrower than the type's own */
};

/* One converted cell. Text is borrowed from the reader until the sink returns. */
struct lb_value {
    enum { LB_VALUE_NULL, LB_VALUE_INTEGER, LB_VALUE_TEXT } type;
    int64_t integer;
    const char *text;
};

struct lb_kind {
    const char *name; /* "parts", "offers" … : formats.md's name and the table's */
    int column_count;
    const struct lb_column *columns;
    bool shares; /* parts, offers, applications: may share a file */
    bool ours; /* rules: the program writes such files itself, with lb_cell_write_text, so that an apostrophe
                  before a sign of a formula is no part of the cell */
    /* A check across the cells of a row that no column can make alone (jobs: one of component and circuit);
     * NULL: none. Returns NULL or the reason in words; *column is the 0-based column it is about. */
    const char *(*check)(const struct lb_value *values, int *column);
};

/* Whether its values are integers. */
bool lb_column_is_number(const struct lb_column *column);

/* All kinds, in the order of formats.md. */
extern const struct lb_kind lb_kinds[];
extern const int lb_kind_count;
const struct lb_kind *lb_kind_find(const char *name);
/* The 0-based column of that name, or -1. */
int lb_kind_column(const struct lb_kind *kind, const char *name);

#endif
