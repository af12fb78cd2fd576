#include "purchase/order.h"
#include "base/date.h"
#include "base/measure.h"
#include "base/money.h"
#include "base/shell.h"
#include "cli/cli.h"
#include "purchase/order_file.h"
#include "report/order_json.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const struct cli_option order_options[] = {
    {"out", "DIR", "the folder for the lists and mails; made when missing"},
    {"profile", "FILE", "the columns of the lists, as for import"},
    {0},
};

lb_status judge_order(struct cli *cli)
{
    if (cli_value(cli, "out") && *cli_value(cli, "out"))
        return LB_OK;
    return lb_fail(&cli->err, LB_USAGE, "say where the lists are to go: --out DIR");
}

static void put_money(struct lb_buf *out, int64_t minor, const char *currency)
{
    lb_money_print(out, minor, currency);
    lb_buf_printf(out, " %s", currency);
}

static void print_names(struct cli *cli, const struct lb_order *order)
{
    for (size_t i = 0; i < order->purchase->kit_count; i++) {
        lb_buf_putc(&cli->out, ' ');
        lb_shell_word(&cli->out, order->purchase->kits[i]->name);
    }
}

static void print_gaps(struct cli *cli, const struct lb_order *order)
{
    static const struct lb_table_column columns[] = {
        {.heading = "kit"},
        {.heading = "line", .align = LB_RIGHT},
        {.heading = "gap"},
        {.heading = "what stands in the way", .may_shrink = true}};
    struct lb_table table = {.columns = columns, .column_count = 4, .indent = 2};
    for (size_t i = 0; i < order->gap_count; i++) {
        const struct lb_purchase_gap *gap = order->gaps[i];
        lb_table_cell(&table, LB_BOLD,
                      gap->kit < order->purchase->kit_count ? order->purchase->kits[gap->kit]->name : "");
        lb_table_cellf(&table, LB_BOLD, gap->line ? "%d" : "%.0d", gap->line);
        lb_table_cell(&table, LB_RED, gap->code);
        lb_table_cell(&table, LB_PLAIN, gap->message);
    }
    lb_table_print(&table, &cli->out, &cli->style);
    lb_table_free(&table);
}

static void print_undecided(struct cli *cli, const struct lb_order *order)
{
    lb_buf_puts(&cli->out, "Nothing was ordered: whether these are needed, or fit, is not settled.\n");
    print_gaps(cli, order);
    lb_buf_puts(&cli->out, "Say what you find (vehicle set), or decide: lastbolt kit set ");
    lb_shell_word(&cli->out, order->purchase->kits[order->gaps[0]->kit]->name);
    lb_buf_printf(&cli->out, " %d buy, have or drop\n", order->gaps[0]->line);
}

static void put_before_and_now(struct lb_table *table, const char *was, const char *now)
{
    lb_table_cell(table, LB_PLAIN, was);
    lb_table_cell(table, LB_YELLOW, now);
}

static void add_price(struct lb_table *table, const struct lb_moved *moved)
{
    struct lb_buf was = {0}, now = {0};
    put_money(&was, moved->was, moved->currency);
    if (moved->now < 0)
        lb_buf_puts(&now, "not offered");
    else
        put_money(&now, moved->now, moved->currency);
    lb_table_cellf(table, LB_PLAIN, "%s %s", moved->part->brand, moved->part->number);
    lb_table_cell(table, LB_PLAIN, moved->supplier);
    put_before_and_now(table, lb_buf_text(&was), lb_buf_text(&now));
    table->failed |= was.failed || now.failed;
    lb_buf_free(&was);
    lb_buf_free(&now);
}

/* "2 × 5 L": packs, each of so much. */
static void put_packs(struct lb_buf *out, int64_t packs, const struct lb_order_change *change)
{
    if (!packs) {
        lb_buf_puts(out, "none");
        return;
    }
    lb_buf_printf(out, "%lld × ", (long long)packs);
    lb_measure_print(out, change->pack, change->unit ? change->unit : "each");
}

static void add_packs(struct lb_table *table, const struct lb_order_change *change)
{
    struct lb_buf was = {0}, now = {0};
    put_packs(&was, change->was, change);
    put_packs(&now, change->now, change);
    lb_table_cell(table, LB_PLAIN, change->part);
    lb_table_cell(table, LB_PLAIN, change->supplier);
    put_before_and_now(table, lb_buf_text(&was), lb_buf_text(&now));
    table->failed |= was.failed || now.failed;
    lb_buf_free(&was);
    lb_buf_free(&now);
}

static void print_moved(struct cli *cli, const struct lb_order *order)
{
    static const struct lb_table_column columns[] = {{.heading = "part", .may_shrink = true},
                                                     {.heading = "from", .may_shrink = true},
                                                     {.heading = "as it was shown", .align = LB_RIGHT},
                                                     {.heading = "now", .align = LB_RIGHT}};
    struct lb_table table = {.columns = columns, .column_count = 4, .indent = 2};
    const struct lb_basket_total *total = &order->purchase->basket->total;
    struct lb_buf was = {0}, now = {0};
    lb_buf_printf(&cli->out, "Nothing was ordered: this is not what was shown on %.10s any more.\n",
                  order->purchase->shown ? order->purchase->shown : "");
    for (size_t i = 0; i < order->purchase->moved_count; i++)
        add_price(&table, &order->purchase->moved[i]);
    for (size_t i = 0; i < order->change_count; i++)
        add_packs(&table, &order->changes[i]);
    put_money(&was, order->shown_total, order->shown_currency);
    put_money(&now, total->total, total->currency);
    lb_table_cell(&table, LB_BOLD, "total");
    lb_table_cell(&table, LB_PLAIN, "");
    put_before_and_now(&table, lb_buf_text(&was), lb_buf_text(&now));
    lb_table_print(&table, &cli->out, &cli->style);
    lb_buf_puts(&cli->out, "Look at it again: lastbolt buy");
    print_names(cli, order);
    lb_buf_putc(&cli->out, '\n');
    cli->out.failed |= was.failed || now.failed;
    lb_table_free(&table);
    lb_buf_free(&was);
    lb_buf_free(&now);
}

