#include "importers/convert_private.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "base/money.h"
#include "base/text.h"

#include <ctype.h>

/* From one unit into another of the same dimension in one rounding where the factors allow, so that 1 gal in
 * mL is not first cut to microlitres. */
static int64_t between(struct lb_unit from, struct lb_unit to, int64_t value)
{
    int64_t up, down;
    if (!__builtin_mul_overflow(from.factor, to.divisor, &up) &&
        !__builtin_mul_overflow(from.divisor, to.factor, &down))
        return lb_decimal_muldiv(value, up, down);
    return lb_decimal_muldiv(lb_unit_to_base(from, value), to.divisor, to.factor);
}

static bool is_word(const char *text)
{
    for (; *text; text++)
        if (!isalpha((unsigned char)*text) && (unsigned char)*text < 0x80)
            return false;
    return true;
}

/* The row states its unit: the cell's own must be one of the same dimension. */
static void to_row_unit(struct lb_converter *c, const char *text, const char *written, int64_t *value)
{
    struct lb_unit row = lb_unit_find(c->row_unit, LB_COUNT);
    struct lb_unit own = lb_unit_find(written, row.dimension);
    bool same = own.dimension == row.dimension;
    if (same && own.dimension == LB_OTHER_UNIT)
        same = lb_text_equal_nocase(written, c->row_unit);
    if (same)
        *value = between(own, row, *value);
    else
        lb_convert_refuse_cell(c, text, "cannot be counted in the unit that the row states");
}

/* No unit cell: the cell's own unit becomes the row's, in the base unit where the program knows it. */
static void to_base_unit(struct lb_converter *c, const char *text, const char *written, int64_t *value)
{
    struct lb_unit own = lb_unit_find(written, LB_COUNT);
    if (own.dimension != LB_OTHER_UNIT) {
        *value = lb_unit_to_base(own, *value);
        c->unit_from_quantity = lb_unit_symbol(own.dimension);
    } else if (!is_word(written)) {
        lb_convert_refuse_cell(c, text, "is not a number");
    } else if (c->unit < 0) {
        lb_convert_refuse_cell(c, text, "has a unit that is not known");
    } else {
        c->unit_from_quantity = written;
    }
}

static void read_quantity(struct lb_converter *c, const char *text, int64_t *value)
{
    const char *written;
    if (!lb_decimal_parse_prefix(text, value, &written))
        lb_convert_refuse_cell(c, text, lb_decimal_refusal(text));
    else if (*written && c->row_unit && *c->row_unit)
        to_row_unit(c, text, written, value);
    else if (*written)
        to_base_unit(c, text, written, value);
}

static void read_decimal(struct lb_converter *c, const char *text, int64_t *value)
{
    if (!lb_decimal_parse(text, value))
        lb_convert_refuse_cell(c, text, lb_decimal_refusal(text));
}

static void read_count(struct lb_converter *c, const char *text, int64_t *value)
{
    read_decimal(c, text, value);
    if (!c->faulty && *value % LB_MILLION != 0)
        lb_convert_refuse_cell(c, text, "is not a whole number");
    *value /= LB_MILLION;
}

static void read_by(struct lb_converter *c, const struct lb_column *column, const char *text, int64_t *value)
{
    const char *why = NULL;
    switch (column->type) {
    case LB_CELL_QUANTITY:
        read_quantity(c, text, value);
        break;
    case LB_CELL_COUNT:
        read_count(c, text, value);
        break;
    case LB_CELL_MONEY:
        why = lb_money_parse(text, c->row_currency, value);
        break;
    case LB_CELL_MEASURE:
        why = lb_measure_parse(text, (enum lb_dimension)column->dimension, value);
        break;
    case LB_CELL_SHARE:
        why = lb_measure_parse(text, LB_SHARE, value);
        break;
    default:
        read_decimal(c, text, value);
        break;
    }
    if (why)
        lb_convert_refuse_cell(c, text, why);
}

static enum lb_bound bound_of(const struct lb_column *column)
{
    if (column->bound != LB_BOUND_TYPE)
        return (enum lb_bound)column->bound;
    switch (column->type) {
    case LB_CELL_QUANTITY:
    case LB_CELL_RATE:
        return LB_BOUND_ABOVE_ZERO;
    case LB_CELL_COUNT:
    case LB_CELL_MONEY:
    case LB_CELL_AMOUNT:
    case LB_CELL_SHARE:
        return LB_BOUND_NOT_NEGATIVE;
    default:
        return LB_BOUND_TYPE;
    }
}

void lb_convert_number(struct lb_converter *c, const struct lb_column *column, const char *text,
                       struct lb_value *out)
{
    int64_t value = 0;
    read_by(c, column, text, &value);
    if (c->faulty)
        return;
    enum lb_bound bound = bound_of(column);
    if (bound == LB_BOUND_ABOVE_ZERO && value <= 0)
        lb_convert_refuse(c, "%s must be above 0", column->name);
    else if (bound == LB_BOUND_NOT_NEGATIVE && value < 0)
        lb_convert_refuse(c, "%s must not be negative", column->name);
    *out = (struct lb_value){.type = LB_VALUE_INTEGER, .integer = value};
}
