#include "cli/receive_show.h"
#include "base/shell.h"

#include "base/decimal.h"
#include "report/json.h"
#include "report/page.h"

#include <string.h>

/* by enum lb_came */
static const char *const kinds[] = {"well", "wrong", "damaged", "short"};

/* `kit`: whose it is, in a fleet; NULL: there is one kit only. */
static void add_on_way(struct lb_maker *m, json_t *items, const struct lb_on_way_list *list, const char *kit)
{
    struct lb_buf day = {0};
    for (size_t i = 0; i < list->count; i++) {
        const struct lb_on_way *one = &list->at[i];
        json_t *item = lb_maker_object(m);
        lb_buf_clear(&day);
        lb_date_print(&day, one->expected);
        if (kit)
            lb_maker_set(m, item, "kit", lb_report_json_text(kit));
        lb_maker_set(m, item, "line", one->line ? json_integer(one->line) : json_null());
        lb_maker_set(m, item, "brand", lb_report_json_text(one->brand));
        lb_maker_set(m, item, "part_number", lb_report_json_text(one->number));
        lb_maker_set(m, item, "quantity", lb_report_json_quantity(one->quantity));
        lb_maker_set(m, item, "unit", lb_report_json_text(one->unit));
        lb_maker_set(m, item, "supplier", lb_report_json_text(one->supplier));
        lb_maker_set(m, item, "ordered", lb_report_json_text(one->ordered));
        lb_maker_set(m, item, "expected",
                     one->expected == LB_NO_DAY ? json_null() : lb_report_json_text(lb_buf_text(&day)));
        lb_maker_add(m, items, item);
    }
    m->failed |= day.failed;
    lb_buf_free(&day);
}

static void set_shares(struct lb_maker *m, json_t *object, const struct lb_receipt *counted)
{
    json_t *orders = lb_maker_array(m), *others = lb_maker_array(m);
    for (size_t i = 0; i < counted->order_count; i++) {
        json_t *order = lb_maker_object(m);
        lb_maker_set(m, order, "supplier", lb_report_json_text(counted->orders[i].supplier));
        lb_maker_set(m, order, "ordered", lb_report_json_text(counted->orders[i].ordered));
        lb_maker_set(m, order, "quantity", lb_report_json_quantity(counted->orders[i].quantity));
        lb_maker_add(m, orders, order);
    }
    for (size_t i = 0; i < counted->other_count; i++) {
        const struct lb_receipt_other *other = &counted->others[i];
        json_t *item = lb_maker_object(m);
        lb_maker_set(m, item, "kit", lb_report_json_text(other->kit));
        lb_maker_set(m, item, "line", other->line ? json_integer(other->line) : json_null());
        lb_maker_set(m, item, "quantity", lb_report_json_quantity(other->quantity));
        lb_maker_add(m, others, item);
    }
    lb_maker_set(m, object, "orders", orders);
    lb_maker_set(m, object, "to_line", lb_report_json_quantity(counted->to_line));
    lb_maker_set(m, object, "to_others", others);
    lb_maker_set(m, object, "to_shelf", lb_report_json_quantity(counted->to_shelf));
    lb_maker_set(m, object, "taken_back", lb_report_json_quantity(counted->taken_back));
}

static void set_state(struct lb_maker *m, json_t *object, const struct lb_line *line)
{
    lb_maker_set(m, object, "here", line ? lb_report_json_quantity(line->here) : json_null());
    lb_maker_set(m, object, "on_way", line ? lb_report_json_quantity(line->on_way) : json_null());
    lb_maker_set(m, object, "to_buy", line ? lb_report_json_quantity(line->to_buy) : json_null());
}

/* NULL: none was named, or another run has just made the kit anew with fewer. */
static const struct lb_line *line_of(const struct receive_page *page, const struct lb_receipt *counted)
{
    bool there = counted->line > 0 && (size_t)counted->line <= page->kit->line_count;
    return there ? &page->kit->lines[counted->line - 1] : NULL;
}

static void set_receipt(struct lb_maker *m, json_t *object, const struct receive_page *page,
                        const struct lb_receipt *counted)
{
    lb_maker_set(m, object, "line", counted->line ? json_integer(counted->line) : json_null());
    lb_maker_set(m, object, "brand", lb_report_json_text(counted->brand));
    lb_maker_set(m, object, "part_number", lb_report_json_text(counted->number));
    lb_maker_set(m, object, "came", lb_report_json_text(kinds[page->how]));
    lb_maker_set(m, object, "quantity", lb_report_json_quantity(counted->quantity));
    lb_maker_set(m, object, "unit", lb_report_json_text(counted->unit));
    set_shares(m, object, counted);
    set_state(m, object, line_of(page, counted));
}

void receive_show_json(struct cli *cli, const struct lb_fleet *fleet, const struct receive_page *pages)
{
    struct lb_maker m = {0};
    json_t *object = lb_maker_object(&m), *received = lb_maker_array(&m), *on_way = lb_maker_array(&m);
    const struct lb_receipts *first = pages[0].receipts;
    lb_maker_set(&m, object, "version", json_integer(1));
    lb_maker_set(&m, object, "kit", lb_report_json_text(fleet->name));
    if (fleet->single && first->count == 1 && first->at[0]->line)
        set_receipt(&m, object, &pages[0], first->at[0]);
    else
        lb_maker_set(&m, object, "came", lb_report_json_text(kinds[pages[0].how]));
    for (size_t k = 0; k < fleet->kit_count; k++) {
        const char *kit = fleet->single ? NULL : fleet->kits[k]->name;
        for (size_t i = 0; i < pages[k].receipts->count; i++) {
            json_t *item = lb_maker_object(&m);
            if (kit)
                lb_maker_set(&m, item, "kit", lb_report_json_text(kit));
            set_receipt(&m, item, &pages[k], pages[k].receipts->at[i]);
            lb_maker_add(&m, received, item);
        }
        add_on_way(&m, on_way, &pages[k].on_way, kit);
    }
    lb_maker_set(&m, object, "received", received);
    lb_maker_set(&m, object, "still_on_way", on_way);
    cli_print_json(cli, lb_maker_end(&m, object));
}

