#include "report/map_check_report.h"
#include "report/page.h"

static const enum lb_tone tones[] = {LB_RED, LB_YELLOW, LB_DIM};

static void put_severity(const struct lb_page *page, const struct lb_map_report *report,
                         enum lb_severity severity)
{
    static const char *const headings[] = {"Errors: a kit cannot be right",
                                           "Warnings: a kit has gaps or says less", "Notes"};
    static const struct lb_table_column columns[] = {
        {.heading = "place"}, {.heading = "code"}, {.heading = "what is wrong", .may_shrink = true}};
    struct lb_table table = {
        .columns = columns, .column_count = sizeof columns / sizeof *columns, .indent = LB_PAGE_INDENT};
    if (!report->counts[severity])
        return;
    lb_page_heading(page, headings[severity]);
    for (size_t i = 0; i < report->finding_count; i++) {
        const struct lb_finding *finding = &report->findings[i];
        if (finding->severity != severity)
            continue;
        lb_table_cellf(&table, LB_PLAIN, "%s:%u", finding->file, finding->line);
        lb_table_cell(&table, tones[severity], finding->code);
        lb_table_cell(&table, LB_PLAIN, finding->message);
    }
    lb_page_print(page, &table);
}

void lb_report_map_check(struct lb_buf *out, const struct lb_map_report *report, const struct lb_style *style)
{
    const struct lb_page page = {.out = out, .style = style};
    const size_t *counts = report->counts;
    lb_buf_printf(out, "%s: %zu row%s, ", report->platform, report->row_count,
                  lb_page_plural(report->row_count));
    if (!report->finding_count) {
        lb_buf_puts(out, "nothing to find fault with\n");
        return;
    }
    lb_buf_printf(out, "%zu error%s, %zu warning%s, %zu note%s\n", counts[LB_ERROR],
                  lb_page_plural(counts[LB_ERROR]), counts[LB_WARNING], lb_page_plural(counts[LB_WARNING]),
                  counts[LB_NOTE], lb_page_plural(counts[LB_NOTE]));
    for (int severity = LB_ERROR; severity <= LB_NOTE; severity++)
        put_severity(&page, report, (enum lb_severity)severity);
}
