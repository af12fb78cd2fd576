/* An order as CSV: our own columns, or those of the supplier's list with its headings, its separator, its
 * decimal comma, and as far as that can be undone what was done to its cells. */
#include "base/cell.h"
#include "base/decimal.h"
#include "base/money.h"
#include "base/text.h"
#include "purchase/order_text.h"

#include <string.h>

__extension__ typedef __int128 wide;

enum field {
    SUPPLIER_CODE,
    BRAND,
    PART_NUMBER,
    DESCRIPTION,
    PACKS,
    PACK_QUANTITY,
    PRICE,
    CURRENCY,
    AMOUNT,
    KITS,
    OUR_OWN, /* how many columns an order has without a profile */
    SUPPLIER = OUR_OWN,
    PART_TYPE,
    SPEC,
    UNIT,
    CORE_DEPOSIT,
    FIELD_COUNT
};

static const char *const names[FIELD_COUNT] = {"supplier_code", "brand",         "part_number", "description",
                                               "packs",         "pack_quantity", "price",       "currency",
                                               "amount",        "kits",          "supplier",    "part_type",
                                               "spec",          "unit",          "core_deposit"};

struct column {
    const char *heading;
    enum field field;
    const struct lb_recast *recast; /* NULL: written as it is */
    bool with_currency;             /* the price stands with its currency in one cell */
};

enum { COLUMNS_MAX = 2 * FIELD_COUNT };

struct layout {
    struct column columns[COLUMNS_MAX];
    size_t count;
    char separator;
};

static struct column *find_heading(struct layout *layout, const char *heading)
{
    for (size_t i = 0; i < layout->count; i++)
        if (lb_text_same_words(layout->columns[i].heading, heading))
            return &layout->columns[i];
    return NULL;
}

static bool has(const struct layout *layout, enum field field)
{
    for (size_t i = 0; i < layout->count; i++)
        if (layout->columns[i].field == field)
            return true;
    return false;
}

static void add(struct layout *layout, const char *heading, enum field field, const struct lb_recast *recast)
{
    if (layout->count < COLUMNS_MAX)
        layout->columns[layout->count++] = (struct column){heading, field, recast, false};
}

/* A heading that says two things (price and currency) is there once. */
static void add_row(struct layout *layout, const struct lb_profile_row *row)
{
    int field = 0;
    while (field < FIELD_COUNT && strcmp(names[field], row->column->name) != 0)
        field++;
    if (field == FIELD_COUNT || !*row->heading)
        return;
    struct column *same = find_heading(layout, row->heading);
    if (same)
        same->with_currency |= (same->field == PRICE && field == CURRENCY);
    else
        add(layout, row->heading, (enum field)field, row->recast);
    if (field == PRICE && row->recast->per_heading && !find_heading(layout, row->recast->per_heading))
        add(layout, row->recast->per_heading, PACK_QUANTITY,
            row->recast); /* what the price is for: the pack */
}

/* A list by which nothing can be ordered is none. */
static bool lay_out_by_profile(struct layout *layout, const struct lb_profile *profile)
{
    for (size_t i = 0; i < profile->rows.count; i++)
        add_row(layout, &profile->rows.at[i]);
    if (!has(layout, SUPPLIER_CODE) && !has(layout, PART_NUMBER))
        return false;
    const char *packs = profile->packs ? profile->packs : "packs";
    if (!find_heading(layout, packs))
        add(layout, packs, PACKS, NULL);
    layout->separator = profile->separator ? profile->separator : ',';
    return true;
}

static void lay_out(struct layout *layout, const struct lb_profile *profile)
{
    *layout = (struct layout){.separator = ','};
    if (profile && lay_out_by_profile(layout, profile))
        return;
    *layout = (struct layout){.separator = ','};
    for (int field = 0; field < OUR_OWN; field++)
        add(layout, names[field], (enum field)field, NULL);
}

static void put_decimal(struct lb_buf *out, const char *number, const struct column *column)
{
    bool comma = column->recast && column->recast->decimal == ',';
    for (; *number; number++)
        lb_buf_putc(out, *number == '.' && comma ? ',' : *number);
}

static void put_number(struct lb_buf *out, int64_t millionths, const struct column *column)
{
    struct lb_buf text = {0};
    lb_decimal_print(&text, millionths);
    put_decimal(out, lb_buf_text(&text), column);
    out->failed |= text.failed;
    lb_buf_free(&text);
}

