/* What comes, from whom, when, for what; what need not come; what all of it costs. */
#include "report/buy_page.h"
#include "report/parcel_text.h"

#include "base/decimal.h"

#include <string.h>

void buy_put_line(struct lb_buf *out, const struct lb_purchase *purchase, size_t need)
{
    if (purchase->kit_count > 1)
        lb_buf_printf(out, "%s ", purchase->kits[purchase->needs[need].kit]->name);
    lb_buf_printf(out, "%d", purchase->needs[need].line->number);
}

static const char *type_of(const struct lb_purchase *purchase, size_t need)
{
    return purchase->needs[need].line->need->article.part_type;
}

void buy_put_for(struct lb_buf *out, const struct buy_page *page, uint32_t part)
{
    const struct lb_purchase *purchase = page->purchase;
    const char *type = NULL;
    for (size_t n = 0; n < purchase->market.need_count; n++) {
        if (!lb_uses_serves(page->uses, purchase, n, part))
            continue;
        if (type && strcmp(type, type_of(purchase, n)) != 0)
            lb_buf_printf(out, " %s", type);
        lb_buf_puts(out, type ? ", " : "");
        buy_put_line(out, purchase, n);
        type = type_of(purchase, n);
    }
    if (type)
        lb_buf_printf(out, " %s", type);
}

/* What of a line is taken for granted. */
static const char *marks_of(const struct lb_basket_offer *offer)
{
    static const char *const marks[2][2] = {{"", "+"}, {"*", "*+"}};
    return marks[offer->stock < 0][offer->lead_days < 0];
}

static void put_line(struct lb_parcel_table *table, const struct buy_page *page,
                     const struct lb_parcel_line *line)
{
    const struct lb_purchase *purchase = page->purchase;
    struct lb_buf words = {0};
    buy_put_for(&words, page, line->part);
    const struct lb_parcel_row row = {.part = purchase->parts[line->part],
                                      .offer = purchase->offers[line->part][line->offer],
                                      .unit = lb_buy_unit(purchase, line->part),
                                      .what_for = lb_buf_text(&words),
                                      .marks =
                                          marks_of(&purchase->market.parts[line->part].offers[line->offer])};
    lb_parcel_table_line(table, line, &row);
    table->table.failed = table->table.failed || words.failed;
    lb_buf_free(&words);
}

static bool sends_late(const struct lb_purchase *purchase, const struct lb_parcel *parcel)
{
    for (size_t i = 0; i < parcel->line_count; i++)
        if (purchase->market.parts[parcel->lines[i].part].offers[parcel->lines[i].offer].lead_days < 0)
            return true;
    return false;
}

static void put_arrival(const struct buy_page *page, const struct lb_parcel *parcel)
{
    const struct lb_purchase *purchase = page->purchase;
    bool on_its_way = purchase->market.suppliers[parcel->supplier].ship_days < 0,
         sent = sends_late(purchase, parcel);
    struct lb_buf words = {0};
    lb_buf_puts(&words, "Here by ");
    lb_page_day(&words, lb_buy_day(purchase, parcel->days));
    lb_buf_puts(&words, on_its_way || sent ? " at the earliest; not stated: " : "");
    lb_buf_puts(&words, on_its_way ? "how long it is on its way" : "");
    lb_buf_puts(&words, on_its_way && sent ? ", and " : "");
    lb_buf_puts(&words, sent ? "when the lines marked + are sent" : "");
    lb_buf_putc(&words, '.');
    lb_page_say_words(&page->page, parcel->days_not_stated ? LB_YELLOW : LB_PLAIN, &words);
}

static void put_rate(const struct buy_page *page, const struct lb_rate *rate)
{
    struct lb_buf words = {0};
    lb_buf_printf(&words, "Counted at 1 %s = ", rate->currency);
    lb_decimal_print(&words, rate->rate);
    lb_buf_printf(&words, " %s.", rate->in);
    lb_page_say_words(&page->page, LB_DIM, &words);
}

/* Each rate once: the parcel's, and those of lines in other currencies. */
static void put_rates(const struct buy_page *page, const struct lb_parcel *parcel)
{
    const struct lb_market *market = &page->purchase->market;
    const char *shown = parcel->currency;
    for (size_t i = 0; i < parcel->line_count; i++) {
        const struct lb_parcel_line *line = &parcel->lines[i];
        const char *currency = market->parts[line->part].offers[line->offer].currency;
        const struct lb_rate *rate = lb_basket_rate(market, currency, parcel->currency);
        if (rate && rate != parcel->rate && strcmp(currency, shown) != 0) {
            put_rate(page, rate);
            shown = currency;
        }
    }
    if (parcel->rate)
        put_rate(page, parcel->rate);
}

