#include "report/fleet_text.h"
#include "base/shell.h"

#include "report/page.h"

#include "base/decimal.h"

#include <string.h>

static void put_verdict(const struct lb_page *page, size_t gaps)
{
    if (gaps)
        lb_style_put(page->out, page->style, LB_RED, "gaps");
    else
        lb_style_put(page->out, page->style, LB_GREEN, "complete");
    if (gaps)
        lb_buf_printf(page->out, ": %zu to close", gaps);
}

static void put_title(const struct lb_page *page, const struct lb_fleet *fleet)
{
    struct lb_buf words = {0};
    lb_buf_printf(&words, "%s: %zu vehicle%s", fleet->name, fleet->kit_count,
                  lb_page_plural(fleet->kit_count));
    for (size_t k = 0; k < fleet->kit_count; k++)
        lb_buf_printf(&words, "%s%s", k ? ", " : ": ", fleet->kits[k]->vehicle.name);
    lb_style_wrap(page->out, page->style, LB_BOLD, 0, LB_PAGE_INDENT, lb_buf_text(&words));
    page->out->failed = page->out->failed || words.failed;
    lb_buf_free(&words);
    put_verdict(page, lb_fleet_gap_count(fleet));
    lb_buf_printf(page->out, "; %d lines, numbered through\n", fleet->line_count);
}

/* "velmora-t2; cooling-system; lines 1 to 52" */
static void put_work(const struct lb_page *page, const struct lb_fleet *fleet, size_t k)
{
    const struct lb_kit *kit = fleet->kits[k];
    struct lb_buf words = {0};
    lb_buf_printf(&words, "%s; ", kit->survey->platform);
    for (size_t i = 0; i < kit->want_count; i++)
        lb_buf_printf(&words, "%s%s%s", i ? ", " : "",
                      kit->wants[i].kind == LB_WANT_REPLACE ? "replace " : "", kit->wants[i].name);
    if (kit->line_count)
        lb_buf_printf(&words, "; lines %d to %d", lb_fleet_number(fleet, k, 1),
                      lb_fleet_number(fleet, k, (int)kit->line_count));
    lb_page_say_words(page, LB_PLAIN, &words);
    lb_buf_puts(page->out, "  ");
    put_verdict(page, kit->gap_count);
    lb_buf_putc(page->out, '\n');
}

enum { GAP_COLUMNS = 4 };

static void add_gaps(struct lb_table *table, const struct lb_fleet *fleet, size_t k)
{
    for (size_t i = 0; i < fleet->kits[k]->gap_count; i++) {
        const struct lb_gap *gap = &fleet->kits[k]->gaps[i];
        lb_table_cellf(table, LB_BOLD, "%d", lb_fleet_number(fleet, k, gap->line));
        lb_table_cellf(table, LB_PLAIN, "%s %d", fleet->kits[k]->vehicle.name, gap->line);
        lb_table_cell(table, lb_page_gap_tone(lb_gap_name(gap->code)), lb_gap_name(gap->code));
        lb_table_cell(table, LB_PLAIN, gap->message);
    }
}

/* Of one vehicle, or, with kit_count for k, of all. */
static void put_gaps(const struct lb_page *page, const struct lb_fleet *fleet, size_t k)
{
    static const struct lb_table_column columns[GAP_COLUMNS] = {
        {.heading = "line", .align = LB_RIGHT},
        {.heading = "whose"},
        {.heading = "gap"},
        {.heading = "what is wrong", .may_shrink = true}};
    struct lb_table table = {.columns = columns, .column_count = GAP_COLUMNS, .indent = LB_PAGE_INDENT};
    for (size_t i = 0; i < fleet->kit_count; i++)
        if (k == i || k == fleet->kit_count)
            add_gaps(&table, fleet, i);
    lb_page_print(page, &table);
}

static void add_question(struct lb_table *table, const struct lb_fleet *fleet, size_t k,
                         const struct lb_question *question)
{
    const struct lb_kit *kit = fleet->kits[k];
    const char *where = kit->survey->where_to_look[question->fact];
    struct lb_buf words = {0};
    lb_buf_puts(&words, where ? where : "no catalogue says where to look");
    for (size_t i = 0; i < question->settle_count; i++)
        lb_buf_printf(&words, "%s%d", i ? ", " : "\nsettles lines ",
                      lb_fleet_number(fleet, k, kit->lines[question->settles[i]].number));
    lb_table_cell(table, LB_YELLOW, kit->plan->map->facts[question->fact]);
    lb_page_cell(table, LB_PLAIN, &words);
}

