#include "base/decimal.h"
#include "base/shell.h"
#include "catalog/lookup.h"
#include "cli/cli.h"
#include "garage/preference.h"
#include "importers/recast.h"
#include "report/json.h"

#include <string.h>

enum { PERCENT_MAX = 1000 };

static lb_status refuse_no_percent(struct cli *cli, const char *type)
{
    struct lb_buf word = {0};
    return lb_shell_failed(&word,
                           lb_fail(&cli->err, LB_USAGE,
                                   "say how much dearer it may be, in percent: prefer %s 15",
                                   lb_shell_word(&word, type)),
                           &cli->err);
}

lb_status judge_prefer(struct cli *cli)
{
    int64_t percent;
    const char *rest;
    if (!cli_plain(cli, 0))
        return LB_OK;
    if (!cli_plain(cli, 1))
        return refuse_no_percent(cli, cli_plain(cli, 0));
    if (!lb_decimal_parse_prefix(cli_plain(cli, 1), &percent, &rest) || (*rest && strcmp(rest, "%") != 0) ||
        percent < 0 || percent > PERCENT_MAX * LB_MILLION)
        return lb_fail(&cli->err, LB_USAGE, "the percentage must be a number from 0 to %d, not \"%.100s\".",
                       PERCENT_MAX, cli_plain(cli, 1));
    return LB_OK;
}

/* The owner may say so before the list is imported that has such parts; a typing error is to be seen. */
static lb_status remark_unknown(struct cli *cli, const char *part_type)
{
    bool known;
    lb_status status = lb_lookup_knows_type(cli->store, part_type, &known, &cli->err);
    if (!status && !known)
        cli_remark(cli, "no catalogue has a part of the type \"%s\" now.", part_type);
    return status;
}

static lb_status set(struct cli *cli)
{
    int64_t percent;
    const char *rest;
    struct lb_buf type = {0};
    lb_recast_lower_words(&type, cli_plain(cli, 0));
    if (!lb_decimal_parse_prefix(cli_plain(cli, 1), &percent, &rest))
        percent = 0; /* judged before */
    lb_status status = type.failed ? lb_fail_nomem(&cli->err)
                       : !type.length
                           ? lb_fail(&cli->err, LB_DATA, "\"%.100s\" is no type of part.", cli_plain(cli, 0))
                           : lb_preference_set(cli->store, lb_buf_text(&type), percent, &cli->err);
    if (!status && percent)
        status = remark_unknown(cli, lb_buf_text(&type));
    lb_buf_free(&type);
    return status;
}

static void print_json(struct cli *cli, const struct lb_preferences *preferences)
{
    struct lb_maker m = {0};
    json_t *object = lb_maker_object(&m), *items = lb_maker_array(&m);
    for (size_t i = 0; i < preferences->items.count; i++) {
        json_t *item = lb_maker_object(&m);
        lb_maker_set(&m, item, "part_type", lb_report_json_text(preferences->items.at[i].part_type));
        lb_maker_set(&m, item, "percent", lb_report_json_quantity(preferences->items.at[i].premium));
        lb_maker_add(&m, items, item);
    }
    lb_maker_set(&m, object, "version", json_integer(1));
    lb_maker_set(&m, object, "preferences", items);
    cli_print_json(cli, lb_maker_end(&m, object));
}

static void print_text(struct cli *cli, const struct lb_preferences *preferences)
{
    static const struct lb_table_column columns[] = {{.heading = "the maker's own"},
                                                     {.heading = "may be dearer by", .align = LB_RIGHT}};
    struct lb_table table = {.columns = columns, .column_count = 2};
    struct lb_buf words = {0};
    for (size_t i = 0; i < preferences->items.count; i++) {
        lb_buf_clear(&words);
        lb_decimal_print(&words, preferences->items.at[i].premium);
        lb_table_cell(&table, LB_BOLD, preferences->items.at[i].part_type);
        lb_table_cellf(&table, LB_PLAIN, "%s %%", lb_buf_text(&words));
    }
    lb_table_print(&table, &cli->out, &cli->style);
    cli->out.failed |= words.failed;
    lb_table_free(&table);
    lb_buf_free(&words);
}

int run_prefer(struct cli *cli)
{
    struct lb_preferences preferences;
    lb_status status = cli_plain(cli, 0) ? set(cli) : LB_OK;
    if (!status)
        status = lb_preference_load(&preferences, cli->store, &cli->err);
    if (status)
        return 0;
    if (cli->json)
        print_json(cli, &preferences);
    else if (!preferences.items.count)
        lb_buf_puts(&cli->out,
                    "The vehicle maker's own parts are preferred to no other. To have it otherwise: "
                    "lastbolt prefer PART_TYPE PERCENT\n");
    else
        print_text(cli, &preferences);
    lb_preference_free(&preferences);
    return 0;
}
