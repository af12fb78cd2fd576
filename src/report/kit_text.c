#include "report/kit_page.h"

#include <string.h>

static void put_verdict(const struct lb_page *page)
{
    const struct lb_kit *kit = page->kit;
    size_t spares = kit->line_count - kit->need_count;
    if (kit->gap_count)
        lb_style_put(page->out, page->style, LB_RED, "gaps");
    else
        lb_style_put(page->out, page->style, LB_GREEN, "complete");
    struct lb_buf words = {0};
    if (kit->gap_count)
        lb_buf_printf(&words, ": %zu to close, ", kit->gap_count);
    else
        lb_buf_puts(&words, ": every line is answered, ");
    lb_buf_printf(&words, "%zu line%s", kit->need_count, lb_page_plural(kit->need_count));
    if (spares)
        lb_buf_printf(&words, " and %zu spare%s", spares, lb_page_plural(spares));
    lb_style_wrap(page->out, page->style, LB_PLAIN, kit->gap_count ? 4 : 8, LB_PAGE_INDENT,
                  lb_buf_text(&words));
    page->out->failed = page->out->failed || words.failed;
    lb_buf_free(&words);
}

static void put_title(const struct lb_page *page)
{
    const struct lb_kit *kit = page->kit;
    struct lb_buf words = {0};
    lb_buf_printf(&words, "%s: %s, %s %s", kit->name, kit->vehicle.name, kit->vehicle.make,
                  kit->vehicle.model);
    if (kit->vehicle.built)
        lb_buf_printf(&words, ", built %s", kit->vehicle.built);
    lb_style_wrap(page->out, page->style, LB_BOLD, 0, LB_PAGE_INDENT, lb_buf_text(&words));
    lb_buf_clear(&words);
    lb_buf_printf(&words, "%s; ", kit->survey->platform);
    for (size_t i = 0; i < kit->want_count; i++)
        lb_buf_printf(&words, "%s%s%s", i ? ", " : "",
                      kit->wants[i].kind == LB_WANT_REPLACE ? "replace " : "", kit->wants[i].name);
    lb_style_wrap(page->out, page->style, LB_PLAIN, 0, LB_PAGE_INDENT, lb_buf_text(&words));
    page->out->failed = page->out->failed || words.failed;
    lb_buf_free(&words);
    put_verdict(page);
}

static void put_gaps(const struct lb_page *page)
{
    struct lb_table table = {
        .columns = lb_page_gap_columns, .column_count = LB_GAP_COLUMNS, .indent = LB_PAGE_INDENT};
    if (!page->kit->gap_count)
        return;
    lb_page_heading(page, "What is missing");
    for (size_t i = 0; i < page->kit->gap_count; i++) {
        const struct lb_gap *gap = &page->kit->gaps[i];
        lb_page_gap(&table, NULL, gap->line, lb_gap_name(gap->code), gap->message);
    }
    lb_page_print(page, &table);
}

static bool asked_first(const struct lb_plan *plan, uint32_t fact)
{
    for (size_t i = 0; i < plan->ask_first_count; i++)
        if (plan->ask_first[i] == fact)
            return true;
    return false;
}

/* Does `fact` stand among the facts joined with ", "? */
static bool names_fact(const char *asks, const char *fact)
{
    size_t length = strlen(fact);
    while (asks) {
        if (strncmp(asks, fact, length) == 0 && (asks[length] == '\0' || asks[length] == ','))
            return true;
        asks = strstr(asks, ", ");
        asks = asks ? asks + 2 : NULL;
    }
    return false;
}

/* The lines whose chosen part hangs on the fact. False: none. */
static bool put_fits(const struct lb_kit *kit, struct lb_buf *out, const char *fact)
{
    bool any = false;
    for (size_t i = 0; i < kit->need_count; i++) {
        const struct lb_line *line = &kit->lines[i];
        if (line->decision != LB_BUY || line->chosen == LB_NO_NAME ||
            !names_fact(line->candidates[line->chosen].asks, fact))
            continue;
        lb_buf_printf(out, "%s%d", any ? ", " : "\ndecides which part fits: ", line->number);
        any = true;
    }
    return any;
}

