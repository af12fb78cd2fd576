/* What stands at one step: on the way off what is undone, what must not go back, what is looked at; on the
 * way back what is new and how tight. */
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

static void put_line_number(struct sheet *sheet, int line)
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
    if (line->chosen != LB_NO_NAME)
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
    put_line_number(sheet, line->number);
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
    } else if (kind == LB_STEP_FILL) {
        sheet_put_filling(sheet, &sheet->words, index);
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
        put_line_number(sheet, sheet->line_of_consumable[at->index]);
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

/* Of a joint the row of the component at hand, else the first. */
static const struct lb_map_fastening *row_at_hand(const struct sheet *sheet,
                                                  const struct lb_fastened *fastened,
                                                  const struct lb_step *step, uint32_t *index)
{
    *index = fastened->rows[0];
    for (size_t i = 0; i < fastened->row_count; i++)
        if (!step->thing.is_circuit && sheet->map->fastenings[fastened->rows[i]].component == step->thing.id)
            *index = fastened->rows[i];
    return &sheet->map->fastenings[*index];
}

/* "6 × front clips (push-pin hole 8.0 head 20)"; what is measured out is "3 mL of sealant at the cam caps
 * (…)". */
static void put_item(struct sheet *sheet, const struct lb_fastened *fastened,
                     const struct lb_map_fastening *row)
{
    lb_page_amount(&sheet->words, fastened->quantity, row->article.unit);
    lb_buf_printf(&sheet->words, "%s%s (", strcmp(row->article.unit, "each") == 0 ? " × " : " of ",
                  row->item);
    sheet_put_type(&sheet->words, &row->article);
    lb_buf_putc(&sheet->words, ')');
}

static void put_joint(struct sheet *sheet, const struct lb_fastened *fastened, uint32_t shown)
{
    for (size_t i = 0; i < fastened->row_count; i++) {
        const struct lb_map_fastening *row = &sheet->map->fastenings[fastened->rows[i]];
        if (fastened->rows[i] != shown)
            lb_buf_printf(&sheet->words, "; one joint with %s of %s", row->item,
                          sheet->kit->component_names[row->component]);
    }
}

static void put_undone(struct sheet *sheet, const struct lb_fastened *fastened, unsigned roles,
                       const struct lb_step *step)
{
    uint32_t index;
    const struct lb_map_fastening *row = row_at_hand(sheet, fastened, step, &index);
    open_row(sheet);
    if (roles & LB_COMES_OUT && fastened->reuse != LB_REUSE_ALWAYS)
        sheet_mark(sheet, fastened->reuse == LB_REUSE_NEVER ? "Not back" : "Check");
    put_item(sheet, fastened, row);
    if (roles & LB_IS_UNDONE && row->tool)
        lb_buf_printf(&sheet->words, ", %s", row->tool);
    if (roles & LB_COMES_OUT && fastened->reuse != LB_REUSE_ALWAYS) {
        lb_buf_puts(&sheet->words, fastened->reuse == LB_REUSE_NEVER ? "; new" : "; new only if not sound");
        put_line_number(sheet, sheet->line_of_fastening[index]);
    } else if (!(roles & LB_COMES_OUT)) {
        lb_buf_printf(&sheet->words, ": only undone here; out at step %u", fastened->out + 1);
    }
    put_joint(sheet, fastened, index);
    if (row->note)
        lb_buf_printf(&sheet->words, "; %s", row->note);
    lb_html_words(&sheet->html, &sheet->words);
    sheet_source(sheet, &row->row);
    close_row(sheet);
}

/* Of a joint every value that some row states, each with its row: they are the catalogue's, also when they
 * differ. */
static bool put_torques(struct sheet *sheet, const struct lb_fastened *fastened)
{
    bool any = false;
    for (size_t i = 0; i < fastened->row_count; i++) {
        const struct lb_map_fastening *row = &sheet->map->fastenings[fastened->rows[i]];
        if (!row->torque && !row->angle)
            continue;
        lb_html_text(&sheet->html, any ? "; " : ": ");
        lb_report_torque(&sheet->words, row->torque, row->angle);
        lb_html_element(&sheet->html, "b", "torque", lb_buf_text(&sheet->words));
        lb_buf_clear(&sheet->words);
        sheet_source(sheet, &row->row);
        any = true;
    }
    return any;
}

static bool states_torque(const struct sheet *sheet, const struct lb_fastened *fastened)
{
    for (size_t i = 0; i < fastened->row_count; i++)
        if (sheet->map->fastenings[fastened->rows[i]].torque ||
            sheet->map->fastenings[fastened->rows[i]].angle)
            return true;
    return false;
}

/* What goes back as it was, without a value and without a note, needs no words. */
static void put_back(struct sheet *sheet, const struct lb_fastened *fastened, unsigned roles,
                     const struct lb_step *step)
{
    uint32_t index;
    const struct lb_map_fastening *row = row_at_hand(sheet, fastened, step, &index);
    bool is_new = roles & LB_GOES_IN && fastened->reuse == LB_REUSE_NEVER;
    bool torque = roles & LB_IS_TIGHTENED && states_torque(sheet, fastened);
    bool later = roles & LB_GOES_IN && !(roles & LB_IS_TIGHTENED);
    if (!is_new && !torque && !later && !row->note)
        return;
    open_row(sheet);
    if (is_new)
        sheet_mark(sheet, "New");
    put_item(sheet, fastened, row);
    if (is_new)
        put_line_number(sheet, sheet->line_of_fastening[index]);
    if (later)
        lb_buf_printf(&sheet->words, ": tightened at step %u", fastened->tight + 1);
    lb_html_words(&sheet->html, &sheet->words);
    if (!torque || !put_torques(sheet, fastened))
        sheet_source(sheet, &row->row);
    if (row->note)
        lb_buf_printf(&sheet->words, "; %s", row->note);
    close_row(sheet);
}

static void put_fastened(struct sheet *sheet, const struct lb_step_row *row, const struct lb_step *step)
{
    const struct lb_fastened *fastened = &sheet->rows->fastened[row->index];
    if (row->roles & (LB_IS_UNDONE | LB_COMES_OUT))
        put_undone(sheet, fastened, row->roles, step);
    else
        put_back(sheet, fastened, row->roles, step);
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
        put_fastened(sheet, row, step);
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
