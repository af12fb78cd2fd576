#include "kit/missed.h"
#include "cli/cli.h"
#include "report/rule_report.h"

const struct cli_option missed_options[] = {
    {"on", "COMPONENT", "what was worked on when it was missing"},
    {"quantity", "Q", "how much, with its unit unless it is pieces (1, 50 ml)"},
    {"spec", "S", "its size or standard"},
    {0},
};

lb_status judge_missed(struct cli *cli)
{
    const char *quantity = cli_value(cli, "quantity"), *spec = cli_value(cli, "spec");
    struct lb_buf unit = {0};
    int64_t millionths;
    lb_status status = LB_OK;
    if (!cli_value(cli, "on") || !*cli_value(cli, "on"))
        return lb_fail(&cli->err, LB_USAGE, "say what was worked on when it was missing: --on COMPONENT");
    if (quantity && lb_missed_quantity(quantity, &millionths, &unit, &cli->err))
        status = cli_blame_option(cli, "quantity");
    else if (spec && lb_missed_judge_text("spec", spec, &cli->err))
        status = cli_blame_option(cli, "spec");
    lb_buf_free(&unit);
    return status;
}

int run_missed(struct cli *cli)
{
    struct lb_missed *missed;
    const struct lb_missing missing = {.kit = cli_plain(cli, 0),
                                       .part_type = cli_plain(cli, 1),
                                       .component = cli_value(cli, "on"),
                                       .quantity = cli_value(cli, "quantity"),
                                       .spec = cli_value(cli, "spec")};
    if (lb_missed_keep(&missed, cli->store, &missing, cli->today, &cli->err))
        return 0;
    if (cli->json)
        cli_print_json(cli, lb_report_missed_json(missed));
    else
        lb_report_missed(&cli->out, missed, &cli->style);
    if (!missed->type_known)
        cli_remark(cli, "no catalogue has a part of the type \"%s\" now.%s%s%s", missed->rule.part_type,
                   missed->near ? " Did you mean " : "", missed->near ? missed->near : "",
                   missed->near ? "?" : "");
    if (missed->counted_in)
        cli_remark(
            cli,
            "the parts that could answer it are counted in %s, not in %s, so none does. Say it again with "
            "--quantity in %s.",
            cli_unit(missed->counted_in), cli_unit(missed->rule.unit), cli_unit(missed->counted_in));
    lb_missed_free(missed);
    return 0;
}