static void add_question(const struct lb_page *page, struct lb_table *table,
                         const struct lb_question *question)
{
    const struct lb_kit *kit = page->kit;
    const char *where = kit->survey->where_to_look[question->fact],
               *fact = kit->plan->map->facts[question->fact];
    struct lb_buf words = {0};
    lb_buf_puts(&words, where ? where : "no catalogue says where to look");
    for (size_t i = 0; i < question->turn_count; i++)
        lb_buf_printf(&words, "%s%s", i ? "; " : ": ", question->turns[i]);
    if (question->settle_count)
        lb_buf_printf(&words, "\nsettles %zu line%s: ", question->settle_count,
                      lb_page_plural(question->settle_count));
    for (size_t i = 0; i < question->settle_count; i++)
        lb_buf_printf(&words, "%s%d", i ? ", " : "", kit->lines[question->settles[i]].number);
    bool matters = put_fits(kit, &words, fact) || question->settle_count;
    lb_buf_puts(&words, matters ? "" : "\nsettles no line by itself");
    lb_table_cell(table, matters ? LB_YELLOW : LB_DIM, fact);
    lb_table_cell(table, matters ? LB_PLAIN : LB_DIM, lb_buf_text(&words));
    table->failed = table->failed || words.failed;
    lb_buf_free(&words);
}

/* Those to ask first in their order, then what else settles a line, then the rest. */
static void add_questions(const struct lb_page *page, struct lb_table *table)
{
    const struct lb_plan *plan = page->kit->plan;
    for (size_t i = 0; i < plan->ask_first_count; i++)
        for (size_t q = 0; q < plan->question_count; q++)
            if (plan->questions[q].fact == plan->ask_first[i])
                add_question(page, table, &plan->questions[q]);
    for (int settles = 1; settles >= 0; settles--)
        for (size_t q = 0; q < plan->question_count; q++)
            if (!asked_first(plan, plan->questions[q].fact) &&
                (plan->questions[q].settle_count > 0) == settles)
                add_question(page, table, &plan->questions[q]);
}

static void put_questions(const struct lb_page *page)
{
    static const struct lb_table_column columns[] = {
        {.heading = "fact"}, {.heading = "where to look, and what it settles", .may_shrink = true}};
    const struct lb_plan *plan = page->kit->plan;
    struct lb_table table = {.columns = columns, .column_count = 2, .indent = LB_PAGE_INDENT};
    if (!plan->question_count)
        return;
    lb_page_heading(page, "What is not known");
    add_questions(page, &table);
    lb_page_print(page, &table);
    if (!plan->ask_first_exact)
        lb_page_say(page, LB_PLAIN, "Fewer questions might do: this list was not proved the shortest.");
    lb_page_say_fact(page, page->kit);
}

void lb_page_remarks(const struct lb_page *page)
{
    if (!page->kit->remark_count)
        return;
    lb_page_heading(page, "What the map leaves open");
    for (size_t i = 0; i < page->kit->remark_count; i++)
        lb_page_say(page, LB_PLAIN, "%s", page->kit->remarks[i]);
}

void lb_report_kit(struct lb_buf *out, const struct lb_kit *kit, const struct lb_style *style)
{
    static void (*const sections[])(const struct lb_page *) = {
        put_title,           put_gaps,         put_questions, lb_page_lines,   lb_page_spares,
        lb_page_suggestions, lb_page_teardown, lb_page_order, lb_page_torques, lb_page_tools,
        lb_page_inspect,     lb_page_cautions, lb_page_cost,  lb_page_remarks};
    struct lb_page page = {out, kit, style};
    for (size_t i = 0; i < sizeof sections / sizeof *sections; i++)
        sections[i](&page);
}
