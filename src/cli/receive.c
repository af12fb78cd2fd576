#include "base/date.h"
#include "base/measure.h"
#include "cli/receive_show.h"

#include <stdlib.h>
#include <string.h>

const struct cli_option receive_options[] = {
    {"from", "S", "all that this supplier's order was still to bring"},
    {"ordered", "DATE", "with --from: the order of that day"},
    {"wrong", NULL, "it is not what was ordered"},
    {"damaged", NULL, "it cannot be used"},
    {"short", NULL, "so much will not come"},
    {0},
};

/* by enum lb_came; the first is no option */
static const char *const kinds[] = {"", "wrong", "damaged", "short"};

static enum lb_came how(const struct cli *cli)
{
    for (int k = LB_CAME_WRONG; k <= LB_CAME_SHORT; k++)
        if (cli_value(cli, kinds[k]))
            return (enum lb_came)k;
    return LB_CAME_WELL;
}

/* What was named: LINE QUANTITY [BRAND NUMBER]. */
struct named {
    long line;
    const char *quantity, *brand, *number;
};

/* A number begins the next one; a brand is no number. */
static bool is_number(const char *word)
{
    return *word && !word[strspn(word, "0123456789")];
}

/* *at: the plain word that it begins with, then the one behind it. False: fills cli->err. */
static bool read_named(struct cli *cli, int *at, struct named *named)
{
    *named = (struct named){.quantity = cli_plain(cli, *at + 1)};
    if (!cli_number(cli, cli_plain(cli, *at), "the line", &named->line))
        return false;
    if (!named->quantity)
        lb_fail(&cli->err, LB_USAGE, "line %ld: say how much of it.", named->line);
    *at += 2;
    if (!named->quantity || !cli_plain(cli, *at) || is_number(cli_plain(cli, *at)))
        return named->quantity != NULL;
    named->brand = cli_plain(cli, *at);
    named->number = cli_plain(cli, *at + 1);
    *at += 2;
    if (!named->number)
        lb_fail(&cli->err, LB_USAGE, "line %ld: name a part by brand and number.", named->line);
    return named->number != NULL;
}

static bool read_ordered(struct cli *cli, struct lb_interval *days)
{
    const char *text = cli_value(cli, "ordered");
    *days = (struct lb_interval){LB_DATE_MIN, LB_DATE_MAX};
    const char *why = text ? lb_date_parse(text, days) : NULL;
    if (why)
        lb_fail(&cli->err, LB_USAGE, "--ordered \"%.100s\": %s.", text, why);
    return !why;
}

static lb_status judge_named(struct cli *cli)
{
    struct named named;
    int at = 1;
    if (!cli_plain(cli, at))
        return lb_fail(&cli->err, LB_USAGE, "say what came: LINE QUANTITY, or --from SUPPLIER.");
    if (cli_value(cli, "ordered"))
        return lb_fail(&cli->err, LB_USAGE, "--ordered says which order, so it needs --from SUPPLIER.");
    while (cli_plain(cli, at))
        if (!read_named(cli, &at, &named))
            return LB_USAGE;
    return LB_OK;
}

lb_status judge_receive(struct cli *cli)
{
    struct lb_interval days;
    int count = 0;
    for (int k = LB_CAME_WRONG; k <= LB_CAME_SHORT; k++)
        count += cli_value(cli, kinds[k]) != NULL;
    if (count > 1)
        return lb_fail(&cli->err, LB_USAGE, "one of --wrong, --damaged and --short at a time.");
    if (!cli_value(cli, "from"))
        return judge_named(cli);
    if (cli_plain(cli, 1))
        return lb_fail(&cli->err, LB_USAGE, "name lines, or a supplier with --from, not both.");
    return read_ordered(cli, &days) ? LB_OK : LB_USAGE;
}

static lb_status read_arrival(struct cli *cli, const struct lb_fleet *fleet, const struct named *named,
                              struct lb_arrival *arrival, size_t *kit)
{
    const struct lb_line *line = lb_fleet_line(fleet, named->line, kit, &cli->err);
    if (!line)
        return cli->err.status;
    *arrival = (struct lb_arrival){.line = line, .brand = named->brand, .number = named->number};
    const struct lb_article *article = &line->need->article;
    const char *reason = lb_measure_parse(named->quantity, article->dimension, &arrival->quantity);
    if (!reason && arrival->quantity <= 0)
        reason = "is not above 0";
    return reason ? lb_fail(&cli->err, LB_USAGE,
                            "the quantity of line %ld, which is counted in %s: \"%.100s\" %s.", named->line,
                            cli_unit(article->unit), named->quantity, reason)
                  : LB_OK;
}

