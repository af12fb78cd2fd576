#include "find/find.h"
#include "cli/cli.h"
#include "garage/fitting.h"
#include "report/find_json.h"
#include "report/find_text.h"

enum { USUAL_LIMIT = 10 }; /* what a small terminal shows at once */

const struct cli_option find_options[] = {
    {"vehicle", "V", "what fits this vehicle, and whether that is sure"},
    {"all", NULL, "with --vehicle: also what does not fit, after the rest"},
    {"limit", "N", "how many parts to show, 1 to 1000; without it 10"},
    {"why", NULL, "the reasons for each part and its rank"},
    {0},
};

static bool read_limit(struct cli *cli, int *limit)
{
    long number = USUAL_LIMIT;
    bool good = cli_number_between(cli, "limit", 1, LB_FIND_LIMIT, &number);
    *limit = (int)number;
    return good;
}

lb_status judge_find(struct cli *cli)
{
    int limit;
    return read_limit(cli, &limit) ? LB_OK : LB_USAGE;
}

/* Words and quoted phrases alike: what is typed is one line. */
static void join_words(const struct cli *cli, struct lb_buf *query)
{
    for (int i = 0; i < cli->word_count; i++)
        if (!cli->words[i].option)
            lb_buf_printf(query, "%s%s", query->length ? " " : "", cli->words[i].text);
}

static void show(struct cli *cli, const struct lb_find_request *request, const struct lb_find_result *result)
{
    const struct lb_find_view view = {.query = request->text,
                                      .vehicle = request->shortlist ? request->shortlist->vehicle : NULL,
                                      .limit = request->limit,
                                      .all = request->all,
                                      .why = cli_value(cli, "why") != NULL};
    if (cli->json)
        cli_print_json(cli, lb_report_find_json(view.query, result, view.why));
    else
        lb_report_find(&cli->out, result, &view, &cli->style);
}

static void find(struct cli *cli, const struct lb_find_request *request)
{
    struct lb_finder *finder = NULL;
    struct lb_find_result *result = NULL;
    lb_status status = lb_find_open(&finder, cli->store, &cli->err);
    if (!status)
        status = lb_find(finder, request, &result, &cli->err);
    if (!status)
        show(cli, request, result);
    lb_find_free(result);
    lb_find_close(finder);
}

int run_find(struct cli *cli)
{
    struct lb_find_request request = {.today = cli->today, .all = cli_value(cli, "all") != NULL};
    struct lb_fitting *fitting = NULL;
    struct lb_buf query = {0};
    const char *vehicle = cli_value(cli, "vehicle");
    lb_status status = read_limit(cli, &request.limit) ? LB_OK : LB_USAGE;
    join_words(cli, &query);
    if (!status && query.failed)
        status = lb_fail_nomem(&cli->err);
    if (!status && vehicle)
        status = lb_fitting_load(&fitting, cli->store, vehicle, &cli->err);
    if (!status && request.all && !vehicle)
        cli_remark(cli, "--all changes nothing without --vehicle: all that is found is shown.");
    request.text = lb_buf_text(&query);
    request.shortlist = fitting ? lb_fitting_shortlist(fitting) : NULL;
    if (!status)
        find(cli, &request);
    lb_fitting_free(fitting);
    lb_buf_free(&query);
    return 0;
}
