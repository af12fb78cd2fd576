#include "cli/cli.h"
#include "garage/rule.h"
#include "report/rule_report.h"

int run_rules(struct cli *cli)
{
    struct lb_rules rules;
    if (lb_rules_load(&rules, cli->store, &cli->err))
        return 0;
    if (cli->json)
        cli_print_json(cli, lb_report_rules_json(&rules));
    else
        lb_report_rules_csv(&cli->out, &rules);
    if (!rules.items.count && !cli->json)
        cli_remark(cli, "you have no rules of your own yet. One is made with: lastbolt missed KIT PART_TYPE "
                        "--on COMPONENT");
    lb_rules_free(&rules);
    return 0;
}

lb_status judge_rules_drop(struct cli *cli)
{
    long number;
    return cli_number(cli, cli_plain(cli, 0), "the rule", &number) ? LB_OK : LB_USAGE;
}

static void say_dropped(struct cli *cli, const struct lb_rule *rule)
{
    struct lb_buf words = {0};
    lb_buf_printf(&words, "Rule %lld is taken back: ", (long long)rule->number);
    lb_report_rule_what(&words, rule);
    lb_buf_printf(&words, " on %s of %s.", rule->component, rule->platform);
    lb_style_wrap(&cli->out, &cli->style, LB_PLAIN, 0, 2, lb_buf_text(&words));
    cli->out.failed |= words.failed;
    lb_buf_free(&words);
}

int run_rules_drop(struct cli *cli)
{
    struct lb_rules rules = {0};
    const struct lb_rule *was;
    long number;
    if (!cli_number(cli, cli_plain(cli, 0), "the rule", &number))
        return 0;
    lb_status status = lb_rules_load(&rules, cli->store, &cli->err);
    if (!status)
        status = lb_rule_drop(cli->store, &rules, number, &was, &cli->err);
    if (!status && cli->json)
        cli_print_json(cli, lb_report_rule_dropped_json(was));
    else if (!status)
        say_dropped(cli, was);
    lb_rules_free(&rules);
    return 0;
}
