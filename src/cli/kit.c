#include "kit/kit.h"
#include "cli/cli.h"
#include "cli/kit_lock.h"
#include "report/drift_report.h"
#include "report/kit_json.h"
#include "report/kit_text.h"

#include <stdlib.h>
#include <string.h>

const struct cli_option build_options[] = {
    {"vehicle", "V", "the vehicle"},
    {"job", "J", "a job of its service map; may be given again"},
    {"replace", "COMPONENT", "one component (or circuit) to renew; may be given again"},
    {0},
};

static void show(struct cli *cli, const struct lb_kit *kit)
{
    if (cli->json)
        cli_print_json(cli, lb_report_kit_json(kit));
    else
        lb_report_kit(&cli->out, kit, &cli->style);
}

static struct lb_kit *open_kit(struct cli *cli)
{
    struct lb_kit *kit;
    return lb_kit_open(&kit, cli->store, cli_plain(cli, 0), cli->today, &cli->err) ? NULL : kit;
}

int run_kit_show(struct cli *cli)
{
    struct lb_kit *kit = open_kit(cli);
    if (kit)
        show(cli, kit);
    lb_kit_free(kit);
    return 0;
}

/* The wants in the order of the command line; their texts stay argv's. */
static size_t read_wants(const struct cli *cli, struct lb_want *wants)
{
    size_t count = 0;
    for (int i = 0; i < cli->word_count; i++) {
        const struct cli_word *word = &cli->words[i];
        if (cli_is(word, "job"))
            wants[count++] = (struct lb_want){LB_WANT_JOB, (char *)word->text};
        if (cli_is(word, "replace"))
            wants[count++] = (struct lb_want){LB_WANT_REPLACE, (char *)word->text};
    }
    return count;
}

lb_status judge_kit_build(struct cli *cli)
{
    int vehicles = 0, wants = 0;
    for (int i = 0; i < cli->word_count; i++) {
        const struct cli_word *word = &cli->words[i];
        bool want = cli_is(word, "job") || cli_is(word, "replace");
        vehicles += cli_is(word, "vehicle");
        wants += want;
        if (want && !vehicles)
            return lb_fail(&cli->err, LB_USAGE,
                           "say for which vehicle before what is to be done: --vehicle V --%s %.100s",
                           word->option->name, word->text);
    }
    if (vehicles > 1)
        return lb_fail(&cli->err, LB_USAGE,
                       "kits of several vehicles are not possible yet; build one kit a vehicle.");
    if (!vehicles)
        return lb_fail(&cli->err, LB_USAGE, "say for which vehicle: --vehicle V");
    return wants ? LB_OK
                 : lb_fail(&cli->err, LB_USAGE, "say what is to be done: --job J or --replace COMPONENT");
}

int run_kit_build(struct cli *cli)
{
    struct lb_vehicle vehicle = {0};
    struct lb_kit *kit = NULL;
    struct lb_want *wants = calloc((size_t)cli->word_count + 1, sizeof *wants);
    size_t count = wants ? read_wants(cli, wants) : 0;
    lb_status status = wants ? LB_OK : lb_fail_nomem(&cli->err);
    if (!status)
        status = lb_vehicle_load(cli->store, cli_value(cli, "vehicle"), &vehicle, &cli->err);
    if (!status)
        status =
            lb_kit_build(&kit, cli->store, cli_plain(cli, 0), &vehicle, wants, count, cli->today, &cli->err);
    if (!status)
        show(cli, kit);
    lb_kit_free(kit);
    lb_vehicle_free(&vehicle);
    free(wants);
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
static const struct lb_line *named_line(struct cli *cli, const struct lb_kit *kit)
{
    long number;
    return cli_number(cli, cli_plain(cli, 1), "the line", &number) ? lb_kit_line(kit, number, &cli->err)
                                                                   : NULL;
}

int run_kit_why(struct cli *cli)
{
    struct lb_kit *kit = open_kit(cli);
    const struct lb_line *line = kit ? named_line(cli, kit) : NULL;
    struct lb_buf words = {0};
    if (line) {
        lb_kit_why(kit, line, &words);
        if (cli->json)
            cli_print_json(cli, json_pack("{s:i, s:s, s:i, s:s}", "version", 1, "kit", kit->name, "line",
                                          line->number, "why", lb_buf_text(&words)));
        else
            lb_buf_puts(&cli->out, lb_buf_text(&words));
    }
    lb_buf_free(&words);
    lb_kit_free(kit);
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

/* The kit and what it is compared with are seen in one view of the index. */
int run_kit_check(struct cli *cli)
{
    struct lb_drift drift = {0};
    bool held = false, locked = false;
    struct lb_kit *kit = lb_store_hold(cli->store, &held, &cli->err) ? NULL : open_kit(cli);
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
    struct lb_kit *kit = read_decision(cli, &decision) ? open_kit(cli) : NULL;
    const struct lb_line *line = kit ? named_line(cli, kit) : NULL;
    lb_status status =
        line ? lb_kit_decide(cli->store, kit, line, decision, cli_plain(cli, 3), cli_plain(cli, 4), &cli->err)
             : cli->err.status;
    lb_kit_free(kit);
    return status ? 0 : run_kit_show(cli);
}
