/* What it costs, parcel by parcel. */
#include "report/kit_page.h"

#include "base/decimal.h"
#include "base/money.h"

static void money_cell(struct lb_table *table, int64_t minor, const char *currency)
{
    struct lb_buf words = {0};
    lb_money_print(&words, minor, currency);
    lb_table_cell(table, LB_PLAIN, lb_buf_text(&words));
    table->failed = table->failed || words.failed;
    lb_buf_free(&words);
}

/* What the part is counted in: as the line that it was chosen for. */
static const char *unit_of(const struct lb_kit *kit, const struct lb_part *part)
{
    for (size_t i = 0; i < kit->line_count; i++) {
        const struct lb_line *line = &kit->lines[i];
        if (line->chosen != LB_NO_NAME && line->candidates[line->chosen].part == part)
            return line->need->article.unit;
    }
    return "each";
}

static void add_line(const struct lb_kit *kit, struct lb_table *table, const struct lb_parcel *parcel,
                     const struct lb_parcel_line *line)
{
    const struct lb_part *part = kit->bought[line->item];
    const struct lb_part_offer *offer = &part->offers[line->offer];
    struct lb_buf words = {0};
    lb_table_cellf(table, LB_PLAIN, "%lld ×", (long long)line->packs);
    lb_buf_printf(&words, "%s %s", part->brand, part->number);
    if (offer->pack_quantity != LB_MILLION) {
        lb_buf_puts(&words, ", pack of ");
        lb_page_amount(&words, offer->pack_quantity, unit_of(kit, part));
    }
    lb_table_cell(table, LB_PLAIN, lb_buf_text(&words));
    table->failed = table->failed || words.failed;
    lb_buf_free(&words);
    lb_table_cell(table, LB_DIM, offer->supplier_code);
    money_cell(table, offer->price, offer->currency);
    money_cell(table, line->amount, parcel->currency);
}

static void sum_row(struct lb_table *table, const char *what, int64_t minor, const char *currency)
{
    lb_table_cell(table, LB_PLAIN, "");
    lb_table_cell(table, LB_DIM, what);
    lb_table_cell(table, LB_PLAIN, "");
    lb_table_cell(table, LB_PLAIN, "");
    money_cell(table, minor, currency);
}

static void put_parcel_notes(const struct lb_page *page, const struct lb_parcel *parcel)
{
    const struct lb_supplier *supplier = &page->kit->suppliers[parcel->supplier];
    struct lb_buf words = {0};
    if (parcel->below_minimum) {
        lb_page_money(&words, supplier->minimum_order, supplier->currency);
        lb_page_say(page, LB_YELLOW, "Below the minimum order of %s: as it stands, no parcel.",
                    lb_buf_text(&words));
        lb_buf_clear(&words);
    }
    if (parcel->below_shipping)
        lb_page_say(page, LB_YELLOW, "No shipping charge is stated for goods of so little value: no parcel.");
    if (parcel->shipping_not_stated)
        lb_page_say(page, LB_DIM, "Shipping is not stated; taken as nothing.");
    if (parcel->deposits) {
        lb_page_money(&words, parcel->deposits, parcel->currency);
        lb_page_say(page, LB_PLAIN, "Deposits apart: %s, back with the old part.", lb_buf_text(&words));
    }
    page->out->failed = page->out->failed || words.failed;
    lb_buf_free(&words);
}

static void put_parcel(const struct lb_page *page, const struct lb_parcel *parcel)
{
    const struct lb_table_column columns[] = {
        {.align = LB_RIGHT},
        {.heading = page->kit->suppliers[parcel->supplier].label, .may_shrink = true},
        {.heading = "their code", .may_shrink = true},
        {.heading = "a pack", .align = LB_RIGHT},
        {.heading = parcel->currency, .align = LB_RIGHT}};
    struct lb_table table = {.columns = columns, .column_count = 5, .indent = 2};
    for (size_t i = 0; i < parcel->line_count; i++)
        add_line(page->kit, &table, parcel, &parcel->lines[i]);
    if (!parcel->shipping_not_stated && !parcel->below_shipping)
        sum_row(&table, "shipping", parcel->shipping, parcel->currency);
    if (parcel->tax)
        sum_row(&table, "tax", parcel->tax, parcel->currency);
    sum_row(&table, "parcel", parcel->total, parcel->currency);
    lb_page_print(page, &table);
    put_parcel_notes(page, parcel);
}

static void put_total(const struct lb_page *page, const struct lb_basket_total *total)
{
    const struct {
        const char *words;
        int64_t minor;
    } parts[] = {{"goods", total->goods}, {"shipping", total->shipping}, {"tax", total->tax}};
    struct lb_buf words = {0};
    lb_buf_puts(&words, "Together ");
    lb_page_money(&words, total->total, total->currency);
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        lb_buf_printf(&words, "%s%s ", i ? ", " : ": ", parts[i].words);
        lb_money_print(&words, parts[i].minor, total->currency);
    }
    if (total->deposits) {
        lb_buf_puts(&words, "; deposits apart ");
        lb_money_print(&words, total->deposits, total->currency);
    }
    lb_page_say(page, LB_BOLD, "%s", lb_buf_text(&words));
    page->out->failed = page->out->failed || words.failed;
    lb_buf_free(&words);
}

static void put_unmet(const struct lb_page *page)
{
    const struct lb_kit *kit = page->kit;
    struct lb_buf words = {0};
    for (size_t i = 0; i < kit->basket->unmet_count; i++) {
        const struct lb_part *part = kit->bought[kit->basket->unmet[i]];
        lb_buf_printf(&words, "%s%s %s", i ? ", " : "", part->brand, part->number);
    }
    if (kit->basket->unmet_count)
        lb_page_say(page, LB_RED, "Not in these parcels, nobody can supply it: %s", lb_buf_text(&words));
    page->out->failed = page->out->failed || words.failed;
    lb_buf_free(&words);
}

void lb_page_cost(const struct lb_page *page)
{
    const struct lb_basket *basket = page->kit->basket;
    if (!basket->parcel_count && !basket->unmet_count)
        return;
    lb_page_heading(page, "Cost, each part where it is cheapest");
    for (size_t i = 0; i < basket->parcel_count; i++) {
        if (i)
            lb_buf_putc(page->out, '\n');
        put_parcel(page, &basket->parcels[i]);
    }
    if (basket->parcel_count)
        lb_buf_putc(page->out, '\n');
    for (size_t i = 0; i < basket->total_count; i++)
        put_total(page, &basket->totals[i]);
    put_unmet(page);
}