static void say(struct cli *cli, int64_t quantity, const struct lb_receipt *counted, const char *words)
{
    if (!quantity)
        return;
    lb_buf_puts(&cli->out, "  ");
    lb_page_amount(&cli->out, quantity, counted->unit);
    lb_buf_puts(&cli->out, words);
}

static void print_counted(struct cli *cli, const struct receive_page *page, const struct lb_receipt *counted)
{
    static const char *const came[] = {"came", "came and is wrong", "came damaged", "will not come"};
    struct lb_buf words = {0};
    cli_put_part(&cli->out, counted->quantity, counted->unit, counted->brand, counted->number);
    lb_buf_printf(&cli->out, " %s", came[page->how]);
    for (size_t i = 0; i < counted->order_count; i++)
        lb_buf_printf(&cli->out, "%s%s", i ? "; " : ", from ", counted->orders[i].supplier);
    lb_buf_printf(&words, " for line %d of %s\n", counted->line, page->kit->name);
    lb_buf_puts(&cli->out, ".\n");
    say(cli, counted->to_line, counted, lb_buf_text(&words));
    for (size_t i = 0; i < counted->other_count; i++) {
        const struct lb_receipt_other *other = &counted->others[i];
        lb_buf_clear(&words);
        if (other->line)
            lb_buf_printf(&words, " for line %d of %s\n", other->line, other->kit);
        else
            lb_buf_printf(&words, " for %s\n", other->kit);
        say(cli, other->quantity, counted, lb_buf_text(&words));
    }
    say(cli, counted->to_shelf, counted, " on the shelf\n");
    say(cli, counted->taken_back, counted, " of that was taken for good before\n");
    cli->out.failed |= words.failed;
    lb_buf_free(&words);
}

static void print_on_way(struct cli *cli, const struct receive_page *page)
{
    static const struct lb_table_column columns[] = {{.heading = "line", .align = LB_RIGHT},
                                                     {.heading = "part", .may_shrink = true},
                                                     {.heading = "quantity", .align = LB_RIGHT},
                                                     {.heading = "from", .may_shrink = true},
                                                     {.heading = "expected"}};
    struct lb_table table = {.columns = columns, .column_count = 5, .indent = 2};
    struct lb_buf words = {0};
    for (size_t i = 0; i < page->on_way.count; i++) {
        const struct lb_on_way *one = &page->on_way.at[i];
        lb_table_cellf(&table, LB_BOLD, one->line ? "%d" : "%.0d", one->line);
        lb_table_cellf(&table, LB_PLAIN, "%s %s", one->brand, one->number);
        lb_buf_clear(&words);
        lb_page_amount(&words, one->quantity, one->unit);
        lb_table_cell(&table, LB_PLAIN, lb_buf_text(&words));
        lb_table_cell(&table, LB_PLAIN, one->supplier);
        lb_buf_clear(&words);
        lb_date_print(&words, one->expected);
        lb_table_cell(&table, LB_PLAIN, one->expected == LB_NO_DAY ? "nobody says" : lb_buf_text(&words));
    }
    lb_buf_printf(&cli->out,
                  page->on_way.count ? "Still on its way for %s\n" : "Nothing is on its way for %s now.\n",
                  page->kit->name);
    lb_table_print(&table, &cli->out, &cli->style);
    cli->out.failed |= words.failed;
    lb_table_free(&table);
    lb_buf_free(&words);
}

/* Of the lines that were named; when a parcel was, and is lost, of all. */
static void print_wants(struct cli *cli, const struct lb_fleet *fleet, const struct receive_page *page)
{
    for (size_t l = 0; l < page->kit->line_count; l++) {
        const struct lb_line *line = &page->kit->lines[l];
        bool named = page->parcel && page->how != LB_CAME_WELL;
        for (size_t i = 0; i < page->receipts->count; i++)
            named |= page->receipts->at[i]->line == line->number;
        if (!named || !line->to_buy)
            continue;
        lb_buf_printf(&cli->out, "Line %d%s%s still wants ", line->number, fleet->single ? "" : " of ",
                      fleet->single ? "" : page->kit->name);
        lb_page_amount(&cli->out, line->to_buy, line->need->article.unit);
        lb_buf_puts(&cli->out, ": lastbolt buy ");
        lb_shell_word(&cli->out, page->kit->name);
        lb_buf_putc(&cli->out, '\n');
    }
}

void receive_show_text(struct cli *cli, const struct lb_fleet *fleet, const struct receive_page *pages)
{
    bool any = false;
    for (size_t k = 0; k < fleet->kit_count; k++)
        for (size_t i = 0; i < pages[k].receipts->count; i++)
            print_counted(cli, &pages[k], pages[k].receipts->at[i]);
    for (size_t k = 0; k < fleet->kit_count; k++)
        print_wants(cli, fleet, &pages[k]);
    for (size_t k = 0; k < fleet->kit_count; k++) {
        if (fleet->single || pages[k].on_way.count)
            print_on_way(cli, &pages[k]);
        any |= fleet->single || pages[k].on_way.count;
    }
    if (!any)
        lb_buf_printf(&cli->out, "Nothing is on its way for %s now.\n", fleet->name);
}
