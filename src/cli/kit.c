#include "cli/cli.h"
#include "cli/kit_lock.h"
#include "kit/fleet.h"
#include "report/drift_report.h"
#include "report/fleet_json.h"
#include "report/fleet_text.h"
#include "report/kit_json.h"
#include "report/kit_text.h"

#include <stdlib.h>
#include <string.h>

static void show(struct cli *cli, const struct lb_kit *kit)
{
    if (cli->json)
        cli_print_json(cli, lb_report_kit_json(kit));
    else
        lb_report_kit(&cli->out, kit, &cli->style);
}

struct lb_kit *cli_open_kit(struct cli *cli)
{
    struct lb_kit *kit;
    return lb_kit_open(&kit, cli->store, cli_plain(cli, 0), cli->today, &cli->err) ? NULL : kit;
}

struct lb_fleet *cli_open_fleet(struct cli *cli)
{
    struct lb_fleet *fleet;
    return lb_fleet_open(&fleet, cli->store, cli_plain(cli, 0), cli->today, &cli->err) ? NULL : fleet;
}

void cli_show_fleet(struct cli *cli, const struct lb_fleet *fleet)
{
    if (fleet->single)
        show(cli, fleet->kits[0]);
    else if (cli->json)
        cli_print_json(cli, lb_report_fleet_json(fleet));
    else
        lb_report_fleet(&cli->out, fleet, &cli->style);
}

int run_kit_show(struct cli *cli)
{
    struct lb_fleet *fleet = cli_open_fleet(cli);
    if (fleet)
        cli_show_fleet(cli, fleet);
    lb_fleet_free(fleet);
    return 0;
}

struct listing {
    struct lb_table table;
    json_t *rows;
};

static lb_status list_kit(void *context, const char *name, const char *vehicle, const char *targets)
{
    struct listing *listing = context;
    lb_table_cell(&listing->table, LB_BOLD, name);
    lb_table_cell(&listing->table, LB_PLAIN, vehicle);
    lb_table_cell(&listing->table, LB_PLAIN, targets);
    return json_array_append_new(listing->rows, json_pack("{s:s, s:s, s:s}", "kit", name, "vehicle", vehicle,
                                                          "for", targets)) == 0
               ? LB_OK
               : LB_NOMEM;
}

int run_kit_list(struct cli *cli)
{
    static const struct lb_table_column columns[] = {
        {.heading = "kit"}, {.heading = "vehicle"}, {.heading = "for", .may_shrink = true}};
    struct listing listing = {.table = {.columns = columns, .column_count = 3}, .rows = json_array()};
    lb_status status = lb_kit_each(cli->store, list_kit, &listing, &cli->err);
    if (status == LB_NOMEM)
        lb_fail_nomem(&cli->err);
    else if (!status && cli->json)
        cli_print_json(cli, json_pack("{s:i, s:O}", "version", 1, "kits", listing.rows));
    else if (!status && !listing.table.cells.count)
        lb_buf_puts(&cli->out,
                    "There are no kits yet. Build one with: lastbolt kit build NAME --vehicle V --job J\n");
    else if (!status)
        lb_table_print(&listing.table, &cli->out, &cli->style);
    lb_table_free(&listing.table);
    json_decref(listing.rows);
    return 0;
}

lb_status judge_kit_why(struct cli *cli)
{
    long number;
    return cli_number(cli, cli_plain(cli, 1), "the line", &number) ? LB_OK : LB_USAGE;
}

/* The line that the second plain word names, or NULL with the error filled. */
static const struct lb_line *named_line(struct cli *cli, const struct lb_fleet *fleet, size_t *kit)
{
    long number;
    return cli_number(cli, cli_plain(cli, 1), "the line", &number)
               ? lb_fleet_line(fleet, number, kit, &cli->err)
               : NULL;
}

static void show_why(struct cli *cli, const struct lb_fleet *fleet, size_t k, const struct lb_line *line)
{
    const struct lb_kit *kit = fleet->kits[k];
    struct lb_buf words = {0};
    int number = lb_fleet_number(fleet, k, line->number);
    lb_kit_why(kit, line, &words);
    if (words.failed)
        cli->out.failed = true;
    else if (cli->json && fleet->single)
        cli_print_json(cli, json_pack("{s:i, s:s, s:i, s:s}", "version", 1, "kit", kit->name, "line", number,
                                      "why", lb_buf_text(&words)));
    else if (cli->json)
        cli_print_json(cli, json_pack("{s:i, s:s, s:i, s:s, s:{s:s, s:i}, s:s}", "version", 1, "kit",
                                      fleet->name, "line", number, "vehicle", kit->vehicle.name, "of", "kit",
                                      kit->name, "line", line->number, "why", lb_buf_text(&words)));
    else {
        if (!fleet->single)
            lb_buf_printf(&cli->out, "Line %d of %s is %s's line %d.\n", number, fleet->name,
                          kit->vehicle.name, line->number);
        lb_buf_puts(&cli->out, lb_buf_text(&words));
    }
    lb_buf_free(&words);
}

int run_kit_why(struct cli *cli)
{
    size_t kit;
    struct lb_fleet *fleet = cli_open_fleet(cli);
    const struct lb_line *line = fleet ? named_line(cli, fleet, &kit) : NULL;
    if (line)
        show_why(cli, fleet, kit, line);
    lb_fleet_free(fleet);
    return 0;
}

