#include "report/sheet.h"
#include "cli/cli.h"
#include "report/json.h"

int run_sheet(struct cli *cli)
{
    struct lb_kit *kit;
    struct lb_buf page = {0};
    lb_status status = lb_kit_open(&kit, cli->store, cli_plain(cli, 0), cli->today, &cli->err);
    if (!status)
        status = lb_report_sheet(&page, kit, cli->today, &cli->err);
    if (!status && cli->json)
        cli_print_json(cli, json_pack("{s:i, s:s, s:o}", "version", 1, "kit", kit->name, "page",
                                      lb_report_json_text(lb_buf_text(&page))));
    else if (!status)
        lb_buf_append(&cli->out, page.text, page.length);
    lb_buf_free(&page);
    lb_kit_free(kit);
    return 0;
}
