#include "cli/cli.h"

int run_verify(struct cli *cli)
{
    struct lb_buf faults = {0};
    int64_t version = 0;
    lb_status status = lb_store_verify(cli->store, &faults, &cli->err);
    if (!status)
        status = lb_store_integer(cli->store, "PRAGMA user_version", &version, &cli->err);
    if (!status && faults.length)
        lb_fail(&cli->err, LB_SYSTEM,
                "%s: the index is damaged. Move it away and import the catalogues again.\n%s", cli->index,
                lb_buf_text(&faults));
    else if (!status && cli->json)
        cli_print_json(cli,
                       json_pack("{s:i, s:b, s:I}", "version", 1, "sound", 1, "schema", (json_int_t)version));
    else if (!status)
        lb_buf_printf(&cli->out, "%s: sound, index version %lld.\n", cli->index, (long long)version);
    lb_buf_free(&faults);
    return 0;
}
