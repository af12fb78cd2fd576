/* What catalogues and suppliers say: formats.md §1, suppliers to contents, and rates.
 *
 * Keys: a row keeps its identity while its price, stock or description changes; what tells two offers of one
 * part apart (the pack, the supplier's code, the least order) is part of it, else one would replace the
 * other. */
#include "importers/kinds_tables.h"

#include <stddef.h>

static const char *const statuses[] = {"current", "discontinued", NULL};
static const char *const yes_no[] = {"yes", "no", NULL};
static const char *const relations[] = {"same", "instead", NULL};

enum { APPLICATIONS_FROM = 4, APPLICATIONS_TO = 5 };

const struct lb_column lb_suppliers_columns[] = {
    {.name = "supplier", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "currency", .type = LB_CELL_CURRENCY, .required = true},
    {.name = "name", .type = LB_CELL_TEXT},
    {.name = "minimum_order", .type = LB_CELL_MONEY},
    {.name = "ship_days", .type = LB_CELL_COUNT},
    {.name = "tax_percent", .type = LB_CELL_SHARE},
};

/* Amounts in the currency of the supplier, which another file names. */
const struct lb_column lb_shipping_columns[] = {
    {.name = "supplier", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "goods_from", .type = LB_CELL_AMOUNT, .required = true, .key = true},
    {.name = "charge", .type = LB_CELL_AMOUNT, .required = true},
};

const struct lb_column lb_parts_columns[] = {
    {.name = "brand", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "part_number", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "part_type", .type = LB_CELL_WORD, .required = true},
    {.name = "description", .type = LB_CELL_TEXT},
    {.name = "spec", .type = LB_CELL_TEXT},
    {.name = "unit", .type = LB_CELL_UNIT, .fallback = "each"},
    {.name = "gtin", .type = LB_CELL_GTIN},
    {.name = "status", .type = LB_CELL_CHOICE, .choices = statuses, .fallback = "current"},
    {.name = "maker_part", .type = LB_CELL_CHOICE, .choices = yes_no},
};

const struct lb_column lb_offers_columns[] = {
    {.name = "supplier", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "brand", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "part_number", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "price", .type = LB_CELL_MONEY, .required = true},
    {.name = "currency", .type = LB_CELL_CURRENCY, .required = true, .key = true},
    {.name = "supplier_code", .type = LB_CELL_TEXT, .key = true},
    {.name = "pack_quantity", .type = LB_CELL_QUANTITY, .fallback = "1", .key = true},
    {.name = "minimum_packs",
     .type = LB_CELL_COUNT,
     .fallback = "1",
     .key = true,
     .bound = LB_BOUND_ABOVE_ZERO},
    {.name = "stock", .type = LB_CELL_COUNT},
    {.name = "lead_days", .type = LB_CELL_COUNT},
    {.name = "core_deposit", .type = LB_CELL_MONEY},
    {.name = "valid_to", .type = LB_CELL_DATE},
};

/* quantity stays not stated: stated, it replaces the component's. */
const struct lb_column lb_applications_columns[] = {
    {.name = "brand", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "part_number", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "make", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "model", .type = LB_CELL_TEXT, .required = true, .key = true},
    [APPLICATIONS_FROM] = {.name = "built_from", .type = LB_CELL_DATE, .key = true},
    [APPLICATIONS_TO] = {.name = "built_to", .type = LB_CELL_DATE, .key = true},
    {.name = "when", .type = LB_CELL_WHEN, .key = true},
    {.name = "position", .type = LB_CELL_POSITION, .key = true},
    {.name = "quantity", .type = LB_CELL_QUANTITY},
};

const struct lb_column lb_crossrefs_columns[] = {
    {.name = "brand", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "part_number", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "other_brand", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "other_number", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "relation", .type = LB_CELL_CHOICE, .required = true, .choices = relations, .key = true},
    {.name = "note", .type = LB_CELL_TEXT},
};

const struct lb_column lb_supersessions_columns[] = {
    {.name = "brand", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "part_number", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "new_brand", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "new_number", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "quantity", .type = LB_CELL_QUANTITY, .fallback = "1"},
    {.name = "group", .type = LB_CELL_WORD, .key = true},
    {.name = "date", .type = LB_CELL_DATE},
};

const struct lb_column lb_contents_columns[] = {
    {.name = "brand", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "part_number", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "item_type", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "item_brand", .type = LB_CELL_TEXT, .key = true},
    {.name = "item_number", .type = LB_CELL_TEXT, .key = true},
    {.name = "item_spec", .type = LB_CELL_TEXT, .key = true},
    {.name = "quantity", .type = LB_CELL_QUANTITY, .fallback = "1"},
};

const struct lb_column lb_rates_columns[] = {
    {.name = "currency", .type = LB_CELL_CURRENCY, .required = true, .key = true},
    {.name = "in", .type = LB_CELL_CURRENCY, .required = true, .key = true},
    {.name = "rate", .type = LB_CELL_RATE, .required = true},
    {.name = "date", .type = LB_CELL_DATE, .key = true},
};

const char *lb_applications_check(const struct lb_value *values, int *column)
{
    return lb_built_check(values, APPLICATIONS_FROM, APPLICATIONS_TO, column);
}
