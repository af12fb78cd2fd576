#include "report/buy_text.h"

#include "report/buy_page.h"

#include "base/decimal.h"
#include "base/money.h"

#include <string.h>

void buy_put_money(struct lb_buf *out, const struct buy_page *page, int64_t minor)
{
    lb_page_money(out, minor, page->purchase->market.currency);
}

void buy_put_dearer(struct lb_buf *out, const struct buy_page *page, int64_t minor)
{
    if (minor)
        lb_money_print(out, minor < 0 ? -minor : minor, page->purchase->market.currency);
    lb_buf_puts(out, minor > 0 ? " dearer" : minor ? " cheaper" : "as dear");
}

static void put_names(struct lb_buf *out, const struct lb_purchase *purchase)
{
    for (size_t i = 0; i < purchase->kit_count; i++)
        lb_buf_printf(out, "%s%s", i ? ", " : "", purchase->kits[i]->name);
}

static bool limited(const struct lb_purchase_options *asked)
{
    return asked->arrive_by != LB_NO_DAY || asked->suppliers_at_most || asked->only_count ||
           asked->without_count;
}

/* "3.20 EUR (1.5 %)" */
static void put_slack(struct lb_buf *out, const struct buy_page *page, int64_t slack)
{
    int64_t total = page->purchase->basket->total.total,
            tenths = lb_decimal_muldiv(slack, 1000, total > 0 ? total : 1);
    buy_put_money(out, page, slack);
    lb_buf_puts(out, tenths ? " (" : " (under ");
    lb_decimal_print_places(out, tenths ? tenths : 1, 1);
    lb_buf_puts(out, " %)");
}

/* The bound is one of what the owner prefers, too; of the money alone it says nothing then. */
static void put_doubt(struct lb_buf *out, const struct buy_page *page)
{
    const struct lb_basket *basket = page->purchase->basket;
    int64_t slack = lb_buy_slack(basket);
    lb_buf_puts(out, "the best that was found in time");
    if (!slack) {
        lb_buf_puts(out, ", and nothing costs less");
        return;
    }
    if (slack == basket->total.total) {
        lb_buf_puts(out, "; how much another one might save is not known");
        return;
    }
    lb_buf_puts(out, ": ");
    if (!lb_buy_prefers(page->purchase)) {
        lb_buf_puts(out, "nothing below ");
        buy_put_money(out, page, basket->bound);
        lb_buf_puts(out, ", so ");
    }
    lb_buf_puts(out, "at most ");
    put_slack(out, page, slack);
    lb_buf_puts(out, " could be saved");
}

static void put_proof(struct lb_buf *out, const struct buy_page *page)
{
    if (!page->purchase->basket->proved) {
        put_doubt(out, page);
        return;
    }
    lb_buf_puts(out, "proved: nothing cheaper meets every line");
    lb_buf_puts(out, limited(page->asked) ? " within what was asked for" : "");
    lb_buf_puts(out, lb_buy_prefers(page->purchase) ? ", with your preferences counted" : "");
}

static void put_result(struct lb_buf *out, const struct buy_page *page)
{
    const struct lb_basket *basket = page->purchase->basket;
    if (!basket->parcel_count) {
        lb_buf_puts(out, "nothing to buy: all that is needed is here, on its way or left out");
        return;
    }
    buy_put_money(out, page, basket->total.total);
    lb_buf_printf(out, " in %zu parcel%s, %shere by ", basket->parcel_count,
                  lb_page_plural(basket->parcel_count), basket->parcel_count > 1 ? "all " : "");
    lb_page_day(out, lb_buy_day(page->purchase, basket->days));
    lb_buf_puts(out, lb_buy_late(basket) ? " as far as it is stated; " : "; ");
    put_proof(out, page);
}

static void put_suppliers(struct lb_buf *out, const char *what, const char *const *names, size_t count)
{
    for (size_t i = 0; i < count; i++)
        lb_buf_printf(out, "%s%s", i ? ", " : what, names[i]);
    lb_buf_puts(out, count ? "; " : "");
}

/* What was asked for besides the kits, as it was typed. */
static void put_asked(const struct buy_page *page)
{
    const struct lb_purchase_options *asked = page->asked;
    struct lb_buf words = {0};
    if (!limited(asked))
        return;
    lb_buf_puts(&words, "Asked for: ");
    if (asked->arrive_by != LB_NO_DAY) {
        lb_buf_puts(&words, "here by ");
        lb_page_day(&words, asked->arrive_by);
        lb_buf_puts(&words, "; ");
    }
    if (asked->suppliers_at_most)
        lb_buf_printf(&words, "%d supplier%s at most; ", asked->suppliers_at_most,
                      lb_page_plural((size_t)asked->suppliers_at_most));
    put_suppliers(&words, "only from ", asked->only, asked->only_count);
    put_suppliers(&words, "not from ", asked->without, asked->without_count);
    lb_page_say(&page->page, LB_DIM, "%.*s.", (int)words.length - 2, lb_buf_text(&words));
    page->page.out->failed = page->page.out->failed || words.failed;
    lb_buf_free(&words);
}

