#include "base/money.h"
#include "cli/cli.h"
#include "purchase/orders.h"
#include "report/json.h"

static json_t *list_json(struct lb_maker *m, const struct lb_deposit_list *list)
{
    json_t *items = lb_maker_array(m);
    for (size_t i = 0; i < list->count; i++) {
        const struct lb_deposit *deposit = &list->at[i];
        json_t *item = lb_maker_object(m);
        lb_maker_set(m, item, "supplier", lb_report_json_text(deposit->supplier));
        lb_maker_set(m, item, "brand", lb_report_json_text(deposit->brand));
        lb_maker_set(m, item, "part_number", lb_report_json_text(deposit->number));
        lb_maker_set(m, item, "packs", json_integer(deposit->packs));
        lb_maker_set(m, item, "amount", lb_report_json_money(deposit->amount, deposit->currency));
        lb_maker_set(m, item, "since", lb_report_json_text(deposit->since));
        lb_maker_set(m, item, "for", lb_report_json_text(deposit->kits));
        lb_maker_add(m, items, item);
    }
    return items;
}

static void print_json(struct cli *cli, const char *name, const struct lb_deposit_list *list)
{
    struct lb_maker m = {0};
    json_t *object = lb_maker_object(&m);
    lb_maker_set(&m, object, "version", json_integer(1));
    lb_maker_set(&m, object, name, list_json(&m, list));
    cli_print_json(cli, lb_maker_end(&m, object));
}

static void print_text(struct cli *cli, const struct lb_deposit_list *list)
{
    static const struct lb_table_column columns[] = {{.heading = "from", .may_shrink = true},
                                                     {.heading = "part", .may_shrink = true},
                                                     {.heading = "packs", .align = LB_RIGHT},
                                                     {.heading = "deposit", .align = LB_RIGHT},
                                                     {.heading = "since"},
                                                     {.heading = "for", .may_shrink = true}};
    struct lb_table table = {.columns = columns, .column_count = sizeof columns / sizeof *columns};
    struct lb_buf money = {0};
    for (size_t i = 0; i < list->count; i++) {
        const struct lb_deposit *deposit = &list->at[i];
        lb_buf_clear(&money);
        lb_money_print(&money, deposit->amount, deposit->currency);
        lb_table_cell(&table, LB_BOLD, deposit->supplier);
        lb_table_cellf(&table, LB_PLAIN, "%s %s", deposit->brand, deposit->number);
        lb_table_cellf(&table, LB_PLAIN, "%lld", (long long)deposit->packs);
        lb_table_cellf(&table, LB_PLAIN, "%s %s", lb_buf_text(&money), deposit->currency);
        lb_table_cellf(&table, LB_PLAIN, "%.10s", deposit->since);
        lb_table_cell(&table, LB_PLAIN, deposit->kits);
    }
    lb_table_print(&table, &cli->out, &cli->style);
    cli->out.failed |= money.failed;
    lb_table_free(&table);
    lb_buf_free(&money);
}

int run_deposits(struct cli *cli)
{
    struct lb_deposit_list list;
    if (lb_deposits(&list, cli->store, cli->today, &cli->err))
        return 0;
    if (cli->json)
        print_json(cli, "deposits", &list);
    else if (!list.count)
        lb_buf_puts(&cli->out, "No deposit is open.\n");
    else
        print_text(cli, &list);
    lb_deposits_free(&list);
    return 0;
}

lb_status judge_deposits_claim(struct cli *cli)
{
    long number;
    return !cli_plain(cli, 1) || cli_number(cli, cli_plain(cli, 1), "the line", &number) ? LB_OK : LB_USAGE;
}

int run_deposits_claim(struct cli *cli)
{
    long number = 0;
    size_t kit = 0;
    struct lb_deposit_list list = {0};
    if (cli_plain(cli, 1) && !cli_number(cli, cli_plain(cli, 1), "the line", &number))
        return 0;
    struct lb_fleet *fleet = cli_open_fleet(cli);
    if (!fleet)
        return 0;
    const struct lb_line *line = cli_plain(cli, 1) ? lb_fleet_line(fleet, number, &kit, &cli->err) : NULL;
    lb_status status = cli->err.status;
    if (!status)
        status = lb_fleet_claim(&list, cli->store, fleet, kit, line, cli->today, &cli->err);
    if (!status && cli->json)
        print_json(cli, "claimed", &list);
    else if (!status) {
        lb_buf_puts(&cli->out, "Given back:\n");
        print_text(cli, &list);
    }
    lb_deposits_free(&list);
    lb_fleet_free(fleet);
    return 0;
}
