/* What it costs, parcel by parcel. */
#include "report/kit_page.h"
#include "report/parcel_text.h"

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

static void put_parcel(const struct lb_page *page, const struct lb_parcel *parcel)
{
    const struct lb_supplier *supplier = &page->kit->suppliers[parcel->supplier];
    struct lb_parcel_table table;
    lb_parcel_table_begin(&table, parcel, supplier);
    for (size_t i = 0; i < parcel->line_count; i++) {
        const struct lb_part *part = page->kit->bought[parcel->lines[i].part];
        const struct lb_parcel_row row = {
            .part = part, .offer = &part->offers[parcel->lines[i].offer], .unit = unit_of(page->kit, part)};
        lb_parcel_table_line(&table, &parcel->lines[i], &row);
    }
    lb_parcel_table_end(&table, page);
    lb_page_parcel_notes(page, parcel, supplier);
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
        lb_page_total(page, "Together", LB_BOLD, &basket->totals[i]);
    put_unmet(page);
}
