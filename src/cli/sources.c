#include "catalog/sources.h"
#include "base/text.h"
#include "cli/cli.h"
#include "garage/rule.h"
#include "report/json.h"

static lb_status add_json(void *context, const struct lb_source *source)
{
    json_t *row = json_pack("{s:o, s:o, s:s, s:s?, s:s, s:I, s:I}", "source",
                            lb_report_json_text(source->name), "path", lb_report_json_text(source->path),
                            "kind", source->kinds, "supplier", source->supplier, "imported", source->imported,
                            "rows", (json_int_t)source->rows, "rejected", (json_int_t)source->rejected);
    return json_array_append_new(context, row) == 0 ? LB_OK : LB_NOMEM;
}

static lb_status add_row(void *context, const struct lb_source *source)
{
    struct lb_table *table = context;
    lb_table_cell(table, LB_PLAIN, source->name);
    lb_table_cell(table, LB_PLAIN, source->kinds);
    lb_table_cellf(table, LB_PLAIN, "%lld", (long long)source->rows);
    lb_table_cellf(table, LB_PLAIN, "%lld", (long long)source->rejected);
    lb_table_cell(table, LB_PLAIN, source->supplier);
    lb_table_cell(table, LB_PLAIN, source->imported);
    lb_table_cell(table, LB_DIM, source->path);
    return LB_OK;
}

int run_sources(struct cli *cli)
{
    static const struct lb_table_column columns[] = {
        {.heading = "source", .may_shrink = true},
        {.heading = "kind"},
        {.heading = "rows", .align = LB_RIGHT},
        {.heading = "refused", .align = LB_RIGHT},
        {.heading = "supplier"},
        {.heading = "imported"},
        {.heading = "from", .may_shrink = true},
    };
    struct lb_table table = {.columns = columns, .column_count = sizeof columns / sizeof *columns};
    json_t *rows = json_array();
    lb_status status = cli->json ? lb_sources_each(cli->store, add_json, rows, &cli->err)
                                 : lb_sources_each(cli->store, add_row, &table, &cli->err);
    if (status == LB_NOMEM)
        lb_fail_nomem(&cli->err);
    else if (!status && cli->json)
        cli_print_json(cli, json_pack("{s:i, s:O}", "version", 1, "sources", rows));
    else if (!status && !table.cells.count)
        lb_buf_puts(&cli->out, "The index is empty. Begin with: lastbolt import PATH\n");
    else if (!status)
        lb_table_print(&table, &cli->out, &cli->style);
    lb_table_free(&table);
    json_decref(rows);
    return 0;
}

int run_sources_drop(struct cli *cli)
{
    const char *name = cli_plain(cli, 0);
    lb_status status = lb_sources_drop(cli->store, name, &cli->err);
    if (status == LB_DATA && lb_text_same_words(name, LB_RULE_SOURCE)) /* as kits name them */
        lb_fail(&cli->err, LB_DATA,
                "your own rules were not imported, so they are no source. To take one back: lastbolt rules "
                "drop NUMBER");
    if (status)
        return 0;
    cli_refresh_fitting(cli);
    if (cli->json)
        cli_print_json(cli, json_pack("{s:i, s:o}", "version", 1, "dropped", lb_report_json_text(name)));
    else
        lb_buf_printf(&cli->out, "%s is out of the index.\n", name);
    return 0;
}
