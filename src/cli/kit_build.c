#include "base/shell.h"
#include "cli/cli.h"
#include "kit/fleet.h"

#include <stdlib.h>

const struct cli_option build_options[] = {
    {"vehicle", "V", "the vehicle; may be given again, each with its jobs behind it"},
    {"job", "J", "a job of its service map; may be given again"},
    {"replace", "COMPONENT", "one component (or circuit) to renew; may be given again"},
    {0},
};

static bool is_want(const struct cli_word *word)
{
    return cli_is(word, "job") || cli_is(word, "replace");
}

static size_t count_vehicles(const struct cli *cli)
{
    size_t count = 0;
    for (int i = 0; i < cli->word_count; i++)
        count += cli_is(&cli->words[i], "vehicle");
    return count;
}

static lb_status refuse_nothing(struct cli *cli, const char *vehicle)
{
    if (count_vehicles(cli) == 1)
        return lb_fail(&cli->err, LB_USAGE, "say what is to be done: --job J or --replace COMPONENT");
    return lb_fail(&cli->err, LB_USAGE,
                   "say what is to be done to %.100s, behind its --vehicle: --job J or --replace COMPONENT",
                   vehicle);
}

static lb_status refuse_want(struct cli *cli, const struct cli_word *want)
{
    struct lb_buf name = {0};
    return lb_shell_failed(&name,
                           lb_fail(&cli->err, LB_USAGE,
                                   "say for which vehicle before what is to be done: --vehicle V --%s %s",
                                   want->option->name, lb_shell_word(&name, want->text)),
                           &cli->err);
}

/* What is to be done is for the vehicle before it. */
lb_status judge_kit_build(struct cli *cli)
{
    const char *vehicle = NULL;
    int wants = 0;
    for (int i = 0; i < cli->word_count; i++) {
        const struct cli_word *word = &cli->words[i];
        if (is_want(word) && !vehicle)
            return refuse_want(cli, word);
        wants += is_want(word);
        if (!cli_is(word, "vehicle"))
            continue;
        if (vehicle && !wants)
            return refuse_nothing(cli, vehicle);
        vehicle = word->text;
        wants = 0;
    }
    if (!vehicle)
        return lb_fail(&cli->err, LB_USAGE, "say for which vehicle: --vehicle V");
    return wants ? LB_OK : refuse_nothing(cli, vehicle);
}

/* What the command line says, in its order; the texts of the wants stay argv's. */
struct orders {
    struct lb_vehicle *vehicles;
    struct lb_fleet_part *parts;
    struct lb_want *wants;
    size_t count;
};

static lb_status read_orders(struct cli *cli, struct orders *orders)
{
    struct lb_want *want = orders->wants;
    for (int i = 0; i < cli->word_count; i++) {
        const struct cli_word *word = &cli->words[i];
        if (cli_is(word, "vehicle")) {
            struct lb_vehicle *vehicle = &orders->vehicles[orders->count];
            orders->parts[orders->count++] = (struct lb_fleet_part){.vehicle = vehicle, .wants = want};
            lb_status status = lb_vehicle_load(cli->store, word->text, vehicle, &cli->err);
            if (status)
                return status;
        } else if (is_want(word) && orders->count) {
            *want++ =
                (struct lb_want){cli_is(word, "job") ? LB_WANT_JOB : LB_WANT_REPLACE, (char *)word->text};
            orders->parts[orders->count - 1].want_count++;
        }
    }
    return LB_OK;
}

static void free_orders(struct orders *orders)
{
    for (size_t i = 0; i < orders->count; i++)
        lb_vehicle_free(&orders->vehicles[i]);
    free(orders->vehicles);
    free(orders->parts);
    free(orders->wants);
}

int run_kit_build(struct cli *cli)
{
    size_t room = (size_t)cli->word_count + 1;
    struct orders orders = {.vehicles = calloc(room, sizeof *orders.vehicles),
                            .parts = calloc(room, sizeof *orders.parts),
                            .wants = calloc(room, sizeof *orders.wants)};
    struct lb_fleet *fleet = NULL;
    lb_status status = orders.vehicles && orders.parts && orders.wants ? read_orders(cli, &orders)
                                                                       : lb_fail_nomem(&cli->err);
    if (!status)
        status = lb_fleet_build(&fleet, cli->store, cli_plain(cli, 0), orders.parts, orders.count, cli->today,
                                &cli->err);
    if (!status)
        cli_show_fleet(cli, fleet);
    lb_fleet_free(fleet);
    free_orders(&orders);
    return 0;
}
