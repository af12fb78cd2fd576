/* What convert.c and convert_number.c share. */
#ifndef LB_IMPORTERS_CONVERT_PRIVATE_H
#define LB_IMPORTERS_CONVERT_PRIVATE_H

#include "base/buf.h"
#include "importers/convert.h"

enum { LB_WHENS = 64 };

struct lb_converter {
    const struct lb_kind *kind;
    int currency, unit; /* the columns that others lean on, -1: none */
    struct lb_value fallbacks[LB_KIND_COLUMNS_MAX];
    struct lb_buf scratch[LB_KIND_COLUMNS_MAX]; /* text that is not as the cell has it */
    struct lb_buf whens[LB_WHENS]; /* conditions accepted before, by hash: catalogues repeat a few of them */
    struct lb_buf reason, remark;
    /* of the row at hand */
    const char *row_unit, *row_currency;
    const char *unit_from_quantity; /* the unit that a quantity brought along where the row states none */
    bool faulty;
};

/* Each notes the fault; `text` is quoted, long text cut. */
void lb_convert_refuse(struct lb_converter *c, const char *format, ...) LB_PRINTF(2, 3);
void lb_convert_refuse_cell(struct lb_converter *c, const char *text, const char *why);

/* The columns whose value is an integer. */
void lb_convert_number(struct lb_converter *c, const struct lb_column *column, const char *text,
                       struct lb_value *out);

#endif