/* What to ask first, or else all that is not known. */
static void put_questions(const struct lb_page *page, const struct lb_fleet *fleet, size_t k)
{
    static const struct lb_table_column columns[] = {{.heading = "not known"},
                                                     {.heading = "where to look", .may_shrink = true}};
    const struct lb_plan *plan = fleet->kits[k]->plan;
    struct lb_table table = {.columns = columns, .column_count = 2, .indent = LB_PAGE_INDENT};
    for (size_t i = 0; i < plan->ask_first_count; i++)
        for (size_t q = 0; q < plan->question_count; q++)
            if (plan->questions[q].fact == plan->ask_first[i])
                add_question(&table, fleet, k, &plan->questions[q]);
    for (size_t q = 0; !plan->ask_first_count && q < plan->question_count; q++)
        add_question(&table, fleet, k, &plan->questions[q]);
    lb_page_print(page, &table);
    if (plan->question_count)
        lb_page_say_fact(page, fleet->kits[k]);
}

static void put_vehicle(const struct lb_page *page, const struct lb_fleet *fleet, size_t k)
{
    const struct lb_kit *kit = fleet->kits[k];
    struct lb_buf words = {0};
    lb_buf_printf(&words, "%s: %s %s", kit->vehicle.name, kit->vehicle.make, kit->vehicle.model);
    if (kit->vehicle.built)
        lb_buf_printf(&words, ", built %s", kit->vehicle.built);
    lb_page_heading(page, lb_buf_text(&words));
    page->out->failed = page->out->failed || words.failed;
    lb_buf_free(&words);
    put_work(page, fleet, k);
    put_gaps(page, fleet, k);
    put_questions(page, fleet, k);
    for (size_t i = 0; i < kit->remark_count; i++)
        lb_page_say(page, LB_PLAIN, "%s", kit->remarks[i]);
}

static void put_whose(struct lb_buf *out, const struct lb_fleet *fleet, const struct lb_fleet_need *need)
{
    for (size_t i = 0; i < need->share_count; i++) {
        const struct lb_fleet_share *share = &need->shares[i];
        lb_buf_printf(out, "%s%s ", i ? ", " : "", fleet->kits[share->kit]->vehicle.name);
        lb_page_amount(out, share->line->need->article.quantity, need->unit);
        lb_buf_printf(out, " (line %d)", lb_fleet_number(fleet, share->kit, share->line->number));
    }
}

static bool is_seen_to(const struct lb_line *line)
{
    return line->here || line->on_way || line->from_shelf;
}

/* One line's own answer, where the lines do not have the same. */
static void put_answer(struct lb_buf *out, const struct lb_fleet *fleet, const struct lb_fleet_share *share)
{
    const struct lb_line *line = share->line;
    if (!line->to_buy && line->cover_count)
        lb_buf_printf(
            out, "in the box of line %d",
            lb_fleet_number(fleet, share->kit, fleet->kits[share->kit]->lines[line->covers[0].line].number));
    else if (!line->to_buy && is_seen_to(line))
        lb_buf_puts(out, "nothing to buy");
    else if (line->chosen == LB_NO_NAME)
        lb_buf_puts(out, line->candidate_count ? "no part that can be bought" : "no part found");
    else
        lb_buf_printf(out, "%s %s", line->candidates[line->chosen].part->brand,
                      line->candidates[line->chosen].part->number);
}

/* How many are to be bought, when that is not the number needed, and of what. */
static void put_with(struct lb_buf *out, const struct lb_fleet *fleet, const struct lb_fleet_need *need)
{
    if (!need->part && need->share_count > 1) {
        for (size_t i = 0; i < need->share_count; i++) {
            const struct lb_fleet_share *share = &need->shares[i];
            lb_buf_printf(out, "%s%d: ", i ? "\n" : "",
                          lb_fleet_number(fleet, share->kit, share->line->number));
            put_answer(out, fleet, share);
        }
        return;
    }
    if (need->part && need->to_buy && need->to_buy != need->quantity) {
        lb_page_amount(out, need->to_buy, need->unit);
        lb_buf_puts(out, strcmp(need->unit, "each") == 0 ? " × " : " of ");
    }
    if (need->part && need->to_buy)
        lb_buf_printf(out, "%s %s", need->part->brand, need->part->number);
    else
        put_answer(out, fleet, &need->shares[0]);
}