static void put_money(struct lb_buf *out, int64_t minor, const struct order_row *row,
                      const struct column *column)
{
    struct lb_buf text = {0};
    lb_money_print(&text, minor, row->parcel->currency);
    put_decimal(out, lb_buf_text(&text), column);
    out->failed |= text.failed;
    lb_buf_free(&text);
}

/* A list whose prices are for 100 gets the price of 100, when that is a whole number of cents; else none:
 * nobody's money is rounded. */
static void put_price(struct lb_buf *out, const struct order_row *row, const struct column *column)
{
    const struct lb_recast *recast = column->recast;
    wide price = row->line->price;
    if (recast && recast->per > 0 && row->pack > 0) {
        price *= (wide)recast->per * LB_MILLION;
        if (price % row->pack != 0 || price / row->pack > INT64_MAX)
            return;
        price /= row->pack;
    }
    put_money(out, (int64_t)price, row, column);
    if (recast && recast->per_text && row->pack != LB_MILLION) {
        lb_buf_puts(out, " / ");
        put_number(out, row->pack, column);
    }
    if (column->with_currency)
        lb_buf_printf(out, " %s", row->parcel->currency);
}

/* The cell that the step made this text of, where that can be told. */
static const char *undo(const struct lb_recast_step *step, const char *text)
{
    if (step->verb == LB_RECAST_PREFIX && strncmp(text, step->text, strlen(step->text)) == 0)
        return text + strlen(step->text);
    for (size_t i = 0; step->verb == LB_RECAST_MAP && i < step->count; i++)
        if (strcmp(step->pairs[i].to, text) == 0 && strcmp(step->pairs[i].from, "*") != 0)
            return step->pairs[i].from;
    return text;
}

static void put_text(struct lb_buf *out, const char *text, const struct column *column)
{
    for (size_t i = column->recast ? column->recast->step_count : 0; text && i-- > 0;)
        text = undo(&column->recast->steps[i], text);
    lb_buf_puts(out, text ? text : "");
}

static void put_value(struct lb_buf *out, const struct order_row *row, const struct column *column)
{
    const struct lb_part *part = row->part;
    switch (column->field) {
    case SUPPLIER_CODE:
        put_text(out, row->offer->supplier_code, column);
        break;
    case BRAND:
        put_text(out, part->brand, column);
        break;
    case PART_NUMBER:
        put_text(out, part->number, column);
        break;
    case DESCRIPTION:
        put_text(out, part->description, column);
        break;
    case PACKS:
        lb_buf_printf(out, "%lld", (long long)row->line->packs);
        break;
    case PACK_QUANTITY:
        put_number(out, row->pack, column);
        break;
    case PRICE:
        put_price(out, row, column);
        break;
    case CURRENCY:
        put_text(out, row->parcel->currency, column);
        break;
    case AMOUNT:
        put_money(out, row->line->amount, row, column);
        break;
    case KITS:
        put_text(out, row->kits, column);
        break;
    case SUPPLIER:
        put_text(out, row->supplier->name, column);
        break;
    case PART_TYPE:
        put_text(out, part->part_type, column);
        break;
    case SPEC:
        put_text(out, part->spec.text, column);
        break;
    case UNIT:
        put_text(out, lb_part_unit(part), column);
        break;
    case CORE_DEPOSIT:
        if (row->line->packs > 0 && row->line->deposit)
            put_money(out, row->line->deposit / row->line->packs, row, column);
        break;
    case FIELD_COUNT:
        break;
    }
}

static void end_cell(struct lb_buf *out, const struct layout *layout, size_t column, const char *text)
{
    if (column)
        lb_buf_putc(out, layout->separator);
    lb_cell_write_text(out, text, layout->separator);
}

void order_write_csv(struct lb_buf *out, const struct order_rows *rows, const struct lb_profile *profile)
{
    struct layout layout;
    struct lb_buf cell = {0};
    lay_out(&layout, profile);
    for (size_t c = 0; c < layout.count; c++)
        end_cell(out, &layout, c, layout.columns[c].heading);
    lb_buf_puts(out, "\r\n");
    for (size_t i = 0; i < rows->count; i++) {
        for (size_t c = 0; c < layout.count; c++) {
            lb_buf_clear(&cell);
            put_value(&cell, &rows->at[i], &layout.columns[c]);
            end_cell(out, &layout, c, lb_buf_text(&cell));
        }
        lb_buf_puts(out, "\r\n");
    }
    out->failed |= cell.failed;
    lb_buf_free(&cell);
}
