/* What other choices would cost: other baskets, and what each choice of this one is worth. */
#include "report/buy_page.h"

#include "base/money.h"

static void add_point(const struct buy_page *page, struct lb_table *table, const struct lb_basket *point)
{
    const struct lb_basket *basket = page->purchase->basket;
    struct lb_buf words = {0};
    enum lb_tone tone = point == basket ? LB_BOLD : LB_PLAIN;
    lb_table_cellf(table, tone, "%zu parcel%s", point->parcel_count, lb_page_plural(point->parcel_count));
    lb_page_day(&words, lb_buy_day(page->purchase, point->days));
    lb_buf_puts(&words, lb_buy_late(point) ? " or later" : "");
    lb_page_cell(table, tone, &words);
    buy_put_money(&words, page, point->total.total);
    lb_page_cell(table, tone, &words);
    if (point == basket)
        lb_buf_puts(&words, "as above");
    else
        buy_put_dearer(&words, page, point->total.total - basket->total.total);
    lb_buf_puts(&words, point->proved ? "" : ", not proved");
    lb_page_cell(table, tone, &words);
}

void buy_front(const struct buy_page *page)
{
    static const struct lb_table_column columns[] = {{.align = LB_RIGHT},
                                                     {.heading = "all here by", .may_shrink = true},
                                                     {.heading = "costs", .align = LB_RIGHT},
                                                     {.may_shrink = true}};
    const struct lb_front *front = page->purchase->front;
    struct lb_table table = {.columns = columns, .column_count = 4, .indent = LB_PAGE_INDENT};
    if (!front || !page->purchase->basket->parcel_count)
        return;
    if (front->count) {
        lb_page_heading(&page->page, "Sooner, or in fewer parcels");
        for (size_t i = 0; i <= front->count; i++)
            add_point(page, &table, lb_buy_point(page->purchase, i));
        lb_page_print(&page->page, &table);
        lb_page_say(&page->page, LB_DIM, "To have another: --arrive-by DATE, --suppliers-at-most N");
    }
    if (!front->complete)
        lb_page_say(&page->page, LB_DIM,
                    "Whether others come sooner or in fewer parcels was not found out in time.");
    else if (!front->count)
        lb_page_say(&page->page, LB_DIM, "Nothing else comes sooner or in fewer parcels, at any price.");
}

/* "2 × Halvane HV-WP1120, Harbour Street Motor Factors" */
static void put_packs(struct lb_buf *out, const struct lb_purchase *purchase, uint32_t part, uint32_t offer,
                      int64_t packs)
{
    lb_buf_printf(out, "%lld × %s %s, %s", (long long)packs, purchase->parts[part]->brand,
                  purchase->parts[part]->number, lb_buy_supplier(purchase, part, offer)->label);
}

static void add_next(const struct buy_page *page, struct lb_table *table, const struct lb_next_best *next)
{
    const struct lb_purchase *purchase = page->purchase;
    const struct lb_basket_option *options = purchase->market.needs[next->need].options;
    uint32_t taken = purchase->basket->answers[next->need].option;
    struct lb_buf words = {0};
    buy_put_line(&words, purchase, next->need);
    lb_page_cell(table, LB_BOLD, &words);
    if (taken != UINT32_MAX)
        lb_buf_printf(&words, "%s %s", purchase->parts[options[taken].part]->brand,
                      purchase->parts[options[taken].part]->number);
    lb_page_cell(table, LB_PLAIN, &words);
    if (next->found)
        put_packs(&words, purchase, options[next->option].part, next->offer, next->packs);
    else
        lb_buf_puts(&words, "nothing else would do");
    lb_page_cell(table, next->found ? LB_PLAIN : LB_DIM, &words);
    if (next->found)
        buy_put_dearer(&words, page, next->dearer);
    lb_page_cell(table, LB_PLAIN, &words);
}

