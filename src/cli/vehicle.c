#include "garage/vehicle.h"
#include "base/vin.h"
#include "cli/cli.h"
#include "garage/fitting.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

const struct cli_option vehicle_options[] = {
    {"make", "M", "the vehicle's maker"},
    {"model", "M", "its model"},
    {"built", "D", "when it was built: YYYY, YYYY-MM or YYYY-MM-DD"},
    {"vin", "VIN", "its identification number"},
    {"with", "KEY=VALUE", "a fact such as engine=tq20 or ac=yes; may be given again"},
    {0},
};

/* A fact that makes no sense was typed so. */
static lb_status blame_word(struct cli *cli)
{
    if (cli->err.status == LB_DATA)
        cli->err.status = LB_USAGE;
    return cli->err.status;
}

/* "engine=tq20" into the vehicle. */
static lb_status state_pair(struct cli *cli, struct lb_vehicle *vehicle, const struct cli_word *word)
{
    const char *equals = strchr(word->text, '=');
    char *key = strndup(word->text, (size_t)(equals - word->text));
    lb_status status = key ? lb_vehicle_state(vehicle, key, equals + 1, &cli->err) : lb_fail_nomem(&cli->err);
    free(key);
    if (status)
        status = word->option ? cli_blame_option(cli, word->option->name) : blame_word(cli);
    return status;
}

static bool is_pair(const struct cli_word *word)
{
    return !word->option || cli_is(word, "with");
}

static lb_status judge_pair(struct cli *cli, const char *pair)
{
    if (strchr(pair, '=') && *pair != '=')
        return LB_OK;
    return lb_fail(&cli->err, LB_USAGE, "write a fact as KEY=VALUE, not \"%.100s\".", pair);
}

/* All that was given as KEY=VALUE, the build date first: it decides how a VIN is judged. The first plain word
 * is the vehicle's name. */
static lb_status state_pairs(struct cli *cli, struct lb_vehicle *vehicle)
{
    lb_status status = LB_OK;
    for (int round = 0; round < 2; round++) {
        bool named = false;
        for (int i = 0; !status && i < cli->word_count; i++) {
            const struct cli_word *word = &cli->words[i];
            bool is_name = !word->option && !named;
            named |= is_name;
            if (is_pair(word) && !is_name && (strncasecmp(word->text, "built=", 6) != 0) == round)
                status = state_pair(cli, vehicle, word);
        }
    }
    return status;
}

static void print_remarks(const struct cli *cli, const struct lb_vehicle *vehicle)
{
    struct lb_buf words = {0};
    lb_vehicle_remarks(vehicle, &words);
    if (words.length)
        cli_remark(cli, "%s", lb_buf_text(&words));
    lb_buf_free(&words);
}

static json_t *vehicle_json(const struct lb_vehicle *vehicle)
{
    struct lb_vin vin;
    json_t *facts = json_object();
    for (size_t i = 0; i < vehicle->facts.count; i++)
        if (vehicle->facts.at[i].value)
            json_object_set_new(facts, vehicle->facts.at[i].key, json_string(vehicle->facts.at[i].value));
    json_t *object =
        json_pack("{s:s, s:s, s:s, s:s?, s:s?, s:o}", "vehicle", vehicle->name, "make", vehicle->make,
                  "model", vehicle->model, "built", vehicle->built, "vin", vehicle->vin, "facts", facts);
    if (object && vehicle->vin && !lb_vin_parse(vehicle->vin, &vin) && vin.check_ok && vin.model_year)
        json_object_set_new(object, "model_year", json_integer(vin.model_year));
    return object;
}

static void print_vehicle(struct cli *cli, const struct lb_vehicle *vehicle)
{
    static const struct lb_table_column columns[] = {{0}, {.may_shrink = true}};
    struct lb_table table = {.columns = columns, .column_count = 2, .indent = 2};
    struct lb_vin vin;
    const char *own[][2] = {
        {"make", vehicle->make}, {"model", vehicle->model}, {"built", vehicle->built}, {"vin", vehicle->vin}};
    lb_style_put(&cli->out, &cli->style, LB_BOLD, vehicle->name);
    lb_buf_putc(&cli->out, '\n');
    for (size_t i = 0; i < sizeof own / sizeof *own; i++) {
        lb_table_cell(&table, LB_DIM, own[i][0]);
        lb_table_cell(&table, own[i][1] ? LB_PLAIN : LB_DIM, own[i][1] ? own[i][1] : "not stated");
    }
    if (vehicle->vin && !lb_vin_parse(vehicle->vin, &vin) && vin.check_ok && vin.model_year) {
        lb_table_cell(&table, LB_DIM, "model year");
        lb_table_cellf(&table, LB_PLAIN, "%d, by the VIN of a light vehicle", vin.model_year);
    }
    for (size_t i = 0; i < vehicle->facts.count; i++) {
        if (!vehicle->facts.at[i].value)
            continue; /* forgotten again */
        lb_table_cell(&table, LB_DIM, vehicle->facts.at[i].key);
        lb_table_cell(&table, LB_PLAIN, vehicle->facts.at[i].value);
    }
    lb_table_print(&table, &cli->out, &cli->style);
    lb_table_free(&table);
}