static void put_headline(const struct buy_page *page)
{
    const struct lb_purchase *purchase = page->purchase;
    bool found = lb_buy_found(purchase);
    struct lb_buf words = {0};
    put_names(&words, purchase);
    lb_buf_puts(&words, ": ");
    if (found)
        put_result(&words, page);
    else
        lb_buf_puts(&words, "nothing is bought, since not every line can be met");
    lb_style_wrap(page->page.out, page->page.style, found ? LB_BOLD : LB_RED, 0, LB_PAGE_INDENT,
                  lb_buf_text(&words));
    page->page.out->failed = page->page.out->failed || words.failed;
    lb_buf_free(&words);
    put_asked(page);
    if (found && !purchase->basket->proved)
        lb_page_say(&page->page, LB_DIM, "To search longer: --seconds %.0f",
                    page->asked->seconds < 1 ? 10 : page->asked->seconds * 10);
}

static void put_gaps(const struct buy_page *page)
{
    const struct lb_purchase *purchase = page->purchase;
    struct lb_table table = {
        .columns = lb_page_gap_columns, .column_count = LB_GAP_COLUMNS, .indent = LB_PAGE_INDENT};
    if (!purchase->gap_count)
        return;
    lb_page_heading(&page->page,
                    lb_buy_found(purchase) ? "To be settled before it is ordered" : "What stands in the way");
    for (size_t i = 0; i < purchase->gap_count; i++) {
        const struct lb_purchase_gap *gap = &purchase->gaps[i];
        bool named = purchase->kit_count > 1 && gap->kit < purchase->kit_count;
        lb_page_gap(&table, named ? purchase->kits[gap->kit]->name : NULL, gap->line, gap->code,
                    gap->message);
    }
    lb_page_print(&page->page, &table);
    if (lb_buy_found(purchase) && purchase->basket->parcel_count)
        lb_page_say(&page->page, LB_DIM, "Until then it is bought on the safe side, as below.");
}

static void put_moves(const struct buy_page *page, const char *heading, const struct lb_moved *at,
                      size_t count)
{
    static const struct lb_table_column columns[] = {{.heading = "part", .may_shrink = true},
                                                     {.heading = "from", .may_shrink = true},
                                                     {.heading = "was", .align = LB_RIGHT},
                                                     {.heading = "now", .align = LB_RIGHT}};
    struct lb_table table = {.columns = columns, .column_count = 4, .indent = LB_PAGE_INDENT};
    struct lb_buf words = {0};
    lb_page_heading(&page->page, heading);
    for (size_t i = 0; i < count; i++) {
        const struct lb_moved *moved = &at[i];
        lb_table_cellf(&table, LB_PLAIN, "%s %s", moved->part->brand, moved->part->number);
        lb_table_cell(&table, LB_PLAIN, moved->supplier);
        lb_page_money(&words, moved->was, moved->currency);
        lb_page_cell(&table, LB_PLAIN, &words);
        if (moved->now < 0)
            lb_buf_puts(&words, "not offered");
        else
            lb_page_money(&words, moved->now, moved->currency);
        lb_page_cell(&table,
                     moved->now < 0            ? LB_RED
                     : moved->now > moved->was ? LB_YELLOW
                                               : LB_GREEN,
                     &words);
    }
    lb_page_print(&page->page, &table);
}

static void put_moved(const struct buy_page *page)
{
    const struct lb_purchase *purchase = page->purchase;
    struct lb_buf heading = {0};
    lb_buf_printf(&heading, "What has moved since it was last shown%s%.10s", purchase->shown ? ", " : "",
                  purchase->shown ? purchase->shown : "");
    if (purchase->moved_count)
        put_moves(page, lb_buf_text(&heading), purchase->moved, purchase->moved_count);
    for (size_t i = 0; i < purchase->lock_count; i++) {
        const struct lb_purchase_lock *lock = &purchase->locks[i];
        const char *kit = purchase->kit_count > 1 ? purchase->kits[lock->kit]->name : "it";
        lb_buf_clear(&heading);
        lb_buf_printf(&heading, "What has moved since %s was locked on %s", kit, lock->locked);
        if (lock->moved_count)
            put_moves(page, lb_buf_text(&heading), lock->moved, lock->moved_count);
    }
    page->page.out->failed = page->page.out->failed || heading.failed;
    lb_buf_free(&heading);
}

void lb_report_buy_basket(struct lb_buf *out, const struct lb_purchase *purchase,
                          const struct lb_purchase_options *asked, const struct lb_style *style)
{
    static void (*const sections[])(const struct buy_page *) = {buy_parcels, buy_here, buy_totals};
    struct lb_uses uses = {0};
    const struct buy_page page = {
        .page = {.out = out, .style = style}, .purchase = purchase, .asked = asked, .uses = &uses};
    bool found = lb_buy_found(purchase);
    if (found && lb_uses_find(&uses, purchase, NULL)) {
        lb_uses_free(&uses);
        out->failed = true;
        return;
    }
    put_headline(&page);
    put_gaps(&page);
    put_moved(&page);
    for (size_t i = 0; found && i < sizeof sections / sizeof *sections; i++)
        sections[i](&page);
    lb_uses_free(&uses);
}

void lb_report_buy_choices(struct lb_buf *out, const struct lb_purchase *purchase,
                           const struct lb_purchase_options *asked, const struct lb_style *style)
{
    const struct buy_page page = {.page = {.out = out, .style = style}, .purchase = purchase, .asked = asked};
    if (!lb_buy_found(purchase))
        return;
    buy_front(&page);
    buy_reasons(&page);
}

void lb_report_buy(struct lb_buf *out, const struct lb_purchase *purchase,
                   const struct lb_purchase_options *asked, const struct lb_style *style)
{
    lb_report_buy_basket(out, purchase, asked, style);
    lb_report_buy_choices(out, purchase, asked, style);
}
