#include "base/date.h"
#include "base/decimal.h"
#include "base/measure.h"
#include "cli/cli.h"
#include "purchase/orders.h"
#include "report/json.h"

#include <string.h>

const struct cli_option receive_options[] = {
    {"wrong", NULL, "it is not what was ordered"},
    {"damaged", NULL, "it cannot be used"},
    {"short", NULL, "so much will not come"},
    {0},
};

/* by enum lb_came; the first is no option */
static const char *const kinds[] = {"well", "wrong", "damaged", "short"};

static enum lb_came how(const struct cli *cli)
{
    for (int k = LB_CAME_WRONG; k <= LB_CAME_SHORT; k++)
        if (cli_value(cli, kinds[k]))
            return (enum lb_came)k;
    return LB_CAME_WELL;
}

lb_status judge_receive(struct cli *cli)
{
    long number;
    int count = 0;
    for (int k = LB_CAME_WRONG; k <= LB_CAME_SHORT; k++)
        count += cli_value(cli, kinds[k]) != NULL;
    if (count > 1)
        return lb_fail(&cli->err, LB_USAGE, "one of --wrong, --damaged and --short at a time.");
    if (cli_plain(cli, 3) && !cli_plain(cli, 4))
        return lb_fail(&cli->err, LB_USAGE, "name a part by brand and number.");
    return cli_number(cli, cli_plain(cli, 1), "the line", &number) ? LB_OK : LB_USAGE;
}

struct receipt {
    const struct lb_kit *kit;
    const struct lb_line *line; /* as it is now */
    const struct lb_receipt *counted;
    enum lb_came how;
    int64_t quantity;
    struct lb_on_way_list on_way;
};

