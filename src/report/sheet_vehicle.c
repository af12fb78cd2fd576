/* Which vehicle, what is known of it, what is not, and whether the kit is complete. */
#include "report/sheet_page.h"

#include <string.h>

enum {
    LONG_VALUE = 14, /* bytes: a VIN takes two columns of a phone */
    NAMED_LINES = 8
};

static void put_fact(struct lb_html *html, const char *name, const char *value)
{
    if (!value)
        return;
    lb_html_open_class(html, "div", strlen(value) > LONG_VALUE ? "wide" : NULL);
    lb_html_element(html, "dt", NULL, name);
    lb_html_element(html, "dd", NULL, value);
    lb_html_close(html);
}

static void put_words(struct sheet *sheet, const char *name)
{
    put_fact(&sheet->html, name, lb_buf_text(&sheet->words));
    lb_buf_clear(&sheet->words);
}

static void put_work(struct sheet *sheet)
{
    const struct lb_kit *kit = sheet->kit;
    for (size_t i = 0; i < kit->want_count; i++)
        lb_buf_printf(&sheet->words, "%s%s%s", i ? ", " : "",
                      kit->wants[i].kind == LB_WANT_REPLACE ? "replace " : "", kit->wants[i].name);
    put_words(sheet, "Work");
}

static void put_verdict(struct sheet *sheet)
{
    size_t gaps = sheet->kit->gap_count;
    if (gaps)
        lb_buf_printf(&sheet->words, "Not complete: %zu gap%s, marked below", gaps, lb_page_plural(gaps));
    else
        lb_buf_puts(&sheet->words, "Complete: every line is answered");
    put_words(sheet, "The kit");
}

static void put_facts(struct sheet *sheet)
{
    const struct lb_vehicle *vehicle = &sheet->kit->vehicle;
    struct lb_html *html = &sheet->html;
    lb_html_open_class(html, "dl", "facts");
    lb_buf_printf(&sheet->words, "%s: %s %s", vehicle->name, vehicle->make, vehicle->model);
    put_words(sheet, "Vehicle");
    put_fact(html, "Built", vehicle->built);
    put_fact(html, "VIN", vehicle->vin);
    for (size_t i = 0; i < vehicle->facts.count; i++)
        put_fact(html, vehicle->facts.at[i].key, vehicle->facts.at[i].value);
    put_work(sheet);
    put_fact(html, "Service map", sheet->kit->survey->platform);
    lb_page_day(&sheet->words, sheet->today);
    put_words(sheet, "Printed");
    put_verdict(sheet);
    lb_html_close(html);
}

static void put_question(struct sheet *sheet, const struct lb_question *question)
{
    struct lb_html *html = &sheet->html;
    const char *where = sheet->kit->survey->where_to_look[question->fact];
    lb_html_open(html, "li");
    lb_html_element(html, "strong", NULL, sheet->map->facts[question->fact]);
    for (size_t i = 0; i < question->turn_count; i++)
        lb_html_textf(html, "%s%s", i ? "; " : ": ", question->turns[i]);
    lb_html_textf(html, ". Where to look: %s.", where ? where : "no catalogue says");
    if (question->settle_count > NAMED_LINES)
        lb_html_textf(html, " Settles %zu lines.", question->settle_count);
    for (size_t i = 0; question->settle_count <= NAMED_LINES && i < question->settle_count; i++)
        lb_html_textf(html, "%s%d",
                      i ? ", " : (question->settle_count > 1 ? " Settles lines " : " Settles line "),
                      sheet->kit->lines[question->settles[i]].number);
    lb_html_close(html);
}

static void put_unknown(struct sheet *sheet)
{
    struct lb_html *html = &sheet->html;
    if (!sheet->plan->question_count && !sheet->kit->remark_count)
        return;
    lb_html_element(html, "h2", NULL, "What is not known");
    lb_html_open(html, "ul");
    for (size_t i = 0; i < sheet->plan->question_count; i++)
        put_question(sheet, &sheet->plan->questions[i]);
    for (size_t i = 0; i < sheet->kit->remark_count; i++)
        lb_html_element(html, "li", NULL, sheet->kit->remarks[i]);
    lb_html_close(html);
}

void sheet_vehicle(struct sheet *sheet)
{
    lb_html_open(&sheet->html, "h1");
    lb_html_textf(&sheet->html, "Job sheet: %s", sheet->kit->name);
    lb_html_close(&sheet->html);
    put_facts(sheet);
    put_unknown(sheet);
}