static void put_next(const struct buy_page *page)
{
    static const struct lb_table_column columns[] = {{.heading = "line", .align = LB_RIGHT},
                                                     {.heading = "bought", .may_shrink = true},
                                                     {.heading = "next best", .may_shrink = true},
                                                     {.heading = "in all", .align = LB_RIGHT}};
    const struct lb_reasons *reasons = page->purchase->reasons;
    struct lb_table table = {.columns = columns, .column_count = 4, .indent = LB_PAGE_INDENT};
    bool cheaper = false;
    if (!reasons->next_count)
        return;
    lb_page_heading(&page->page, "The next best, line by line");
    for (size_t i = 0; i < reasons->next_count; i++) {
        add_next(page, &table, &reasons->next[i]);
        cheaper |= reasons->next[i].found && reasons->next[i].dearer < 0;
    }
    lb_page_print(&page->page, &table);
    if (cheaper && lb_buy_prefers(page->purchase))
        lb_page_say(&page->page, LB_DIM, "What would be cheaper you prefer less.");
}

/* A basket that is not proved may be dearer than need be, so what it costs more is a limit. */
static void put_without(const struct buy_page *page, const struct lb_without *without)
{
    const char *label = page->purchase->market.suppliers[without->supplier].label;
    struct lb_buf words = {0};
    if (without->found) {
        lb_buf_printf(&words, "Without %s: ", label);
        lb_buf_puts(&words, without->proved ? "" : "at most ");
        buy_put_dearer(&words, page, without->dearer);
        lb_buf_putc(&words, '.');
    } else if (without->proved) {
        lb_buf_printf(&words, "It cannot be done without %s.", label);
    } else {
        lb_buf_printf(&words, "Without %s: not found out in time.", label);
    }
    lb_page_say_words(&page->page, LB_PLAIN, &words);
}

static void put_surplus(const struct buy_page *page, const struct lb_surplus *surplus)
{
    struct lb_buf words = {0};
    put_packs(&words, page->purchase, surplus->part, surplus->offer, surplus->packs);
    lb_buf_puts(&words, ", more than needed: ");
    if (surplus->saves < 0) {
        lb_buf_puts(&words, "without it there is no parcel.");
    } else {
        lb_buf_puts(&words, "it saves ");
        buy_put_money(&words, page, surplus->saves);
        lb_buf_putc(&words, '.');
    }
    lb_page_say_words(&page->page, LB_PLAIN, &words);
}

static void put_one_more(const struct buy_page *page, const struct lb_one_more *more)
{
    const struct lb_purchase *purchase = page->purchase;
    const struct lb_supplier *supplier = &purchase->market.suppliers[more->supplier];
    struct lb_buf words = {0};
    lb_buf_printf(&words, "%lld pack%s more of %s %s", (long long)more->packs,
                  lb_page_plural((size_t)more->packs), purchase->parts[more->part]->brand,
                  purchase->parts[more->part]->number);
    lb_buf_printf(&words, " from %s would make shipping ", supplier->label);
    if (more->charge)
        lb_page_money(&words, more->charge, supplier->currency);
    else
        lb_buf_puts(&words, "free");
    lb_buf_puts(&words, ": ");
    buy_put_dearer(&words, page, more->dearer);
    lb_buf_puts(&words, " in all.");
    lb_page_say_words(&page->page, LB_PLAIN, &words);
}

void buy_reasons(const struct buy_page *page)
{
    const struct lb_reasons *reasons = page->purchase->reasons;
    if (!reasons)
        return;
    put_next(page);
    if (reasons->without_count || reasons->surplus_count || reasons->one_more_count)
        lb_page_heading(&page->page, "What suppliers and packs are worth");
    for (size_t i = 0; i < reasons->without_count; i++)
        put_without(page, &reasons->without[i]);
    for (size_t i = 0; i < reasons->surplus_count; i++)
        put_surplus(page, &reasons->surplus[i]);
    for (size_t i = 0; i < reasons->one_more_count; i++)
        put_one_more(page, &reasons->one_more[i]);
}
