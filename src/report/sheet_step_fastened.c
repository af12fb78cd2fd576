/* Bolts, clips and seals at one step: on the way off what is undone and what must not go back, on the way
 * back what is new and how tight. */
#include "report/sheet_page.h"

#include <string.h>

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

/* What the owner has decided of what must not go back; LB_BUY where no line stands for it. */
static enum lb_decision decision_on(const struct sheet *sheet, int number)
{
    for (size_t i = 0; number && i < sheet->kit->line_count; i++)
        if (sheet->kit->lines[i].number == number)
            return sheet->kit->lines[i].decision;
    return LB_BUY;
}

/* What goes in instead of what came out. */
static void put_instead(struct sheet *sheet, const struct lb_fastened *fastened, int line)
{
    enum lb_decision decision = decision_on(sheet, line);
    if (fastened->reuse != LB_REUSE_NEVER)
        lb_buf_puts(&sheet->words, "; new only if not sound");
    else if (decision == LB_REUSE)
        lb_buf_puts(&sheet->words, "; the kit has the old one go back all the same");
    else
        lb_buf_puts(&sheet->words, decision == LB_DROP ? "; the new one is left out of the kit" : "; new");
    sheet_put_line_number(sheet, line);
}

static void put_undone(struct sheet *sheet, const struct lb_fastened *fastened, unsigned roles,
                       const struct lb_step *step)
{
    uint32_t index;
    const struct lb_map_fastening *row = row_at_hand(sheet, fastened, step, &index);
    lb_html_open(&sheet->html, "li");
    if (roles & LB_COMES_OUT && fastened->reuse != LB_REUSE_ALWAYS)
        sheet_mark(sheet, fastened->reuse == LB_REUSE_NEVER ? "Not back" : "Check");
    put_item(sheet, fastened, row);
    if (roles & LB_IS_UNDONE && row->tool)
        lb_buf_printf(&sheet->words, ", %s", row->tool);
    if (roles & LB_COMES_OUT && fastened->reuse != LB_REUSE_ALWAYS)
        put_instead(sheet, fastened, sheet->line_of_fastening[index]);
    else if (!(roles & LB_COMES_OUT))
        lb_buf_printf(&sheet->words, ": only undone here; out at step %u", fastened->out + 1);
    put_joint(sheet, fastened, index);
    if (row->note)
        lb_buf_printf(&sheet->words, "; %s", row->note);
    lb_html_words(&sheet->html, &sheet->words);
    sheet_source(sheet, &row->row);
    lb_html_words(&sheet->html, &sheet->words);
    lb_html_close(&sheet->html);
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

/* What goes in: marked as new where it is; what the kit has go back, or leaves out, is called so. */
static void put_going_in(struct sheet *sheet, const struct lb_fastened *fastened,
                         const struct lb_map_fastening *row, int line)
{
    enum lb_decision decision = decision_on(sheet, line);
    if (decision != LB_DROP)
        sheet_mark(sheet, decision == LB_REUSE ? "Mind" : "New");
    put_item(sheet, fastened, row);
    if (decision == LB_REUSE)
        lb_buf_puts(&sheet->words, ", the old ones though they must not go back");
    else if (decision == LB_DROP)
        lb_buf_puts(&sheet->words, ", left out of the kit");
    sheet_put_line_number(sheet, line);
}

/* What always goes back, without a value and without a note, needs no words. */
static void put_back(struct sheet *sheet, const struct lb_fastened *fastened, unsigned roles,
                     const struct lb_step *step)
{
    uint32_t index;
    const struct lb_map_fastening *row = row_at_hand(sheet, fastened, step, &index);
    bool is_new = roles & LB_GOES_IN && fastened->reuse == LB_REUSE_NEVER;
    bool torque = roles & LB_IS_TIGHTENED && states_torque(sheet, fastened);
    bool later = roles & LB_GOES_IN && !(roles & LB_IS_TIGHTENED);
    bool checked = roles & LB_GOES_IN && fastened->reuse == LB_REUSE_CHECK;
    if (!is_new && !checked && !torque && !later && !row->note)
        return;
    lb_html_open(&sheet->html, "li");
    if (is_new)
        put_going_in(sheet, fastened, row, sheet->line_of_fastening[index]);
    else
        put_item(sheet, fastened, row);
    if (later)
        lb_buf_printf(&sheet->words, ": tightened at step %u", fastened->tight + 1);
    lb_html_words(&sheet->html, &sheet->words);
    if (!torque || !put_torques(sheet, fastened))
        sheet_source(sheet, &row->row);
    if (row->note)
        lb_buf_printf(&sheet->words, "; %s", row->note);
    lb_html_words(&sheet->html, &sheet->words);
    lb_html_close(&sheet->html);
}

void sheet_step_fastened(struct sheet *sheet, const struct lb_step_row *row, const struct lb_step *step)
{
    const struct lb_fastened *fastened = &sheet->rows->fastened[row->index];
    if (row->roles & (LB_IS_UNDONE | LB_COMES_OUT))
        put_undone(sheet, fastened, row->roles, step);
    else
        put_back(sheet, fastened, row->roles, step);
}
