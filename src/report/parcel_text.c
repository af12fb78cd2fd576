#include "report/parcel_text.h"

#include "base/decimal.h"
#include "base/money.h"

#include <string.h>

void lb_parcel_table_begin(struct lb_parcel_table *table, const struct lb_parcel *parcel,
                           const struct lb_supplier *supplier)
{
    const struct lb_table_column columns[LB_PARCEL_COLUMNS] = {
        {.align = LB_RIGHT},
        {.heading = supplier->label, .may_shrink = true},
        {.heading = "for", .may_shrink = true},
        {.heading = "their code", .may_shrink = true},
        {.heading = "a pack", .align = LB_RIGHT},
        {.heading = parcel->currency, .align = LB_RIGHT},
        {0}};
    *table = (struct lb_parcel_table){.parcel = parcel};
    memcpy(table->columns, columns, sizeof columns);
    table->table = (struct lb_table){
        .columns = table->columns, .column_count = LB_PARCEL_COLUMNS, .indent = LB_PAGE_INDENT};
}

static void pack_cell(struct lb_table *table, const struct lb_parcel *parcel,
                      const struct lb_part_offer *offer)
{
    struct lb_buf words = {0};
    lb_money_print(&words, offer->price, offer->currency);
    if (strcmp(offer->currency, parcel->currency) != 0)
        lb_buf_printf(&words, " %s", offer->currency);
    lb_page_cell(table, LB_PLAIN, &words);
}

void lb_parcel_table_line(struct lb_parcel_table *t, const struct lb_parcel_line *line,
                          const struct lb_parcel_row *row)
{
    struct lb_buf words = {0};
    lb_table_cellf(&t->table, LB_PLAIN, "%lld ×", (long long)line->packs);
    lb_buf_printf(&words, "%s %s", row->part->brand, row->part->number);
    if (row->offer->pack_quantity != LB_MILLION) {
        lb_buf_puts(&words, ", pack of ");
        lb_page_amount(&words, row->offer->pack_quantity, row->unit);
    }
    lb_page_cell(&t->table, LB_PLAIN, &words);
    lb_table_cell(&t->table, LB_PLAIN, row->what_for);
    lb_table_cell(&t->table, LB_DIM, row->offer->supplier_code);
    pack_cell(&t->table, t->parcel, row->offer);
    lb_page_money_cell(&t->table, line->amount, t->parcel->currency);
    lb_table_cell(&t->table, LB_DIM, row->marks);
}

static void sum_row(struct lb_parcel_table *t, const char *what, int64_t minor)
{
    const char *const cells[] = {"", what, "", "", ""};
    for (size_t i = 0; i < sizeof cells / sizeof *cells; i++)
        lb_table_cell(&t->table, LB_DIM, cells[i]);
    lb_page_money_cell(&t->table, minor, t->parcel->currency);
    lb_table_cell(&t->table, LB_DIM, "");
}

void lb_parcel_table_end(struct lb_parcel_table *t, const struct lb_page *page)
{
    if (!t->parcel->shipping_not_stated && !t->parcel->below_shipping)
        sum_row(t, "shipping", t->parcel->shipping);
    if (t->parcel->tax)
        sum_row(t, "tax", t->parcel->tax);
    sum_row(t, "parcel", t->parcel->total);
    lb_page_print(page, &t->table);
}

void lb_page_parcel_notes(const struct lb_page *page, const struct lb_parcel *parcel,
                          const struct lb_supplier *supplier)
{
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

void lb_page_total(const struct lb_page *page, const char *what, enum lb_tone tone,
                   const struct lb_basket_total *total)
{
    const struct {
        const char *words;
        int64_t minor;
    } parts[] = {{"goods", total->goods}, {"shipping", total->shipping}, {"tax", total->tax}};
    struct lb_buf words = {0};
    lb_buf_printf(&words, "%s ", what);
    lb_page_money(&words, total->total, total->currency);
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        lb_buf_printf(&words, "%s%s ", i ? ", " : ": ", parts[i].words);
        lb_money_print(&words, parts[i].minor, total->currency);
    }
    if (total->deposits) {
        lb_buf_puts(&words, "; deposits apart ");
        lb_money_print(&words, total->deposits, total->currency);
    }
    lb_page_say_words(page, tone, &words);
}