static void show(struct cli *cli, const struct lb_vehicle *vehicle)
{
    if (!cli->json) {
        print_vehicle(cli, vehicle);
        return;
    }
    json_t *object = json_pack("{s:i}", "version", 1), *own = vehicle_json(vehicle);
    if (!own || json_object_update(object, own)) {
        json_decref(object);
        object = NULL;
    }
    json_decref(own);
    cli_print_json(cli, object);
}

static lb_status state_options(struct cli *cli, struct lb_vehicle *vehicle)
{
    static const char *const own[] = {"make", "model", "built", "vin"};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof own / sizeof *own; i++)
        if (cli_value(cli, own[i]) && lb_vehicle_state(vehicle, own[i], cli_value(cli, own[i]), &cli->err))
            status = cli_blame_option(cli, own[i]);
    return status ? status : state_pairs(cli, vehicle);
}

lb_status judge_vehicle_add(struct cli *cli)
{
    struct lb_vehicle tried = {.interval = {LB_DATE_MIN, LB_DATE_MAX}};
    lb_status status = LB_OK;
    for (int i = 0; !status && i < cli->word_count; i++)
        if (cli_is(&cli->words[i], "with"))
            status = judge_pair(cli, cli->words[i].text);
    if (!status && (!cli_value(cli, "make") || !cli_value(cli, "model")))
        status = lb_fail(&cli->err, LB_USAGE,
                         "state make and model: lastbolt vehicle add NAME --make M --model M");
    if (!status)
        status = state_options(cli, &tried);
    lb_vehicle_free(&tried);
    return status;
}

lb_status judge_vehicle_set(struct cli *cli)
{
    lb_status status = LB_OK;
    for (int i = 1; !status && cli_plain(cli, i); i++)
        status = judge_pair(cli, cli_plain(cli, i));
    return status;
}

/* What is not stored is worked out each time that it is asked for; that takes longer, no more. */
void cli_refresh_fitting(const struct cli *cli)
{
    struct lb_error err = {0};
    if (lb_fitting_refresh(cli->store, &err))
        cli_remark(cli, "the lists of what fits the vehicles could not be stored: %s", lb_error_text(&err));
    lb_error_free(&err);
}

int run_vehicle_add(struct cli *cli)
{
    struct lb_vehicle vehicle = {.name = strdup(cli_plain(cli, 0)), .interval = {LB_DATE_MIN, LB_DATE_MAX}};
    lb_status status = vehicle.name ? state_options(cli, &vehicle) : lb_fail_nomem(&cli->err);
    if (!status)
        status = lb_vehicle_save(cli->store, &vehicle, &cli->err);
    if (!status) {
        show(cli, &vehicle);
        print_remarks(cli, &vehicle);
        cli_refresh_fitting(cli);
    }
    lb_vehicle_free(&vehicle);
    return 0;
}

int run_vehicle_show(struct cli *cli)
{
    struct lb_vehicle vehicle;
    if (lb_vehicle_load(cli->store, cli_plain(cli, 0), &vehicle, &cli->err))
        return 0;
    show(cli, &vehicle);
    print_remarks(cli, &vehicle);
    lb_vehicle_free(&vehicle);
    return 0;
}

int run_vehicle_set(struct cli *cli)
{
    struct lb_vehicle vehicle;
    lb_status status = lb_vehicle_load(cli->store, cli_plain(cli, 0), &vehicle, &cli->err);
    if (status)
        return 0;
    status = state_pairs(cli, &vehicle);
    if (!status)
        status = lb_vehicle_save(cli->store, &vehicle, &cli->err);
    lb_vehicle_free(&vehicle);
    if (!status)
        cli_refresh_fitting(cli);
    return status ? 0 : run_vehicle_show(cli);
}

static lb_status add_json(void *context, const struct lb_vehicle *vehicle)
{
    return json_array_append_new(context, vehicle_json(vehicle)) == 0 ? LB_OK : LB_NOMEM;
}

static lb_status add_row(void *context, const struct lb_vehicle *vehicle)
{
    lb_table_cell(context, LB_BOLD, vehicle->name);
    lb_table_cell(context, LB_PLAIN, vehicle->make);
    lb_table_cell(context, LB_PLAIN, vehicle->model);
    lb_table_cell(context, LB_PLAIN, vehicle->built);
    lb_table_cell(context, LB_PLAIN, vehicle->vin);
    return LB_OK;
}

int run_vehicle_list(struct cli *cli)
{
    static const struct lb_table_column columns[] = {{.heading = "vehicle"},
                                                     {.heading = "make"},
                                                     {.heading = "model", .may_shrink = true},
                                                     {.heading = "built"},
                                                     {.heading = "VIN"}};
    struct lb_table table = {.columns = columns, .column_count = sizeof columns / sizeof *columns};
    json_t *rows = json_array();
    lb_status status = cli->json ? lb_vehicle_each(cli->store, add_json, rows, &cli->err)
                                 : lb_vehicle_each(cli->store, add_row, &table, &cli->err);
    if (!status && cli->json)
        cli_print_json(cli, json_pack("{s:i, s:O}", "version", 1, "vehicles", rows));
    else if (!status && !table.cells.count)
        lb_buf_puts(
            &cli->out,
            "There are no vehicles yet. Add one with: lastbolt vehicle add NAME --make M --model M\n");
    else if (!status)
        lb_table_print(&table, &cli->out, &cli->style);
    lb_table_free(&table);
    json_decref(rows);
    return 0;
}