static void print_gaps(struct cli *cli, const struct lb_kit *kit)
{
    static const struct lb_table_column columns[] = {
        {.heading = "line", .align = LB_RIGHT},
        {.heading = "gap"},
        {.heading = "what stands in the way", .may_shrink = true}};
    struct lb_table table = {.columns = columns, .column_count = 3, .indent = 2};
    for (size_t i = 0; i < kit->gap_count; i++) {
        lb_table_cellf(&table, LB_PLAIN, "%d", kit->gaps[i].line);
        lb_table_cell(&table, LB_RED, lb_gap_name(kit->gaps[i].code));
        lb_table_cell(&table, LB_PLAIN, kit->gaps[i].message);
    }
    if (kit->gap_count)
        lb_buf_printf(&cli->out, "%s: %zu gap%s\n", kit->name, kit->gap_count,
                      kit->gap_count == 1 ? "" : "s");
    else
        lb_buf_printf(&cli->out, "%s: complete\n", kit->name);
    lb_table_print(&table, &cli->out, &cli->style);
    lb_table_free(&table);
}

static bool names_fleet(struct cli *cli)
{
    bool is;
    return !lb_fleet_is(cli->store, cli_plain(cli, 0), &is, &cli->err) && is;
}

/* What has changed since one kit of a fleet was locked, for people or into an array. */
static lb_status check_member(struct cli *cli, const struct lb_kit *kit, json_t *checks)
{
    struct lb_drift drift = {0};
    bool locked;
    lb_status status = cli_find_drift(cli, kit, &drift, &locked);
    if (!status && checks) {
        json_t *member = lb_report_member_json(kit, locked ? &drift : NULL);
        status = json_array_append_new(checks, member) ? lb_fail_nomem(&cli->err) : LB_OK;
    } else if (!status) {
        lb_buf_printf(&cli->out, "\n%s\n", kit->name);
        lb_report_drift(&cli->out, kit, locked ? &drift : NULL, &cli->style);
    }
    lb_drift_free(&drift);
    return status;
}

static int check_fleet(struct cli *cli)
{
    bool held = false;
    json_t *checks = cli->json ? json_array() : NULL;
    lb_status status = lb_store_hold(cli->store, &held, &cli->err);
    struct lb_fleet *fleet = status ? NULL : cli_open_fleet(cli);
    if (fleet && !cli->json)
        lb_report_fleet_gaps(&cli->out, fleet, &cli->style);
    for (size_t i = 0; fleet && !status && i < fleet->kit_count; i++)
        status = check_member(cli, fleet->kits[i], checks);
    if (fleet && cli->json && !status) {
        json_t *object = lb_report_fleet_json(fleet);
        json_object_set(object, "checks", checks);
        cli_print_json(cli, object);
    }
    int exit_status = fleet && lb_fleet_gap_count(fleet) ? EXIT_GAPS : 0;
    json_decref(checks);
    lb_fleet_free(fleet);
    lb_store_release(cli->store, held);
    return exit_status;
}

/* The kit and what it is compared with are seen in one view of the index. */
static int check_kit(struct cli *cli)
{
    struct lb_drift drift = {0};
    bool held = false, locked = false;
    struct lb_kit *kit = lb_store_hold(cli->store, &held, &cli->err) ? NULL : cli_open_kit(cli);
    bool good = kit && !cli_find_drift(cli, kit, &drift, &locked);
    int exit_status = good && kit->gap_count ? EXIT_GAPS : 0;
    if (good && cli->json) {
        cli_print_json(cli, lb_report_check_json(kit, locked ? &drift : NULL));
    } else if (good) {
        print_gaps(cli, kit);
        lb_report_drift(&cli->out, kit, locked ? &drift : NULL, &cli->style);
    }
    lb_drift_free(&drift);
    lb_kit_free(kit);
    lb_store_release(cli->store, held);
    return exit_status;
}

int run_kit_check(struct cli *cli)
{
    /* a lock is that of one kit */
    if (cli_value(cli, "against") && lb_fleet_refuse(cli->store, cli_plain(cli, 0), &cli->err))
        return 0;
    return names_fleet(cli) ? check_fleet(cli) : check_kit(cli);
}

static bool read_decision(struct cli *cli, enum lb_decision *decision)
{
    for (int d = LB_BUY; d <= LB_DROP; d++) {
        *decision = (enum lb_decision)d;
        if (strcmp(cli_plain(cli, 2), lb_decision_name(*decision)) == 0)
            return true;
    }
    lb_fail(&cli->err, LB_USAGE, "decide buy, have, reuse or drop, not \"%.100s\".", cli_plain(cli, 2));
    return false;
}

lb_status judge_kit_set(struct cli *cli)
{
    enum lb_decision decision;
    if (!read_decision(cli, &decision) || judge_kit_why(cli))
        return LB_USAGE;
    if (cli_plain(cli, 3) && !cli_plain(cli, 4))
        return lb_fail(&cli->err, LB_USAGE, "name a part by brand and number.");
    return LB_OK;
}

int run_kit_set(struct cli *cli)
{
    enum lb_decision decision;
    size_t kit;
    struct lb_fleet *fleet = read_decision(cli, &decision) ? cli_open_fleet(cli) : NULL;
    const struct lb_line *line = fleet ? named_line(cli, fleet, &kit) : NULL;
    lb_status status = line ? lb_kit_decide(cli->store, fleet->kits[kit], line, decision, cli_plain(cli, 3),
                                            cli_plain(cli, 4), &cli->err)
                            : cli->err.status;
    lb_fleet_free(fleet);
    return status ? 0 : run_kit_show(cli);
}
