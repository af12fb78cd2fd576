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

/* The teardown comes first, so it opens the section. */
struct teardown {
    struct sheet *sheet;
    bool begun;
};

static void put_teardown(void *context, const struct lb_buf *svg)
{
    struct teardown *teardown = context;
    if (!teardown->begun)
        sheet_section(teardown->sheet, "drawings", "Drawings");
    teardown->begun = true;
    put_figure(teardown->sheet, svg, "What comes apart for what");
}

enum { SHEET_MOST = 185 * 1000 }; /* bytes with drawings: a sheet is to stay below 200 kB, belts and all */

/* Drawings come last, so what there is by now is all of the rest. */
static size_t room_for_teardown(const struct sheet *sheet)
{
    size_t used = sheet->html.out->length;
    return used < SHEET_MOST ? SHEET_MOST - used : 0;
}

void sheet_drawings(struct sheet *sheet)
{
    struct lb_buf belts = {0};
    struct lb_error err = {0}, fault = {0}; /* what cannot be drawn is no reason for having no sheet */
    struct teardown teardown = {.sheet = sheet};
    size_t count = 0;
    lb_status drawn =
        lb_draw_teardown_pages(sheet->kit, room_for_teardown(sheet), put_teardown, &teardown, &err);
    lb_status status = lb_draw_belts(&belts, sheet->kit, &count, &fault);
    if (status && status != LB_DATA)
        count = 0;
    if (count && !teardown.begun)
        sheet_section(sheet, "drawings", "Drawings");
    if (count)
        put_figure(sheet, &belts, "How the belts run; the maker's drawing decides");
    if (status == LB_DATA)
        put_not_drawn(sheet, &fault);
    if (teardown.begun || count)
        lb_html_close(&sheet->html);
    sheet->html.out->failed = sheet->html.out->failed || drawn == LB_NOMEM || belts.failed;
    lb_error_free(&err);
    lb_error_free(&fault);
    lb_buf_free(&belts);
}
