#include "importers/show.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "base/money.h"

#include <inttypes.h>

static void show_measure(struct lb_buf *out, int64_t value, enum lb_dimension dimension)
{
    lb_decimal_print(out, value);
    lb_buf_printf(out, " %s", lb_unit_symbol(dimension));
}

static void show_integer(struct lb_buf *out, const struct lb_column *column, int64_t value,
                         const char *currency)
{
    switch (column->type) {
    case LB_CELL_MONEY:
        lb_money_print(out, value, currency ? currency : "");
        break;
    case LB_CELL_COUNT:
        lb_buf_printf(out, "%" PRId64, value);
        break;
    case LB_CELL_MEASURE:
        show_measure(out, value, (enum lb_dimension)column->dimension);
        break;
    case LB_CELL_SHARE:
        show_measure(out, value, LB_SHARE);
        break;
    default:
        lb_decimal_print(out, value);
    }
}

void lb_value_show(struct lb_buf *out, const struct lb_column *column, const struct lb_value *value,
                   const char *currency)
{
    if (value->type == LB_VALUE_TEXT)
        lb_buf_puts(out, value->text);
    else if (value->type == LB_VALUE_INTEGER)
        show_integer(out, column, value->integer, currency);
}
