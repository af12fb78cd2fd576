#include "cli/cli.h"

static lb_status count(struct cli *cli, int64_t counts[4])
{
    static const char *const questions[] = {
        "SELECT count(*) FROM source",
        "SELECT sum(rows_read - rows_rejected) FROM source",
        "SELECT count(*) FROM vehicle",
        "SELECT count(*) FROM kit",
    };
    lb_status status = LB_OK;
    for (int i = 0; !status && i < 4; i++)
        status = lb_store_integer(cli->store, questions[i], &counts[i], &cli->err);
    return status;
}

int run_verify(struct cli *cli)
{
    struct lb_buf faults = {0};
    int64_t version = 0, counts[4] = {0};
    lb_status status = lb_store_verify(cli->store, &faults, &cli->err);
    if (!status)
        status = lb_store_integer(cli->store, "PRAGMA user_version", &version, &cli->err);
    if (!status && !faults.length)
        status = count(cli, counts);
    if (!status && faults.length)
        lb_fail(&cli->err, LB_SYSTEM,
                "%s: the index is damaged. Move it away and import the catalogues again.\n%s", cli->index,
                lb_buf_text(&faults));
    else if (!status && cli->json)
        cli_print_json(cli, json_pack("{s:i, s:b, s:I, s:I, s:I, s:I, s:I}", "version", 1, "sound", 1,
                                      "schema", (json_int_t)version, "sources", (json_int_t)counts[0], "rows",
                                      (json_int_t)counts[1], "vehicles", (json_int_t)counts[2], "kits",
                                      (json_int_t)counts[3]));
    else if (!status)
        lb_buf_printf(
            &cli->out,
            "%s: sound, index version %lld, %lld sources with %lld rows, %lld vehicles, %lld kits.\n",
            cli->index, (long long)version, (long long)counts[0], (long long)counts[1], (long long)counts[2],
            (long long)counts[3]);
    lb_buf_free(&faults);
    return 0;
}
