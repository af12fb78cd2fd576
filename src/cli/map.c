#include "cli/cli.h"

#include "kit/map_check.h"
#include "report/map_check_report.h"

enum { EXIT_DATA = LB_DATA };

int run_map_check(struct cli *cli)
{
    struct lb_map_report *report;
    if (lb_map_check(&report, cli->store, cli_plain(cli, 0), &cli->err))
        return 0;
    int code = report->counts[LB_ERROR] ? EXIT_DATA : 0;
    if (cli->json)
        cli_print_json(cli, lb_report_map_check_json(report));
    else
        lb_report_map_check(&cli->out, report, &cli->style);
    lb_map_report_free(report);
    return code;
}
