#include "cli/cli.h"

#include "kit/part.h"
#include "report/part_report.h"

int run_part(struct cli *cli)
{
    struct lb_part_card *card;
    if (lb_part_card_open(&card, cli->store, cli_plain(cli, 0), cli_plain(cli, 1), cli->today, &cli->err))
        return 0;
    if (cli->json)
        cli_print_json(cli, lb_report_part_json(card));
    else
        lb_report_part(&cli->out, card, &cli->style);
    lb_part_card_free(card);
    return 0;
}