static json_t *on_way_json(struct lb_maker *m, const struct lb_on_way_list *list)
{
    json_t *items = lb_maker_array(m);
    struct lb_buf day = {0};
    for (size_t i = 0; i < list->count; i++) {
        const struct lb_on_way *one = &list->at[i];
        json_t *item = lb_maker_object(m);
        lb_buf_clear(&day);
        lb_date_print(&day, one->expected);
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
    return items;
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

static void print_json(struct cli *cli, const struct receipt *receipt)
{
    struct lb_maker m = {0};
    json_t *object = lb_maker_object(&m);
    lb_maker_set(&m, object, "version", json_integer(1));
    lb_maker_set(&m, object, "kit", lb_report_json_text(receipt->kit->name));
    lb_maker_set(&m, object, "line", json_integer(receipt->line->number));
    lb_maker_set(&m, object, "brand", lb_report_json_text(receipt->counted->brand));
    lb_maker_set(&m, object, "part_number", lb_report_json_text(receipt->counted->number));
    lb_maker_set(&m, object, "came", lb_report_json_text(kinds[receipt->how]));
    lb_maker_set(&m, object, "quantity", lb_report_json_quantity(receipt->quantity));
    lb_maker_set(&m, object, "unit", lb_report_json_text(receipt->counted->unit));
    set_shares(&m, object, receipt->counted);
    lb_maker_set(&m, object, "here", lb_report_json_quantity(receipt->line->here));
    lb_maker_set(&m, object, "on_way", lb_report_json_quantity(receipt->line->on_way));
    lb_maker_set(&m, object, "to_buy", lb_report_json_quantity(receipt->line->to_buy));
    lb_maker_set(&m, object, "still_on_way", on_way_json(&m, &receipt->on_way));
    cli_print_json(cli, lb_maker_end(&m, object));
}

static void say(struct cli *cli, int64_t quantity, const struct receipt *receipt, const char *words)
{
    if (!quantity)
        return;
    lb_buf_puts(&cli->out, "  ");
    lb_measure_print(&cli->out, quantity, receipt->counted->unit);
    lb_buf_puts(&cli->out, words);
}

static void print_counted(struct cli *cli, const struct receipt *receipt)
{
    static const char *const came[] = {"came", "came and is wrong", "came damaged", "will not come"};
    const struct lb_receipt *counted = receipt->counted;
    struct lb_buf words = {0};
    cli_put_part(&cli->out, receipt->quantity, counted->unit, counted->brand, counted->number);
    lb_buf_printf(&cli->out, " %s", came[receipt->how]);
    for (size_t i = 0; i < counted->order_count; i++)
        lb_buf_printf(&cli->out, "%s%s", i ? "; " : ", from ", counted->orders[i].supplier);
    lb_buf_printf(&words, " for line %d of %s\n", receipt->line->number, receipt->kit->name);
    lb_buf_puts(&cli->out, ".\n");
    say(cli, counted->to_line, receipt, lb_buf_text(&words));
    for (size_t i = 0; i < counted->other_count; i++) {
        const struct lb_receipt_other *other = &counted->others[i];
        lb_buf_clear(&words);
        if (other->line)
            lb_buf_printf(&words, " for line %d of %s\n", other->line, other->kit);
        else
            lb_buf_printf(&words, " for %s\n", other->kit);
        say(cli, other->quantity, receipt, lb_buf_text(&words));
    }
    say(cli, counted->to_shelf, receipt, " on the shelf\n");
    say(cli, counted->taken_back, receipt, " of that was taken for good before\n");
    cli->out.failed |= words.failed;
    lb_buf_free(&words);
}

static void print_on_way(struct cli *cli, const struct receipt *receipt)
{
    static const struct lb_table_column columns[] = {{.heading = "line", .align = LB_RIGHT},
                                                     {.heading = "part", .may_shrink = true},
                                                     {.heading = "quantity", .align = LB_RIGHT},
                                                     {.heading = "from", .may_shrink = true},
                                                     {.heading = "expected"}};
    struct lb_table table = {.columns = columns, .column_count = 5, .indent = 2};
    struct lb_buf words = {0};
    for (size_t i = 0; i < receipt->on_way.count; i++) {
        const struct lb_on_way *one = &receipt->on_way.at[i];
        lb_table_cellf(&table, LB_BOLD, one->line ? "%d" : "%.0d", one->line);
        lb_table_cellf(&table, LB_PLAIN, "%s %s", one->brand, one->number);
        lb_buf_clear(&words);
        lb_measure_print(&words, one->quantity, one->unit);
        lb_table_cell(&table, LB_PLAIN, lb_buf_text(&words));
        lb_table_cell(&table, LB_PLAIN, one->supplier);
        lb_buf_clear(&words);
        lb_date_print(&words, one->expected);
        lb_table_cell(&table, LB_PLAIN, one->expected == LB_NO_DAY ? "nobody says" : lb_buf_text(&words));
    }
    lb_buf_printf(&cli->out,
                  receipt->on_way.count ? "Still on its way for %s\n" : "Nothing is on its way for %s now.\n",
                  receipt->kit->name);
    lb_table_print(&table, &cli->out, &cli->style);
    cli->out.failed |= words.failed;
    lb_table_free(&table);
    lb_buf_free(&words);
}

static void print_text(struct cli *cli, const struct receipt *receipt)
{
    print_counted(cli, receipt);
    if (receipt->line->to_buy) {
        lb_buf_printf(&cli->out, "Line %d still wants ", receipt->line->number);
        lb_measure_print(&cli->out, receipt->line->to_buy, receipt->line->need->article.unit);
        lb_buf_printf(&cli->out, ": lastbolt buy %s\n", receipt->kit->name);
    }
    print_on_way(cli, receipt);
}

static lb_status read_quantity(struct cli *cli, const struct lb_line *line, int64_t *quantity)
{
    const struct lb_article *article = &line->need->article;
    const char *words = cli_plain(cli, 2), *reason = lb_measure_parse(words, article->dimension, quantity);
    if (!reason && *quantity <= 0)
        reason = "is not above 0";
    return reason ? lb_fail(&cli->err, LB_USAGE,
                            "the quantity of line %d, which is counted in %s: \"%.100s\" %s.", line->number,
                            cli_unit(article->unit), words, reason)
                  : LB_OK;
}

/* What was counted, beside the kit as it is after that. */
static lb_status show(struct cli *cli, struct receipt *receipt, long number)
{
    struct lb_kit *kit;
    lb_status status = lb_kit_open(&kit, cli->store, cli_plain(cli, 0), cli->today, &cli->err);
    if (status)
        return status;
    receipt->kit = kit;
    receipt->line = lb_kit_line(kit, number, &cli->err);
    status = cli->err.status;
    if (!status)
        status = lb_orders_on_way(&receipt->on_way, cli->store, kit, &cli->err);
    if (!status && cli->json)
        print_json(cli, receipt);
    else if (!status)
        print_text(cli, receipt);
    lb_on_way_free(&receipt->on_way);
    lb_kit_free(kit);
    return status;
}

int run_receive(struct cli *cli)
{
    long number;
    struct lb_kit *kit;
    struct lb_receipt *counted = NULL;
    struct receipt receipt = {.how = how(cli)};
    if (!cli_number(cli, cli_plain(cli, 1), "the line", &number) ||
        lb_kit_open(&kit, cli->store, cli_plain(cli, 0), cli->today, &cli->err))
        return 0;
    const struct lb_line *line = lb_kit_line(kit, number, &cli->err);
    lb_status status = line ? read_quantity(cli, line, &receipt.quantity) : cli->err.status;
    if (!status)
        status = lb_orders_receive(&counted, cli->store, kit, line, cli_plain(cli, 3), cli_plain(cli, 4),
                                   receipt.quantity, receipt.how, cli->now, &cli->err);
    lb_kit_free(kit);
    receipt.counted = counted;
    if (!status)
        status = show(cli, &receipt, number);
    lb_receipt_free(counted);
    return 0;
}