/* One wrong word among several keeps all of them from being recorded. */
static lb_status add_nothing_recorded(struct cli *cli)
{
    lb_status status = cli->err.status;
    char *words = status == LB_NOMEM ? NULL : strdup(lb_error_text(&cli->err));
    if (words)
        lb_fail(&cli->err, status, "%s Nothing was recorded.", words);
    free(words);
    return status;
}

static lb_status read_arrivals(struct cli *cli, const struct lb_fleet *fleet, struct lb_arrival *arrivals,
                               size_t *kits, size_t *count)
{
    struct named named;
    lb_status status = LB_OK;
    int at = 1;
    for (*count = 0; !status && cli_plain(cli, at); ++*count)
        status = read_named(cli, &at, &named)
                     ? read_arrival(cli, fleet, &named, &arrivals[*count], &kits[*count])
                     : LB_USAGE;
    return status && (*count > 1 || cli_plain(cli, at)) ? add_nothing_recorded(cli) : status;
}

static lb_status count_named(struct cli *cli, const struct lb_fleet *fleet, struct lb_receipts *receipts)
{
    size_t count = 0, room = (size_t)cli->word_count + 1;
    struct lb_arrival *arrivals = calloc(room, sizeof *arrivals);
    size_t *kits = calloc(room, sizeof *kits);
    lb_status status =
        arrivals && kits ? read_arrivals(cli, fleet, arrivals, kits, &count) : lb_fail_nomem(&cli->err);
    if (!status && fleet->single)
        status = lb_orders_receive(receipts, cli->store, fleet->kits[0], arrivals, count, how(cli), cli->now,
                                   &cli->err);
    else if (!status)
        status = lb_fleet_receive(receipts, cli->store, fleet, arrivals, kits, count, how(cli), cli->now,
                                  cli->today, &cli->err);
    free(arrivals);
    free(kits);
    return status;
}

static lb_status count_parcel(struct cli *cli, const struct lb_fleet *fleet, struct lb_receipts *receipts)
{
    struct lb_interval days;
    if (!read_ordered(cli, &days))
        return LB_USAGE;
    return lb_fleet_receive_parcel(receipts, cli->store, fleet, cli_value(cli, "from"), days, how(cli),
                                   cli->now, &cli->err);
}

/* What was counted, beside the kits as they are after that. */
static lb_status show(struct cli *cli, const struct lb_receipts *receipts, size_t kit_count)
{
    static const struct lb_receipts none = {0}; /* of kits that another run has just added */
    struct lb_fleet *fleet = cli_open_fleet(cli);
    struct receive_page *pages = fleet ? calloc(fleet->kit_count, sizeof *pages) : NULL;
    lb_status status = !fleet ? cli->err.status : pages ? LB_OK : lb_fail_nomem(&cli->err);
    for (size_t k = 0; !status && k < fleet->kit_count; k++) {
        pages[k] = (struct receive_page){.kit = fleet->kits[k],
                                         .receipts = k < kit_count ? &receipts[k] : &none,
                                         .how = how(cli),
                                         .parcel = cli_value(cli, "from") != NULL};
        status = lb_orders_on_way(&pages[k].on_way, cli->store, fleet->kits[k], &cli->err);
    }
    if (!status && cli->json)
        receive_show_json(cli, fleet, pages);
    else if (!status)
        receive_show_text(cli, fleet, pages);
    for (size_t k = 0; pages && k < fleet->kit_count; k++)
        lb_on_way_free(&pages[k].on_way);
    free(pages);
    lb_fleet_free(fleet);
    return status;
}

int run_receive(struct cli *cli)
{
    struct lb_fleet *fleet = cli_open_fleet(cli);
    struct lb_receipts *receipts = fleet ? calloc(fleet->kit_count, sizeof *receipts) : NULL;
    size_t kit_count = fleet ? fleet->kit_count : 0;
    lb_status status = !fleet                   ? cli->err.status
                       : !receipts              ? lb_fail_nomem(&cli->err)
                       : cli_value(cli, "from") ? count_parcel(cli, fleet, receipts)
                                                : count_named(cli, fleet, receipts);
    lb_fleet_free(fleet);
    if (!status)
        status = show(cli, receipts, kit_count);
    for (size_t k = 0; receipts && k < kit_count; k++)
        lb_receipts_free(&receipts[k]);
    free(receipts);
    return 0;
}
