#include "garage/shelf.h"
#include "base/date.h"
#include "base/decimal.h"
#include "base/measure.h"
#include "catalog/partkey.h"
#include "cli/cli.h"
#include "kit/part.h"
#include "report/json.h"

#include <string.h>

const struct cli_option shelf_options[] = {
    {"opened", NULL, "some of it comes from a container that was opened"},
    {0},
};

static json_t *item_json(struct lb_maker *m, const struct lb_shelf_item *item)
{
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "brand", lb_report_json_text(item->brand));
    lb_maker_set(m, object, "part_number", lb_report_json_text(item->number));
    lb_maker_set(m, object, "part_type", lb_report_json_text_or_null(item->part_type));
    lb_maker_set(m, object, "quantity", lb_report_json_quantity(item->quantity));
    lb_maker_set(m, object, "unit", lb_report_json_text(item->unit));
    lb_maker_set(m, object, "opened", json_boolean(item->opened));
    lb_maker_set(m, object, "since", lb_report_json_text(item->since));
    return object;
}

static void print_json(struct cli *cli, const struct lb_shelf *shelf)
{
    struct lb_maker m = {0};
    json_t *object = lb_maker_object(&m), *items = lb_maker_array(&m);
    for (size_t i = 0; i < shelf->items.count; i++)
        lb_maker_add(&m, items, item_json(&m, &shelf->items.at[i]));
    lb_maker_set(&m, object, "version", json_integer(1));
    lb_maker_set(&m, object, "shelf", items);
    cli_print_json(cli, lb_maker_end(&m, object));
}

static void print_text(struct cli *cli, const struct lb_shelf *shelf)
{
    static const struct lb_table_column columns[] = {{.heading = "part", .may_shrink = true},
                                                     {.heading = "what it is", .may_shrink = true},
                                                     {.heading = "quantity", .align = LB_RIGHT},
                                                     {.heading = "since"},
                                                     {.heading = "remark", .may_shrink = true}};
    struct lb_table table = {.columns = columns, .column_count = sizeof columns / sizeof *columns};
    struct lb_buf words = {0};
    for (size_t i = 0; i < shelf->items.count; i++) {
        const struct lb_shelf_item *item = &shelf->items.at[i];
        lb_buf_clear(&words);
        lb_measure_print(&words, item->quantity, item->unit);
        lb_table_cellf(&table, LB_BOLD, "%s %s", item->brand, item->number);
        lb_table_cell(&table, LB_PLAIN, item->part_type);
        lb_table_cell(&table, LB_PLAIN, lb_buf_text(&words));
        lb_table_cellf(&table, LB_PLAIN, "%.10s", item->since);
        lb_table_cell(&table, LB_YELLOW, item->opened ? "opened; see that it may still be used" : "");
    }
    lb_table_print(&table, &cli->out, &cli->style);
    cli->out.failed |= words.failed;
    lb_table_free(&table);
    lb_buf_free(&words);
}

int run_shelf(struct cli *cli)
{
    struct lb_shelf shelf;
    if (lb_shelf_load(&shelf, cli->store, &cli->err))
        return 0;
    if (cli->json)
        print_json(cli, &shelf);
    else if (!shelf.items.count)
        lb_buf_puts(&cli->out,
                    "The shelf is empty. What lies there goes in with: lastbolt shelf set BRAND NUMBER "
                    "QUANTITY\n");
    else
        print_text(cli, &shelf);
    lb_shelf_free(&shelf);
    return 0;
}

static lb_status set(struct cli *cli, struct lb_shelf_item *item)
{
    struct lb_buf since = {0};
    const char *words = cli_plain(cli, 2);
    const char *reason =
        lb_measure_parse(words, lb_unit_find(item->unit, LB_MASS).dimension, &item->quantity);
    if (!reason && item->quantity < 0)
        reason = "is less than nothing";
    if (reason)
        return lb_fail(&cli->err, LB_USAGE, "the quantity of %s %s, which is counted in %s: \"%.100s\" %s.",
                       item->brand, item->number, cli_unit(item->unit), words, reason);
    lb_date_print_time(&since, cli->now);
    item->since = lb_buf_text(&since);
    item->opened = cli_value(cli, "opened") != NULL;
    lb_status status = since.failed ? lb_fail_nomem(&cli->err) : lb_shelf_set(cli->store, item, &cli->err);
    lb_buf_free(&since);
    return status;
}

/* A part that no catalogue lists any more may still lie there. */
static lb_status set_part(struct cli *cli, const struct lb_shelf_item *known)
{
    struct lb_part_card *card = NULL;
    struct lb_shelf_item item = {0};
    if (known)
        item = *known;
    lb_status status = known ? LB_OK
                             : lb_part_card_open(&card, cli->store, cli_plain(cli, 0), cli_plain(cli, 1),
                                                 cli->today, &cli->err);
    if (card)
        item = (struct lb_shelf_item){.key = card->part->key,
                                      .brand = card->part->brand,
                                      .number = card->part->number,
                                      .part_type = card->part->part_type,
                                      .unit = lb_part_unit(card->part)};
    if (!status)
        status = set(cli, &item);
    lb_part_card_free(card);
    return status;
}

int run_shelf_set(struct cli *cli)
{
    struct lb_shelf shelf = {0};
    struct lb_buf key = {0};
    lb_part_key(&key, cli_plain(cli, 0), cli_plain(cli, 1));
    lb_status status = key.failed ? lb_fail_nomem(&cli->err) : lb_shelf_load(&shelf, cli->store, &cli->err);
    if (!status)
        status = set_part(cli, lb_shelf_find(&shelf, lb_buf_text(&key)));
    lb_shelf_free(&shelf);
    lb_buf_free(&key);
    return status ? 0 : run_shelf(cli);
}
