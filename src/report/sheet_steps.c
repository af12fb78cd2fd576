/* The order of work, apart and together again, with a box to tick at each step. */
#include "report/sheet_page.h"

static void put_step(struct sheet *sheet, uint32_t step)
{
    struct lb_html *html = &sheet->html;
    lb_html_open(html, "li");
    lb_html_open_class(html, "div", "do");
    sheet_tick(sheet, "step", step + 1);
    lb_html_open_class(html, "span", "no");
    lb_html_textf(html, "%u", step + 1);
    lb_html_close(html);
    lb_buf_putc(&sheet->words, ' ');
    sheet_put_step(sheet, &sheet->words, &sheet->plan->steps[step]);
    lb_html_words(html, &sheet->words);
    lb_html_close(html);
    lb_html_close(html);
    sheet_step_rows(sheet, step);
    lb_html_close(html);
}

static bool is_off(const struct lb_step *step)
{
    return step->kind == LB_STEP_OFF || step->kind == LB_STEP_DRAIN;
}

static void put_steps(struct sheet *sheet, const char *heading, uint32_t from, uint32_t to)
{
    if (from == to)
        return;
    lb_html_element(&sheet->html, "h3", NULL, heading);
    lb_html_open_class(&sheet->html, "ol", "steps");
    if (from)
        lb_html_attrf(&sheet->html, "start", "%u", from + 1);
    for (uint32_t i = from; i < to; i++)
        put_step(sheet, i);
    lb_html_close(&sheet->html);
}

void sheet_steps(struct sheet *sheet)
{
    const struct lb_plan *plan = sheet->plan;
    uint32_t count = (uint32_t)plan->step_count, turn = 0, last_off = 0;
    if (!count)
        return;
    while (turn < count && is_off(&plan->steps[turn]))
        turn++;
    for (uint32_t i = 0; i < count; i++)
        last_off = is_off(&plan->steps[i]) ? i : last_off;
    sheet_section(sheet, "steps", "Order of work");
    lb_html_element(
        &sheet->html, "p", "lead",
        "Not back: it must not go back in, the new one lies on the bench. Check: back in only if it is "
        "sound. Torques and angles are catalogue values: the maker's manual decides. In small print the "
        "file and line that says so.");
    put_steps(sheet, "Taking apart", 0, turn);
    put_steps(sheet, last_off > turn ? "Putting together, and what comes off in between" : "Putting together",
              turn, count);
    lb_html_close(&sheet->html);
}
