#include "report/draw.h"
#include "base/shell.h"
#include "cli/cli.h"
#include "kit/kit.h"
#include "report/json.h"

#include <string.h>

static const char *const kinds[] = {"teardown", "cost", "belt"};
enum { TEARDOWN, COST, BELT, KINDS };

static int kind_of(const char *word)
{
    int kind = 0;
    while (kind < KINDS && strcmp(word, kinds[kind]) != 0)
        kind++;
    return kind;
}

lb_status judge_draw(struct cli *cli)
{
    const char *word = cli_plain(cli, 1);
    struct lb_buf name = {0};
    if (kind_of(word) < KINDS)
        return LB_OK;
    return lb_shell_failed(
        &name,
        lb_fail(&cli->err, LB_USAGE,
                "\"%.100s\" is no drawing. There are teardown, cost and belt, such as: draw %s "
                "teardown > teardown.svg",
                word, lb_shell_word(&name, cli_plain(cli, 0))),
        &cli->err);
}

static lb_status draw(struct cli *cli, const struct lb_kit *kit, int kind, struct lb_buf *svg)
{
    size_t belts = 0;
    if (kind == TEARDOWN)
        return lb_draw_teardown(svg, kit, &cli->err);
    if (kind == COST)
        return lb_draw_cost(svg, kit, &cli->err);
    lb_status status = lb_draw_belts(svg, kit, &belts, &cli->err);
    return status || belts
               ? status
               : lb_fail(&cli->err, LB_DATA,
                         "The kit %s neither renews nor disturbs a belt whose run the service map "
                         "describes (its pulleys file), so there is no belt to draw.",
                         kit->name);
}

static json_t *as_json(const struct lb_kit *kit, int kind, const struct lb_buf *svg)
{
    struct lb_maker maker = {0};
    json_t *object = lb_maker_object(&maker);
    lb_maker_set(&maker, object, "version", json_integer(1));
    lb_maker_set(&maker, object, "kit", lb_report_json_text(kit->name));
    lb_maker_set(&maker, object, "drawing", json_string(kinds[kind]));
    lb_maker_set(&maker, object, "svg", lb_report_json_text(lb_buf_text(svg)));
    return lb_maker_end(&maker, object);
}

int run_draw(struct cli *cli)
{
    struct lb_kit *kit;
    struct lb_buf svg = {0};
    int kind = kind_of(cli_plain(cli, 1));
    if (lb_kit_open(&kit, cli->store, cli_plain(cli, 0), cli->today, &cli->err))
        return 0;
    lb_status status = draw(cli, kit, kind, &svg);
    if (!status || (status == LB_DATA && svg.length)) { /* what can be drawn is, and what cannot is told */
        if (cli->json)
            cli_print_json(cli, as_json(kit, kind, &svg));
        else
            lb_buf_append(&cli->out, lb_buf_text(&svg), svg.length);
        cli->out.failed = cli->out.failed || svg.failed;
    }
    lb_buf_free(&svg);
    lb_kit_free(kit);
    return 0;
}
