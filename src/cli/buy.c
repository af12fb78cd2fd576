#include "base/date.h"
#include "base/decimal.h"
#include "base/text.h"
#include "cli/cli.h"
#include "purchase/purchase.h"
#include "report/buy_json.h"
#include "report/buy_text.h"

#include <sched.h>
#include <stdlib.h>
#include <string.h>

enum { USUAL_SECONDS = 10, MOST_SUPPLIERS = 1000 };

const struct cli_option buy_options[] = {
    {"arrive-by", "DATE", "all must be here on that day: YYYY-MM-DD"},
    {"suppliers-at-most", "N", "no more than so many parcels"},
    {"only", "S", "from this supplier only; may be given again"},
    {"without", "S", "not from this supplier; may be given again"},
    {"cheapest-only", NULL, "the cheapest basket alone, without the table of other choices"},
    {"seconds", "N", "how long to search and to prove; without it 10"},
    {"why", NULL, "what the next best would cost, line by line and supplier by supplier"},
    {0},
};

/* A month or a year is over on its last day. */
static bool read_day(struct cli *cli, int32_t *day)
{
    const char *text = cli_value(cli, "arrive-by");
    struct lb_interval date;
    *day = LB_NO_DAY;
    if (!text)
        return true;
    const char *why = lb_date_parse(text, &date);
    if (why)
        lb_fail(&cli->err, LB_USAGE, "--arrive-by \"%.100s\": %s.", text, why);
    else if (date.last < cli->today)
        lb_fail(&cli->err, LB_USAGE, "--arrive-by %.100s is past: nothing can arrive by then.", text);
    else
        *day = date.last;
    return *day != LB_NO_DAY;
}

static bool read_suppliers_at_most(struct cli *cli, int *most)
{
    long number = 0;
    bool good = cli_number_between(cli, "suppliers-at-most", 1, MOST_SUPPLIERS, &number);
    *most = (int)number;
    return good;
}

static bool read_seconds(struct cli *cli, double *seconds)
{
    const char *text = cli_value(cli, "seconds");
    int64_t millionths = USUAL_SECONDS * LB_MILLION;
    if (!text || (lb_decimal_parse(text, &millionths) && millionths > 0)) {
        *seconds = (double)millionths / (double)LB_MILLION;
        return true;
    }
    lb_fail(&cli->err, LB_USAGE, "--seconds must be a number above 0, such as 2.5, not \"%.100s\".", text);
    return false;
}

/* Processors that this process may use. */
static int processors(void)
{
    cpu_set_t set;
    return sched_getaffinity(0, sizeof set, &set) ? 1 : CPU_COUNT(&set);
}

static bool read_options(struct cli *cli, struct lb_purchase_options *options)
{
    *options = (struct lb_purchase_options){.workers = processors(),
                                            .front = cli_value(cli, "cheapest-only") == NULL,
                                            .reasons = cli_value(cli, "why") != NULL};
    return read_day(cli, &options->arrive_by) && read_suppliers_at_most(cli, &options->suppliers_at_most) &&
           read_seconds(cli, &options->seconds);
}

/* The supplier that is both wanted and not, or NULL. */
static const char *wanted_and_not(const struct cli *cli)
{
    for (int i = 0; i < cli->word_count; i++)
        for (int j = 0; cli_is(&cli->words[i], "only") && j < cli->word_count; j++)
            if (cli_is(&cli->words[j], "without") &&
                lb_text_same_words(cli->words[i].text, cli->words[j].text))
                return cli->words[i].text;
    return NULL;
}

lb_status judge_buy(struct cli *cli)
{
    struct lb_purchase_options options;
    const char *torn = wanted_and_not(cli);
    if (!read_options(cli, &options))
        return LB_USAGE;
    return torn ? lb_fail(&cli->err, LB_USAGE,
                          "\"%.100s\" stands behind both --only and --without: leave one of them out.", torn)
                : LB_OK;
}

/* The texts of an option's occurrences, or, with NULL, the plain words; in the order of the command line. */
static size_t gather(const struct cli *cli, const char *option, const char **texts)
{
    size_t count = 0;
    for (int i = 0; i < cli->word_count; i++)
        if (option ? cli_is(&cli->words[i], option) : !cli->words[i].option)
            texts[count++] = cli->words[i].text;
    return count;
}

/* What was shown is kept for `order`, and for what has moved until the next time; showing works without. */
static void note_shown(const struct cli *cli, const struct lb_purchase *purchase,
                       const struct lb_purchase_options *options)
{
    struct lb_error err = {0};
    if (purchase->blocked || lb_store_read_only(cli->store))
        return;
    if (lb_purchase_note_shown(cli->store, purchase, options, cli->now, &err))
        cli_remark(cli, "what is shown here could not be kept, so it cannot be ordered as it stands: %s",
                   lb_error_text(&err));
    lb_error_free(&err);
}

/* Other choices take far longer than the basket, so that is shown before them. */
static void show_text(struct cli *cli, struct lb_purchase *purchase,
                      const struct lb_purchase_options *options)
{
    lb_report_buy_basket(&cli->out, purchase, options, &cli->style);
    note_shown(cli, purchase, options);
    if ((options->front || options->reasons) && cli_hand_out(cli) &&
        !lb_purchase_compare(purchase, options, &cli->err))
        lb_report_buy_choices(&cli->out, purchase, options, &cli->style);
}

static void show_json(struct cli *cli, struct lb_purchase *purchase,
                      const struct lb_purchase_options *options)
{
    if (lb_purchase_compare(purchase, options, &cli->err))
        return;
    cli_print_json(cli, lb_report_buy_json(purchase));
    note_shown(cli, purchase, options);
}

static int show(struct cli *cli, struct lb_purchase *purchase, const struct lb_purchase_options *options)
{
    if (cli->json)
        show_json(cli, purchase, options);
    else
        show_text(cli, purchase, options);
    return purchase->blocked || purchase->gap_count ? EXIT_GAPS : 0;
}

int run_buy(struct cli *cli)
{
    size_t room = (size_t)cli->word_count + 1;
    const char **texts = calloc(3 * room, sizeof *texts);
    struct lb_purchase_options options;
    struct lb_purchase *purchase = NULL;
    int exit_status = 0;
    if (!texts) {
        lb_fail_nomem(&cli->err);
        return 0;
    }
    bool read = read_options(cli, &options);
    options.only = texts + room;
    options.only_count = gather(cli, "only", texts + room);
    options.without = texts + 2 * room;
    options.without_count = gather(cli, "without", texts + 2 * room);
    if (read && !lb_purchase_make(&purchase, cli->store, texts, gather(cli, NULL, texts), &options,
                                  cli->today, &cli->err))
        exit_status = show(cli, purchase, &options);
    lb_purchase_free(purchase);
    free(texts);
    return exit_status;
}
