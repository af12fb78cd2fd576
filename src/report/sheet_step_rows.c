/* What stands at one step: cautions, what is renewed, fluids, what is at hand and looked at. */
#include "report/sheet_page.h"

#include <string.h>

static void open_row(struct sheet *sheet)
{
    lb_html_open(&sheet->html, "li");
}

static void close_row(struct sheet *sheet)
{
    lb_html_words(&sheet->html, &sheet->words);
    lb_html_close(&sheet->html);
}

void sheet_put_line_number(struct sheet *sheet, int line)
{
    if (line)
        lb_buf_printf(&sheet->words, ", line %d", line);
}

static void put_caution(struct sheet *sheet, const struct lb_map_caution *row)
{
    open_row(sheet);
    sheet_mark(sheet, "Caution");
    lb_buf_puts(&sheet->words, row->text);
    close_row(sheet);
}

static void put_sequence(struct sheet *sheet, const struct lb_map_sequence *row, uint32_t other)
{
    if (!row->note)
        return;
    open_row(sheet);
    lb_buf_printf(&sheet->words, "before step %u, ", other + 1);
    sheet_put_step(sheet, &sheet->words, &sheet->plan->steps[other]);
    lb_buf_printf(&sheet->words, ": %s", row->note);
    close_row(sheet);
}

/* How many of a line are for this component: lines of several may be one. */
static int64_t share_of(const struct lb_need *need, uint32_t component)
{
    int64_t quantity = 0;
    for (size_t i = 0; i < need->origin_count; i++)
        if (need->origins[i].kind == LB_FROM_COMPONENT && need->origins[i].component == component)
            quantity += need->origins[i].quantity;
    return quantity;
}

static void put_new_part(struct sheet *sheet, const struct lb_line *line, const struct lb_step *step)
{
    sheet_mark(sheet, "New");
    sheet_put_article(&sheet->words, share_of(line->need, step->thing.id), &line->need->article);
    if (line->chosen != LB_NO_NAME && line->decision != LB_HAVE) /* what the owner has may be another one */
        lb_buf_printf(&sheet->words, ", %s %s", line->candidates[line->chosen].part->brand,
                      line->candidates[line->chosen].part->number);
}

static void put_renewed(struct sheet *sheet, const struct lb_line *line, bool back,
                        const struct lb_step *step)
{
    open_row(sheet);
    if (line->decision == LB_REUSE || line->decision == LB_DROP) {
        lb_buf_puts(&sheet->words, line->decision == LB_REUSE ? "the old one goes back" : "left out");
    } else if (back) {
        put_new_part(sheet, line, step);
    } else {
        sheet_mark(sheet, "Not back");
        lb_buf_puts(&sheet->words, "it is renewed");
    }
    sheet_put_line_number(sheet, line->number);
    close_row(sheet);
}

static void put_circuit(struct sheet *sheet, uint32_t index, enum lb_step_kind kind)
{
    const struct lb_map_circuit *row = &sheet->map->circuit_rows[index];
    open_row(sheet);
    if (kind == LB_STEP_DRAIN) {
        lb_buf_puts(&sheet->words, "have a container for all of it, ");
        lb_page_amount(&sheet->words, row->fluid.quantity, row->fluid.unit);
        lb_buf_puts(&sheet->words, " by the catalogue");
        if (sheet_is_filled_in_part(sheet, index))
            lb_buf_puts(&sheet->words, ", and a clean one: not all of it is renewed");
    } else if (kind == LB_STEP_FILL) {
        sheet_put_filling(sheet, &sheet->words, index);
        if (sheet_is_filled_in_part(sheet, index)) {
            lb_buf_puts(&sheet->words, " ");
            sheet_put_part_filled(sheet, &sheet->words, index);
        }
    } else {
        lb_buf_puts(&sheet->words, "as the maker's manual says, and top up");
    }
    lb_html_words(&sheet->html, &sheet->words);
    sheet_source(sheet, &row->row);
    close_row(sheet);
}

/* All of a step in one row; where they stand is told on the way off only. */
static void put_consumables(struct sheet *sheet, uint32_t step)
{
    bool any = false;
    for (uint32_t i = sheet->rows->start[step]; i < sheet->rows->start[step + 1]; i++) {
        const struct lb_step_row *at = &sheet->rows->at[i];
        if (at->kind != LB_ROW_CONSUMABLE)
            continue;
        const struct lb_map_consumable *row = &sheet->map->consumables[at->index];
        if (!any)
            open_row(sheet);
        lb_buf_puts(&sheet->words, any ? "; " : "at hand: ");
        sheet_put_article(&sheet->words, row->article.quantity, &row->article);
        sheet_put_line_number(sheet, sheet->line_of_consumable[at->index]);
        if (row->note)
            lb_buf_printf(&sheet->words, " (%s)", row->note);
        lb_html_words(&sheet->html, &sheet->words);
        if (at->roles & LB_COMES_OUT)
            sheet_source(sheet, &row->row);
        any = true;
    }
    if (any)
        close_row(sheet);
}

static void put_inspect(struct sheet *sheet, const struct lb_map_component *row)
{
    open_row(sheet);
    sheet_mark(sheet, "Look at");
    lb_buf_puts(&sheet->words, strcmp(row->inspect, "yes") == 0 ? "wear and damage" : row->inspect);
    close_row(sheet);
}

static void put_row(struct sheet *sheet, const struct lb_step_row *row, const struct lb_step *step)
{
    switch (row->kind) {
    case LB_ROW_CAUTION:
        put_caution(sheet, &sheet->map->cautions[row->index]);
        break;
    case LB_ROW_SEQUENCE:
        put_sequence(sheet, &sheet->map->sequences[row->index], row->other);
        break;
    case LB_ROW_RENEWED:
        put_renewed(sheet, &sheet->kit->lines[row->index], row->roles == LB_GOES_IN, step);
        break;
    case LB_ROW_CIRCUIT:
        put_circuit(sheet, row->index, step->kind);
        break;
    case LB_ROW_FASTENED:
        sheet_step_fastened(sheet, row, step);
        break;
    case LB_ROW_CONSUMABLE: /* together, put_consumables */
        break;
    case LB_ROW_INSPECT:
        put_inspect(sheet, &sheet->map->component_rows[row->index]);
        break;
    }
}

void sheet_step_rows(struct sheet *sheet, uint32_t step)
{
    const struct lb_step_rows *rows = sheet->rows;
    struct lb_buf apart = {0};
    struct lb_buf *page = sheet->html.out;
    sheet->html.out = &apart; /* a list without items is no list */
    for (uint32_t i = rows->start[step]; i < rows->start[step + 1]; i++)
        put_row(sheet, &rows->at[i], &sheet->plan->steps[step]);
    put_consumables(sheet, step);
    sheet->html.out = page;
    if (apart.length) {
        lb_html_open(&sheet->html, "ul");
        lb_html_markup(&sheet->html, lb_buf_text(&apart));
        lb_html_close(&sheet->html);
    }
    page->failed = page->failed || apart.failed;
    lb_buf_free(&apart);
}