static void print_parcel(struct cli *cli, const struct lb_order *order, size_t p)
{
    const struct lb_parcel *parcel = &order->purchase->basket->parcels[p];
    lb_style_put(&cli->out, &cli->style, LB_BOLD, order->purchase->market.suppliers[parcel->supplier].label);
    lb_buf_printf(&cli->out, ": %zu line%s, ", parcel->line_count, parcel->line_count == 1 ? "" : "s");
    put_money(&cli->out, parcel->total, parcel->currency);
    if (parcel->deposits) {
        lb_buf_puts(&cli->out, " and ");
        put_money(&cli->out, parcel->deposits, parcel->currency);
        lb_buf_puts(&cli->out, " of deposits");
    }
    lb_buf_puts(&cli->out, ", expected ");
    if (lb_order_day_known(parcel))
        lb_date_print(&cli->out, order->purchase->today + (int32_t)parcel->days);
    else
        lb_buf_puts(&cli->out, "on a day that nobody says");
    lb_buf_printf(&cli->out, "\n  %s.csv\n  %s.txt\n", order->stems[p], order->stems[p]);
}

static void print_placed(struct cli *cli, const struct lb_order *order)
{
    for (size_t p = 0; p < order->purchase->basket->parcel_count; p++)
        print_parcel(cli, order, p);
    for (size_t i = 0; i < order->taken_count; i++) {
        const struct lb_order_taken *taken = &order->taken[i];
        lb_buf_puts(&cli->out, "off the shelf: ");
        cli_put_part(&cli->out, taken->quantity, lb_part_unit(taken->part), taken->part->brand,
                     taken->part->number);
        lb_buf_putc(&cli->out, '\n');
    }
    if (order->purchase->basket->parcel_count)
        lb_buf_puts(&cli->out,
                    "Send each list or mail to its supplier. What comes is noted with: lastbolt receive\n");
}

static void print_text(struct cli *cli, const struct lb_order *order)
{
    if (order->outcome == LB_ORDER_READY)
        print_placed(cli, order);
    else if (order->outcome == LB_ORDER_NOTHING)
        lb_buf_puts(&cli->out,
                    "There is nothing to order: all of it is here, on its way, or not to be bought.\n");
    else if (order->outcome == LB_ORDER_MOVED)
        print_moved(cli, order);
    else if (order->outcome == LB_ORDER_UNDECIDED)
        print_undecided(cli, order);
    else {
        lb_buf_puts(&cli->out, "Nothing was ordered: it cannot all be bought.\n");
        print_gaps(cli, order);
    }
}

/* What a run that was stopped had recorded and not named. */
static lb_status resume(struct cli *cli)
{
    struct lb_buf names = {0};
    lb_status status = lb_order_files_resume(cli->store, &names, &cli->err);
    if (!status && names.failed)
        status = lb_fail_nomem(&cli->err);
    if (!status && names.length)
        cli_remark(cli, "files of an order that was interrupted have their names now:\n%s",
                   lb_buf_text(&names));
    lb_buf_free(&names);
    return status;
}

static lb_status make_folder(struct cli *cli)
{
    char *path = NULL;
    if (asprintf(&path, "%s/list", cli_value(cli, "out")) < 0)
        return lb_fail_nomem(&cli->err);
    lb_status status = cli_make_folders(path, "the lists", &cli->err);
    free(path);
    return status;
}

static const char **read_names(const struct cli *cli, size_t *count)
{
    const char **names = calloc((size_t)cli->word_count + 1, sizeof *names);
    for (*count = 0; names && cli_plain(cli, (int)*count); ++*count)
        names[*count] = cli_plain(cli, (int)*count);
    return names;
}

static lb_status order(struct cli *cli, struct lb_order **out)
{
    struct lb_profile *profile = NULL;
    size_t count;
    const char **names = read_names(cli, &count), *path = cli_value(cli, "profile");
    lb_status status = !names ? lb_fail_nomem(&cli->err)
                       : path ? lb_profile_load(&profile, path, &cli->err)
                              : LB_OK;
    if (!status)
        status = resume(cli);
    if (!status)
        status = lb_order_prepare(out, cli->store, names, count, cli->today, &cli->err);
    bool ready = !status && (*out)->outcome == LB_ORDER_READY;
    if (ready && (*out)->purchase->basket->parcel_count)
        status = make_folder(cli);
    if (ready && !status)
        status = lb_order_place(*out, cli->store, cli_value(cli, "out"), profile, cli->now, &cli->err);
    lb_profile_free(profile);
    free(names);
    return status;
}

int run_order(struct cli *cli)
{
    struct lb_order *placed = NULL;
    int exit_status = 0;
    if (!order(cli, &placed)) {
        bool done = placed->outcome == LB_ORDER_READY || placed->outcome == LB_ORDER_NOTHING;
        exit_status = done ? 0 : EXIT_GAPS;
        if (cli->json)
            cli_print_json(cli, lb_report_order_json(placed));
        else
            print_text(cli, placed);
    }
    lb_order_free(placed);
    return exit_status;
}
