/* The work itself: what else is worth doing, what comes off, in which order, with what, and what to mind. */
#include "report/kit_page.h"

#include "base/decimal.h"

#include <inttypes.h>
#include <string.h>

static void put_wear(struct lb_buf *out, const struct lb_map_component *row)
{
    if (row->wear_km) {
        lb_decimal_print(out, row->wear_km);
        lb_buf_puts(out, " km");
    }
    if (row->wear_months)
        lb_buf_printf(out, "%s%" PRId64 " months", row->wear_km ? " or " : "", row->wear_months);
}

static void put_extras(struct lb_buf *out, const struct lb_suggestion *suggestion)
{
    if (!suggestion->extra_count)
        lb_buf_puts(out, "nothing more");
    for (size_t i = 0; i < suggestion->extra_count; i++) {
        const struct lb_article *article = &suggestion->extras[i].article;
        lb_buf_puts(out, i ? ", " : "");
        lb_page_amount(out, article->quantity, article->unit);
        lb_buf_printf(out, " %s%s%s", article->part_type, article->spec.text ? " " : "",
                      article->spec.text ? article->spec.text : "");
    }
}

void lb_page_suggestions(const struct lb_page *page)
{
    static const struct lb_table_column columns[] = {{.heading = "component", .may_shrink = true},
                                                     {.heading = "wears by", .may_shrink = true},
                                                     {.heading = "what it takes", .may_shrink = true}};
    const struct lb_plan *plan = page->kit->plan;
    struct lb_table table = {.columns = columns, .column_count = 3, .indent = 2};
    struct lb_buf words = {0};
    if (!plan->suggestion_count)
        return;
    lb_page_heading(page, "While you are in there");
    for (size_t i = 0; i < plan->suggestion_count; i++) {
        const struct lb_suggestion *suggestion = &plan->suggestions[i];
        lb_table_cell(&table, LB_PLAIN, plan->map->components[suggestion->component]);
        lb_buf_clear(&words);
        put_wear(&words, &plan->map->component_rows[suggestion->component_row]);
        lb_table_cell(&table, LB_PLAIN, words.length ? lb_buf_text(&words) : "");
        lb_buf_clear(&words);
        put_extras(&words, suggestion);
        lb_table_cell(&table, LB_PLAIN, lb_buf_text(&words));
    }
    table.failed = table.failed || words.failed;
    lb_buf_free(&words);
    lb_page_print(page, &table);
    lb_page_say(page, LB_DIM, "To add one: build the kit again with --replace COMPONENT.");
}

static void put_level(const struct lb_page *page, enum lb_level level, const char *words)
{
    const struct lb_plan *plan = page->kit->plan;
    struct lb_buf names = {0};
    for (size_t i = 0; i < plan->teardown_count; i++) {
        const struct lb_teardown *t = &plan->teardown[i];
        if (t->level != level)
            continue;
        lb_buf_puts(&names, names.length ? ", " : "");
        lb_buf_puts(&names, page->kit->component_names[t->component]);
        lb_buf_puts(&names, t->sure ? "" : " (ask)");
    }
    if (names.length)
        lb_page_say(page, LB_PLAIN, "%s: %s", words, lb_buf_text(&names));
    page->out->failed = page->out->failed || names.failed;
    lb_buf_free(&names);
}

void lb_page_teardown(const struct lb_page *page)
{
    if (!page->kit->plan->teardown_count)
        return;
    lb_page_heading(page, "What comes apart");
    put_level(page, LB_REMOVED, "Off");
    put_level(page, LB_ASIDE, "Aside, lines on");
    put_level(page, LB_LOOSENED, "Loose");
}

void lb_page_order(const struct lb_page *page)
{
    static const struct lb_table_column columns[] = {{.align = LB_RIGHT}, {.may_shrink = true}};
    const struct lb_plan *plan = page->kit->plan;
    struct lb_table table = {.columns = columns, .column_count = 2, .indent = 2};
    struct lb_buf words = {0};
    if (!plan->step_count)
        return;
    lb_page_heading(page, "Order of work");
    for (size_t i = 0; i < plan->step_count; i++) {
        const struct lb_step *step = &plan->steps[i];
        lb_buf_clear(&words);
        lb_page_plain(&words, step->verb);
        lb_buf_putc(&words, ' ');
        if (step->thing.is_circuit)
            lb_page_plain(&words, plan->map->circuits[step->thing.id]);
        else
            lb_buf_puts(&words, page->kit->component_names[step->thing.id]);
        lb_table_cellf(&table, LB_DIM, "%zu", i + 1);
        lb_table_cell(&table, LB_PLAIN, lb_buf_text(&words));
    }
    table.failed = table.failed || words.failed;
    lb_buf_free(&words);
    lb_page_print(page, &table);
}

