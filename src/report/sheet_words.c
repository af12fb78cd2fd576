#include "report/sheet_page.h"

#include "base/decimal.h"

#include <string.h>

/* 1 lbf·ft in N·m, times 10^10 (NIST SP 811, B.8: 1.355 817 948 3). */
#define POUND_FOOT 13558179483
#define TEN_TO_TEN 10000000000

static void put_pound_feet(struct lb_buf *out, int64_t torque)
{
    int64_t value = lb_decimal_muldiv(torque, TEN_TO_TEN, POUND_FOOT);
    int64_t step = value < LB_MILLION        ? LB_MILLION / 100
                   : value < 20 * LB_MILLION ? LB_MILLION / 10
                                             : LB_MILLION;
    lb_decimal_print(out, lb_decimal_muldiv(value, 1, step) * step);
    lb_buf_puts(out, " lbf·ft");
}

/* What was stated in another unit has six places; no wrench has more than two above 1 N·m. */
void sheet_put_newton_metres(struct lb_buf *out, int64_t torque)
{
    int64_t step = torque < LB_MILLION ? 1 : LB_MILLION / 100;
    lb_decimal_print(out, lb_decimal_muldiv(torque, 1, step) * step);
}

void lb_report_torque(struct lb_buf *out, int64_t torque, int64_t angle)
{
    if (torque) {
        sheet_put_newton_metres(out, torque);
        lb_buf_puts(out, " N·m (");
        put_pound_feet(out, torque);
        lb_buf_putc(out, ')');
    }
    if (angle) {
        lb_buf_puts(out, torque ? ", then " : "");
        lb_decimal_print(out, angle);
        lb_buf_puts(out, "°");
    }
}

void sheet_section(struct sheet *sheet, const char *id, const char *heading)
{
    struct lb_html *html = &sheet->html;
    lb_html_open(html, "section");
    lb_html_attrf(html, "aria-labelledby", "%s", id);
    lb_html_open(html, "h2");
    lb_html_attr(html, "id", id);
    lb_html_text(html, heading);
    lb_html_close(html);
}

void sheet_tick(struct sheet *sheet, const char *kind, size_t number)
{
    struct lb_html *html = &sheet->html;
    lb_html_open(html, "input");
    lb_html_attr(html, "type", "checkbox");
    lb_html_attrf(html, "id", "%s-%zu", kind, number);
    lb_html_close(html);
    lb_html_open(html, "label");
    lb_html_attrf(html, "for", "%s-%zu", kind, number);
}

void sheet_tick_item(struct sheet *sheet, const char *kind, size_t number, const char *text)
{
    lb_html_open(&sheet->html, "li");
    sheet_tick(sheet, kind, number);
    lb_html_text(&sheet->html, text);
    lb_html_close(&sheet->html);
    lb_html_close(&sheet->html);
}

void sheet_put_type(struct lb_buf *out, const struct lb_article *article)
{
    lb_buf_puts(out, article->part_type);
    if (article->spec.text)
        lb_buf_printf(out, " %s", article->spec.text);
}

void sheet_put_article(struct lb_buf *out, int64_t quantity, const struct lb_article *article)
{
    lb_page_amount(out, quantity, article->unit);
    lb_buf_puts(out, strcmp(article->unit, "each") == 0 ? " × " : " of ");
    sheet_put_type(out, article);
}

void sheet_put_step(const struct sheet *sheet, struct lb_buf *out, const struct lb_step *step)
{
    lb_page_plain(out, step->verb);
    lb_buf_putc(out, ' ');
    if (step->thing.is_circuit)
        lb_page_plain(out, sheet->map->circuits[step->thing.id]);
    else
        lb_buf_puts(out, sheet->kit->component_names[step->thing.id]);
}

void sheet_mark(struct sheet *sheet, const char *word)
{
    lb_html_element(&sheet->html, "strong", "mark", word);
    lb_html_text(&sheet->html, " ");
}

void sheet_source(struct sheet *sheet, const struct lb_row *row)
{
    struct lb_html *html = &sheet->html;
    if (row->doubt_count) {
        lb_html_text(html, " ");
        lb_html_element(html, "strong", "mark", "Ask");
        lb_html_text(html, " applies depending on ");
    }
    for (uint32_t i = 0; i < row->doubt_count; i++)
        lb_html_textf(html, "%s%s", i ? ", " : "", sheet->map->facts[row->doubts[i]]);
    if (row->source == LB_NO_NAME)
        return;
    lb_html_text(html, " ");
    lb_html_open(html, "small");
    lb_html_textf(html, "%s:%u", sheet->map->sources[row->source], row->line);
    lb_html_close(html);
}

void sheet_table(struct sheet *sheet, const char *class_name, const char *caption, const char *const *heads)
{
    struct lb_html *html = &sheet->html;
    lb_html_open(html, "table");
    if (class_name)
        lb_html_attr(html, "class", class_name);
    lb_html_element(html, "caption", NULL, caption);
    lb_html_open(html, "thead");
    lb_html_open(html, "tr");
    for (; *heads; heads++) {
        lb_html_open(html, "th");
        lb_html_attr(html, "scope", "col");
        lb_html_text(html, *heads);
        lb_html_close(html);
    }
    lb_html_close(html);
    lb_html_close(html);
    lb_html_open(html, "tbody");
}
