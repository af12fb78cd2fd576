/* When it is together again: checks, what must not go into the bin, and what was missing. */
#include "report/sheet_page.h"

#include "plan/aftercare.h"

void sheet_afterwards(struct sheet *sheet)
{
    uint32_t checks = lb_checks(sheet->plan);
    if (!checks)
        return;
    sheet_section(sheet, "afterwards", "Checks afterwards");
    lb_html_open_class(&sheet->html, "ul", "ticks");
    for (int i = 0; i < LB_CHECK_COUNT; i++)
        if (checks & 1U << i)
            sheet_tick_item(sheet, "check", (size_t)i + 1, lb_check_text((enum lb_check)i));
    lb_html_close(&sheet->html);
    lb_html_close(&sheet->html);
}

void sheet_disposal(struct sheet *sheet)
{
    uint32_t wastes = lb_wastes(sheet->plan);
    if (!wastes)
        return;
    sheet_section(sheet, "disposal", "Disposal");
    lb_html_open_class(&sheet->html, "ul", "ticks");
    for (int i = 0; i < LB_WASTE_COUNT; i++)
        if (wastes & 1U << i)
            sheet_tick_item(sheet, "waste", (size_t)i + 1, lb_waste_text((enum lb_waste)i));
    lb_html_close(&sheet->html);
    lb_html_element(&sheet->html, "p", "hint", "Local codes decide where it goes.");
    lb_html_close(&sheet->html);
}

static void put_missed_line(struct sheet *sheet, const struct lb_line *line)
{
    lb_html_open(&sheet->html, "li");
    sheet_put_article(&sheet->words, line->need->article.quantity, &line->need->article);
    lb_buf_printf(&sheet->words, ": was missing in the middle of an earlier job; it is line %d now",
                  line->number);
    lb_html_words(&sheet->html, &sheet->words);
    lb_html_close(&sheet->html);
}

enum { BLANK_LINES = 4 };

void sheet_missed(struct sheet *sheet)
{
    struct lb_html *html = &sheet->html;
    bool open = false;
    sheet_section(sheet, "missed", "What was missing");
    for (size_t i = 0; i < sheet->kit->line_count; i++) {
        if (sheet->kit->lines[i].spare || sheet->kit->lines[i].need->reason != LB_MISSED_BEFORE)
            continue;
        if (!open)
            lb_html_open(html, "ul");
        open = true;
        put_missed_line(sheet, &sheet->kit->lines[i]);
    }
    if (open)
        lb_html_close(html);
    lb_html_open_class(html, "div", "blanks"); /* on one page */
    lb_html_element(html, "p", NULL,
                    "What had to be fetched today, and what it was for. Tell it to lastbolt missed, and it "
                    "is on the next "
                    "sheet:");
    for (int i = 0; i < BLANK_LINES; i++)
        lb_html_element(html, "div", "blank", "");
    lb_html_close(html);
    lb_html_close(html);
}
