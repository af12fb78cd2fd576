/* The drawings of the job sheet: what comes apart for what, and how the belts run. */
#include "report/sheet_page.h"

#include "report/draw.h"

/* A drawing is markup of our own that escapes its texts (report/draw.h). What cannot be drawn is left out:
 * the sheet says the same in words. */
static void put_figure(struct sheet *sheet, const struct lb_buf *drawing, const char *caption)
{
    lb_html_open(&sheet->html, "figure");
    lb_html_markup(&sheet->html, lb_buf_text(drawing));
    lb_html_element(&sheet->html, "figcaption", NULL, caption);
    lb_html_close(&sheet->html);
}

/* The drawing says it, too; here it can be read out, and copied. */
static void put_not_drawn(struct sheet *sheet, const struct lb_error *err)
{
    lb_buf_printf(&sheet->words, "Not every belt is drawn: %s", lb_error_text(err));
    lb_html_open_class(&sheet->html, "p", "hint");
    lb_html_words(&sheet->html, &sheet->words);
    if (err->file) {
        lb_buf_printf(&sheet->words, " %s:%ld", err->file, err->row);
        lb_html_words(&sheet->html, &sheet->words);
    }
    lb_html_close(&sheet->html);
}

void sheet_drawings(struct sheet *sheet)
{
    struct lb_buf teardown = {0}, belts = {0};
    struct lb_error err = {0}, fault = {0}; /* a belt that cannot be drawn is no reason for having no sheet */
    size_t count = 0;
    bool drawn = lb_draw_teardown(&teardown, sheet->kit, &err) == LB_OK && teardown.length;
    lb_status status = lb_draw_belts(&belts, sheet->kit, &count, &fault);
    if (status && status != LB_DATA)
        count = 0;
    if (drawn || count)
        sheet_section(sheet, "drawings", "Drawings");
    if (drawn)
        put_figure(sheet, &teardown, "What comes apart for what");
    if (count)
        put_figure(sheet, &belts, "How the belts run; the maker's drawing decides");
    if (status == LB_DATA)
        put_not_drawn(sheet, &fault);
    if (drawn || count)
        lb_html_close(&sheet->html);
    sheet->html.out->failed = sheet->html.out->failed || teardown.failed || belts.failed;
    lb_error_free(&err);
    lb_error_free(&fault);
    lb_buf_free(&teardown);
    lb_buf_free(&belts);
}