static void put_parcel(const struct buy_page *page, const struct lb_parcel *parcel)
{
    const struct lb_supplier *supplier = &page->purchase->market.suppliers[parcel->supplier];
    struct lb_parcel_table table;
    lb_parcel_table_begin(&table, parcel, supplier);
    for (size_t i = 0; i < parcel->line_count; i++)
        put_line(&table, page, &parcel->lines[i]);
    lb_parcel_table_end(&table, &page->page);
    put_arrival(page, parcel);
    if (parcel->stock_not_stated)
        lb_page_say(&page->page, LB_DIM,
                    "Not stated: whether they have enough of the lines marked *; taken as enough.");
    lb_page_parcel_notes(&page->page, parcel, supplier);
    put_rates(page, parcel);
}

void buy_parcels(const struct buy_page *page)
{
    const struct lb_basket *basket = page->purchase->basket;
    for (size_t i = 0; i < basket->parcel_count; i++) {
        lb_buf_putc(page->page.out, '\n');
        put_parcel(page, &basket->parcels[i]);
    }
}

static void add_shelf(const struct buy_page *page, struct lb_table *table, uint32_t part)
{
    const struct lb_purchase *purchase = page->purchase;
    struct lb_buf words = {0};
    lb_page_amount(&words, page->uses->parts[part].from_shelf, lb_buy_unit(purchase, part));
    lb_page_cell(table, LB_PLAIN, &words);
    lb_table_cellf(table, LB_PLAIN, "%s %s, from the shelf%s", purchase->parts[part]->brand,
                   purchase->parts[part]->number, lb_buy_opened(purchase, part) ? ", opened" : "");
    buy_put_for(&words, page, part);
    lb_page_cell(table, LB_PLAIN, &words);
}

static void add_box(const struct buy_page *page, struct lb_table *table, size_t need)
{
    const struct lb_purchase *purchase = page->purchase;
    const char *between = "in the box of ";
    struct lb_buf words = {0};
    lb_page_amount(&words, purchase->basket->answers[need].covered,
                   purchase->needs[need].line->need->article.unit);
    lb_page_cell(table, LB_PLAIN, &words);
    for (size_t i = 0; i < page->uses->holdings.count; i++) {
        const struct lb_use_holding *holding = &page->uses->holdings.at[i];
        const struct lb_part *box = purchase->parts[holding->part];
        if (holding->need != need)
            continue;
        lb_buf_printf(&words, "%s%s %s", between, box->brand, box->number);
        between = ", ";
    }
    lb_page_cell(table, LB_PLAIN, &words);
    buy_put_line(&words, purchase, need);
    lb_buf_printf(&words, " %s", type_of(purchase, need));
    lb_page_cell(table, LB_PLAIN, &words);
}

void buy_here(const struct buy_page *page)
{
    static const struct lb_table_column columns[] = {
        {.align = LB_RIGHT}, {.may_shrink = true}, {.heading = "for", .may_shrink = true}};
    const struct lb_market *market = &page->purchase->market;
    struct lb_table table = {.columns = columns, .column_count = 3, .indent = LB_PAGE_INDENT};
    for (size_t part = 0; part < market->part_count; part++)
        if (page->uses->parts[part].from_shelf)
            add_shelf(page, &table, (uint32_t)part);
    for (size_t n = 0; n < market->need_count; n++)
        if (page->purchase->basket->answers[n].covered)
            add_box(page, &table, n);
    if (table.cells.count)
        lb_page_heading(&page->page, "Need not be bought");
    lb_page_print(&page->page, &table);
}

void buy_totals(const struct buy_page *page)
{
    const struct lb_basket *basket = page->purchase->basket;
    bool foreign = false;
    if (!basket->parcel_count)
        return;
    lb_buf_putc(page->page.out, '\n');
    for (size_t i = 0; i < basket->total_count; i++)
        foreign |= strcmp(basket->totals[i].currency, basket->total.currency) != 0;
    for (size_t i = 0; foreign && i < basket->total_count; i++)
        lb_page_total(&page->page, "Charged", LB_PLAIN, &basket->totals[i]);
    lb_page_total(&page->page, "Together", LB_BOLD, &basket->total);
    if (!basket->premium)
        return;
    struct lb_buf words = {0};
    buy_put_money(&words, page, basket->premium);
    lb_page_say(&page->page, LB_DIM,
                "Parts that you prefer less were counted %s dearer than they are, and still taken.",
                lb_buf_text(&words));
    page->page.out->failed = page->page.out->failed || words.failed;
    lb_buf_free(&words);
}