static enum lb_tone tone_of(const struct lb_fleet *fleet, const struct lb_fleet_need *need)
{
    enum lb_tone tone = LB_PLAIN;
    for (size_t i = 0; i < need->share_count; i++) {
        const struct lb_kit *kit = fleet->kits[need->shares[i].kit];
        for (size_t g = 0; g < kit->gap_count; g++) {
            if (kit->gaps[g].line != need->shares[i].line->number)
                continue;
            if (lb_page_gap_tone(lb_gap_name(kit->gaps[g].code)) == LB_RED)
                return LB_RED;
            tone = LB_YELLOW;
        }
    }
    return tone;
}

static void add_need(struct lb_table *table, const struct lb_fleet *fleet, const struct lb_fleet_need *need)
{
    struct lb_buf need_words = {0}, whose = {0}, with = {0};
    lb_page_amount(&need_words, need->quantity, need->unit);
    lb_page_cell(table, LB_BOLD, &need_words);
    lb_table_cellf(table, LB_PLAIN, "%s%s%s", need->part_type, need->spec ? " " : "",
                   need->spec ? need->spec : "");
    put_whose(&whose, fleet, need);
    lb_page_cell(table, LB_PLAIN, &whose);
    put_with(&with, fleet, need);
    lb_page_cell(table, tone_of(fleet, need), &with);
}

static void put_needs(const struct lb_page *page, const struct lb_fleet *fleet)
{
    static const struct lb_table_column columns[] = {{.heading = "need", .align = LB_RIGHT},
                                                     {.heading = "what", .may_shrink = true},
                                                     {.heading = "for whom", .may_shrink = true},
                                                     {.heading = "with", .may_shrink = true}};
    struct lb_table table = {.columns = columns, .column_count = 4, .indent = LB_PAGE_INDENT};
    struct lb_fleet_needs needs;
    if (lb_fleet_needs(&needs, fleet, NULL))
        page->out->failed = true;
    for (size_t i = 0; i < needs.count; i++)
        add_need(&table, fleet, &needs.at[i]);
    if (needs.count)
        lb_page_heading(page, "What is needed for all of them");
    lb_page_print(page, &table);
    lb_fleet_needs_free(&needs);
}

/* Lines that are not among what is needed: the owner has decided otherwise. Spares that go back are no news.
 */
static void put_decided(const struct lb_page *page, const struct lb_fleet *fleet)
{
    static const char *const words_of[] = {"", "you have it", "goes back in", "left out"};
    struct lb_buf words = {0};
    for (size_t k = 0; k < fleet->kit_count; k++)
        for (size_t i = 0; i < fleet->kits[k]->line_count; i++) {
            const struct lb_line *line = &fleet->kits[k]->lines[i];
            if (line->decision == LB_BUY || !line->decided)
                continue;
            lb_buf_printf(&words, "%s%s line %d, %s: %s",
                          words.length ? "; " : "Not among them: ", fleet->kits[k]->vehicle.name,
                          lb_fleet_number(fleet, k, line->number), line->need->article.part_type,
                          words_of[line->decision]);
        }
    if (words.length)
        lb_page_say_words(page, LB_DIM, &words);
    lb_buf_free(&words);
}

void lb_report_fleet(struct lb_buf *out, const struct lb_fleet *fleet, const struct lb_style *style)
{
    struct lb_page page = {.out = out, .style = style};
    struct lb_buf words = {0};
    put_title(&page, fleet);
    for (size_t k = 0; k < fleet->kit_count; k++)
        put_vehicle(&page, fleet, k);
    put_needs(&page, fleet);
    put_decided(&page, fleet);
    lb_buf_puts(&words, "What it costs all together: buy ");
    lb_shell_word(&words, fleet->name);
    lb_buf_puts(&words, ". One vehicle, with its work and its spares: kit show ");
    lb_shell_word(&words, fleet->kits[0]->name);
    lb_page_say_words(&page, LB_DIM, &words);
}

void lb_report_fleet_gaps(struct lb_buf *out, const struct lb_fleet *fleet, const struct lb_style *style)
{
    struct lb_page page = {.out = out, .style = style};
    size_t gaps = lb_fleet_gap_count(fleet), with = 0;
    for (size_t k = 0; k < fleet->kit_count; k++)
        with += fleet->kits[k]->gap_count > 0;
    if (gaps)
        lb_buf_printf(out, "%s: %zu gap%s, at %zu of %zu vehicles\n", fleet->name, gaps, lb_page_plural(gaps),
                      with, fleet->kit_count);
    else
        lb_buf_printf(out, "%s: complete\n", fleet->name);
    put_gaps(&page, fleet, fleet->kit_count);
}
