#include "kit/due.h"
#include "cli/cli.h"
#include "report/due_report.h"

const struct cli_option due_options[] = {
    {"within", "DAYS", "how far ahead to look; without it, 365"},
    {0},
};

enum { WITHIN = 365, WITHIN_MOST = 36500 };

static bool read_within(struct cli *cli, long *days)
{
    *days = WITHIN;
    if (!cli_value(cli, "within"))
        return true;
    if (!cli_number(cli, cli_value(cli, "within"), "--within", days))
        return false;
    if (*days > WITHIN_MOST)
        lb_fail(&cli->err, LB_USAGE, "--within looks %d days ahead at the most.", WITHIN_MOST);
    return *days <= WITHIN_MOST;
}

lb_status judge_due(struct cli *cli)
{
    long days;
    return read_within(cli, &days) ? LB_OK : LB_USAGE;
}

struct asked {
    struct cli *cli;
    struct lb_maker maker;
    json_t *vehicles;
    int32_t within;
    bool one; /* that was named */
    size_t count;
};

static lb_status tell(void *context, const struct lb_vehicle *vehicle)
{
    struct asked *asked = context;
    struct cli *cli = asked->cli;
    struct lb_due *due;
    lb_status status = lb_due_make(&due, cli->store, vehicle, asked->within, cli->today, &cli->err);
    if (status)
        return status;
    if (due->no_map && asked->one)
        status = lb_fail(&cli->err, LB_DATA, "%s", due->no_map);
    else if (cli->json)
        lb_maker_add(&asked->maker, asked->vehicles, lb_report_due_json(due));
    else {
        lb_buf_puts(&cli->out, asked->count++ ? "\n" : "");
        lb_report_due(&cli->out, due, asked->within, cli->today, &cli->style);
    }
    lb_due_free(due);
    return status;
}

static lb_status tell_one(struct asked *asked, const char *name)
{
    struct lb_vehicle vehicle;
    lb_status status = lb_vehicle_load(asked->cli->store, name, &vehicle, &asked->cli->err);
    if (status)
        return status;
    asked->one = true;
    status = tell(asked, &vehicle);
    lb_vehicle_free(&vehicle);
    return status;
}

int run_due(struct cli *cli)
{
    struct asked asked = {.cli = cli};
    long within;
    if (!read_within(cli, &within))
        return 0;
    asked.within = (int32_t)within;
    asked.vehicles = lb_maker_array(&asked.maker);
    lb_status status = cli_plain(cli, 0) ? tell_one(&asked, cli_plain(cli, 0))
                                         : lb_vehicle_each(cli->store, tell, &asked, &cli->err);
    if (status || !cli->json) {
        json_decref(asked.vehicles);
        if (!status && !asked.count)
            lb_buf_puts(&cli->out,
                        "There are no vehicles yet. Add one with: lastbolt vehicle add NAME --make M "
                        "--model M\n");
        return 0;
    }
    json_t *object = lb_maker_object(&asked.maker);
    lb_maker_set(&asked.maker, object, "version", json_integer(1));
    lb_maker_set(&asked.maker, object, "vehicles", asked.vehicles);
    cli_print_json(cli, lb_maker_end(&asked.maker, object));
    return 0;
}