static bool has_torque(const struct lb_plan *plan, const struct lb_map_fastening *row)
{
    return row->component != LB_NO_NAME && (row->torque || row->angle) &&
           plan->levels[row->component] >= row->at;
}

static void add_torque(const struct lb_page *page, struct lb_table *table, const struct lb_map_fastening *row)
{
    struct lb_buf words = {0};
    lb_buf_puts(&words, page->kit->component_names[row->component]);
    lb_table_cell(table, LB_PLAIN, lb_buf_text(&words));
    lb_table_cell(table, LB_PLAIN, row->item);
    lb_buf_clear(&words);
    if (row->torque) {
        lb_decimal_print(&words, row->torque);
        lb_buf_puts(&words, " N·m");
    }
    if (row->angle) {
        lb_buf_puts(&words, row->torque ? " + " : "");
        lb_decimal_print(&words, row->angle);
        lb_buf_puts(&words, "°");
    }
    lb_table_cell(table, LB_PLAIN, lb_buf_text(&words));
    lb_buf_clear(&words);
    for (uint32_t i = 0; i < row->row.doubt_count; i++)
        lb_buf_printf(&words, "%s%s", i ? ", " : "ask: ", page->kit->plan->map->facts[row->row.doubts[i]]);
    lb_table_cell(table, LB_YELLOW, words.length ? lb_buf_text(&words) : "");
    table->failed = table->failed || words.failed;
    lb_buf_free(&words);
}

void lb_page_torques(const struct lb_page *page)
{
    static const struct lb_table_column columns[] = {{.heading = "on", .may_shrink = true},
                                                     {.heading = "item", .may_shrink = true},
                                                     {.heading = "catalogue value", .align = LB_RIGHT},
                                                     {.may_shrink = true}};
    const struct lb_plan *plan = page->kit->plan;
    struct lb_table table = {.columns = columns, .column_count = 4, .indent = 2};
    for (size_t i = 0; i < plan->map->fastening_count; i++)
        if (has_torque(plan, &plan->map->fastenings[i]))
            add_torque(page, &table, &plan->map->fastenings[i]);
    if (table.cells.count)
        lb_page_heading(page, "Tightening");
    lb_page_print(page, &table);
}

void lb_page_tools(const struct lb_page *page)
{
    const struct lb_plan *plan = page->kit->plan;
    struct lb_buf words = {0};
    for (size_t i = 0; i < plan->tool_count; i++)
        lb_buf_printf(&words, "%s%s", i ? ", " : "", plan->tools[i]);
    if (plan->tool_count) {
        lb_page_heading(page, "Tools");
        lb_page_say(page, LB_PLAIN, "%s", lb_buf_text(&words));
    }
    page->out->failed = page->out->failed || words.failed;
    lb_buf_free(&words);
}

void lb_page_inspect(const struct lb_page *page)
{
    static const struct lb_table_column columns[] = {{.may_shrink = true}, {.may_shrink = true}};
    const struct lb_plan *plan = page->kit->plan;
    struct lb_table table = {.columns = columns, .column_count = 2, .indent = 2};
    struct lb_buf name = {0};
    if (!plan->inspect_count)
        return;
    lb_page_heading(page, "Look at while it is open");
    for (size_t i = 0; i < plan->inspect_count; i++) {
        const struct lb_map_component *row = &plan->map->component_rows[plan->inspects[i]];
        lb_buf_clear(&name);
        lb_buf_puts(&name, page->kit->component_names[row->component]);
        lb_table_cell(&table, LB_PLAIN, lb_buf_text(&name));
        lb_table_cell(&table, LB_PLAIN, strcmp(row->inspect, "yes") == 0 ? "wear and damage" : row->inspect);
    }
    table.failed = table.failed || name.failed;
    lb_buf_free(&name);
    lb_page_print(page, &table);
}

void lb_page_cautions(const struct lb_page *page)
{
    static const struct lb_table_column columns[] = {{0}, {.may_shrink = true}};
    const struct lb_plan *plan = page->kit->plan;
    struct lb_table table = {.columns = columns, .column_count = 2, .indent = 2};
    lb_page_heading(page, "Cautions");
    for (size_t i = 0; i < plan->caution_count; i++) {
        lb_table_cell(&table, LB_YELLOW, "!");
        lb_table_cell(&table, LB_PLAIN, plan->cautions[i]);
    }
    lb_page_print(page, &table);
    lb_page_say(page, LB_PLAIN,
                "Catalogue values: the maker's manual, local codes and licensed practice decide.");
}
