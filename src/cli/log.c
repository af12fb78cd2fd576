#include "base/date.h"
#include "base/decimal.h"
#include "base/measure.h"
#include "base/shell.h"
#include "cli/cli.h"
#include "garage/service_log.h"
#include "kit/done.h"
#include "report/log_report.h"

#include <stdlib.h>
#include <string.h>

const struct cli_option log_options[] = {
    {"done", "JOB", "a job, component or circuit that was done; may be given again"},
    {"at", "DISTANCE", "what the odometer showed, in km; 50000 mi is converted"},
    {"on", "DATE", "on which day; without it, today"},
    {"kit", "NAME", "the kit that was used: its components and parts"},
    {"part", "\"BRAND NUMBER\"", "a part that was used; may be given again"},
    {"batch", "TEXT", "batch or receipt of the part before it; before any part, of all"},
    {"note", "TEXT", "what else is to be remembered"},
    {"swapped", NULL, "another odometer counts from here"},
    {0},
};

static bool anything_given(const struct cli *cli)
{
    for (const struct cli_option *option = log_options; option->name; option++)
        if (cli_value(cli, option->name))
            return true;
    return false;
}

static lb_status read_distance(struct cli *cli, int64_t *km)
{
    const char *words = cli_value(cli, "at"), *reason = lb_measure_parse(words, LB_DISTANCE, km);
    if (!reason && *km < 0)
        reason = "is less than nothing";
    if (!reason && *km > LB_ODOMETER_MOST * LB_MILLION)
        reason = "is more than any odometer shows";
    return reason ? lb_fail(&cli->err, LB_USAGE, "--at \"%.100s\": %s. Write a distance in km, or 50000 mi.",
                            words, reason)
                  : LB_OK;
}

static lb_status judge_texts(struct cli *cli)
{
    static const char *const names[] = {"note", "batch", "done"};
    for (int i = 0; i < cli->word_count; i++)
        for (size_t n = 0; n < sizeof names / sizeof *names; n++)
            if (cli_is(&cli->words[i], names[n]) &&
                !cli->words[i].text[strspn(cli->words[i].text, " \t\r\n")])
                return lb_fail(&cli->err, LB_USAGE, "--%s is empty. Leave it out, or say something.",
                               names[n]);
    return LB_OK;
}

/* A month or year is taken from its first day, so that nothing is due too late. */
static lb_status read_day(struct cli *cli, int32_t *day)
{
    const char *words = cli_value(cli, "on");
    struct lb_interval days = {cli->today, cli->today};
    const char *reason = words ? lb_date_parse(words, &days) : NULL;
    if (reason)
        return lb_fail(&cli->err, LB_USAGE, "--on \"%.100s\": %s.", words, reason);
    if (days.first > cli->today)
        return lb_fail(&cli->err, LB_USAGE, "--on %.100s: that day is still to come.", words);
    *day = days.first;
    return LB_OK;
}

lb_status judge_log(struct cli *cli)
{
    int64_t km;
    int32_t day;
    if (!anything_given(cli))
        return LB_OK;
    if (!cli_value(cli, "done") && !cli_value(cli, "at") && !cli_value(cli, "kit") &&
        !cli_value(cli, "part") && !cli_value(cli, "note"))
        return lb_fail(&cli->err, LB_USAGE,
                       "say what was done, or what the odometer showed: --done JOB, --at KM");
    if (cli_value(cli, "swapped") && !cli_value(cli, "at"))
        return lb_fail(&cli->err, LB_USAGE, "say what the other odometer showed: --swapped --at KM");
    if (cli_value(cli, "batch") && !cli_value(cli, "part") && !cli_value(cli, "kit"))
        return lb_fail(
            &cli->err, LB_USAGE,
            "--batch is of parts: name them with --part \"BRAND NUMBER\" or --kit NAME. For the job as "
            "a whole use --note TEXT.");
    lb_status status = judge_texts(cli);
    if (!status)
        status = read_day(cli, &day);
    return status || !cli_value(cli, "at") ? status : read_distance(cli, &km);
}

/* The first --batch behind a part, before the next part; `at` is the part's word. */
static const char *batch_behind(const struct cli *cli, int at)
{
    for (int i = at + 1; i < cli->word_count && !cli_is(&cli->words[i], "part"); i++)
        if (cli_is(&cli->words[i], "batch"))
            return cli->words[i].text;
    return NULL;
}

/* A --batch before any part. */
static const char *batch_of_all(const struct cli *cli)
{
    return batch_behind(cli, -1);
}

static lb_status read_parts(struct cli *cli, struct lb_done *done)
{
    lb_status status = LB_OK;
    for (int i = 0; !status && i < cli->word_count; i++) {
        bool known;
        if (!cli_is(&cli->words[i], "part"))
            continue;
        const char *batch = batch_behind(cli, i);
        status = lb_done_part(done, cli->words[i].text, batch ? batch : batch_of_all(cli), &known, &cli->err);
        if (!status && !known)
            cli_remark(cli, "no catalogue knows %s; it is noted as you wrote it.", cli->words[i].text);
    }
    return status;
}

