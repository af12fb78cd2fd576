#include "base/date.h"
#include "base/shell.h"
#include "report/drift_report.h"
#include "report/kit_page.h"

static void put_again(const struct lb_page *page)
{
    const struct lb_kit *kit = page->kit;
    struct lb_buf words = {0};
    size_t count = 0;
    for (size_t i = 0; i < kit->line_count; i++)
        if (lb_line_wants_again(&kit->lines[i]))
            lb_buf_printf(&words, "%s%d", count++ ? ", " : "", kit->lines[i].number);
    if (count)
        lb_page_say(page, LB_YELLOW, "still to be bought again: line%s %s (wrong, damaged, or did not come)",
                    lb_page_plural(count), lb_buf_text(&words));
    page->out->failed = page->out->failed || words.failed;
    lb_buf_free(&words);
}

static enum lb_tone tone_of(enum lb_drift_code code)
{
    return code == LB_DRIFT_GONE      ? LB_RED
           : code == LB_DRIFT_CHEAPER ? LB_GREEN
           : code == LB_DRIFT_SOURCE  ? LB_DIM
                                      : LB_YELLOW;
}

static void put_items(const struct lb_page *page, const struct lb_drift *drift)
{
    static const struct lb_table_column columns[] = {{.heading = "line", .align = LB_RIGHT},
                                                     {.heading = "change"},
                                                     {.heading = "what has changed", .may_shrink = true}};
    struct lb_table table = {.columns = columns, .column_count = 3, .indent = LB_PAGE_INDENT};
    for (size_t i = 0; i < drift->items.count; i++) {
        const struct lb_drift_item *item = &drift->items.at[i];
        lb_table_cellf(&table, LB_PLAIN, item->line ? "%d" : "%.0d", item->line);
        lb_table_cell(&table, tone_of(item->code), lb_drift_name(item->code));
        lb_table_cell(&table, LB_PLAIN, item->message);
    }
    lb_page_print(page, &table);
}

void lb_report_drift(struct lb_buf *out, const struct lb_kit *kit, const struct lb_drift *drift,
                     const struct lb_style *style)
{
    const struct lb_page page = {.out = out, .kit = kit, .style = style};
    struct lb_buf words = {0};
    lb_page_remarks(&page);
    put_again(&page);
    if (!drift) {
        lb_buf_puts(&words, "not locked; kit lock ");
        lb_shell_word(&words, kit->name);
        lb_buf_puts(&words, " keeps it as it is, to tell what changes");
        lb_page_say_words(&page, LB_DIM, &words);
        return;
    }
    lb_date_print(&words, drift->locked);
    if (drift->items.count) {
        struct lb_buf heading = {0};
        lb_buf_printf(&heading, "What has changed since it was locked on %s", lb_buf_text(&words));
        lb_page_heading(&page, lb_buf_text(&heading));
        out->failed = out->failed || heading.failed;
        lb_buf_free(&heading);
    } else {
        lb_page_say(&page, LB_DIM, "nothing has changed since it was locked on %s", lb_buf_text(&words));
    }
    put_items(&page, drift);
    out->failed = out->failed || words.failed;
    lb_buf_free(&words);
}
