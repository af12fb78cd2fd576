#include "report/sheet_page.h"

#include "base/date.h"

#include <stdlib.h>

struct section {
    const char *id, *heading; /* in the list of sections */
    void (*write)(struct sheet *);
};

/* What hurts people stands before anything that is to be done. */
static const struct section sections[] = {
    {"cautions", "Cautions", sheet_cautions},
    {"bench", "On the bench", sheet_bench},
    {"spares", "Spares", sheet_spares},
    {"tools", "Tools", sheet_tools},
    {"steps", "Order of work", sheet_steps},
    {"fluids", "Fluids", sheet_fluids},
    {"afterwards", "Afterwards", sheet_afterwards},
    {"disposal", "Disposal", sheet_disposal},
    {"missed", "Missed", sheet_missed},
    {"drawings", "Drawings", sheet_drawings},
};

enum { SECTIONS = sizeof sections / sizeof *sections };

static void note_line(const struct sheet *sheet, const struct lb_line *line)
{
    for (size_t i = 0; i < line->need->origin_count; i++) {
        const struct lb_origin *origin = &line->need->origins[i];
        if (origin->kind == LB_FROM_COMPONENT)
            sheet->line_of_component[origin->index] = line->number;
        if (origin->kind == LB_FROM_FASTENING)
            sheet->line_of_fastening[origin->index] = line->number;
        if (origin->kind == LB_FROM_CONSUMABLE)
            sheet->line_of_consumable[origin->index] = line->number;
    }
}

static lb_status note_lines(struct sheet *sheet)
{
    const struct lb_map *map = sheet->map;
    sheet->line_of_component = calloc(map->component_row_count + 1, sizeof *sheet->line_of_component);
    sheet->line_of_fastening = calloc(map->fastening_count + 1, sizeof *sheet->line_of_fastening);
    sheet->line_of_consumable = calloc(map->consumable_count + 1, sizeof *sheet->line_of_consumable);
    if (!sheet->line_of_component || !sheet->line_of_fastening || !sheet->line_of_consumable)
        return lb_fail_nomem(sheet->err);
    for (size_t i = 0; i < sheet->kit->line_count; i++)
        note_line(sheet, &sheet->kit->lines[i]);
    return LB_OK;
}

static void put_meta(struct lb_html *html, const char *name, const char *content)
{
    lb_html_open(html, "meta");
    lb_html_attr(html, "name", name);
    lb_html_attr(html, "content", content);
    lb_html_close(html);
}

static void put_head(struct sheet *sheet)
{
    struct lb_html *html = &sheet->html;
    lb_html_open(html, "head");
    lb_html_open(html, "meta");
    lb_html_attr(html, "charset", "utf-8");
    lb_html_close(html);
    lb_html_open(html, "title");
    lb_html_textf(html, "Job sheet: %s, %s", sheet->kit->name, sheet->kit->vehicle.name);
    lb_html_close(html);
    put_meta(html, "viewport", "width=device-width, initial-scale=1");
    put_meta(html, "robots", "noindex");
    lb_html_open(html, "style");
    lb_html_markup(html, sheet_style);
    lb_html_close(html);
    lb_html_close(html);
}

/* All sections, one after the other; lengths[i] is what each wrote. */
static void put_sections(struct sheet *sheet, struct lb_buf *out, size_t lengths[SECTIONS])
{
    struct lb_html page = sheet->html;
    sheet->html = (struct lb_html){.out = out};
    for (size_t i = 0; i < SECTIONS; i++) {
        size_t before = out->length;
        sections[i].write(sheet);
        lengths[i] = out->length - before;
    }
    sheet->html = page;
}

static void put_list(struct lb_html *html, const size_t lengths[SECTIONS])
{
    lb_html_open(html, "nav");
    lb_html_attr(html, "aria-label", "Sections");
    lb_html_open(html, "ul");
    for (size_t i = 0; i < SECTIONS; i++) {
        if (!lengths[i])
            continue;
        lb_html_open(html, "li");
        lb_html_open(html, "a");
        lb_html_attrf(html, "href", "#%s", sections[i].id);
        lb_html_text(html, sections[i].heading);
        lb_html_close(html);
        lb_html_close(html);
    }
    lb_html_close(html);
    lb_html_close(html);
}

/* The list of sections names those that have something to say, so they are written apart first. */
static void put_body(struct sheet *sheet)
{
    struct lb_html *html = &sheet->html;
    struct lb_buf body = {0};
    size_t lengths[SECTIONS];
    put_sections(sheet, &body, lengths);
    lb_html_open(html, "body");
    lb_html_open(html, "header");
    sheet_vehicle(sheet);
    lb_html_close(html);
    put_list(html, lengths);
    lb_html_open(html, "main");
    lb_html_markup(html, lb_buf_text(&body));
    lb_html_close(html);
    lb_html_close(html);
    html->out->failed = html->out->failed || body.failed;
    lb_buf_free(&body);
}

static void put_page(struct sheet *sheet)
{
    lb_html_markup(&sheet->html, "<!DOCTYPE html>\n");
    lb_html_open(&sheet->html, "html");
    lb_html_attr(&sheet->html, "lang", "en");
    put_head(sheet);
    put_body(sheet);
    lb_html_close(&sheet->html);
}

lb_status lb_report_sheet(struct lb_buf *out, const struct lb_kit *kit, int32_t today, struct lb_error *err)
{
    struct sheet sheet = {.html = {.out = out},
                          .kit = kit,
                          .plan = kit->plan,
                          .map = kit->plan->map,
                          .today = today,
                          .err = err};
    lb_status status = lb_step_rows_make(&sheet.rows, kit->plan, err);
    if (!status)
        status = note_lines(&sheet);
    if (!status) {
        put_page(&sheet);
        if (out->failed || sheet.words.failed)
            status = lb_fail_nomem(err);
    }
    lb_step_rows_free(sheet.rows);
    free(sheet.line_of_component);
    free(sheet.line_of_fastening);
    free(sheet.line_of_consumable);
    lb_buf_free(&sheet.words);
    return status;
}