static lb_status read_done(struct cli *cli, struct lb_done *done)
{
    lb_status status = LB_OK;
    for (int i = 0; !status && i < cli->word_count; i++)
        if (cli_is(&cli->words[i], "done"))
            status = lb_done_name(done, cli->words[i].text, &cli->err);
    if (!status && cli_value(cli, "kit"))
        status = lb_done_kit(done, cli_value(cli, "kit"), cli->today, batch_of_all(cli),
                             !cli_value(cli, "done"), &cli->err);
    return status ? status : read_parts(cli, done);
}

/* "50000 mi is 80467.2 km." */
static void remark_converted(const struct cli *cli, const struct lb_log_entry *entry)
{
    int64_t number;
    const char *words = cli_value(cli, "at"), *rest;
    struct lb_buf km = {0};
    lb_decimal_print(&km, entry->km);
    if (lb_decimal_parse_prefix(words, &number, &rest) && *rest && number != entry->km)
        cli_remark(cli, "%s is %s km.", words, lb_buf_text(&km));
    lb_buf_free(&km);
}

static void remark_day(const struct cli *cli, const struct lb_log_entry *entry)
{
    struct lb_buf day = {0};
    const char *words = cli_value(cli, "on");
    lb_date_print(&day, entry->day);
    if (words && strcmp(words, lb_buf_text(&day)) != 0)
        cli_remark(cli, "%s is taken as %s.", words, lb_buf_text(&day));
    lb_buf_free(&day);
}

static void remark_reading(struct cli *cli, const struct lb_log *log, const struct lb_log_entry *entry)
{
    struct lb_buf words = {0}, name = {0};
    lb_log_remarks(log, entry->id, &words);
    if (words.length)
        cli_remark(cli,
                   "%sIt is kept, and what is due does without it if the other readings deny it. To take it "
                   "back: lastbolt log drop %s %lld. If it is another odometer, log it with --swapped.",
                   lb_buf_text(&words), lb_shell_word(&name, cli_plain(cli, 0)), (long long)entry->id);
    lb_buf_free(&words);
    lb_buf_free(&name);
}

static lb_status add(struct cli *cli, const struct lb_vehicle *vehicle, struct lb_done *done,
                     struct lb_log_entry *entry)
{
    lb_status status = read_day(cli, &entry->day);
    if (!status)
        status = lb_log_judge_day(vehicle, entry->day, &cli->err);
    entry->has_km = cli_value(cli, "at") != NULL;
    if (!status && entry->has_km)
        status = read_distance(cli, &entry->km);
    if (!status)
        status = lb_done_begin(done, cli->store, vehicle, &cli->err);
    if (!status)
        status = read_done(cli, done);
    if (status)
        return status;
    if (done->no_map && cli_value(cli, "done"))
        cli_remark(cli, "noted as you named it: %s", done->no_map);
    entry->swapped = cli_value(cli, "swapped") != NULL;
    entry->done = done->words.length ? lb_buf_text(&done->words) : NULL;
    entry->kit = cli_value(cli, "kit");
    entry->note = cli_value(cli, "note");
    entry->components = done->components.at;
    entry->component_count = done->components.count;
    entry->parts = done->parts.at;
    entry->part_count = done->parts.count;
    return lb_log_add(cli->store, vehicle->id, entry, &cli->err);
}

/* The log as it is now. Of a line that was added (else NULL) people see that alone, and what is to be said of
 * it. */
static void show(struct cli *cli, const struct lb_vehicle *vehicle, const struct lb_log_entry *added)
{
    struct lb_log log;
    if (lb_log_load(&log, cli->store, vehicle->id, &cli->err))
        return;
    if (cli->json)
        cli_print_json(cli, lb_report_log_json(&log, vehicle->name));
    else
        lb_report_log(&cli->out, &log, vehicle->name, added ? added->id : 0, &cli->style);
    if (added) {
        remark_day(cli, added);
        if (added->has_km)
            remark_converted(cli, added);
        remark_reading(cli, &log, added);
    }
    lb_log_free(&log);
}

int run_log(struct cli *cli)
{
    struct lb_vehicle vehicle;
    struct lb_done done = {0};
    struct lb_log_entry entry = {0};
    bool adds = anything_given(cli);
    lb_status status = lb_vehicle_load(cli->store, cli_plain(cli, 0), &vehicle, &cli->err);
    if (status)
        return 0;
    if (adds)
        status = add(cli, &vehicle, &done, &entry);
    if (!status)
        show(cli, &vehicle, adds ? &entry : NULL);
    lb_done_free(&done);
    lb_vehicle_free(&vehicle);
    return 0;
}

lb_status judge_log_drop(struct cli *cli)
{
    long number;
    return cli_number(cli, cli_plain(cli, 1), "the line", &number) ? LB_OK : LB_USAGE;
}

int run_log_drop(struct cli *cli)
{
    struct lb_vehicle vehicle;
    long number = 0;
    lb_status status = lb_vehicle_load(cli->store, cli_plain(cli, 0), &vehicle, &cli->err);
    if (status)
        return 0;
    if (cli_number(cli, cli_plain(cli, 1), "the line", &number))
        status = lb_log_drop(cli->store, vehicle.id, vehicle.name, number, &cli->err);
    if (!status)
        show(cli, &vehicle, NULL);
    lb_vehicle_free(&vehicle);
    return 0;
}
